"""Distance between the cores of two bodies at many states, with proof of how exact it is.

The core of a body is the body without its ball. The search is that of Gilbert, Johnson and Keerthi (1988): a small
simplex of points of the one core less the other closes in on the origin. Each round gives a true distance between two
points and, from the farthest points across the line between them, a distance that the cores cannot fall short of.
What lies between the two is the greatest error; the search goes on until it is below `ENOUGH`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from linkviz.clearance.bodies import Body, Frames, Which, together
from linkviz.clearance.segments import Array
from linkviz.clearance.simplex import nearest
from linkviz.frozen import Frozen

ENOUGH = 1e-8
"""Greatest error of a distance at which the search ends, mm."""
TOUCH = 1e-9
"""Cores nearer than this are said to meet, mm."""
_ROUNDS = 200
_STALLS = 8
"""How often a search may come to a halt by rounding and be taken up again."""
CHUNK = 2048
"""States carried side by side: many more would not fit the processor's cache."""
_TINY = 1e-300


Job = tuple[Body, Frames, Body, Frames]
"""Two bodies and where they stand."""


class Simplex(Frozen, eq=False):
    """What the search ended with: corners as points of either body, in its own frame; it may begin at a near state.

    Attributes
    ----------
    a, b : ndarray, shape (4, 3, n)
        The points, mm.
    weights : ndarray, shape (4, n)
        Their share in the nearest points.
    """

    a: Array
    b: Array
    weights: Array

    def at(self, which: Which) -> Simplex:
        """Return some of the states."""
        return Simplex(self.a[:, :, which], self.b[:, :, which], self.weights[:, which])


class Cores(Frozen, eq=False):
    """Distances between two cores.

    Attributes
    ----------
    distance, least : ndarray, shape (n,)
        Distance of the nearest points found, and what it cannot be less than, mm; both 0 where the cores meet.
    way : ndarray, shape (3, n)
        Unit direction from the second body's nearest point to the first one's; 0 where the cores meet.
    on_a, on_b : ndarray, shape (3, n)
        The nearest points, common frame, mm.
    meet : ndarray of bool, shape (n,)
        Whether the cores meet.
    across : ndarray, shape (3, n)
        Unit direction along which the cores lie `least` apart, from the second to the first.
    last : ndarray, shape (3, n)
        As `way`, where they meet the direction in which the search last saw them apart; 0 if it never did.
    simplex : Simplex
    """

    distance: Array
    least: Array
    way: Array
    on_a: Array
    on_b: Array
    meet: NDArray[np.bool_]
    across: Array
    last: Array
    simplex: Simplex


def support(body: Body, way: Array) -> Array:
    """Return the points of a core that lie farthest in directions, shape (3, n), both in the body's frame."""
    vertices = body.vertices
    if len(vertices) == 1:
        point = np.repeat(vertices.T, way.shape[1], axis=1)
    elif len(vertices) == 2:
        along = vertices[1] - vertices[0]
        far = along[0] * way[0] + along[1] * way[1] + along[2] * way[2] > 0
        point = vertices[0][:, None] + along[:, None] * far
    else:
        point = np.ascontiguousarray(vertices.T)[:, (vertices @ way).argmax(axis=0)]
    if body.disc:
        size = np.sqrt(way[1] * way[1] + way[2] * way[2])
        scale = body.disc / np.where(size > 1e-12, size, 1.0)
        point[1] += scale * way[1]
        point[2] += scale * way[2]
    return point


def farthest(body: Body, frames: Frames, way: Array) -> tuple[Array, Array]:
    """Return the farthest points of a core in directions (3, n) of the common frame: in its own and in the common."""
    own = support(body, frames.back(way))
    return own, frames.place(own)


def core_distance(a: Body, at_a: Frames, b: Body, at_b: Frames, start: Simplex | None = None) -> Cores:
    """Return the distance between the cores of two bodies at n states.

    Parameters
    ----------
    a, b : Body
        The bodies.
    at_a, at_b : Frames
        Where they stand.
    start : Simplex, optional
        What the search ended with at states near these; it is shorter then.
    """
    return core_distances([(a, at_a, b, at_b)], start)


