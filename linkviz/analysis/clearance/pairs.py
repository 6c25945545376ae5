"""Which parts are watched against which, and the gap of a pair over states.

The usual choice is what can meet on such an axle: the shaft, its yokes, the bar, the axle and the tyres against
everything drawn; the bar against the housing and the pinion; a drop bracket against axle and tyres; tyres against link
ends and dampers. A pair of which neither part moves is never watched, nor are parts bolted to each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.movers import Piece, Places, Thing, things
from linkviz.analysis.setup import Setup
from linkviz.analysis.tightness import margins
from linkviz.clearance.bodies import Body
from linkviz.clearance.distance import core_distances
from linkviz.clearance.pair import Compound, gap
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.linkage.pose import Poses
from linkviz.vehicle.model import Envelope, Vehicle, Watch

_AGAINST_ENVELOPES = (
    "driveshaft", "front yoke", "rear yoke", "pinion yoke", "lateral bar", "axle tube", "housing", "left tyre",
    "right tyre",
)  # fmt: skip
_USUAL = {
    frozenset(pair)
    for pair in (
        ("lateral bar", "housing"),
        ("lateral bar", "pinion yoke"),
        ("lateral bar", "bump stops"),
        ("lateral bar", "driveshaft"),
        ("drop bracket", "axle tube"),
        ("drop bracket", "housing"),
        ("drop bracket", "left tyre"),
        ("drop bracket", "right tyre"),
        ("left tyre", "link ends"),
        ("right tyre", "link ends"),
        ("left tyre", "left damper"),
        ("right tyre", "right damper"),
    )
}
_BOLTED = {
    frozenset(pair)
    for pair in (
        ("driveshaft", "front yoke"),
        ("driveshaft", "rear yoke"),
        ("driveshaft", "pinion yoke"),
        ("rear yoke", "pinion yoke"),
        ("lateral bar", "drop bracket"),
        ("front yoke", "rear yoke"),
    )
}
_ON_AXLE = {"axle tube", "housing", "pinion yoke", "left tyre", "right tyre"}


class Pair(Frozen):
    """Two parts that are watched.

    Attributes
    ----------
    one, other : str
        Names of the parts; the one that moves first, an envelope last.
    margin : float
        The gap wanted, mm.
    usual : bool
        Whether it is watched where nothing else was chosen.
    """

    one: str
    other: str
    margin: float
    usual: bool = True

    @property
    def words(self) -> str:
        """Return the pair in words."""
        return f"{self.one} to {self.other}"


def possible_pairs(vehicle: Vehicle, setup: Setup) -> tuple[Pair, ...]:
    """Return every pair that could be watched, in a fixed order, with the margin it would have."""
    found: list[tuple[str, str | Envelope, bool]] = []
    for a, b in combinations(things(vehicle, setup).values(), 2):
        one, other = (a, b) if a.moves else (b, a)
        both = frozenset((one.name, other.name))
        if not one.moves or both in _BOLTED or both <= _ON_AXLE:
            continue
        envelope = vehicle.envelopes[other.envelope] if other.envelope >= 0 else None
        usual = one.name in _AGAINST_ENVELOPES if envelope is not None else both in _USUAL
        found.append((one.name, envelope or other.name, usual))
    wanted = margins(vehicle, ((one, thing) for one, thing, _ in found))
    return tuple(
        Pair(one, thing if isinstance(thing, str) else thing.name, margin, usual)
        for (one, thing, usual), margin in zip(found, wanted, strict=True)
    )


@lru_cache(maxsize=64)
def watched_pairs(vehicle: Vehicle, setup: Setup) -> tuple[Pair, ...]:
    """Return the pairs that are watched: the usual ones, but for what the vehicle's table `pairs` switches."""
    own = {frozenset((watch.one, watch.other)): watch.watch == "on" for watch in vehicle.pairs}
    return tuple(
        pair for pair in possible_pairs(vehicle, setup) if own.get(frozenset((pair.one, pair.other)), pair.usual)
    )


def with_pair(vehicle: Vehicle, pair: Pair, watch: bool, margin: float | None) -> Vehicle:
    """Return the vehicle with one pair watched or not; a margin of None is the usual one.

    What says no more than the usual choice does is left out of the vehicle.
    """
    both = {pair.one, pair.other}
    rest = tuple(own for own in vehicle.pairs if {own.one, own.other} != both)
    if watch != pair.usual or margin is not None:
        rest = (*rest, Watch(one=pair.one, other=pair.other, watch="on" if watch else "off", margin=margin))
    return vehicle.replace(pairs=rest)


