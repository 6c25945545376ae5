"""Checks of the tables for the frame bracket and the end of the lateral bar."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from typing import Final

from linkviz.errors import LinkvizError, Problem
from linkviz.sheetmetal.clearance_holes import SIZES, bolt_diameter
from linkviz.vehicle.model import BarEnd, FrameBracket
from linkviz.vehicle.wording import Parts, Range, Words, lengths

LENGTHS: Final = {
    "frame_bracket.inside_width": Range(15.0, 160.0),
    "frame_bracket.thickness": Range(1.5, 20.0),
    "frame_bracket.lip": Range(5.0, 250.0),
    "frame_bracket.width": Range(15.0, 300.0),
    "bar_end.eye_width": Range(15.0, 160.0),
    "bar_end.eye_diameter": Range(15.0, 150.0),
}
"""Sensible lengths, mm."""
LOOSE: Final = 1.0
"""An eye may be measured this much wider than the bracket it sits in, mm."""


def check_frame_bracket(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the frame bracket."""
    frame = parts.get("frame_bracket")
    if not isinstance(frame, FrameBracket):
        return
    yield from lengths(say, "frame_bracket", frame, LENGTHS)
    diameter = yield from _bolt("frame_bracket.bolt", frame.bolt)
    if diameter is not None and frame.lip <= diameter / 2.0:
        yield Problem(
            "frame_bracket.lip",
            say.length(frame.lip),
            f"more than half of the {frame.bolt} bolt: from the middle of its hole to the lower end of the bracket",
        )
    if diameter is not None and frame.width <= diameter:
        yield Problem(
            "frame_bracket.width", say.length(frame.width), f"more than the {frame.bolt} bolt: across the whole plate"
        )


def check_bar_end(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the end of the bar."""
    end, frame = parts.get("bar_end"), parts.get("frame_bracket")
    if not isinstance(end, BarEnd):
        return
    yield from lengths(say, "bar_end", end, LENGTHS)
    diameter = yield from _bolt("bar_end.bolt", end.bolt)
    if diameter is not None and end.eye_diameter <= diameter:
        yield Problem(
            "bar_end.eye_diameter", say.length(end.eye_diameter), f"more than the {end.bolt} bolt that goes through it"
        )
    if isinstance(frame, FrameBracket) and end.eye_width > frame.inside_width + LOOSE:
        yield Problem(
            "bar_end.eye_width",
            say.length(end.eye_width),
            f"at most the {say.length(frame.inside_width)} inside the frame bracket, in which it sits",
        )


def _bolt(where: str, text: str) -> Generator[Problem, None, float | None]:
    """Yield the problem of a bolt that is in no table; return its diameter, mm, or None."""
    try:
        return bolt_diameter(text)
    except LinkvizError:
        yield Problem(where, f'"{text}"', f"a bolt such as M14, M12x1.25 or 1/2-13, of size {', '.join(SIZES)}")
    return None
