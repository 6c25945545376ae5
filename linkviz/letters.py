"""Letters of text that came from elsewhere: which of them a screen acts on instead of showing them."""

from __future__ import annotations

import re
import unicodedata

_HIDDEN = ("Cc", "Cf", "Zl", "Zp", "Cs")
"""Unicode's categories of control and format characters, line and paragraph separators, and halves of characters."""
_LINE_END = re.compile("\r\n?|[\v\f\x85\u2028\u2029]")
_MEANT = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"
"""Format characters that people's names are written with."""


def hidden(text: str, allowed: str = "") -> str:
    """Return the first letter of a text that is not shown but acted on, such as an escape or a change of direction.

    Parameters
    ----------
    text : str
        Any text.
    allowed : str
        Letters to let pass, such as a line break.

    Returns
    -------
    str
        The letter, or "" if there is none.
    """
    if text.isascii() and text.isprintable():
        return ""
    return next((c for c in text if _acts(c) and c not in allowed), "")


def visible(text: str) -> str:
    """Return text with what a screen would act on rather than show (control and direction characters) spelt out."""
    return "".join(letter if letter.isprintable() else letter.encode("unicode_escape").decode() for letter in text)


def cut(text: str, most: int) -> str:
    """Return text with no more than some letters; what is left out is marked."""
    return text if len(text) <= most else f"{text[: most - 3]}..."


def one_line(text: str) -> str:
    """Return typed or pasted text without hidden letters, on one line, without blanks around it."""
    spaced = "".join(" " if c.isspace() else c for c in text)
    return "".join(c for c in spaced if not _acts(c)).strip()


def many_lines(text: str) -> str:
    """Return typed or pasted text without hidden letters; its lines stay."""
    return "".join(c for c in _LINE_END.sub("\n", text) if c in "\n\t" or not _acts(c))


def _acts(letter: str) -> bool:
    return unicodedata.category(letter) in _HIDDEN and letter not in _MEANT
