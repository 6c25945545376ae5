"""Cutting an outline with hollow corners into convex pieces: ears first, then pieces that fit together are joined.

At most four times as many pieces as there must be (S. Hertel, K. Mehlhorn, Fast triangulation of simple polygons, 1983;
J. O'Rourke, Computational Geometry in C, section 2.5); an outline without hollow corners stays whole.
"""

from __future__ import annotations

import numpy as np

from linkviz.clearance.segments import Array

_FLAT = 1e-9


def convex_pieces(outline: Array) -> list[Array]:
    """Return convex outlines, counterclockwise, that together fill a simple outline.

    Parameters
    ----------
    outline : ndarray, shape (k, 2)
        Corners in order, of either sense, mm.
    """
    points = np.asarray(outline, dtype=float)
    if _area(points) < 0:
        points = points[::-1]
    ring = list(range(len(points)))
    if _convex(points, ring):
        return [points]
    pieces = _ears(points)
    joined = True
    while joined:
        joined = False
        for i in range(len(pieces)):
            for j in range(i + 1, len(pieces)):
                both = _join(pieces[i], pieces[j])
                if both is not None and _convex(points, both):
                    pieces[i] = both
                    del pieces[j]
                    joined = True
                    break
            if joined:
                break
    return [points[piece] for piece in pieces]


def _area(points: Array) -> float:
    u, v = points.T
    return float((u * np.roll(v, -1) - np.roll(u, -1) * v).sum()) / 2.0


def _turn(a: Array, b: Array, c: Array) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _convex(points: Array, ring: list[int]) -> bool:
    k = len(ring)
    return all(_turn(points[ring[i - 1]], points[ring[i]], points[ring[(i + 1) % k]]) >= -_FLAT for i in range(k))


def _ears(points: Array) -> list[list[int]]:
    """Return triangles of corners, counterclockwise."""
    ring = list(range(len(points)))
    found: list[list[int]] = []
    while len(ring) > 3:
        corners = [(ring[i - 1], ring[i], ring[(i + 1) % len(ring)]) for i in range(len(ring))]
        turns = [_turn(*points[list(corner)]) for corner in corners]
        ears = (i for i, corner in enumerate(corners) if turns[i] >= -_FLAT and _free(points, ring, corner))
        # without an ear, corners all but coincide: the straightest one goes
        at = next(ears, int(np.argmin(np.abs(turns))))
        if turns[at] > _FLAT:
            found.append(list(corners[at]))
        del ring[at]
    if _turn(*points[ring]) > _FLAT:
        found.append(ring)
    return found


def _free(points: Array, ring: list[int], corner: tuple[int, int, int]) -> bool:
    """Return whether no other corner lies in or on the triangle of a corner and its neighbours."""
    a, b, c = points[list(corner)]
    return not any(_within(points[n], a, b, c) for n in ring if n not in corner)


def _within(p: Array, a: Array, b: Array, c: Array) -> bool:
    return _turn(a, b, p) >= -_FLAT and _turn(b, c, p) >= -_FLAT and _turn(c, a, p) >= -_FLAT


def _join(one: list[int], other: list[int]) -> list[int] | None:
    """Return the outline of two pieces with an edge in common, or None."""
    for i in range(len(one)):
        a, b = one[i], one[(i + 1) % len(one)]
        for j in range(len(other)):
            if other[j] == b and other[(j + 1) % len(other)] == a:
                rest = [other[(j + k) % len(other)] for k in range(2, len(other))]
                return [*one[i + 1 :], *one[: i + 1], *rest]  # from b around to a, and back
    return None
