"""Signed gap between a round tube and a solid, exact in space.

The tube is all points within its radius of its axis, a straight segment. Let s(a) be the distance of an axis point
a from the solid's surface, counted negative inside the solid. The gap is the least s over the axis, minus the radius:

- axis outside the solid: the distance from axis to solid minus the radius; negative once the tube cuts in, and then
  how deep it is in;
- axis partly inside: minus (the greatest depth of an axis point below the surface, plus the radius).

So it goes smoothly through zero, and 0 means touching.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from linkviz.clearance.segments import Array, segment_parameters
from linkviz.clearance.solid import Solid

Bools = NDArray[np.bool_]

_PAIRS = 200_000
"""Segment pairs looked at side by side."""
_TINY = 1e-9


@dataclass(frozen=True, eq=False)
class Gap:
    """Gaps at n states.

    Attributes
    ----------
    distance : ndarray, shape (n,)
        mm; negative is depth.
    on_shaft, on_solid : ndarray, shape (n, 3)
        The two points it is measured between, on the tube's and on the solid's surface, mm.
    """

    distance: Array
    on_shaft: Array
    on_solid: Array


def gap(solid: Solid, p: Array, q: Array, radius: float) -> Gap:
    """Return the gap between a solid and a tube at n states.

    Parameters
    ----------
    solid : Solid
        What must not be touched.
    p, q : ndarray, shape (n, 3)
        Ends of the tube's axis, mm; they may coincide.
    radius : float
        Radius of the tube, mm, >= 0.
    """
    p, q = np.atleast_2d(np.asarray(p, dtype=float)), np.atleast_2d(np.asarray(q, dtype=float))
    chunk = max(1, _PAIRS // max(1, len(solid.edges)))
    parts = [_gap(solid, p[i : i + chunk], q[i : i + chunk], radius) for i in range(0, len(p), chunk)]
    if len(parts) == 1:
        return parts[0]
    if not parts:
        return Gap(np.zeros(0), np.zeros((0, 3)), np.zeros((0, 3)))
    return Gap(*(np.concatenate([getattr(part, f) for part in parts]) for f in ("distance", "on_shaft", "on_solid")))


def _gap(solid: Solid, p: Array, q: Array, radius: float) -> Gap:
    on_axis, on_solid, distance, cut = _nearest(solid, p, q)
    apart = on_solid - on_axis
    with np.errstate(all="ignore"):
        way = np.where(distance[:, None] > _TINY, apart / distance[:, None], 0.0)
    signed = distance - radius
    on_shaft = on_axis + radius * way
    within = np.flatnonzero(cut | solid.contains(p) | (distance <= _TINY))
    if len(within):
        a, b, depth, out = _deepest(solid, p[within], q[within])
        signed[within] = -depth - radius
        on_solid[within] = b
        on_shaft[within] = a - radius * out
    return Gap(signed, on_shaft, on_solid)


def _nearest(solid: Solid, p: Array, q: Array) -> tuple[Array, Array, Array, Bools]:
    """Return nearest points on axis and surface, their distance, and whether the axis goes through a face."""
    n = len(p)
    rows = np.arange(n)
    d = (q - p)[:, None]
    start, along = solid.edges[:, 0][None], (solid.edges[:, 1] - solid.edges[:, 0])[None]
    s, t = segment_parameters(p[:, None], d, start, along)
    one, two = p[:, None] + s[..., None] * d, start + t[..., None] * along
    square = ((one - two) ** 2).sum(-1)
    best = square.argmin(axis=1)
    on_axis, on_solid, least = one[rows, best], two[rows, best], square[rows, best]
    normal, height = solid.planes
    inward, rim = solid.rims
    ends = [(end, end @ normal - height, end @ inward - rim) for end in (p, q)]
    for end, high, over in ends:
        reach = np.where(_over(over), high**2, np.inf)
        best = reach.argmin(axis=1)
        less = reach[rows, best] < least
        foot = end - high[rows, best, None] * solid.normals[best]
        on_axis = np.where(less[:, None], end, on_axis)
        on_solid = np.where(less[:, None], foot, on_solid)
        least = np.where(less, reach[rows, best], least)
    (_, h_p, over_p), (_, h_q, over_q) = ends
    across = (h_p * h_q <= 0) & (h_p != h_q)
    if not across.any():
        return on_axis, on_solid, np.sqrt(least), np.zeros(n, dtype=bool)
    share = np.where(across, h_p / np.where(across, h_p - h_q, 1.0), 0.0)
    share = np.tile(share, 4)
    through = across & _over(over_p + share * (over_q - over_p))
    return on_axis, on_solid, np.sqrt(least), through.any(axis=1)


def _over(turn: Array) -> Bools:
    """Return over which faces (n, f) points lie, from their places inside the rims (n, 4 f), mm."""
    inside: Bools = (turn.reshape(len(turn), 4, -1) >= -_TINY).all(axis=1)
    return inside


def surface_distance(solid: Solid, points: Array) -> tuple[Array, Array]:
    """Return the distance of points (n, 3) from the solid's surface and the nearest surface point, whichever side."""
    on_axis, on_solid, distance, _ = _nearest(solid, points, points)
    return distance, on_solid


_LOOKS = 65
_SHRINKS = 12


def _deepest(solid: Solid, p: Array, q: Array) -> tuple[Array, Array, Array, Array]:
    """Return the axis point deepest inside, the surface point nearest to it, the depth, and the way out.

    The depth along the axis is looked at in 65 places, then ever closer around the deepest, to 1e-9 of its length.
    """
    n = len(p)
    low, high = np.zeros(n), np.ones(n)
    rows = np.arange(n)
    looks = _LOOKS
    for _ in range(_SHRINKS):
        t = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, looks)
        points = p[:, None] + t[..., None] * (q - p)[:, None]
        distance, _ = surface_distance(solid, points.reshape(-1, 3))
        depth = np.where(solid.contains(points), distance.reshape(n, looks), -distance.reshape(n, looks))
        best = depth.argmax(axis=1)
        low, high = t[rows, np.maximum(best - 1, 0)], t[rows, np.minimum(best + 1, looks - 1)]
        looks = 9
        if (np.linalg.norm(q - p, axis=-1) * (high - low)).max() < 1e-7:
            break
    a = points[rows, best]
    distance, b = surface_distance(solid, a)
    deep = np.maximum(depth[rows, best], 0.0)
    with np.errstate(all="ignore"):
        out = np.where(deep[:, None] > _TINY, (b - a) / distance[:, None], 0.0)
    return a, b, deep, out
