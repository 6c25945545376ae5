"""Lengths and angles as people type and read them; the only place where inches are converted.

Inside the program a length is a float in mm and an angle is a float in rad; see `linkviz.conventions`.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise
from typing import Literal

from linkviz.conventions import MM_PER_INCH
from linkviz.errors import LinkvizError
from linkviz.letters import cut
from linkviz.marks import SHOWN, TwoMeanings, refuse_two_meanings

Unit = Literal["mm", "in"]

SIXTEENTHS = 16
"""Lengths in inches are shown to 1/16 in."""
_FINEST: dict[Unit, float] = {"mm": 1.0, "in": MM_PER_INCH / SIXTEENTHS}

_LONGEST = 60
"""Longer text is no length, angle or number that a person types, letters."""

_MINUS = "\N{MINUS SIGN}"
_PLAIN = {
    _MINUS: "-",
    "\N{EN DASH}": "-",
    "\N{NON-BREAKING HYPHEN}": "-",
    "\N{PRIME}": "'",
    "\N{DOUBLE PRIME}": '"',
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LEFT DOUBLE QUOTATION MARK}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
    "\N{FRACTION SLASH}": "/",
    "\N{NO-BREAK SPACE}": " ",
    "\N{NARROW NO-BREAK SPACE}": " ",
}
_VULGAR = {
    "\N{VULGAR FRACTION ONE HALF}": "1/2",
    "\N{VULGAR FRACTION ONE QUARTER}": "1/4",
    "\N{VULGAR FRACTION THREE QUARTERS}": "3/4",
    "\N{VULGAR FRACTION ONE EIGHTH}": "1/8",
    "\N{VULGAR FRACTION THREE EIGHTHS}": "3/8",
    "\N{VULGAR FRACTION FIVE EIGHTHS}": "5/8",
    "\N{VULGAR FRACTION SEVEN EIGHTHS}": "7/8",
}
_DECIMAL = r"\d+(?:[.,]\d*)?|[.,]\d+"
_NUMBER = (
    rf"(?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)|(?P<decimal>(?:{_DECIMAL})(?:e[+-]?\d+)?)"
)
_WHOLE, _POINTED = re.compile(r"(?<![\d./])0*(\d+)(?=,|$)"), r"\1.0"
"""A bare whole number of a list, and how it is written so that no comma behind it is a decimal one."""
_UNIT = r"mm|millimet(?:er|re)s?|cm|centimet(?:er|re)s?|m|met(?:er|re)s?|\"|''|in\.?|inch(?:es)?"
_LENGTH = re.compile(rf"(?P<sign>[+-]?)\s*(?:{_NUMBER})\s*(?P<unit>{_UNIT})?", re.IGNORECASE)
_FEET = re.compile(
    rf"(?P<sign>[+-]?)\s*(?P<feet>{_DECIMAL})\s*(?:'|ft\.?|feet|foot)\s*-?\s*"
    rf"(?:(?:{_NUMBER})\s*(?:\"|''|in\.?|inch(?:es)?)?)?",
    re.IGNORECASE,
)
_ANGLE = re.compile(
    rf"(?P<sign>[+-]?)\s*(?P<decimal>{_DECIMAL})\s*(?P<unit>deg(?:rees?)?|\N{{DEGREE SIGN}}|rad)?", re.IGNORECASE
)


def parse_length(text: str, default: Unit = "mm", decimal: str = ".") -> float:
    """Read a length as a person types it.

    Parameters
    ----------
    text : str
        Such as ``100``, ``90 mm``, ``4in``, ``3 1/2"``, ``3-1/2 in``, ``1' 2"``, ``-12,5``.
    default : {"mm", "in"}
        Unit of a number that names none.
    decimal : {".", ",", ""}
        Mark that is known to be a decimal one also before three digits; see `linkviz.marks.decimal_mark`.

    Returns
    -------
    float
        The length, mm.

    Raises
    ------
    TwoMeanings
        If a mark may stand between thousands as well, or does.
    LinkvizError
        If the text is not a length.
    """
    plain = _plain(text)
    refuse_two_meanings(plain, decimal)
    if match := _FEET.fullmatch(plain):
        inches = _value(match, text) if match["decimal"] or match["top"] else 0.0
        value = 12.0 * _decimal(match["feet"]) + inches
        if inches >= 12.0 and math.isfinite(value):
            write = f"{match['sign']}{value:.10g} in, if that is meant"
            raise LinkvizError(f"{cut(text, SHOWN)!r} has 12 inches or more behind its feet. Write {write}.")
        value *= MM_PER_INCH
    elif match := _LENGTH.fullmatch(plain):
        value = _value(match, text) * _mm_per(match["unit"] or default)
    else:
        raise LinkvizError(_not_a_length(text))
    if not math.isfinite(value):
        raise LinkvizError(_not_a_length(text))
    return -value if match["sign"] == "-" else value


def parse_lengths(text: str, default: Unit = "mm") -> tuple[float, ...]:
    """Read a list of lengths, such as ``40, 50``, ``40mm,50mm`` or ``40,5; 50``; raises as `parse_length`."""
    return tuple(parse_length(part, default) for part in list_parts(text) if part.strip())


def list_parts(text: str, glued: bool = False) -> list[str]:
    """Return the items of a list, which have ``;`` between them, or commas.

    A comma is asked about if what stands around it makes one number as well, as in ``40,50``; in ``40.5,50`` and
    ``1/2,3/4`` it can but stand between two.

    Parameters
    ----------
    text : str
        The list.
    glued : bool
        Whether lists are written without spaces, as on a command line. ``0,3`` is a list there, and so are three bare
        numbers or more that rise or fall; elsewhere they are asked about like ``40,50``.

    Raises
    ------
    TwoMeanings
        If a comma may stand in a number as well as between two.
    """
    if ";" in text:
        return text.split(";")
    parts = text.split(",")
    doubtful = [pair for pair in pairwise(parts) if _is_one_number(*pair)]
    if not doubtful or (glued and not re.search(r"\s", text) and _is_glued_list(text, parts, doubtful)):
        return parts
    write = "a decimal point and a space behind each comma, as in 40.5, 50, or ; between the numbers"
    if glued and len(text) <= SHOWN and not re.search(r"\s", text):
        write = f"{_WHOLE.sub(_POINTED, text)}, or points for decimal commas"
        if len(parts) == 2:
            write = f"{_one(text)} for one number, or {_WHOLE.sub(_POINTED, text)} for two"
    raise TwoMeanings(text, "may mean two lists: its comma stands between numbers or in one", write)


def _is_one_number(left: str, right: str) -> bool:
    """Return whether a comma between two parts may stand in a number."""
    if not (left[-1:].isdecimal() and right[:1].isdecimal()):
        return False
    try:
        parse_length(f"{left},{right}", decimal=",")
    except TwoMeanings:
        return True
    except LinkvizError:
        return False
    return True


def _is_glued_list(text: str, parts: list[str], doubtful: list[tuple[str, str]]) -> bool:
    """Return whether each comma stands between two numbers, in a list without spaces."""
    if any("." in left + right or re.match(r"0\d", right) for left, right in doubtful):
        return False
    if len(parts) == 2:
        return re.fullmatch(r"0,[1-9]\d*", text) is not None
    if not all(re.fullmatch(r"[+-]?\d+(?:\.\d+)?", part) for part in parts):
        return False
    steps = [float(b) - float(a) for a, b in pairwise(parts)]
    return all(step > 0 for step in steps) or all(step < 0 for step in steps)


def _one(text: str) -> str:
    """Return how to write a number with one comma."""
    try:
        refuse_two_meanings(text)
    except TwoMeanings as error:
        return error.write
    return text.replace(",", ".")


def finest(unit: Unit) -> float:
    """Return the smallest step of a length that is shown in a unit, mm: a whole millimetre, or 1/16 in."""
    return _FINEST[unit]


def format_length(mm: float, unit: Unit = "mm") -> str:
    """Write a length with its unit, to 1 mm or 1/16 in.

    Parameters
    ----------
    mm : float
        The length, mm.
    unit : {"mm", "in"}
        Unit to show.

    Returns
    -------
    str
        Such as ``90 mm`` or ``3 9/16"``.
    """
    mark = '"' if unit == "in" else " mm"
    return length_number(mm, unit) + (mark if math.isfinite(mm) else "")


def length_number(mm: float, unit: Unit = "mm") -> str:
    """Write a length without its unit, to 1 mm or 1/16 in; see `format_length`."""
    if not math.isfinite(mm):
        return "-"
    if unit == "mm":
        whole = math.floor(abs(mm) + 0.5)
        return f"{_sign(mm, whole)}{whole}"
    parts = math.floor(abs(mm) / MM_PER_INCH * SIXTEENTHS + 0.5)
    whole, rest = divmod(parts, SIXTEENTHS)
    sign = _sign(mm, parts)
    if not rest:
        return f"{sign}{whole}"
    common = math.gcd(rest, SIXTEENTHS)
    fraction = f"{rest // common}/{SIXTEENTHS // common}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def from_mm(mm: float, unit: Unit) -> float:
    """Return a length of the engine (mm) in another unit."""
    return mm if unit == "mm" else mm / MM_PER_INCH


def to_mm(value: float, unit: Unit) -> float:
    """Return a length given in some unit as mm."""
    return value if unit == "mm" else value * MM_PER_INCH


def parse_angle(text: str) -> float:
    """Read an angle in degrees (or with ``rad``) as a person types it.

    Parameters
    ----------
    text : str
        Such as ``5``, ``-2,5 deg``, ``0.1 rad``.

    Returns
    -------
    float
        The angle, rad.

    Raises
    ------
    LinkvizError
        If the text is not an angle, or may be two.
    """
    plain = _plain(text)
    refuse_two_meanings(plain)
    match = _ANGLE.fullmatch(plain)
    value = _decimal(match["decimal"]) if match else math.nan
    if match is None or not math.isfinite(value):
        raise LinkvizError(f"{cut(text, SHOWN)!r} is not an angle. Write degrees, such as 5 or -2.5 deg.")
    value = value if (match["unit"] or "").lower() == "rad" else math.radians(value)
    return -value if match["sign"] == "-" else value


def format_angle(rad: float, digits: int = 1) -> str:
    """Write an angle in degrees, such as ``-2.5 deg`` with the degree sign.

    Parameters
    ----------
    rad : float
        The angle, rad.
    digits : int
        Digits behind the point.
    """
    if not math.isfinite(rad):
        return "-"
    return f"{angle_number(rad, digits)}\N{DEGREE SIGN}"


def angle_number(rad: float, digits: int = 1) -> str:
    """Write an angle in degrees without its unit; see `format_angle`."""
    degrees = round(math.degrees(rad), digits)
    return f"{degrees + 0.0:.{digits}f}" if degrees else f"{0.0:.{digits}f}"


def parse_number(text: str, unit: str = "") -> float:
    """Read a plain number as a person types it, with its unit (``26 N/mm``, ``60 kg``) or without.

    Raises
    ------
    LinkvizError
        If the text is not a number, may be two, or has another unit.
    """
    bare = _plain(text)
    refuse_two_meanings(bare)
    if unit and bare.lower().endswith(unit.lower()):
        bare = bare[: -len(unit)].rstrip()
    try:
        value = float(bare.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise LinkvizError(
            f"{cut(text, SHOWN)!r} is not a number. Write one such as 26{f' or 26 {unit}' if unit else ''}."
        )
    return value


def _plain(text: str) -> str:
    """Return text with plain signs; "", which is no number, for text that nobody types."""
    text = text.strip()
    if len(text) > _LONGEST:
        return ""
    for fancy, fraction in _VULGAR.items():
        text = text.replace(fancy, f" {fraction}")
    for fancy, plain in _PLAIN.items():
        text = text.replace(fancy, plain)
    return re.sub(r"^([+-])\s+", r"\1", text.strip())


def _decimal(text: str) -> float:
    return float(text.replace(",", "."))


def _value(match: re.Match[str], text: str) -> float:
    if match["decimal"]:
        return _decimal(match["decimal"])
    bottom = int(match["bottom"])
    if not bottom:
        raise LinkvizError(_not_a_length(text))
    return int(match["whole"] or 0) + int(match["top"]) / bottom


def _mm_per(unit: str) -> float:
    unit = unit.lower()
    if unit.startswith(("mm", "milli")):
        return 1.0
    if unit.startswith("c"):
        return 10.0
    return 1000.0 if unit.startswith("m") else MM_PER_INCH


def _sign(value: float, rounded: int) -> str:
    return "-" if value < 0 and rounded else ""


def _not_a_length(text: str) -> str:
    return f'{cut(text, SHOWN)!r} is not a length. Write a number with mm or in, such as 90, 90 mm, 3.5 in or 3 1/2".'
