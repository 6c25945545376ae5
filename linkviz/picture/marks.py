"""Marks whose size is screen points: arrow heads, the badges that stand before a label, hatches."""

from __future__ import annotations

import math
from typing import Final

from linkviz.frozen import Frozen
from linkviz.picture.shapes import Pt

HEAD: Final = 9.0
"""Length of an arrow head, screen points."""

Badge = tuple[tuple[Pt, ...], tuple[tuple[Pt, ...], ...]]
"""A filled outline and the strokes on it in the colour of the paper, in a unit square, y down."""

_RING = tuple((0.5 + 0.48 * math.cos(k * math.pi / 10), 0.5 + 0.48 * math.sin(k * math.pi / 10)) for k in range(20))
_EIGHT = tuple(
    (0.5 + 0.5 * math.cos((k + 0.5) * math.pi / 4), 0.5 + 0.5 * math.sin((k + 0.5) * math.pi / 4)) for k in range(8)
)

BADGES: Final[dict[str, Badge]] = {
    "ok": (_RING, (((0.27, 0.52), (0.44, 0.69), (0.74, 0.34)),)),
    "warn": (((0.5, 0.04), (0.99, 0.94), (0.01, 0.94)), (((0.5, 0.36), (0.5, 0.64)), ((0.5, 0.78), (0.5, 0.81)))),
    "hit": (_EIGHT, (((0.31, 0.31), (0.69, 0.69)), ((0.69, 0.31), (0.31, 0.69)))),
}


class Hatch(Frozen):
    """Lines over a fill.

    Attributes
    ----------
    degrees : float
        Direction of the lines, counter-clockwise from the right.
    gap, width : float
        Distance between lines and their width, screen points.
    """

    degrees: float
    gap: float
    width: float


HATCHES: Final[dict[str, Hatch]] = {
    "rising": Hatch(45.0, 5.5, 1.2),
    "falling": Hatch(135.0, 7.5, 0.8),
}


def arrow(tail: Pt, tip: Pt) -> tuple[tuple[Pt, Pt], tuple[Pt, Pt, Pt]]:
    """Return the line and the head of an arrow, all in screen points.

    An arrow shorter than its head comes from beyond its tail, so that its tip stays true.
    """
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    length = math.hypot(dx, dy) or 1.0
    ex, ey = dx / length, dy / length
    reach = max(length, 2.0 * HEAD)
    start = (tip[0] - ex * reach, tip[1] - ey * reach)
    base = (tip[0] - ex * HEAD, tip[1] - ey * HEAD)
    half = 0.42 * HEAD
    return (start, base), (tip, (base[0] - ey * half, base[1] + ex * half), (base[0] + ey * half, base[1] - ex * half))
