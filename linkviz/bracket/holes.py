"""The fewest holes that serve a range of lifts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from linkviz.frozen import Frozen

Array = NDArray[np.float64]

GRID: Final = 0.25
"""Holes stand on a grid of this, or at the end of a band, mm."""
_SAME: Final = 1e-9
_UNSERVED: Final = 1e12
_HOLE: Final = 1e7


class Hole(Frozen):
    """A hole and what it serves.

    Attributes
    ----------
    drop : float
        mm.
    serves : tuple of float
        The lifts it serves, mm, ascending.
    """

    drop: float
    serves: tuple[float, ...]


class HoleSet(Frozen):
    """Holes for a range of lifts.

    Attributes
    ----------
    holes : tuple of Hole
        Ascending.
    step : float
        Least distance from hole to hole that was asked for, mm.
    unserved : tuple of float
        Lifts that no hole serves, mm.
    why : str
        Why some are not served, "" if all are.
    """

    holes: tuple[Hole, ...]
    step: float
    unserved: tuple[float, ...] = ()
    why: str = ""

    @property
    def drops(self) -> tuple[float, ...]:
        """Return the drops, mm."""
        return tuple(hole.drop for hole in self.holes)


def fewest_holes(
    lifts: Sequence[float],
    bands: Sequence[tuple[float, float] | None],
    best: Sequence[float | None],
    step: float,
    shortest: float,
    longest: float,
) -> HoleSet:
    """Return the holes that leave the fewest lifts without one, and of such sets the one with the fewest holes.

    Parameters
    ----------
    lifts : sequence of float
        Ascending, mm.
    bands : sequence of (low, high) or None
        Drops that serve each lift, mm. None where no drop does.
    best : sequence of float or None
        The drop each lift would have if it could choose, mm.
    step : float
        Least distance from hole to hole, mm.
    shortest, longest : float
        Bounds of the drop, mm.

    Notes
    -----
    Dynamic programming over where the last hole stands, on a grid of `GRID` and the ends of the bands: with the holes
    q < p next to each other, lifts whose band lies between them are not served. Of equal sets the one whose holes
    stand nearest to the best drops of what they serve is taken.
    """
    within = [_cut(band, shortest, longest) for band in bands]
    open_ = [i for i, band in enumerate(within) if band is not None]
    lows = np.array([within[i][0] for i in open_])  # type: ignore[index]
    highs = np.array([within[i][1] for i in open_])  # type: ignore[index]
    wish = np.array([b if (b := best[i]) is not None else (lo + hi) / 2 for i, lo, hi in zip(open_, lows, highs,
                                                                                            strict=True)])  # fmt: skip
    drops = _chosen(lows, highs, wish, step) if open_ else []
    serves: dict[int, list[int]] = {k: [] for k in range(len(drops))}
    unserved = set(range(len(lifts))) - set(open_)
    reasons = {"the bracket would have to be shorter or longer than it can be"} if unserved else set()
    for i, low, high, want in zip(open_, lows, highs, wish, strict=True):
        near = [k for k, drop in enumerate(drops) if low - _SAME <= drop <= high + _SAME]
        if near:
            serves[min(near, key=lambda k: abs(drops[k] - want))].append(i)
        else:
            unserved.add(i)
            reasons.add("the holes would have to stand nearer to each other than they may")
    holes = tuple(Hole(drop, tuple(lifts[i] for i in serves[k])) for k, drop in enumerate(drops))
    return HoleSet(holes, step, tuple(lifts[i] for i in sorted(unserved)), "; ".join(sorted(reasons)))


def _chosen(lows: Array, highs: Array, wish: Array, step: float) -> list[float]:
    """Return where the holes stand; see `fewest_holes`."""
    places = np.unique(np.concatenate([np.arange(lows.min(), highs.max(), GRID), lows, highs]))
    serves = (lows <= places[:, None] + _SAME) & (places[:, None] <= highs + _SAME)
    places, serves = places[serves.any(axis=1)], serves[serves.any(axis=1)]
    # what each hole is off from what it serves, and that a hole is a hole
    off = ((places[:, None] - wish) ** 2 * serves).sum(axis=1)
    cost = np.where(highs < places[:, None] - _SAME, _UNSERVED, 0.0).sum(axis=1) + _HOLE + off
    before = np.full(len(places), -1)
    for k, place in enumerate(places):
        earlier = np.flatnonzero(places <= place - step + _SAME)
        if not len(earlier):
            continue
        passed = (lows > places[earlier, None] + _SAME) & (highs < place - _SAME)
        twice = serves[earlier] & serves[k]  # such a lift takes the nearer one
        saved = (np.maximum((places[earlier, None] - wish) ** 2, (place - wish) ** 2) * twice).sum(axis=1)
        through = cost[earlier] + _UNSERVED * passed.sum(axis=1) + _HOLE + off[k] - saved
        least = int(np.argmin(through))
        if through[least] < cost[k]:
            cost[k], before[k] = through[least], earlier[least]
    total = cost + _UNSERVED * (lows > places[:, None] + _SAME).sum(axis=1)
    at, found = int(np.argmin(total)), []
    while at >= 0:
        found.append(float(places[at]))
        at = int(before[at])
    return found[::-1]


def _cut(band: tuple[float, float] | None, shortest: float, longest: float) -> tuple[float, float] | None:
    if band is None:
        return None
    low, high = max(band[0], shortest), min(band[1], longest)
    return (low, high) if low <= high else None
