"""Marks in numbers as people type them: which of them stand before decimals, which between thousands."""

from __future__ import annotations

import re
from collections.abc import Iterable

from linkviz.errors import LinkvizError
from linkviz.letters import cut

SHOWN = 40
"""How much of what was typed is shown in a message, letters."""

_MARKED = re.compile(r"\d[\d.,]*")
_EITHER = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
_GROUPED = re.compile(r"[1-9]\d{0,2}(?:(?:,\d{3})+\.\d*|(?:\.\d{3})+,\d*|(?:,\d{3}){2,}|(?:\.\d{3}){2,})")
"""Thousands with marks between them, as nobody means a decimal."""
_APOSTROPHES = re.compile(r"(?<![\d.,'])\d{1,3}(?:'\d{3})+(?!\d)(?:[.,]\d*)?")
_BEHIND_FEET = re.compile(r"(?:'|ft\.?|feet|foot)\s*-?\s*$", re.IGNORECASE)
_NUMBER = re.compile(r"[^\w.,]*(\d*([.,])\d+)\D*")


class TwoMeanings(LinkvizError):
    """What may mean two numbers: ``1,000`` is a thousand to some people and one to others.

    Attributes
    ----------
    write : str
        How to write it so that it means one.
    """

    def __init__(self, text: str, what: str, write: str) -> None:
        self.write = write
        super().__init__(f"{cut(text, SHOWN)!r} {what}. Write {write}.")


def refuse_two_meanings(text: str, decimal: str = ".") -> None:
    """Raise `TwoMeanings` for a text with a number whose marks stand between thousands, or may.

    A mark with other than three digits behind it is a decimal one, and with a 0 or four digits before it. Inches behind
    feet are no thousands.

    Parameters
    ----------
    text : str
        What was typed, with a plain apostrophe if any.
    decimal : {".", ",", ""}
        The mark that is known to be a decimal one also before three digits: the point, as this program writes it,
        unless the table that the number stands in shows another; see `decimal_mark`.
    """
    if glued := _APOSTROPHES.search(text):
        write = f"{_put(text, glued, glued[0].replace(chr(39), ''))}, or a space behind the ' of feet and inches"
        raise TwoMeanings(text, "may have its ' between thousands", write)
    for found in _MARKED.finditer(text):
        number = found[0]
        if _BEHIND_FEET.search(text, 0, found.start()):
            continue
        if _EITHER.fullmatch(number):
            mark = "," if "," in number else "."
            if mark == decimal:
                continue
            whole = _put(text, found, number.replace(mark, ""))
            if mark == ",":
                write = f"{whole} or {_put(text, found, str(float(number.replace(mark, '.'))))}"
            else:
                # a comma where commas are decimal, else four digits, which settle it for the whole table
                write = _put(text, found, number.replace(".", ",") if decimal == "," else f"{number}0")
                write = f"{whole}, or {write} if the point is a decimal one"
            raise TwoMeanings(text, "may mean two numbers", write)
        if _GROUPED.fullmatch(number):
            marks = re.findall(r"[.,]", number)
            whole, _, rest = number.rpartition(marks[-1]) if len(set(marks)) > 1 else (number, "", "")
            plain = re.sub(r"[.,]", "", whole) + (f"{decimal or '.'}{rest}" if rest else "")
            raise TwoMeanings(text, "has a mark between its thousands", _put(text, found, plain))


def decimal_mark(numbers: Iterable[str], usual: str = "") -> str:
    """Return the mark that is known to be a decimal one in a table.

    Parameters
    ----------
    numbers : iterable of str
        All numbers of the table, as they stand there.
    usual : {".", ",", ""}
        What it is where no number tells.

    Returns
    -------
    {".", ",", ""}
        The one mark that can be nothing but a decimal one in some number, as in ``12,5``, ``0.125`` or ``1234.567``;
        "" where both marks are.
    """
    found = {match[2] for text in numbers if (match := _NUMBER.fullmatch(text)) and not _EITHER.fullmatch(match[1])}
    return usual if not found else found.pop() if len(found) == 1 else ""


def _put(text: str, found: re.Match[str], number: str) -> str:
    return text[: found.start()] + number + text[found.end() :]
