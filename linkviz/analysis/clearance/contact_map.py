"""The contact map: over travel and roll, the smallest gap of all watched pairs, and which pair it is.

Sixteen thousand states times twenty pairs are too many to look at one by one while a slider moves, so most are proved
not to matter. Every pair is measured on a coarse grid. From there to a state nearby no body moves farther than is
known from its frame, so neither does a gap change by more. The likeliest pair is measured at each state, starting
from the simplex of the coarse grid; the others only where they could still be nearer, and only until it is proved that
they are not. What is left is exact: the same as measuring all pairs at all states.

Where the cores of two bodies meet (the shaft's axis inside a tank) the map says only that it is at least so deep;
`linkviz.analysis.clearance.pairs.pair_gap` says how deep.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.movers import STILL, Places
from linkviz.analysis.clearance.pairs import Element, Pair, elements_of, watched_pairs
from linkviz.clearance.bodies import Body, Frames
from linkviz.clearance.distance import Cores, Simplex, core_distances
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.linkage.solve import solve

TRAVELS, ROLLS = 201, 81
"""Usual number of travels and rolls."""
ROLL = float(np.radians(8.0))
"""Usual greatest roll to either side, rad."""
_COARSE = 10
"""Steps of the fine grid between two lines of the coarse one."""

_ROUGH = 1.0
"""Error of the coarse grid's distances, mm: they are only a beginning."""
_RIGID = ("axle", "wheels")
"""Frames whose matrices are rotations."""

Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]


class ContactMap(Frozen, eq=False):
    """The smallest gap over travel and roll.

    Attributes
    ----------
    travel : ndarray, shape (m,)
        mm from the present rest, jounce +.
    roll : ndarray, shape (k,)
        rad, left wheel up +.
    pairs : tuple of Pair
        The pairs that were looked at.
    gap : ndarray, shape (m, k)
        mm; negative inside; inf with no pair to look at.
    pair : ndarray of int, shape (m, k)
        Index of the pair with that gap; -1 with none.
    deep : ndarray of bool, shape (m, k)
        Where the bodies are at least as deep in each other as the gap says.
    near : ndarray of bool, shape (m, k)
        Where some pair is nearer than its margin.
    reached : ndarray of bool, shape (m, k)
        Whether the axle gets there.
    """

    travel: Array
    roll: Array
    pairs: tuple[Pair, ...]
    gap: Array
    pair: Ints
    deep: Bools
    near: Bools
    reached: Bools

    @property
    def worst(self) -> tuple[int, int]:
        """Return the indices of the smallest gap the axle gets to."""
        found = np.where(self.reached, self.gap, np.inf)
        i, j = np.unravel_index(int(np.argmin(found)), found.shape)
        return int(i), int(j)


def contact_map(
    build: Build, travel: Array | None = None, roll: Array | None = None, pairs: tuple[Pair, ...] | None = None
) -> ContactMap:
    """Return the contact map of a build. Takes a tenth of a second: not for the thread that paints.

    Parameters
    ----------
    build : Build
    travel : ndarray, shape (m,), optional
        mm from rest, rising; the travel window where left out.
    roll : ndarray, shape (k,), optional
        rad, rising; to `ROLL` on either side where left out.
    pairs : tuple of Pair, optional
        The watched pairs of the build where left out.
    """
    travel = np.linspace(*build.window, TRAVELS) if travel is None else np.asarray(travel, dtype=float)
    roll = np.linspace(-ROLL, ROLL, ROLLS) if roll is None else np.asarray(roll, dtype=float)
    pairs = watched_pairs(build.vehicle, build.setup) if pairs is None else pairs
    shape = (len(travel), len(roll))
    t, r = (grid.ravel() for grid in np.meshgrid(travel, roll, indexing="ij"))
    poses = solve(build.layout, t - build.setup.lift, r)
    reached = poses.reached.reshape(shape)
    elements = elements_of(build, pairs)
    if not elements:
        none = np.zeros(shape, dtype=bool)
        return ContactMap(travel, roll, pairs, np.full(shape, np.inf), np.full(shape, -1), none, none, reached)
    margins = np.array([pair.margin for pair in pairs])
    lines = _lines(shape[0]), _lines(shape[1])
    coarse = (lines[0][:, None] * shape[1] + lines[1]).ravel()
    places = Places(build, poses)
    search = _Search(elements, margins, places, coarse)
    nearest_line = [np.abs(np.arange(n)[:, None] - line).argmin(axis=1) for n, line in zip(shape, lines, strict=True)]
    home = (nearest_line[0][:, None] * len(lines[1]) + nearest_line[1]).ravel()
    halves = np.array_split(np.arange(len(poses)), 2)
    with ThreadPoolExecutor(2) as pool:
        found = list(pool.map(lambda rows: search.fine(rows, home[rows]), halves))
    gap, pair, deep, near = (np.concatenate(part).reshape(shape) for part in zip(*found, strict=True))
    return ContactMap(travel, roll, pairs, gap, pair, deep, near, reached)


