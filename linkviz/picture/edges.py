"""The edges of key parts, which labels keep off, and what a box that crosses them costs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from linkviz.picture.shapes import Circle, Drawing, Label, Path
from linkviz.picture.style import styles

Array = NDArray[np.float64]
Rect = tuple[float, float, float, float]
"""Left, top, right, bottom, screen points, y down."""

_KEY = 16.0
"""What it costs a label to cross an edge of a key part; other parts cost nothing."""
_DEAR = {
    **{"gap_line_ok": 40.0, "gap_line_warn": 40.0, "gap_line_hit": 40.0, "sway": 40.0},
    **{"near": 8.0, "rubber": 8.0, "tyre": 9.0, "link": 9.0, "steel": 5.0, "envelope": 17.0, "envelope_picked": 17.0},
    **{"spring": 3.0, "damper": 3.0, "shaft_hidden": 6.0, "hanger": 3.0, "rail": 3.0},
}
"""Styles whose edges cost more or less than that."""
_FINE = 5.0
"""Edges shorter than this are joined, screen points."""


def crossed(centres: Array, half: Array, segments: Array) -> Array:
    """Return, for each box, what the segments that cross it cost."""
    x, y, rx, ry, cost = segments.T
    wide, high = half[0], half[1]
    dx, dy = x - centres[:, :1], y - centres[:, 1:]
    hit = np.abs(dx) <= wide + np.abs(rx)
    hit &= np.abs(dy) <= high + np.abs(ry)
    dx *= ry
    dy *= rx
    dx -= dy
    hit &= np.abs(dx) <= wide * np.abs(ry) + high * np.abs(rx)
    total: Array = hit @ cost
    return total


def segments_of(drawing: Drawing, scale: float, window: Rect) -> Array:
    """Return the edges of key parts as (middle x, y, half reach x, y, cost), screen points."""
    looks = styles("light")
    runs: list[tuple[float, float, float, float, float]] = []
    for shape in drawing.shapes:
        if isinstance(shape, Label):
            continue
        style = shape.style
        cost = _DEAR.get(style, _KEY)
        if not looks[style].key and cost == _KEY:
            continue
        if isinstance(shape, Path):
            _edges(shape, _FINE / scale, cost, runs)
        elif isinstance(shape, Circle):
            (u, v), r = shape.centre, 0.75 * shape.radius
            runs += ((u - r, v - r, u + r, v + r, cost), (u - r, v + r, u + r, v - r, cost))
        else:
            runs.append((*shape.tail, *shape.tip, cost))
    if not runs:
        return np.zeros((0, 5))
    half = scale / 2.0
    a = np.array(runs)
    result = np.empty_like(a)
    result[:, 0] = (a[:, 0] + a[:, 2]) * half
    result[:, 1] = (a[:, 1] + a[:, 3]) * -half
    result[:, 2] = (a[:, 2] - a[:, 0]) * half
    result[:, 3] = (a[:, 3] - a[:, 1]) * -half
    result[:, 4] = a[:, 4]
    seen = (np.abs(result[:, 0] - (window[0] + window[2]) / 2.0) - np.abs(result[:, 2])) * 2.0 < window[2] - window[0]
    visible: Array = result[seen]
    return visible


def _edges(path: Path, fine: float, cost: float, runs: list[tuple[float, float, float, float, float]]) -> None:
    """Add the edges of a path, those shorter than `fine` joined."""
    points = path.points
    a, b = points[0]
    for u, v in points[1:]:
        if abs(u - a) + abs(v - b) > fine:
            runs.append((a, b, u, v, cost))
            a, b = u, v
    if path.closed:
        runs.append((a, b, *points[0], cost))
