"""The solid two outlines make: the points inside both its rear outline and its side outline.

Between two neighbouring corner heights both outlines are made of trapezoids, so there the solid is made of
six-sided blocks. Its surface is the blocks' side faces, and at each corner height the part of the horizontal
plane where solid meets no solid. All faces are flat convex quadrilaterals (some with an edge of no length).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from linkviz.frozen import Frozen

Array = NDArray[np.float64]
Outline = Sequence[tuple[float, float]]

_PLACES = 7
"""Decimals of a millimetre kept: corners meant to be at one height are so, and no slab is thinner than rounding."""

Line = tuple[float, float]
"""A straight edge inside a slab: its horizontal place at the slab's bottom and top, mm."""


class Solid(Frozen, eq=False, dict=True):
    """A solid by its surface.

    Attributes
    ----------
    rear, side : ndarray, shape (k, 2)
        The outlines, (y, z) and (x, z), mm.
    faces : ndarray, shape (f, 4, 3)
        Corners of the faces, in order around each, mm.
    normals : ndarray, shape (f, 3)
        Unit normals, outwards.
    edges : ndarray, shape (m, 2, 3)
        Every edge of every face once, mm.
    around : ndarray of int, shape (f, 4)
        Which edges go around each face; where a face has an edge of no length, one of its others stands twice.
    """

    rear: Array
    side: Array
    faces: Array
    normals: Array
    edges: Array
    around: NDArray[np.intp]

    @classmethod
    def from_outlines(cls, rear: Outline, side: Outline) -> Solid:
        """Make the solid of two simple outlines, of either sense, hollow corners allowed.

        Parameters
        ----------
        rear : sequence of (y, z)
            Outline in rear view, at least three corners, mm.
        side : sequence of (x, z)
            Outline in side view, at least three corners, mm.

        Coordinates are rounded to 1e-7 mm.

        Raises
        ------
        ValueError
            If the outlines share no height, so that there is no solid, or if a coordinate is not finite.
        """
        a, b = (np.round(np.asarray(outline, dtype=float), _PLACES) for outline in (rear, side))
        if not (np.isfinite(a).all() and np.isfinite(b).all()):
            raise ValueError("every corner of an outline must be two finite numbers")
        faces = _surface(a, b)
        if not len(faces):
            raise ValueError("the rear and the side outline share no height: there is nothing inside both")
        normals = np.cross(faces[:, 2] - faces[:, 0], faces[:, 3] - faces[:, 1])
        size = np.linalg.norm(normals, axis=-1)
        keep = size > 1e-9
        faces, normals = faces[keep], normals[keep] / size[keep, None]
        return cls(a, b, faces, normals, *_edges(faces))

    @cached_property
    def planes(self) -> tuple[Array, Array]:
        """Return the planes of the faces: unit normals (3, f) and offsets (f,), so that height = point @ n - c."""
        return self.normals.T, (self.normals * self.faces[:, 0]).sum(axis=-1)

    @cached_property
    def rims(self) -> tuple[Array, Array]:
        """Return, for each of the four edges of each face, the direction inwards (3, 4 f) and its offset (4 f,).

        A point over face i lies inside its rim where point @ direction - offset >= 0 for its four edges; the columns
        run over the faces for the first edge, then for the second, and so on.
        """
        along = np.roll(self.faces, -1, axis=1) - self.faces
        inward = np.cross(self.normals[:, None], along)
        middle = self.faces.mean(axis=1, keepdims=True)
        size = np.linalg.norm(inward, axis=-1, keepdims=True)
        sense = np.sign(((middle - self.faces) * inward).sum(axis=-1, keepdims=True))
        inward = np.where(size > 1e-12, inward * sense / np.where(size > 1e-12, size, 1.0), 0.0)
        offset = (inward * self.faces).sum(axis=-1)
        return inward.transpose(2, 1, 0).reshape(3, -1), offset.T.reshape(-1)

    @cached_property
    def outer(self) -> NDArray[np.bool_]:
        """Return which faces have the whole solid behind their plane, (f,)."""
        normal, height = self.planes
        behind: NDArray[np.bool_] = (self.faces.reshape(-1, 3) @ normal - height).max(axis=0) <= 1e-9
        return behind

    @cached_property
    def skin(self) -> tuple[Array, Array, Solid | None]:
        """Return what the depth of an inside point is measured to.

        That is the planes of the outer faces, each once, as unit normals (3, k) and offsets (k,); and the other
        faces, or None if there are none. No ball inside the solid goes through an outer plane, so the distance from
        the plane stands for the distance from its faces.
        """
        normal, height = self.planes
        rounded = np.round(np.vstack([normal, height])[:, self.outer], 9)
        _, first = np.unique(rounded, axis=1, return_index=True)
        which = np.flatnonzero(self.outer)[first]
        rest = ~self.outer
        if not rest.any():
            return normal[:, which], height[which], None
        used, around = np.unique(self.around[rest], return_inverse=True)
        inner = Solid(
            self.rear, self.side, self.faces[rest], self.normals[rest], self.edges[used], around.reshape(-1, 4)
        )
        return normal[:, which], height[which], inner

    def contains(self, points: Array) -> NDArray[np.bool_]:
        """Return which points, shape (..., 3), lie inside the solid."""
        return inside(self.rear, points[..., 1], points[..., 2]) & inside(self.side, points[..., 0], points[..., 2])


