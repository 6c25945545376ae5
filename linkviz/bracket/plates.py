"""The plates of a drop bracket as the shop cuts and bends them.

A plate is seen from its own outside, the original bolt at the origin, the drop downwards. In that view outboard (v +)
is to the right on one plate of the pair and to the left on the other; with no side shift both are one and the same
part.
"""

from __future__ import annotations

from linkviz.bracket.lengths import bent
from linkviz.bracket.materials import STEELS
from linkviz.bracket.parts import DropBracket
from linkviz.sheetmetal.clearance_holes import clearance_hole, least_edge
from linkviz.sheetmetal.neutral import Neutral
from linkviz.sheetmetal.outline import rectangle
from linkviz.sheetmetal.plate import Hole, Plate, Steel
from linkviz.sheetmetal.profile import Profile

MOST_TENSILE = 1.4
"""Greatest over least tensile strength that standards allow a plate: A36 58 to 80 ksi, S235 360 to 510 MPa. A press has
to bend the strongest."""
ROUNDEST = 20.0
"""Largest corner radius of a plate, mm."""


def pressed(key: str) -> Steel:
    """Return a steel of `linkviz.bracket.materials.STEELS` as a press has to bend it: the strongest it may be."""
    steel = STEELS[key]
    return Steel(steel.name, steel.strength * MOST_TENSILE)


def drop_plates(bracket: DropBracket, steel: Steel, neutral: Neutral | None = None) -> tuple[Plate, ...]:
    """Return the plates of a bracket: one part made twice, or a mirrored pair where the bar's holes are set sideways.

    Parameters
    ----------
    bracket : DropBracket
        The bracket.
    steel : Steel
        Of the plates, with the greatest tensile strength it may have.
    neutral : Neutral, optional
        Of both bends of a joggle; DIN 6935 if left out.

    Raises
    ------
    LinkvizError
        If the joggle cannot be bent or does not fit, or a bolt is not in the tables.

    Notes
    -----
    The plate runs straight from end to end, wide enough for `bracket.width` about the original bolt and about the
    holes for the bar, so that bend lines are square to its edges.
    """
    t, joggle = bracket.thickness, bracket.joggle
    end = bracket.longest + bracket.end_bottom
    if joggle is None:
        profile = Profile(t, -bracket.end_top, (bracket.end_top + end,))
    else:
        profile = bent(joggle, t, neutral).profile(-bracket.end_top, joggle.start, end, up=joggle.offset > 0.0)
    half = bracket.width / 2.0
    low = (-half + min(bracket.shift, 0.0), -profile.end)
    high = (half + max(bracket.shift, 0.0), bracket.end_top)
    blank = rectangle(low, high, min(ROUNDEST, half / 2.0))
    holes = [
        _hole("original bolt", 0.0, 0.0, bracket.bolt),
        _hole("anchor bolt", 0.0, bracket.anchor, bracket.anchor_bolt),
    ]
    several = len(bracket.holes) > 1
    for number, drop in enumerate(bracket.holes, 1):
        holes.append(_hole(f"bar hole {number}" if several else "bar hole", bracket.shift, drop, bracket.bar_bolt))
    one = Plate("side plate", 2, steel, profile, blank, tuple(holes))
    if not bracket.shift:
        return (one,)
    first = Plate("side plate A", 1, steel, profile, blank, tuple(holes))
    return first, first.mirrored("side plate B")


def _hole(name: str, x: float, drop: float, bolt: str) -> Hole:
    found = clearance_hole(bolt)
    return Hole(name, x, 0.0 - drop, found.diameter, found.drill, *least_edge(bolt))
