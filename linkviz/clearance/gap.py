"""Signed gap between a round tube and a solid, exact in space.

The tube is all points within its radius of its axis, a straight segment. Let s(a) be the distance of an axis point
a from the solid's surface, counted negative inside the solid. The gap is the least s over the axis, minus the radius:

- axis outside the solid: the distance from axis to solid minus the radius; negative once the tube cuts in, and then
  how deep it is in;
- axis partly inside: minus (the greatest depth of an axis point below the surface, plus the radius). The depth of a
  point is its distance from the nearest place of the surface, hollow corners included.

So it has no jump: moved by some way, the tube's gap changes by no more than that. 0 means touching. Outside, the gap
is exact to rounding; with the axis inside, to 1e-8 mm.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from linkviz.clearance.depth import crossings, deepest
from linkviz.clearance.segments import Array, segment_parameters
from linkviz.clearance.solid import Solid
from linkviz.frozen import Frozen

Bools = NDArray[np.bool_]

_PAIRS = 200_000
"""Segment pairs looked at side by side."""
_TINY = 1e-9


class Gap(Frozen, eq=False):
    """Gaps at n states.

    Attributes
    ----------
    distance : ndarray, shape (n,)
        mm; negative is depth.
    on_shaft, on_solid : ndarray, shape (n, 3)
        The two points it is measured between, on the tube's and on the solid's surface, mm. While the axis is outside
        they lie as far apart as the gap says. With the axis inside, `on_solid` is nearest to the deepest axis point
        and `on_shaft` is the point of the tube's surface most nearly on its far side.
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

    Raises
    ------
    ValueError
        If a number is not finite or the radius is negative.
    """
    p, q = np.atleast_2d(np.asarray(p, dtype=float)), np.atleast_2d(np.asarray(q, dtype=float))
    if not (np.isfinite(p).all() and np.isfinite(q).all() and 0 <= radius < np.inf):
        raise ValueError("the ends of the shaft must be finite numbers and its radius must not be negative")
    chunk = max(1, _PAIRS // max(1, len(solid.edges)))
    parts = [_gap(solid, p[i : i + chunk], q[i : i + chunk], radius) for i in range(0, len(p), chunk)]
    if len(parts) == 1:
        return parts[0]
    if not parts:
        return Gap(np.zeros(0), np.zeros((0, 3)), np.zeros((0, 3)))
    return Gap(*(np.concatenate([getattr(part, f) for part in parts]) for f in ("distance", "on_shaft", "on_solid")))


def _gap(solid: Solid, p: Array, q: Array, radius: float) -> Gap:
    on_axis, on_solid, distance, cut = _nearest(solid, p, q)
    way = (on_solid - on_axis) / np.maximum(distance, _TINY)[:, None]
    signed = distance - radius
    on_shaft = on_axis + radius * way
    within = np.flatnonzero(cut | solid.contains(p) | (distance <= _TINY))
    if len(within):
        start, end = p[within], q[within]
        share, depth = deepest(solid, start, end)
        a = start + share[:, None] * (end - start)
        b, out = _way_out(solid, a)
        signed[within] = -depth - radius
        on_solid[within] = b
        on_shaft[within] = a + radius * _off_axis(-out, end - start, share)
    return Gap(signed, on_shaft, on_solid)


def _way_out(solid: Solid, points: Array) -> tuple[Array, Array]:
    """Return the surface points nearest to points inside (n, 3), and the unit directions that lead there."""
    _, b, distance, _ = _nearest(solid, points, points)
    out = (b - points) / np.maximum(distance, _TINY)[:, None]
    flush = np.flatnonzero(distance <= 1e-7)
    if len(flush):
        # on the surface itself the way out is the normal of the face there
        normal, height = solid.planes
        inward, rim = solid.rims
        near = points[flush]
        off = np.where(_over(near @ inward - rim + 1e-6), np.abs(near @ normal - height), np.inf)
        out[flush] = solid.normals[off.argmin(axis=1)]
    return b, out


def _off_axis(way: Array, along: Array, share: Array) -> Array:
    """Return unit vectors (n, 3) nearest to `way` that lead from the axis point at `share` straight to the tube's skin.

    That is square to the axis between its ends, and any way in the outer half space at an end.
    """
    length = np.sqrt((along**2).sum(axis=-1, keepdims=True))
    axis = along / np.maximum(length, _TINY)
    lengthwise = (way * axis).sum(axis=-1, keepdims=True)
    part = share[:, None]
    free = (length <= _TINY) | ((part <= 0) & (lengthwise <= 0)) | ((part >= 1) & (lengthwise >= 0))
    square = way - lengthwise * axis
    size = np.sqrt((square**2).sum(axis=-1, keepdims=True))
    other = np.cross(axis, np.eye(3)[np.abs(axis).argmin(axis=-1)])
    other /= np.maximum(np.sqrt((other**2).sum(axis=-1, keepdims=True)), _TINY)
    skin: Array = np.where(free, way, np.where(size > 1e-6, square / np.maximum(size, 1e-6), other))
    return skin


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
    cut: Bools = np.logical_or.reduce(np.isfinite(crossings((h_p, h_q), (over_p, over_q))), axis=1)
    return on_axis, on_solid, np.sqrt(least), cut


def _over(turn: Array) -> Bools:
    """Return over which faces (n, f) points lie, from their places inside the rims (n, 4 f), mm."""
    first, second, third, fourth = (turn >= -_TINY).reshape(len(turn), 4, -1).transpose(1, 0, 2)
    inside: Bools = first & second & third & fourth
    return inside
