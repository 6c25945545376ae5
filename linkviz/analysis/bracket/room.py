"""What a bracket must leave free, and the lifts its holes serve."""

from __future__ import annotations

import math

from linkviz.conventions import MM_PER_INCH
from linkviz.frozen import Frozen

BAR_ANGLE_DEG = 0.5
"""A hole serves a lift if it leaves the bar this near to its angle as built, deg. Common practice, no source."""
LIFT_STEP = MM_PER_INCH / 2.0
"""Lifts are served in steps of at most this, mm."""


class Room(Frozen):
    """What a bracket must leave free; editable. Common practice, no published source.

    Attributes
    ----------
    ground : float
        Under the bracket's lower end at full jounce, mm.
    axle : float
        Between bracket and axle tube at full jounce, mm.
    """

    ground: float = 180.0
    axle: float = 15.0


def lifts_between(lowest: float, highest: float) -> tuple[float, ...]:
    """Return the lifts that holes are to serve, mm, ascending: both ends and even steps of at most half an inch.

    Parameters
    ----------
    lowest, highest : float
        Of the range, mm; one lift if they are the same.

    Raises
    ------
    ValueError
        If the lowest is higher than the highest.
    """
    if lowest > highest:
        raise ValueError(f"the range of lifts ends before it begins: {lowest} to {highest}")
    steps = math.ceil((highest - lowest) / LIFT_STEP - 1e-9)
    return (*(lowest + (highest - lowest) * i / steps for i in range(steps)), highest)


LOWEST_LIFT, HIGHEST_LIFT = 2.0 * MM_PER_INCH, 6.0 * MM_PER_INCH
"""Of the lifts that holes serve unless told otherwise, mm."""
LIFTS = lifts_between(LOWEST_LIFT, HIGHEST_LIFT)
"""Lifts that are served unless told otherwise, mm: 2 to 6 in by half inches."""
