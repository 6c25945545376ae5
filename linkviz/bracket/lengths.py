"""How short a drop can be, with the reasons."""

from __future__ import annotations

from linkviz.bracket.bolts import SIZES, hole_step
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket, Joggle
from linkviz.frozen import Frozen
from linkviz.sheetmetal.neutral import Neutral
from linkviz.sheetmetal.profile import Joggle as JoggleShape

HOLE_TO_BEND = 2.0
"""From the edge of a hole to a bend line, in thicknesses, the inside radius added: as `linkviz.sheetmetal.checks`."""


class Bound(Frozen):
    """A bound of the drop and its reason.

    Attributes
    ----------
    key : str
        For programs.
    drop : float
        mm.
    words : str
        The reason, a sentence without its full stop.
    formula : str
        With the numbers put in; "" where there is none.
    """

    key: str
    drop: float
    words: str
    formula: str = ""


def bent(joggle: Joggle, thickness: float, neutral: Neutral | None = None) -> JoggleShape:
    """Return the shape of a joggle in a plate of a thickness, mm, its neutral line by DIN 6935 unless it is given.

    Raises
    ------
    LinkvizError
        If the offset is too small for the angle and the radius, or the angle too steep.
    """
    line = neutral or Neutral.by("din", joggle.inside_radius, thickness)
    return JoggleShape(abs(joggle.offset), joggle.angle, joggle.inside_radius, thickness, line)


def hole_to_bend(hole: float, shape: JoggleShape, factor: float = HOLE_TO_BEND) -> float:
    """Return the least distance from the middle of a hole to the start of a bend, mm.

    The rule holds between the hole's edge and the bend line, which is half an arc beyond the start.
    """
    arc = shape.neutral.length(shape.angle, shape.inside, shape.thickness)
    return max(hole / 2.0, hole / 2.0 + factor * shape.thickness + shape.inside - arc / 2.0)


def shortest_drops(bracket: DropBracket, frame: FrameBracket | None, bar: BarEnd | None) -> tuple[Bound, ...]:
    """Return the bounds from below, the longest first: the first one binds.

    Parameters
    ----------
    bracket : DropBracket
        Its holes do not matter.
    frame, bar : FrameBracket, BarEnd or None
        Without either, the lip is not among the bounds.
    """
    anchor, hole = SIZES[bracket.anchor_bolt], SIZES[bracket.bar_bolt]
    found = []
    if frame is not None and bar is not None:
        lip, half, gap = frame.lip, bar.eye_diameter / 2.0, bracket.running_gap
        found.append(
            Bound(
                "lip",
                lip + half + gap,
                "the eye of the bar must hang clear of the lip of the frame bracket",
                f"e_f + D_e/2 + gap = {lip:.1f} + {half:.1f} + {gap:.1f} mm",
            )
        )
        below = bracket.anchor + anchor.diameter + half + gap
        found.append(
            Bound(
                "anchor_sleeve",
                below,
                "the eye of the bar must hang clear of the anchor bolt and the sleeve on it",
                f"s_a + d + D_e/2 + gap = {bracket.anchor:.1f} + {anchor.diameter:.1f} + {half:.1f} + {gap:.1f} mm",
            )
        )
    step = max(hole_step(anchor), hole_step(hole))
    found.append(
        Bound(
            "spacing",
            bracket.anchor + step,
            "the first hole for the bar must keep its distance from the anchor hole",
            f"s_a + edge + half a hole = {bracket.anchor:.1f} + {step:.1f} mm",
        )
    )
    if bracket.joggle is not None:
        shape = bent(bracket.joggle, bracket.thickness)
        run = shape.axial
        start = max(bracket.joggle.start, bracket.anchor + hole_to_bend(anchor.hole, shape))
        clear = hole_to_bend(hole.hole, shape)
        found.append(
            Bound(
                "joggle",
                start + run + clear,
                "the joggle must fit between the anchor hole and the first hole for the bar",
                f"start + H + hole to bend = {start:.1f} + {run:.1f} + {clear:.1f} mm",
            )
        )
    return tuple(sorted(found, key=lambda bound: -bound.drop))