def inside(outline: Array, u: Array, v: Array) -> NDArray[np.bool_]:
    """Return which points (u, v) lie inside an outline, by the number of edges crossed."""
    before = np.roll(outline, 1, axis=0)
    rises = outline[:, 1] != before[:, 1]
    u0, v0, u1, v1 = (column[:, None] for column in (*before[rises].T, *outline[rises].T))
    flat_u, flat_v = np.reshape(u, -1), np.reshape(v, -1)
    crosses = (v0 > flat_v) != (v1 > flat_v)
    crosses &= flat_u < (u1 - u0) / (v1 - v0) * (flat_v - v0) + u0
    result: NDArray[np.bool_] = np.logical_xor.reduce(crosses, axis=0)
    return result.reshape(np.shape(u))


def pieces(outline: Array, low: float, high: float) -> list[tuple[Line, Line]]:
    """Return the trapezoids of an outline in a slab with no corner between its heights: (left, right) edges."""
    middle = (low + high) / 2
    found: list[tuple[float, Line]] = []
    u0, v0 = outline[-1]
    for u1, v1 in outline:
        if (v0 > middle) != (v1 > middle):
            slope = (u1 - u0) / (v1 - v0)
            line = (float(u0 + slope * (low - v0)), float(u0 + slope * (high - v0)))
            found.append((sum(line) / 2, line))
        u0, v0 = u1, v1
    lines = [line for _, line in sorted(found)]
    return list(zip(lines[::2], lines[1::2], strict=True))


def heights(*outlines: Array) -> list[float]:
    """Return the heights at which slabs meet: all corner heights where every outline has material, mm."""
    low = max(float(o[:, 1].min()) for o in outlines)
    high = min(float(o[:, 1].max()) for o in outlines)
    return sorted({float(z) for o in outlines for z in o[:, 1] if low <= z <= high})


def _surface(rear: Array, side: Array) -> Array:
    levels = heights(rear, side)
    faces: list[list[tuple[float, float, float]]] = []
    below: list[tuple[float, float, float, float]] = []
    for i, z0 in enumerate(levels):
        above: list[tuple[float, float, float, float]] = []
        tops: list[tuple[float, float, float, float]] = []
        if i + 1 < len(levels):
            z1 = levels[i + 1]
            for y_left, y_right in pieces(rear, z0, z1):
                for x_left, x_right in pieces(side, z0, z1):
                    above.append((x_left[0], x_right[0], y_left[0], y_right[0]))
                    tops.append((x_left[1], x_right[1], y_left[1], y_right[1]))
                    faces += _walls(x_left, x_right, y_left, y_right, z0, z1)
        faces += _level(below, above, z0)
        below = tops
    return np.array(faces).reshape(-1, 4, 3)


def _walls(xl: Line, xr: Line, yl: Line, yr: Line, z0: float, z1: float) -> list[list[tuple[float, float, float]]]:
    """Return the four side faces of a block, each going around its outward normal."""
    right, left = ([(x[0], yl[0], z0), (x[0], yr[0], z0), (x[1], yr[1], z1), (x[1], yl[1], z1)] for x in (xr, xl))
    near, far = ([(xl[0], y[0], z0), (xr[0], y[0], z0), (xr[1], y[1], z1), (xl[1], y[1], z1)] for y in (yl, yr))
    return [right, left[::-1], near, far[::-1]]


def _level(
    below: list[tuple[float, float, float, float]], above: list[tuple[float, float, float, float]], z: float
) -> list[list[tuple[float, float, float]]]:
    """Return the part of a horizontal plane where there is solid on one side only, as rectangles."""
    rectangles = below + above
    xs = sorted({v for r in rectangles for v in r[:2]})
    ys = sorted({v for r in rectangles for v in r[2:]})

    def covered(group: list[tuple[float, float, float, float]], x: float, y: float) -> bool:
        return any(r[0] < x < r[1] and r[2] < y < r[3] for r in group)

    found = []
    for x0, x1 in pairwise(xs):
        for y0, y1 in pairwise(ys):
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            under, over = covered(below, x, y), covered(above, x, y)
            if under != over:
                upwards = [(x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z)]
                found.append(upwards if under else upwards[::-1])
    return found


def _edges(faces: Array) -> tuple[Array, NDArray[np.intp]]:
    pairs = np.stack([faces, np.roll(faces, -1, axis=1)], axis=2)
    names: dict[frozenset[tuple[float, ...]], int] = {}
    unique: list[Array] = []
    around = []
    for face in pairs:
        mine = []
        for pair in face:
            ends = frozenset(tuple(np.round(end, 9) + 0.0) for end in pair)
            if len(ends) == 2:
                if ends not in names:
                    names[ends] = len(unique)
                    unique.append(pair)
                mine.append(names[ends])
        around.append([*mine, *mine[:1] * (4 - len(mine))])
    return np.array(unique), np.array(around, dtype=np.intp)
