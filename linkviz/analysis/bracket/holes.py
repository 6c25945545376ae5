"""Which holes a bracket needs for a range of lifts of one vehicle."""

from __future__ import annotations

import math
from collections.abc import Sequence

from linkviz.analysis.bracket.room import BAR_ANGLE_DEG, LIFTS
from linkviz.analysis.goals import LONGEST, angle_drop, rest_angle, restore_drop
from linkviz.analysis.setup import Setup
from linkviz.bracket.bolts import SIZES, hole_step
from linkviz.bracket.holes import HoleSet, fewest_holes
from linkviz.bracket.parts import DropBracket
from linkviz.vehicle.model import Vehicle


def band(vehicle: Vehicle, lift: float, within_deg: float = BAR_ANGLE_DEG) -> tuple[float, float] | None:
    """Return the drops that leave the bar within an angle of its angle as built, mm; None if none does."""
    design, within = rest_angle(vehicle, Setup()), math.radians(within_deg)
    low = angle_drop(vehicle, lift, design + within)
    high = angle_drop(vehicle, lift, design - within)
    bare = rest_angle(vehicle, Setup(lift=lift))
    if low is None and bare <= design + within:
        low = 0.0
    if low is None:
        return None
    return low, LONGEST if high is None else high


def hole_set(
    vehicle: Vehicle,
    bracket: DropBracket,
    shortest: float,
    longest: float,
    lifts: Sequence[float] = LIFTS,
    within_deg: float = BAR_ANGLE_DEG,
) -> HoleSet:
    """Return the fewest holes that serve a range of lifts.

    Parameters
    ----------
    vehicle : Vehicle
        As built.
    bracket : DropBracket
        Its bolt for the bar sets how near the holes may stand.
    shortest, longest : float
        Bounds of the drop, mm.
    lifts : sequence of float
        Ascending, mm.
    within_deg : float
        How near to its angle as built each hole leaves the bar, deg.
    """
    return fewest_holes(
        list(lifts),
        [band(vehicle, lift, within_deg) for lift in lifts],
        [restore_drop(vehicle, lift) for lift in lifts],
        hole_step(SIZES[bracket.bar_bolt]),
        shortest,
        longest,
    )
