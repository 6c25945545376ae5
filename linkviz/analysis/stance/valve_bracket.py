"""The bracket that raises the rod of the brake valve, as a job keeps it: known without the brakes themselves."""

from __future__ import annotations

from collections.abc import Iterator

from linkviz.errors import Problem
from linkviz.vehicle.model import Length
from linkviz.vehicle.part import Part
from linkviz.vehicle.wording import Range, Words

HOLES = (40.0, 50.0, 75.0, 100.0)
"""Rises a bracket is taken to offer where nobody gives its holes, mm; ours, not a catalogue's."""
RISE = Range(0.0, 300.0)
"""Rise of a hole of a valve bracket, mm."""


class ValveBracket(Part):
    """A bracket that raises the rod at the axle: the rise each of its holes gives."""

    holes: tuple[Length, ...] = HOLES


def bracket_problems(bracket: ValveBracket, say: Words, where: str = "valve_bracket") -> Iterator[Problem]:
    """Yield what makes no sense about the holes of a valve bracket."""
    if not bracket.holes:
        yield Problem(f"{where}.holes", "none", "the rise that each hole gives; leave the table out if it is not known")
    for index, hole in enumerate(bracket.holes):
        yield from say.outside(f"{where}.holes[{index}]", hole, RISE)
