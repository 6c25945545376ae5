"""The words of the checks: lengths the way the file writes them, ranges, places and distances."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final, NamedTuple

from linkviz.conventions import MM_PER_INCH
from linkviz.errors import Problem
from linkviz.units import Unit, from_mm
from linkviz.vehicle.model import Outline, Point
from linkviz.vehicle.part import Part
from linkviz.vehicle.points import words

Parts = Mapping[str, Part]
"""The parts that are whole, by dotted key (``axle``, ``links.lower_left``, ``envelopes[0]``)."""


ROUNDED: Final = 1e-9
"""A bound is not missed by less, mm or unit of the value: 100 mm come back from a file in inches a trace longer."""


class Range(NamedTuple):
    """The least and the most a value can sensibly be, in engine units."""

    least: float
    most: float

    def holds(self, value: float) -> bool:
        """Return whether a value lies in it, give or take what a file rounds off."""
        return self.least - ROUNDED <= value <= self.most + ROUNDED


FARTHEST: Final = (6000.0, 2000.0, 3000.0)
"""No point of a vehicle is farther from the origin than this along x, y, z, mm."""


class Words:
    """Writes lengths the way the file does, and guesses at a mistaken unit.

    Parameters
    ----------
    units : {"mm", "in"}
        Unit of the file.
    typed : bool
        Whether the lengths were typed in that unit into the window, and stand in no file.
    """

    def __init__(self, units: Unit, typed: bool = False) -> None:
        self.units = units
        self.typed = typed

    def length(self, mm: float) -> str:
        """Return a length in the unit of the file, and in mm beside it if that is inches."""
        if self.units == "mm":
            return f"{short(mm)} mm"
        return f"{short(from_mm(mm, 'in'))} in ({short(mm)} mm)"

    def span(self, allowed: Range) -> str:
        """Return a range of lengths in the unit of the file."""
        least, most = (short(from_mm(v, self.units), 3) for v in allowed)
        return f"{least} to {most} {self.units}"

    def place(self, point: tuple[float, ...]) -> str:
        """Return a point in the unit of the file."""
        return f"[{', '.join(short(from_mm(v, self.units)) for v in point)}] {self.units}"

    def outside(self, where: str, mm: float, allowed: Range) -> Iterator[Problem]:
        """Yield the problem of a length outside its range, with a hint at inches taken for mm."""
        if allowed.holds(mm):
            return
        expected = f"{self.span(allowed)}; measure it again{self._mistaken(mm, allowed)}"
        yield Problem(where, self.length(mm), expected)

    def _mistaken(self, mm: float, allowed: Range) -> str:
        if allowed.least <= 0 or mm <= 0:
            return ""
        typed = from_mm(mm, self.units)
        other: Unit = "in" if self.units == "mm" else "mm"
        as_other = typed * MM_PER_INCH if other == "in" else typed
        meant = allowed.holds(as_other)
        if self.typed:
            return f", or type its unit with it: {short(typed)} {other}" if meant else ""
        if meant:
            long = "inches" if other == "in" else "millimetres"
            return f', or, if the lengths in this file are {long}, write units = "{other}"'
        return f', or check units = "{self.units}" (is the file in {"inches" if other == "in" else "millimetres"}?)'


def lengths(say: Words, where: str, part: Part, ranges: Mapping[str, Range]) -> Iterator[Problem]:
    """Yield the lengths of a part that are outside their ranges, keyed ``where.name``."""
    for key, allowed in ranges.items():
        table, _, name = key.rpartition(".")
        if table == where:
            yield from say.outside(key, getattr(part, name), allowed)


def far(say: Words, where: str, point: Point, farthest: Point = FARTHEST) -> Iterator[Problem]:
    """Yield the problem of a point too far from the origin."""
    if not all(Range(-most, most).holds(v) for v, most in zip(point, farthest, strict=True)):
        yield Problem(
            where,
            say.place(point),
            f"{words(where)} within {say.place(farthest)} of the origin, which is on the ground under the axle "
            "centre; check the point and the units",
        )


def ends(say: Words, where: str, one: Point, other: Point, allowed: Range) -> Iterator[Problem]:
    """Yield the problem of two ends that are too near or too far apart."""
    length = math.dist(one, other)
    if not allowed.holds(length):
        yield Problem(
            where,
            f"ends {say.length(length)} apart",
            f"{say.span(allowed)} from end to end; check both ends and the units",
        )


def heights(say: Words, outline: Outline) -> str:
    """Return the heights an outline covers, in the unit of the file."""
    found = [from_mm(z, say.units) for _, z in outline]
    return f"from z = {short(min(found))} to {short(max(found))} {say.units}"


def short(value: float, digits: int = 6) -> str:
    """Return a number with few digits and without an exponent."""
    text = f"{value:.{digits}g}"
    return f"{float(text):.0f}" if "e" in text and abs(value) < 1e9 and abs(value) >= 1 else text