def core_distances(
    jobs: Sequence[Job], start: Simplex | None = None, far: Array | None = None, enough: float = ENOUGH
) -> Cores:
    """Return the distances of several pairs of bodies, one pair's states after the other's, in one search.

    Parameters
    ----------
    jobs : sequence of (a, at_a, b, at_b)
        As for `core_distance`.
    start : Simplex, optional
        Over all states.
    far : ndarray, shape (all states,), optional
        A distance for each state: once it is proved that the cores are farther apart, the search there ends.
    enough : float
        Greatest error at which the search ends, mm.
    """
    bodies_a, bodies_b = [job[0] for job in jobs], [job[2] for job in jobs]
    at_a, at_b = together([job[1] for job in jobs]), together([job[3] for job in jobs])
    ends = np.cumsum([len(job[1]) for job in jobs])
    n = len(at_a)
    pieces = []
    for i in range(0, max(n, 1), CHUNK):
        part = slice(i, i + CHUNK)
        sides = (_Side(bodies_a, at_a.at(part), ends - i), _Side(bodies_b, at_b.at(part), ends - i))
        pieces.append(
            _search(*sides, None if start is None else start.at(part), None if far is None else far[part], enough)
        )
    return pieces[0] if len(pieces) == 1 else joined(pieces)


class _Side(Frozen, eq=False):
    """The bodies of one side: body j at the rows from `ends[j - 1]` to `ends[j]`."""

    bodies: list[Body]
    frames: Frames
    ends: NDArray[np.intp]

    def at(self, keep: NDArray[np.intp]) -> _Side:
        return _Side(self.bodies, self.frames.at(keep), np.searchsorted(keep, self.ends))

    def _each(self) -> list[tuple[Body, slice]]:
        found, n, low = [], len(self.frames), 0
        for body, end in zip(self.bodies, np.clip(self.ends, 0, n).tolist(), strict=True):
            if end > low:
                found.append((body, slice(low, end)))
                low = end
        return found

    def middle(self) -> Array:
        """Return the middles of the hulls, in their own frames, shape (3, n)."""
        own = np.empty((3, len(self.frames)))
        for body, rows in self._each():
            own[:, rows] = body.vertices.mean(axis=0)[:, None]
        return own

    def farthest(self, way: Array) -> tuple[Array, Array]:
        """As the function of that name."""
        back = self.frames.back(way)
        each = self._each()
        own = support(each[0][0], back) if len(each) == 1 else np.empty_like(back)
        if len(each) > 1:
            for body, rows in each:
                own[:, rows] = support(body, back[:, rows])
        return own, self.frames.place(own)


def joined(pieces: list[Cores]) -> Cores:
    """Return the states of several answers, one after the other."""
    simplices = [piece.simplex for piece in pieces]
    simplex = Simplex(
        np.concatenate([s.a for s in simplices], axis=-1),
        np.concatenate([s.b for s in simplices], axis=-1),
        np.concatenate([s.weights for s in simplices], axis=-1),
    )
    names = ("distance", "least", "way", "on_a", "on_b", "meet", "across", "last")
    parts = {name: np.concatenate([getattr(piece, name) for piece in pieces], axis=-1) for name in names}
    return Cores(**parts, simplex=simplex)


def _begin(a: _Side, b: _Side) -> Simplex:
    """Return simplices of one point each, towards each other."""
    way = a.frames.place(a.middle()) - b.frames.place(b.middle())
    own_a, _ = a.farthest(-way)
    own_b, _ = b.farthest(way)
    weights = np.zeros((4, way.shape[1]))
    weights[0] = 1.0
    return Simplex(np.repeat(own_a[None], 4, axis=0), np.repeat(own_b[None], 4, axis=0), weights)


