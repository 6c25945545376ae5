"""What clearance comes down to: the smallest gap of each pair, travel left, and the bump stop that prevents contact.

All over the travel window and the rolls of `linkviz.analysis.compare.ROLLS`. How sure a drop is is said by
`linkviz.analysis.clearance.sure_drop`.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.movers import things
from linkviz.analysis.clearance.pairs import Pair, PairGap, pair_gap, pair_gaps, watched_pairs
from linkviz.analysis.clearance.sizes import sizes_of
from linkviz.analysis.compare import ROLLS, travel_grid
from linkviz.analysis.fittings import bump_gaps
from linkviz.analysis.setup import Setup
from linkviz.analysis.tightness import Sign, rank, sign_of
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.linkage.pose import Poses
from linkviz.linkage.solve import solve
from linkviz.vehicle.model import Vehicle

BEYOND = 60.0
"""Travel looked at beyond either end of the window, mm."""
_STEP = 5.0
Bools = NDArray[np.bool_]
Spot = tuple[float, float, float]


class PairWorst(Frozen):
    """Where a pair comes nearest within the window.

    Attributes
    ----------
    pair : Pair
    gap : float
        mm; negative is depth.
    travel, roll : float
        Where, mm from rest and rad.
    on_one, on_other : tuple of float
        The points it is measured between, body frame, mm.
    """

    pair: Pair
    gap: float
    travel: float
    roll: float
    on_one: Spot
    on_other: Spot

    @property
    def sign(self) -> Sign:
        """Return "hit" for contact, "warn" within the margin, "ok" clear of it."""
        return sign_of(self.gap, self.pair.margin)


class FirstTouch(Frozen):
    """Where the axle, leaving its rest, first brings a pair together: travel from rest, mm; roll, rad."""

    pair: Pair
    travel: float
    roll: float


class Answers(Frozen):
    """What clearance comes down to, for one build.

    Attributes
    ----------
    worst : tuple of PairWorst
        Every watched pair, the tightest first (`linkviz.analysis.tightness`): contacts, then the least to spare.
    up, down : FirstTouch or None
        First contact in jounce and in rebound, looked for `BEYOND` the window too; None if there is none.
    stop_height : float or None
        Height of a bump stop, squashed, at which it holds the axle where every pair still keeps its margin, mm. None
        without bump stops, where nothing comes too near in jounce, or where something is too near at rest already.
    """

    worst: tuple[PairWorst, ...]
    up: FirstTouch | None
    down: FirstTouch | None
    stop_height: float | None


def answers(build: Build) -> Answers:
    """Return what clearance comes down to. Takes a tenth of a second: not for the thread that paints."""
    return _answers(build.vehicle, build.setup)


@lru_cache(maxsize=16)
def _answers(vehicle: Vehicle, setup: Setup) -> Answers:
    return _work_out(Build.of(vehicle, setup))


def _work_out(build: Build) -> Answers:
    pairs = watched_pairs(build.vehicle, build.setup)
    window = travel_grid(build)
    low, high = build.window
    more = np.arange(_STEP, BEYOND + _STEP / 2, _STEP)
    travel = np.concatenate([low - more[::-1], window, high + more])
    rolls = np.array(sorted(ROLLS))
    t, r = np.tile(travel, len(rolls)), np.repeat(rolls, len(travel))
    poses = solve(build.layout, t - build.setup.lift, r)
    gaps = pair_gaps(build, pairs, poses)
    inside = (t >= low - 1e-9) & (t <= high + 1e-9)
    worst = sorted((_worst(gap, t, r, inside) for gap in gaps), key=lambda one: rank(one.gap, one.pair.margin))
    table = np.array([gap.distance for gap in gaps]).reshape(len(pairs), len(rolls), len(travel))
    reached = poses.reached.reshape(len(rolls), len(travel))
    up, down = (_first_touch(pairs, table, travel, rolls, reached, sense) for sense in (1, -1))
    spare = table - np.array([pair.margin for pair in pairs])[:, None, None] if len(pairs) else table
    return Answers(tuple(worst), up, down, _stop_height(build, spare, travel, reached, poses))


def _worst(gap: PairGap, travel: Array, roll: Array, inside: Bools) -> PairWorst:
    i = int(np.argmin(np.where(inside, gap.distance, np.inf)))
    one, other = (tuple(float(v) for v in points[i]) for points in (gap.on_one, gap.on_other))
    return PairWorst(
        gap.pair,
        float(gap.distance[i]),
        float(travel[i]),
        float(roll[i]),
        (one[0], one[1], one[2]),
        (other[0], other[1], other[2]),
    )


def _crossing(travel: Array, values: Array, reached: Bools, sense: int) -> float | None:
    """Return where values first turn negative on the way from rest up (1) or down (-1); 0 if they are so at rest."""
    rest = int(np.argmin(np.abs(travel)))
    order = range(rest, len(travel)) if sense > 0 else range(rest, -1, -1)
    before: int | None = None
    for i in order:
        if not reached[i]:
            return None
        if values[i] < 0:
            if before is None:
                return 0.0
            share = values[before] / (values[before] - values[i])
            return float(travel[before] + share * (travel[i] - travel[before]))
        before = i
    return None


def _first_touch(
    pairs: tuple[Pair, ...], table: Array, travel: Array, rolls: Array, reached: Bools, sense: int
) -> FirstTouch | None:
    found: FirstTouch | None = None
    for pair, rows in zip(pairs, table, strict=True):
        for k, roll in enumerate(rolls):
            at = _crossing(travel, rows[k], reached[k], sense)
            if at is not None and (found is None or abs(at) < abs(found.travel)):
                found = FirstTouch(pair, at, float(roll))
    return found


def _stop_height(build: Build, spare: Array, travel: Array, reached: Bools, poses: Poses) -> float | None:
    """Return the height of the stop: that of its face over the pad where the first pair comes within its margin."""
    stops = build.vehicle.bump_stops
    if stops is None or not len(spare):
        return None
    room = (bump_gaps(build, poses) + stops.free_height).min(axis=1).reshape(reached.shape)
    least = spare.min(axis=0)
    heights = []
    for k in range(len(least)):
        at = _crossing(travel, least[k], reached[k], 1)
        if at is not None and at > 0:
            heights.append(float(np.interp(at, travel, room[k])))
    return max(heights) if heights else None


def pair_now(build: Build, pair: Pair, poses: Poses) -> PairWorst | None:
    """Return a pair as it stands in one pose (its travel from the present rest); None if a part is not there."""
    if not {pair.one, pair.other} <= set(things(build.vehicle, build.setup)):
        return None
    travel, roll = poses.heave + build.setup.lift, poses.roll
    return _worst(pair_gap(build, pair, poses), travel, roll, np.ones(len(poses), dtype=bool))


def guessed_sizes(build: Build) -> tuple[str, ...]:
    """Return which sizes nobody measured count in what is watched, keyed as in a vehicle file."""
    names = set(things(build.vehicle, build.setup))
    unused = set()
    if "drop bracket" not in names:
        unused |= {"bracket_length", "bracket_width", "bracket_lip"}
    if "driveshaft" not in names:
        unused |= {"yoke_radius", "yoke_length"}
    if "left damper" not in names:
        unused.add("damper_radius")
    return tuple(key for key in sizes_of(build.vehicle).guessed if key not in unused)
