"""Checks of the tables for the frame bracket and the end of the lateral bar."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from typing import Final

from linkviz.errors import Problem
from linkviz.sheetmetal.clearance_holes import bolt_diameter
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
BOLTS: Final = (
    *("M8", "M8x1", "M10", "M10x1.25", "M10x1", "M12", "M12x1.5", "M12x1.25", "M14", "M14x1.5", "M16", "M16x1.5"),
    *("M18", "M18x1.5", "M20", "M20x1.5", "3/8-16", "3/8-24", "7/16-14", "7/16-20", "1/2-13", "1/2-20", "5/8-11"),
    *("5/8-18", "3/4-10", "3/4-16"),
)
"""Bolts by the names of `linkviz.bracket.bolts.SIZES`; an inch size without its threads is the coarse one."""
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
    if text in BOLTS or any(bolt.startswith(f"{text}-") for bolt in BOLTS):
        return bolt_diameter(text)
    yield Problem(where, f'"{text}"', f"a bolt such as M14, M12x1.25 or 1/2-13: one of {', '.join(BOLTS)}")
    return None
