"""What brackets are designed by: load cases, limits of the links, room to leave, the lifts that holes serve."""

from __future__ import annotations

from msgspec import field

from linkviz.analysis.bracket.room import BAR_ANGLE_DEG, LIFTS, Room
from linkviz.analysis.limits import DEFAULTS, LinkLimits
from linkviz.bracket.loads import CASES, LoadCase
from linkviz.frozen import Frozen


class Rules(Frozen):
    """What a bracket is designed by; all of it editable.

    Attributes
    ----------
    cases : tuple of LoadCase
        Load cases.
    links : LinkLimits
        Up to where trailing links are reasonable.
    room : Room
        What the bracket must leave free.
    lifts : tuple of float
        Lifts its holes are to serve, mm, ascending.
    bar_angle_deg : float
        How near to its angle as built a hole leaves the bar, deg.
    """

    cases: tuple[LoadCase, ...] = CASES
    links: LinkLimits = DEFAULTS
    room: Room = field(default_factory=Room)
    lifts: tuple[float, ...] = LIFTS
    bar_angle_deg: float = BAR_ANGLE_DEG


DEFAULT_RULES = Rules()