def _search(a: _Side, b: _Side, start: Simplex | None, far: Array | None, enough: float) -> Cores:
    at_a, at_b = a.frames, b.frames
    n = len(at_a)
    first = _begin(a, b) if start is None else start
    own_a, own_b = first.a.copy(), first.b.copy()
    corners = np.stack([at_a.place(own_a[i]) - at_b.place(own_b[i]) for i in range(4)])
    kept_a, kept_b, kept_weights = own_a.copy(), own_b.copy(), np.zeros((4, n))
    distance, least, meet = np.full(n, np.inf), np.zeros(n), np.zeros(n, dtype=bool)
    way, across = np.zeros((3, n)), np.zeros((3, n))
    rows, stalls = np.arange(n), np.zeros(n, dtype=np.int8)
    here_a, here_b = a, b
    for _ in range(_ROUNDS):
        weights, inside = nearest(corners, stalls > 0)
        v = weights[0] * corners[0]
        for i in (1, 2, 3):
            v = v + weights[i] * corners[i]
        size = np.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2])
        met = inside | (size <= TOUCH)
        better = size < distance[rows]
        go = (better | (stalls < _STALLS)) & ~met
        put = rows if better.all() else rows[better]
        pick = slice(None) if better.all() else better
        distance[put], way[:, put] = size[pick], v[:, pick]
        kept_a[:, :, put], kept_b[:, :, put] = own_a[:, :, pick], own_b[:, :, pick]
        kept_weights[:, put] = weights[:, pick]
        meet[rows[met]] = True
        # the farthest points across v: no two points of the cores are nearer along v than these
        new_a, place_a = here_a.farthest(-v)
        new_b, place_b = here_b.farthest(v)
        w = place_a - place_b
        bound = (v[0] * w[0] + v[1] * w[1] + v[2] * w[2]) / np.maximum(size, _TINY)
        more = bound > least[rows]
        up = rows if more.all() else rows[more]
        part = slice(None) if more.all() else more
        least[up], across[:, up] = bound[part], v[:, part] / np.maximum(size[part], _TINY)
        go &= distance[rows] - least[rows] > enough
        if far is not None:
            go &= least[rows] < far[rows]
        free = weights == 0
        if not (better | ~go).all():
            # rounding hides the way on: back to the best simplex, and every subset of it is looked at with care
            stuck = np.flatnonzero(~better & go)
            stalls[stuck] += 1
            was = rows[stuck]
            own_a[:, :, stuck], own_b[:, :, stuck] = kept_a[:, :, was], kept_b[:, :, was]
            free[:, stuck] = kept_weights[:, was] == 0
            here, there = here_a.frames.at(stuck), here_b.frames.at(stuck)
            for i in range(4):
                corners[i][:, stuck] = here.place(own_a[i][:, stuck]) - there.place(own_b[i][:, stuck])
            # and where that does not help either, from its best point alone
            alone = stuck[stalls[stuck] % 2 == 0]
            share = kept_weights[:, None, rows[alone]]
            own_a[0][:, alone] = (share * kept_a[:, :, rows[alone]]).sum(axis=0)
            own_b[0][:, alone] = (share * kept_b[:, :, rows[alone]]).sum(axis=0)
            corners[0][:, alone] = way[:, rows[alone]]
            free[0, alone], free[1:, alone] = False, True
        if not go.all():
            keep = np.flatnonzero(go)
            if not len(keep):
                break
            rows, free, stalls = rows[keep], free[:, keep], stalls[keep]
            own_a, own_b, corners = own_a[:, :, keep], own_b[:, :, keep], corners[:, :, keep]
            new_a, new_b, w = new_a[:, keep], new_b[:, keep], w[:, keep]
            here_a, here_b = here_a.at(keep), here_b.at(keep)
        for i in range(4):
            np.copyto(own_a[i], new_a, where=free[i])
            np.copyto(own_b[i], new_b, where=free[i])
            np.copyto(corners[i], w, where=free[i])
    least = np.minimum(least, distance)
    last = way / np.maximum(np.where(np.isfinite(distance), distance, 1.0), _TINY)
    distance[meet], least[meet] = 0.0, 0.0
    way = np.where(meet, 0.0, last)
    mean_a, mean_b = ((kept_weights[:, None] * kept).sum(axis=0) for kept in (kept_a, kept_b))
    simplex = Simplex(kept_a, kept_b, kept_weights)
    return Cores(distance, least, way, at_a.place(mean_a), at_b.place(mean_b), meet, across, last, simplex)
