"""A bracket to start from, made of what was measured: sizes that follow the vehicle's bolt, bracket and eye."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.bracket.bolts import SIZES, Size, coarse_sizes, find_size, least_spacing
from linkviz.bracket.parts import RUNNING_GAP, BarEnd, DropBracket, FrameBracket
from linkviz.conventions import MM_PER_INCH

LARGEST_ANCHOR = 16.0
"""No larger anchor bolt is proposed, mm: common practice, no published source."""
USUAL_FRAME = FrameBracket(inside_width=50.0, thickness=5.0, lip=50.0, width=80.0)
"""Taken where the frame bracket was not measured: a usual size, invented."""
USUAL_BAR = BarEnd(eye_width=50.0, eye_diameter=42.0)
"""Taken where the bar's end was not measured: a usual size, invented."""


def anchor_for(original: Size, lip: float) -> tuple[Size, float]:
    """Return an anchor bolt, coarse thread, and its distance from the original one, mm.

    Notes
    -----
    The bolt with the largest product of area and distance that the lip allows: that is the longest drop its shear
    allows. It stands one diameter above the lip and keeps the spacing of AISC 360 J3.3 from the original bolt. Where
    the lip is too short for any, the original's size at the least spacing is returned; the checks of layout tell.
    """
    fitting = []
    for size in coarse_sizes(original.metric):
        if size.diameter > LARGEST_ANCHOR:
            continue
        distance = lip - size.diameter
        if distance >= least_spacing(original, size):
            fitting.append((size.body_area * distance, size.key, distance))
    if not fitting:
        return original, least_spacing(original, original)
    _, key, distance = max(fitting)
    return SIZES[key], distance


def default_bracket(
    frame: FrameBracket | None, bar: BarEnd | None, holes: Sequence[float], name: str = "new bracket"
) -> DropBracket:
    """Return a bracket to start from.

    Parameters
    ----------
    frame, bar : FrameBracket, BarEnd or None
        What was measured; usual sizes where it was not.
    holes : sequence of float
        Drops, mm.
    name : str
        What to call it.

    Notes
    -----
    Straight plates outside the frame bracket, sleeves beside the eye: no bend is needed, so it can be as short as the
    lip allows. Metric hardware (10.9) for a metric vehicle, inch hardware (grade 8) for an inch one.
    """
    original = find_size(frame.bolt if frame else "M14")
    bar_bolt = find_size(bar.bolt) if bar else original
    lip = frame.lip if frame else USUAL_FRAME.lip
    anchor, distance = anchor_for(original, lip)
    metric = original.metric
    edge = max(size.edge for size in (original, anchor, bar_bolt))
    return DropBracket(
        name=name,
        holes=tuple(sorted(holes)),
        thickness=8.0 if metric else 0.3125 * MM_PER_INCH,
        width=max(frame.width if frame else 80.0, 2.0 * edge),
        anchor=distance,
        steel="S275" if metric else "A36",
        end_top=max(25.0, edge),
        end_bottom=max(25.0, edge),
        bolt=original.key,
        anchor_bolt=anchor.key,
        bar_bolt=bar_bolt.key,
        grade="10.9" if metric else "8",
        tube_outer=2.5 * original.diameter,
        tube_wall=0.5 * original.diameter,
        weld_leg=5.0,
        brace_start=lip + RUNNING_GAP,
        running_gap=RUNNING_GAP,
    )
