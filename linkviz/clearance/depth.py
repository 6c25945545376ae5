"""How deep a straight axis goes below the surface of a solid, exactly.

The depth of a point inside the solid is the least of its distances from the faces. Each of these, seen along the
axis, is a convex function, so between two places it lies below its chord. The least of the chords therefore never
lies below the depth: its highest place is a bound, and a good place to look next. Stretches whose bound is not above
the greatest depth found so far are left out, the others are cut where they were looked at. What is found is within
1e-8 mm of the greatest depth, for solids with hollow corners too.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from linkviz.clearance.segments import Array
from linkviz.clearance.solid import Solid

ENOUGH = 1e-8
"""Greatest error of a depth, mm."""
_TINY = 1e-9
_ROUNDS = 60
_BATCH = 4096
"""Stretches looked at side by side."""


def face_distances(solid: Solid, points: Array) -> Array:
    """Return the distances of points, shape (m, 3), from the faces of a solid, shape (m, f), mm."""
    normal, height = solid.planes
    inward, rim = solid.rims
    over = ((points @ inward - rim).reshape(len(points), 4, -1) >= -_TINY).all(axis=1)
    start = solid.edges[:, 0]
    along = solid.edges[:, 1] - start
    share = (points @ along.T - (start * along).sum(axis=1)) / (along**2).sum(axis=1)
    share = np.clip(share, 0.0, 1.0)
    square = np.zeros_like(share)
    for i in range(3):
        square += (start[:, i] + share * along[:, i] - points[:, i, None]) ** 2
    ring = solid.around
    rim_square = np.minimum(
        np.minimum(square[:, ring[:, 0]], square[:, ring[:, 1]]),
        np.minimum(square[:, ring[:, 2]], square[:, ring[:, 3]]),
    )
    distance: Array = np.where(over, np.abs(points @ normal - height), np.sqrt(rim_square))
    return distance


def crossings(heights: tuple[Array, Array], over: tuple[Array, Array]) -> Array:
    """Return the places from 0 to 1 where axes go through faces, shape (n, f); inf where they do not.

    Parameters
    ----------
    heights : two ndarrays, shape (n, f)
        Heights of the axes' two ends over the planes of the faces, mm.
    over : two ndarrays, shape (n, 4 f)
        How far inside the rims of the faces the two ends lie, mm; see `Solid.rims`.
    """
    (h_p, h_q), (over_p, over_q) = heights, over
    across = (h_p * h_q <= 0) & (h_p != h_q)
    share = np.where(across, h_p / np.where(across, h_p - h_q, 1.0), 0.0)
    crossing = over_p + np.tile(share, 4) * (over_q - over_p)
    through = across & (crossing.reshape(len(h_p), 4, -1) >= -_TINY).all(axis=1)
    return np.where(through, share, np.inf)


def deepest(solid: Solid, p: Array, q: Array) -> tuple[Array, Array]:
    """Return where along its axis each tube is deepest inside a solid.

    Parameters
    ----------
    solid : Solid
        The solid.
    p, q : ndarray, shape (n, 3)
        Ends of the axes, mm. Each axis reaches into the solid or touches it.

    Returns
    -------
    share : ndarray, shape (n,)
        The place, 0 at p and 1 at q.
    depth : ndarray, shape (n,)
        Distance of that place from the surface, mm; 0 where the axis only touches.
    """
    n = len(p)
    (normal, height), (inward, rim) = solid.planes, solid.rims
    through = crossings((p @ normal - height, q @ normal - height), (p @ inward - rim, q @ inward - rim))
    cuts = np.sort(np.concatenate([np.zeros((n, 1)), through, np.ones((n, 1))], axis=1), axis=1)
    cuts = cuts[:, : int(np.isfinite(cuts).sum(axis=1).max())]
    row, column = np.nonzero(np.isfinite(cuts[:, 1:]) & (cuts[:, 1:] > cuts[:, :-1]))
    low, high = cuts[row, column], cuts[row, column + 1]
    middle = (low + high) / 2
    inner = solid.contains(p[row] + middle[:, None] * (q - p)[row])
    row, low, high = row[inner], low[inner], high[inner]
    search = _Search(solid, p, q)
    bare = np.setdiff1d(np.arange(n), row)
    if len(bare):
        # an axis that only touches is looked at where it goes through the surface or ends
        touching = np.where(np.isfinite(cuts[bare]), cuts[bare], 0.0)
        search.look(np.repeat(bare, touching.shape[1]), touching.reshape(-1))
    for i in range(0, len(row), _BATCH):
        part = slice(i, i + _BATCH)
        search.run(row[part], low[part], high[part])
    return search.share, np.maximum(search.depth, 0.0)


class _Search:
    """The greatest depths found so far along n axes."""

    def __init__(self, solid: Solid, p: Array, q: Array) -> None:
        self.solid, self.p, self.d = solid, p, q - p
        self.share = np.zeros(len(p))
        self.depth = np.full(len(p), -np.inf)

    def look(self, row: NDArray[np.intp], share: Array, inside: bool = False) -> Array:
        """Look at one place on each of some axes; return its distances from the skin, (m, f).

        `inside` tells that all places are known to lie inside the solid or on its surface.
        """
        points = self.p[row] + share[:, None] * self.d[row]
        normal, height, inner = self.solid.skin
        distances = height - points @ normal
        least = distances.min(axis=1)
        outside = -least
        if inner is not None:
            apart = face_distances(inner, points)
            outside = -apart.min(axis=1)
            distances = np.concatenate([distances, apart], axis=1)
            least = np.minimum(least, -outside)
        depth = least if inside else np.where((least < 0) | self.solid.contains(points), least, outside)
        order = np.argsort(depth, kind="stable")  # of several on one axis, the deepest is written last
        row, share, depth = row[order], share[order], depth[order]
        better = depth > self.depth[row]
        self.depth[row[better]] = depth[better]
        self.share[row[better]] = share[better]
        return distances

    def run(self, row: NDArray[np.intp], low: Array, high: Array) -> None:
        """Find the deepest places on stretches, from `low` to `high` of the axes `row`."""
        ends = self.look(np.concatenate([row, row]), np.concatenate([low, high]), inside=True)
        at_low, at_high = ends[: len(row)], ends[len(row) :]
        for _ in range(_ROUNDS):
            place, bound = _summit(at_low, at_high)
            keep = np.flatnonzero(bound > self.depth[row] + ENOUGH)
            if not len(keep):
                return
            row, low, high, bound = row[keep], low[keep], high[keep], bound[keep]
            top = low + place[keep] * (high - low)
            at_top = self.look(row, top, inside=True)
            left = np.flatnonzero(bound > self.depth[row] + ENOUGH)
            if not len(left):
                return
            row, low, high, top = row[left], low[left], high[left], top[left]
            at_low, at_high, at_top = at_low[keep][left], at_high[keep][left], at_top[left]
            middle = (low + high) / 2
            at_middle = self.look(row, middle, inside=True)
            swap = (middle < top)[:, None]
            at_one, at_two = np.where(swap, at_middle, at_top), np.where(swap, at_top, at_middle)
            one, two = np.minimum(middle, top), np.maximum(middle, top)
            at_low, at_high = np.concatenate([at_low, at_one, at_two]), np.concatenate([at_one, at_two, at_high])
            low, high = np.concatenate([low, one, two]), np.concatenate([one, two, high])
            row = np.tile(row, 3)


def _summit(at_low: Array, at_high: Array) -> tuple[Array, Array]:
    """Return where the least of straight lines, from 0 to 1, is highest, and a bound on how high.

    `at_low` and `at_high`, shape (m, f), are the heights of f lines at 0 and 1. The highest place is enclosed by a
    line that rises and a line that falls; where they cross is never too low.
    """
    rows = np.arange(len(at_low))
    left, right = at_low.argmin(axis=1), at_high.argmin(axis=1)
    a0, a1 = at_low[rows, left], at_high[rows, left]
    b0, b1 = at_low[rows, right], at_high[rows, right]
    # a line that is least at an end and does not rise towards the inside has its highest place there
    at_start, at_end = a1 <= a0, b0 <= b1
    for _ in range(4):
        slope = (a1 - a0) - (b1 - b0)
        place = np.where(slope > 0, (b0 - a0) / np.where(slope > 0, slope, 1.0), 0.5)
        place = np.clip(place, 0.0, 1.0)
        bound = a0 + place * (a1 - a0)
        heights = at_low + place[:, None] * (at_high - at_low)
        least = heights.argmin(axis=1)
        lower = (heights[rows, least] < bound - ENOUGH / 2) & ~at_start & ~at_end
        if not lower.any():
            break
        c0, c1 = at_low[rows, least], at_high[rows, least]
        rising = lower & (c1 > c0)
        falling = lower & ~(c1 > c0)
        a0, a1 = np.where(rising, c0, a0), np.where(rising, c1, a1)
        b0, b1 = np.where(falling, c0, b0), np.where(falling, c1, b1)
    place = np.where(at_start, 0.0, np.where(at_end, 1.0, place))
    bound = np.where(at_start, at_low[rows, left], np.where(at_end, at_high[rows, right], bound))
    # where it is equally high along a stretch, the middle of that is taken
    rise = at_high - at_low
    level = (bound - ENOUGH / 4)[:, None] - at_low
    share = level / np.where(rise == 0, 1.0, rise)
    first = np.clip(np.where(rise > 0, share, 0.0).max(axis=1), 0.0, 1.0)
    last = np.clip(np.where(rise < 0, share, 1.0).min(axis=1), 0.0, 1.0)
    return np.where(first <= last, (first + last) / 2, place), bound
