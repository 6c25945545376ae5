"""What the bar does to the bracket and the bracket to its bolts.

The plane of the plates: v outboard (+), z up (+), the original bolt in the origin. The anchor bolt stands at
(0, -s_a), the hole in use at (s, -d). The bar pulls or pushes along its own line.
"""

from __future__ import annotations

import math

from linkviz.conventions import GRAVITY
from linkviz.frozen import Frozen

Vector = tuple[float, float]


class LoadCase(Frozen):
    """A case the bracket is looked at for.

    Attributes
    ----------
    key, name : str
        For programs and for people.
    lateral_g : float
        Lateral acceleration of the mass on the rear axle, in g.
    travel : float
        Where the axle stands, mm from the lifted rest.
    roll_deg : float
        Roll of the axle, looked at either way, deg.
    fore_aft : float
        Share of the bar's force that acts along the vehicle at the same time (a bar that is not straight across, the
        eye's friction).
    source : str
        Where the figures come from.
    """

    key: str
    name: str
    lateral_g: float
    travel: float = 0.0
    roll_deg: float = 0.0
    fore_aft: float = 0.1
    source: str = "common practice, no published source; editable"


CORNERING = LoadCase("cornering", "hard cornering, 1.0 g", 1.0, roll_deg=3.0)
KERB_STRIKE = LoadCase("kerb", "kerb strike, 2.0 g", 2.0)
CASES = (CORNERING, KERB_STRIKE)
"""The cases a bracket is looked at for unless told otherwise."""


def bar_force(lateral_g: float, mass: float, angle: float) -> float:
    """Return the force along the bar, N.

    Parameters
    ----------
    lateral_g : float
        Lateral acceleration, g.
    mass : float
        On the rear axle, kg; all of its side force goes through the bar.
    angle : float
        Of the bar against level, rad.

    Notes
    -----
    N = a_y m g / cos(gamma): the bar alone holds the axle sideways.
    """
    return lateral_g * mass * GRAVITY / math.cos(angle)


class Loads(Frozen):
    """Forces at one drop in one case; what acts on the bracket, N.

    Attributes
    ----------
    force : float
        Along the bar, N.
    angle : float
        Of the bar, rad, frame end above axle end +.
    drop, shift, anchor : float
        d, s and s_a, mm.
    along : float
        Fore-aft force at the bar's hole, N.
    bar, original, anchor_bolt : (float, float)
        Force on the bracket at the bar's hole, at the original bolt and at the anchor bolt: (v, z), N.
    """

    force: float
    angle: float
    drop: float
    shift: float
    anchor: float
    along: float
    bar: Vector
    original: Vector
    anchor_bolt: Vector

    @property
    def side(self) -> float:
        """Return the side force of the bar, N_y, N, >= 0."""
        return abs(self.bar[0])

    @property
    def upright(self) -> float:
        """Return the upright force of the bar, N_z, N, >= 0."""
        return abs(self.bar[1])

    @property
    def anchor_force(self) -> float:
        """Return R_a, N."""
        return math.hypot(*self.anchor_bolt)

    @property
    def original_force(self) -> float:
        """Return the resultant of R_0 and N_z on the original bolt, N."""
        return math.hypot(*self.original)

    @property
    def moment(self) -> float:
        """Return the in-plane moment in the plates at the anchor bolt, N mm, >= 0."""
        return abs(self.bar[0] * (self.drop - self.anchor) + self.bar[1] * self.shift)


def loads(force: float, angle: float, drop: float, anchor: float, shift: float = 0.0, fore_aft: float = 0.0) -> Loads:
    """Put the bracket into equilibrium.

    Parameters
    ----------
    force : float
        Along the bar, tension +, N.
    angle : float
        Of the bar against level, rad, frame end above axle end +.
    drop, anchor : float
        From the original bolt to the hole in use and to the anchor bolt, mm.
    shift : float
        Of the hole, outboard +, mm.
    fore_aft : float
        Share of the force along the vehicle.

    Raises
    ------
    ValueError
        If the anchor distance is not above 0.

    Notes
    -----
    The anchor's hole lets the plates slide up and down, so the anchor takes side force alone: moments about the
    original bolt give R_a = (N_y d + N_z s) / s_a, the side forces R_0 = R_a - N_y, opposite to R_a; N_z stays with the
    original bolt. Without a shift R_a = N_y d / s_a and R_0 = N_y (d - s_a) / s_a.
    """
    if anchor <= 0:
        raise ValueError(f"the anchor distance must be above 0, not {anchor}")
    side, upright = -force * math.cos(angle), -force * math.sin(angle)
    held = -(side * drop + upright * shift) / anchor
    return Loads(
        force=abs(force),
        angle=angle,
        drop=drop,
        shift=shift,
        anchor=anchor,
        along=abs(force) * fore_aft,
        bar=(side, upright),
        original=(-side - held, -upright),
        anchor_bolt=(held, 0.0),
    )