class PairGap(Frozen, eq=False):
    """The gap of a pair at n states: mm (negative inside), and the points it is measured between, shape (n, 3)."""

    pair: Pair
    distance: Array
    on_one: Array
    on_other: Array


def pair_gap(build: Build, pair: Pair, poses: Poses, places: Places | None = None) -> PairGap:
    """Return the gap of one pair at poses.

    Parameters
    ----------
    build : Build
    pair : Pair
        One of `possible_pairs` of the build.
    poses : Poses
        n states of the build.
    places : Places, optional
        Frames of the same poses, where they are at hand.

    Raises
    ------
    KeyError
        If the build has no such part.
    """
    places = Places(build, poses) if places is None else places
    return _measure(build, pair, places, np.arange(len(poses)))


def _measure(build: Build, pair: Pair, places: Places, rows: NDArray[np.intp]) -> PairGap:
    found, n = things(build.vehicle, build.setup), len(rows)
    distance, on_one, on_other = np.full(n, np.inf), np.zeros((n, 3)), np.zeros((n, 3))
    for a, b in pieces_of(found[pair.one], found[pair.other]):
        at_b = places[b.frame].at(rows) if isinstance(b.body, Body) else None
        near = gap(a.body, places[a.frame].at(rows), b.body, at_b)
        less = near.distance < distance
        distance = np.where(less, near.distance, distance)
        on_one = np.where(less[:, None], near.on_a, on_one)
        on_other = np.where(less[:, None], near.on_b, on_other)
    return PairGap(pair, distance, on_one, on_other)


def pieces_of(one: Thing, other: Thing) -> list[tuple[_Moving, Piece]]:
    """Return the pieces of two parts, each with each; only an envelope, which comes last, is no convex body."""
    return [(_Moving(a.body, a.frame), b) for a in one.pieces for b in other.pieces if isinstance(a.body, Body)]


class _Moving(Frozen, eq=False):
    """A convex piece."""

    body: Body
    frame: str


class Element(Frozen, eq=False):
    """Two convex bodies, their frames, and the index of the pair they belong to."""

    pair: int
    a: Body
    frame_a: str
    b: Body
    frame_b: str

    @property
    def balls(self) -> float:
        """Return what the balls of the two take off the distance of their cores, mm."""
        return self.a.radius + self.b.radius


def elements_of(build: Build, pairs: Sequence[Pair]) -> list[Element]:
    """Return the convex bodies that pairs come down to, each with each."""
    found = things(build.vehicle, build.setup)
    elements = []
    for i, pair in enumerate(pairs):
        for a, b in pieces_of(found[pair.one], found[pair.other]):
            parts = b.body.parts if isinstance(b.body, Compound) else (b.body,)
            elements += [Element(i, a.body, a.frame, part, b.frame) for part in parts]
    return elements


def pair_gaps(build: Build, pairs: Sequence[Pair], poses: Poses) -> list[PairGap]:
    """Return the gaps of several pairs at the same poses, all in one search; as `pair_gap` for each."""
    n, places, elements = len(poses), Places(build, poses), elements_of(build, pairs)
    result = [PairGap(pair, np.full(n, np.inf), np.zeros((n, 3)), np.zeros((n, 3))) for pair in pairs]
    if not elements or not n:
        return result
    cores = core_distances([(e.a, places[e.frame_a], e.b, places[e.frame_b]) for e in elements])
    for k, e in enumerate(elements):
        rows, mine = slice(k * n, (k + 1) * n), result[e.pair]
        way = cores.way[:, rows]
        gaps = cores.distance[rows] - e.balls
        less = gaps < mine.distance
        mine.distance[less] = gaps[less]
        mine.on_one[less] = (cores.on_a[:, rows] - e.a.radius * way).T[less]
        mine.on_other[less] = (cores.on_b[:, rows] + e.b.radius * way).T[less]
    deep = cores.meet.reshape(len(elements), n)
    for i, pair in enumerate(pairs):
        rows_deep = np.flatnonzero(deep[[e.pair == i for e in elements]].any(axis=0))
        if len(rows_deep):
            some = _measure(build, pair, places, rows_deep)
            result[i].distance[rows_deep] = some.distance
            result[i].on_one[rows_deep], result[i].on_other[rows_deep] = some.on_one, some.on_other
    return result
