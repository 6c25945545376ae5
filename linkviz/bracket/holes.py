"""The fewest holes that serve a range of lifts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Hole:
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


@dataclass(frozen=True)
class HoleSet:
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
    """Return the fewest holes such that every lift has one in its band.

    Parameters
    ----------
    lifts : sequence of float
        Ascending, mm.
    bands : sequence of (low, high) or None
        Drops that serve each lift, mm; both ends rise with the lift. None where no drop does.
    best : sequence of float or None
        The drop each lift would have if it could choose, mm.
    step : float
        Least distance from hole to hole, mm.
    shortest, longest : float
        Bounds of the drop, mm.

    Notes
    -----
    Fewest: from the lowest lift on, each hole serves as many lifts as still share a drop (the greedy cover of
    intervals on a line, which no other choice beats). Then, with the lifts so grouped, each hole goes as near to the
    middle of the best drops of its group as band and step allow. Where two groups lie nearer than the step, the later
    hole moves down; what it then no longer serves is said.
    """
    within = [_cut(band, shortest, longest) for band in bands]
    open_ = [i for i, band in enumerate(within) if band is not None]
    unserved = {i for i in range(len(lifts)) if within[i] is None}
    reasons = {"the bracket would have to be shorter or longer than it can be"} if unserved else set()
    holes: list[Hole] = []
    last = shortest - step
    while open_:
        group = [open_[0]]
        low, high = within[open_[0]] or (0.0, 0.0)
        low = max(low, last + step)
        if low > high + 1e-9:
            unserved.add(open_.pop(0))
            reasons.add(f"the holes would have to stand nearer than {step:.1f} mm to each other")
            continue
        for i in open_[1:]:
            lo, hi = within[i] or (0.0, 0.0)
            if max(low, lo) > min(high, hi) + 1e-9:
                break
            low, high = max(low, lo), min(high, hi)
            group.append(i)
        wishes = [value for i in group if (value := best[i]) is not None]
        wish = (min(wishes) + max(wishes)) / 2.0 if wishes else (low + high) / 2.0
        drop = min(max(wish, low), high)
        holes.append(Hole(drop, tuple(lifts[i] for i in group)))
        last = drop
        open_ = open_[len(group) :]
    return HoleSet(
        tuple(holes), step, tuple(lifts[i] for i in sorted(unserved)), "; ".join(sorted(reasons)) if unserved else ""
    )


def _cut(band: tuple[float, float] | None, shortest: float, longest: float) -> tuple[float, float] | None:
    if band is None:
        return None
    low, high = max(band[0], shortest), min(band[1], longest)
    return (low, high) if low <= high else None
