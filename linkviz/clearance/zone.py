"""The zone of interference: which part of a solid a moving tube touches or nearly touches, in both views.

A point of the rear view stands for a line through the solid, along x, as long as the side outline is wide at that
height. It is touched if that line comes within the tube's radius of the tube's axis at any state: a distance between
two segments, so the zone is exact in space up to the step of the grid it is contoured on.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np

from linkviz.clearance.segments import Array
from linkviz.clearance.solid import Solid, heights, pieces
from linkviz.frozen import Frozen

Ring = tuple[tuple[float, float], ...]

STEP = 3.0
"""Step of the grid, mm."""
_SMOOTH = 0.05
"""How far a simplified outline may lie off, in steps of the grid; a tenth of the corners is left."""
_MOST = 200
"""Most steps along one side: a coarser step is taken for a larger zone."""
_HAIR = 1e-6
"""How far from a corner's height the rows on either side of it lie, mm."""


class Region(Frozen):
    """A piece of a zone: its outline and its holes, mm."""

    outer: Ring
    holes: tuple[Ring, ...] = ()


class Zone(Frozen):
    """What is touched and what is within the margin but not touched, in rear view (y, z) and side view (x, z)."""

    touched_rear: tuple[Region, ...] = ()
    touched_side: tuple[Region, ...] = ()
    near_rear: tuple[Region, ...] = ()
    near_side: tuple[Region, ...] = ()

    @property
    def touched(self) -> bool:
        """Return whether anything is touched."""
        return bool(self.touched_rear or self.touched_side)


def interference_zone(solid: Solid, p: Array, q: Array, radius: float, margin: float, step: float = STEP) -> Zone:
    """Return the zone a tube makes on a solid over n states.

    Parameters
    ----------
    solid : Solid
        What must not be touched.
    p, q : ndarray, shape (n, 3)
        Ends of the tube's axis at each state, mm.
    radius, margin : float
        Radius of the tube and the gap wanted, mm, >= 0.
    step : float
        Step of the grid, mm, > 0. A zone much smaller than that, or than a square millimetre, may be left out.

    Returns
    -------
    Zone
        Empty where nothing comes within the margin at any state.
    """
    p, q = np.atleast_2d(np.asarray(p, dtype=float)), np.atleast_2d(np.asarray(q, dtype=float))
    if not len(p):
        return Zone()
    touched_rear, near_rear = _view(solid.rear, solid.side, p, q, radius, margin, step, across=1)
    touched_side, near_side = _view(solid.side, solid.rear, p, q, radius, margin, step, across=0)
    return Zone(touched_rear, touched_side, near_rear, near_side)


def _view(
    shown: Array, other: Array, p: Array, q: Array, radius: float, margin: float, step: float, across: int
) -> tuple[tuple[Region, ...], tuple[Region, ...]]:
    """Return (touched, near) in the view whose outline is `shown`; `across` is its horizontal axis, 0 or 1."""
    from shapely import Polygon, box

    levels = heights(shown, other)
    both = np.concatenate([p, q])
    reach = radius + margin + step
    u0 = max(shown[:, 0].min(), both[:, across].min() - reach)
    u1 = min(shown[:, 0].max(), both[:, across].max() + reach)
    v0 = max(levels[0], both[:, 2].min() - reach)
    v1 = min(levels[-1], both[:, 2].max() + reach)
    if u1 - u0 < 1e-6 or v1 - v0 < 1e-6:
        return (), ()
    step = max(step, (u1 - u0) / _MOST, (v1 - v0) / _MOST)
    u = _ticks(u0, u1, step, shown[:, 0])
    # What lies in the third direction may change at once at a corner's height: a row on either side of each.
    v = _ticks(v0, v1, step, np.add.outer(levels[1:-1], [-_HAIR, _HAIR]).ravel())
    field = _field(u, v, levels, other, p, q, across, radius + margin + 2 * step)
    outline = Polygon(shown).intersection(box(-1e7, levels[0], 1e7, levels[-1]))
    touched, near = (
        _below(u, v, field, level).simplify(_SMOOTH * step).intersection(outline) for level in (radius, radius + margin)
    )
    near = near.difference(touched)
    return regions(touched), regions(near)


def _ticks(low: float, high: float, step: float, more: Array) -> Array:
    """Return places in order: even ones from `low` to `high`, `more` among them, and one a step beyond each end.

    With the room at the ends, a zone that ends at the outline is cut by it and not by the grid.
    """
    even = np.linspace(low, high, int(np.ceil((high - low) / step)) + 1)
    ticks = np.unique(np.concatenate([even, more[(more > low) & (more < high)]]))
    return np.concatenate([[low - step], ticks, [high + step]])