def _lines(n: int) -> Ints:
    """Return which lines of a grid of n make the coarse one, both ends among them."""
    return np.unique(np.round(np.linspace(0, n - 1, max(2, -(-(n - 1) // _COARSE) + 1))).astype(np.intp))


class _Search:
    """Gaps on the coarse grid, and from there at any states near it."""

    def __init__(self, elements: list[Element], margins: Array, places: Places, coarse: Ints) -> None:
        self.elements, self.places = elements, places
        self.margin = np.array([margins[e.pair] for e in elements])
        self.pair = np.array([e.pair for e in elements])
        self.balls = np.array([e.balls for e in elements])
        self.coarse = coarse
        for name in {name for e in elements for name in (e.frame_a, e.frame_b)}:
            places[name]  # every frame is made before threads ask for it
        jobs = [self._job(e, coarse) for e in elements]
        cores = core_distances(jobs, enough=_ROUGH)
        self.simplex = cores.simplex
        self.least = cores.least.reshape(len(elements), len(coarse)) - self.balls[:, None]

    def _job(self, e: Element, rows: Ints) -> tuple[Body, Frames, Body, Frames]:
        return e.a, self.places[e.frame_a].at(rows), e.b, self.places[e.frame_b].at(rows)

    def _moved(self, rows: Ints, home: Ints) -> Array:
        """Return how far the two bodies of each element may have moved against each other, (elements, rows), mm."""
        ways: dict[str, tuple[Array, Array]] = {}
        for name in {name for e in self.elements for name in (e.frame_a, e.frame_b)} - {STILL}:
            frames = self.places[name]
            ways[name] = _ways(frames.at(rows), frames.at(self.coarse[home]), rigid=name in _RIGID)
        moved = np.zeros((len(self.elements), len(rows)))
        for total, e in zip(moved, self.elements, strict=True):
            for body, name in ((e.a, e.frame_a), (e.b, e.frame_b)):
                if name != STILL:
                    shift, bend = ways[name]
                    total += shift + (body.reach - body.radius) * bend
        return moved

    def fine(self, rows: Ints, home: Ints) -> tuple[Array, Ints, Bools, Bools]:
        """Return (gap, pair, deep, near) at states; `home` tells the place on the coarse grid nearest to each."""
        n = len(rows)
        everyone = np.arange(n)
        bound = self.least[:, home] - self._moved(rows, home)
        first = bound.argmin(axis=0)
        gap, pair = np.full(n, np.inf), np.full(n, -1)
        deep, near = np.zeros(n, dtype=bool), np.zeros(n, dtype=bool)
        for round_ in range(2):
            # first the likeliest element of each state, then whatever may still be nearer, or within its margin
            order = np.argsort(first, kind="stable")
            if round_ == 0:
                element, at = first[order], everyone[order]
            else:
                wanted = bound < np.maximum(gap, self.margin[:, None])
                wanted[first, everyone] = False
                element, at = np.nonzero(wanted)
            if not len(at):
                continue
            limit = np.maximum(gap[at], self.margin[element]) + self.balls[element]
            cores = self._measure(element, rows[at], home[at], None if round_ == 0 else limit)
            value = cores.distance - self.balls[element]
            known = (cores.least < limit) | cores.meet if round_ else np.ones(len(at), dtype=bool)
            self._take(value, element, at, cores.meet, known, gap, pair, deep)
            near[at[known & (value < self.margin[element])]] = True
        return gap, pair, deep, near

    def _take(
        self, value: Array, element: Ints, at: Ints, meet: Bools, known: Bools, gap: Array, pair: Ints, deep: Bools
    ) -> None:
        """Put what was measured where it is smaller than what is there."""
        order = np.lexsort((value, at))
        order = order[known[order]]
        where, first = np.unique(at[order], return_index=True)
        best = order[first]
        less = value[best] < gap[where]
        where, best = where[less], best[less]
        gap[where], pair[where], deep[where] = value[best], self.pair[element[best]], meet[best]

    def _measure(self, element: Ints, rows: Ints, home: Ints, far: Array | None) -> Cores:
        """Measure elements, in rising order, at states, from the coarse grid's simplices."""
        cuts = np.searchsorted(element, np.arange(len(self.elements) + 1))
        jobs = [
            self._job(e, rows[low:high])
            for e, low, high in zip(self.elements, cuts[:-1], cuts[1:], strict=True)
            if high > low
        ]
        start: Simplex = self.simplex.at(element * len(self.coarse) + home)
        return core_distances(jobs, start, far)


def _ways(now: Frames, then: Frames, rigid: bool) -> tuple[Array, Array]:
    """Return how far a frame's origin moved, and how far a point of it moved besides, per mm from the origin."""
    shift = np.sqrt(((now.origin - then.origin) ** 2).sum(axis=0))
    if now.matrix is None or then.matrix is None:
        return shift, np.zeros_like(shift)
    turn = ((now.matrix - then.matrix) ** 2).sum(axis=(0, 1))
    # of two rotations, no unit vector goes farther than 1/sqrt(2) of this
    return shift, np.sqrt(turn / 2.0 if rigid else turn)
