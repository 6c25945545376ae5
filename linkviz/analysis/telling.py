"""What results are told with: cells and rows of a table, and sentences; each may carry a sign."""

from __future__ import annotations

from collections.abc import Mapping

from linkviz.frozen import Frozen
from linkviz.units import Unit, finest, format_length


class Cell(Frozen):
    """A value in the table; `icon` is "", "ok", "warn" or "hit"."""

    text: str
    icon: str = ""


class Row(Frozen):
    """One quantity for every state; `plain` says what it means, `key` is its name for programs."""

    label: str
    cells: Mapping[str, Cell]
    plain: str
    key: str = ""


class Sentence(Frozen):
    """A sentence a customer understands, with its icon; `stale` if it is of before the last change."""

    text: str
    icon: str = ""
    stale: bool = False


def gap_words(gap: float, unit: Unit) -> str:
    """Return a gap (mm) in words: "12 mm", "under 1 mm", "touches, 3 mm deep"."""
    return f"touches{depth_words(gap, unit)}" if gap <= 0 else room_words(gap, unit)


def room_words(gap: float, unit: Unit) -> str:
    """Return a gap (mm) above 0 in words: "12 mm", or "under 1 mm" where it would read as none."""
    if reads_as_nothing(gap, unit):
        return f"under {format_length(finest(unit), unit)}"
    return format_length(gap, unit)


def depth_words(gap: float, unit: Unit, least: bool = False) -> str:
    """Return how deep a contact is, ", 3 mm deep", or "" where that comes to nothing: it only just touches.

    Parameters
    ----------
    gap : float
        mm, 0 or below.
    unit : {"mm", "in"}
    least : bool
        Whether it is at least so deep.
    """
    if reads_as_nothing(gap, unit):
        return ""
    return f", {'at least ' if least else ''}{format_length(-gap, unit)} deep"


def reads_as_nothing(length: float, unit: Unit) -> bool:
    """Return whether a length (mm) comes to nothing in the unit of the screen."""
    return format_length(abs(length), unit) == format_length(0.0, unit)