def _field(
    u: Array, v: Array, levels: list[float], other: Array, p: Array, q: Array, across: int, most: float
) -> Array:
    """Return, at each grid point, how near its line through the solid comes to any axis; `most` where farther.

    Shape (v, u), mm.
    """
    along = 1 - across
    field = np.full((len(v), len(u)), most)
    lowest, highest = np.minimum(p[:, 2], q[:, 2]) - most, np.maximum(p[:, 2], q[:, 2]) + most
    axes = np.concatenate([p[:, [across, 2, along]], (q - p)[:, [across, 2, along]]], axis=1).T
    parts = [pieces(other, low, high) for low, high in pairwise(levels)]
    for j, height in enumerate(v):
        close = (lowest <= height) & (height <= highest)
        if not close.any():
            continue
        z = min(max(height, levels[0]), levels[-1])
        i = min(max(int(np.searchsorted(levels, z, side="right")) - 1, 0), len(levels) - 2)
        share = (z - levels[i]) / (levels[i + 1] - levels[i])
        for left, right in parts[i]:
            start = left[0] + share * (left[1] - left[0])
            end = right[0] + share * (right[1] - right[0])
            field[j] = np.minimum(field[j], line_distance(u, float(height), start, end, axes[:, close]))
    return field


def line_distance(u: Array, height: float, start: float, end: float, axes: Array) -> Array:
    """Return how near lines, that run from `start` to `end` in the third direction, come to any of n axes, mm.

    Parameters
    ----------
    u : ndarray, shape (m,)
        Horizontal places of the lines in the view, mm.
    height, start, end : float
        Their height and where they start and end in the third direction, mm.
    axes : ndarray, shape (6, n)
        Starts of the axes and the ways to their ends: in the view across and up, and in the third direction, mm.

    Notes
    -----
    The square of the distance of an axis point from a line is a convex function along the axis: of one square before
    the axis comes beside the line, of another beside it, of a third after. Each has its least in its stretch.
    """
    across, up, third, d_across, d_up, d_third = axes
    up = up - height
    steep = np.where(np.abs(d_third) > 1e-12, d_third, 1e-12)
    at_start, at_end = np.clip((start - third) / steep, 0.0, 1.0), np.clip((end - third) / steep, 0.0, 1.0)
    low, high = np.minimum(at_start, at_end), np.maximum(at_start, at_end)

    def least(low: Array, high: Array, way: Array, off: Array) -> Array:
        size = d_across**2 + d_up**2 + way**2
        size = np.where(size > 0, size, 1.0)
        share = u[:, None] * (d_across / size)
        share -= (d_across * across + d_up * up + way * off) / size
        np.clip(share, low, high, out=share)
        total = share * d_across
        total += across
        total -= u[:, None]
        total *= total
        for d, c in ((d_up, up), (way, off)):
            part = share * d
            part += c
            part *= part
            total += part
        result: Array = total.min(axis=1)
        return result

    place = third + low * d_third
    beside = np.maximum(np.maximum(start - place, place - end), 0.0)  # 0 unless the axis is never beside the line
    square = least(low, high, np.zeros_like(third), beside)
    forward = steep > 0
    for bound, first, last in (
        (start, np.where(forward, 0.0, at_start), np.where(forward, at_start, 1.0)),
        (end, np.where(forward, at_end, 0.0), np.where(forward, 1.0, at_end)),
    ):
        if (last > first).any():
            square = np.minimum(square, least(first, last, d_third, third - bound))
    return np.sqrt(square)


def _below(u: Array, v: Array, field: Array, level: float) -> Any:
    """Return the part of the plane where the field is below a level, as a shapely geometry."""
    from contourpy import FillType, contour_generator
    from shapely import Polygon, make_valid, union_all

    if not (field < level).any():
        return Polygon()
    drawn = contour_generator(u, v, field, fill_type=FillType.OuterOffset).filled(-1.0, level)
    shapes = []
    for points, offsets in zip(*drawn, strict=True):
        rings = [points[a:b] for a, b in pairwise(offsets)]
        shapes.append(make_valid(Polygon(rings[0], rings[1:])))
    return union_all(shapes)


def regions(shape: Any) -> tuple[Region, ...]:
    """Return the polygons of a shapely geometry as regions; slivers below a square millimetre are left out."""
    parts = getattr(shape, "geoms", [shape])
    found: list[Region] = []
    for part in parts:
        if hasattr(part, "geoms"):
            found += regions(part)
        elif part.geom_type == "Polygon" and part.area >= 1.0:
            found.append(Region(_ring(part.exterior), tuple(_ring(r) for r in part.interiors)))
    return tuple(found)


def _ring(ring: Any) -> Ring:
    return tuple((float(a), float(b)) for a, b in list(ring.coords)[:-1])
