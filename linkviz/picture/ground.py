"""The ground: level where the axle rests, with a bump or a dip under a wheel that has moved."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.picture.proportions import Proportions
from linkviz.picture.shapes import Path, Pt, Shape
from linkviz.picture.stand import View

_DEEP = 26.0


def ground(view: View, p: Proportions, soles: Sequence[Pt]) -> list[Shape]:
    """Return the ground under the wheels.

    Parameters
    ----------
    view : {"rear", "side"}
        The view.
    p : Proportions
        Sizes of the vehicle.
    soles : sequence of (float, float)
        Lowest points of the tyres on the paper, mm.
    """
    low, _, high, _ = p.rear_extent if view == "rear" else p.side_extent
    low, high = low - 1500.0, high + 1500.0
    flat = (0.62 if view == "rear" else 0.0) * p.width + (0.30 * p.radius if view == "side" else 0.0)
    top: list[Pt] = [(low, 0.0)]
    for u, v in sorted(soles):
        slope = 0.9 * abs(v) + 1.0
        if abs(v) > 0.5:
            top += [(u - flat - slope, 0.0), (u - flat, v), (u + flat, v), (u + flat + slope, 0.0)]
    top.append((high, 0.0))
    under = [(u, v - _DEEP) for u, v in reversed(top)]
    return [Path((*top, *under), "soil", closed=True), Path(tuple(top), "ground")]
