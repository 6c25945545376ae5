"""The brake-valve bracket: a flat or angled plate that holds the valve's pick-up, or its rod end, higher."""

from __future__ import annotations

import itertools
import math

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.sheetmetal.clearance_holes import clearance_hole, least_edge
from linkviz.sheetmetal.neutral import Neutral
from linkviz.sheetmetal.outline import rectangle
from linkviz.sheetmetal.plate import Hole, Plate, Steel
from linkviz.sheetmetal.profile import Bend, Profile


class ValvePlate(Frozen):
    """What the bracket is to be.

    Attributes
    ----------
    spacing : float
        Between the two mounting holes, measured on the vehicle, mm.
    rises : tuple of float
        How much higher the same pattern is found above, mm, ascending.
    bolt : str
        Size of both bolts.
    thickness : float
        mm.
    lean : float
        How far the upper part leans out, rad; 0 is a flat plate.
    bend_at : float
        Height above the mounting holes at which the bend begins, mm; of no matter to a flat plate.
    inside : float
        Inside radius of the bend, mm.
    margin : float
        From the middle of the outermost holes to the edges, mm.
    assumed : bool
        Whether spacing and bolt were taken at a usual size and not measured.
    """

    spacing: float
    rises: tuple[float, ...]
    bolt: str = "M8"
    thickness: float = 4.0
    lean: float = 0.0
    bend_at: float = 18.0
    inside: float = 6.0
    margin: float = 15.0
    assumed: bool = False


def valve_plate(bracket: ValvePlate, steel: Steel, neutral: Neutral | None = None) -> Plate:
    """Return the plate; its origin lies midway between the mounting holes, rises upwards.

    Parameters
    ----------
    bracket : ValvePlate
    steel : Steel
        With the greatest tensile strength it may have.
    neutral : Neutral, optional
        Of the bend; DIN 6935 if left out.

    Raises
    ------
    LinkvizError
        If there is no rise, rises are not ascending, or the lowest one lies in or below the bend.
    """
    rises = bracket.rises
    if not rises or rises[0] <= 0 or any(b <= a for a, b in itertools.pairwise(rises)):
        raise LinkvizError(
            f"Rises of {', '.join(f'{r:g}' for r in rises) or 'nothing'} mm make no bracket. Give one or more above 0, "
            "the smallest first."
        )
    start, hole = -bracket.margin, clearance_hole(bracket.bolt)
    end = rises[-1] + bracket.margin
    if bracket.lean:
        line = neutral or Neutral.by("din", bracket.inside, bracket.thickness)
        bend = Bend(bracket.lean, bracket.inside, True, line)
        arc = (bracket.inside + bracket.thickness / 2.0) * math.sin(bracket.lean)
        if rises[0] - hole.diameter / 2.0 <= bracket.bend_at + arc:
            raise LinkvizError(
                f"The rise of {rises[0]:.1f} mm lies in the bend, which ends {bracket.bend_at + arc:.1f} mm above the "
                "mounting holes. Begin the bend lower, or leave the smallest rise out."
            )
        beyond = (end - bracket.bend_at - arc) / math.cos(bracket.lean)
        profile = Profile(bracket.thickness, start, (bracket.bend_at - start, beyond), (bend,))
    else:
        profile = Profile(bracket.thickness, start, (end - start,))
    half = bracket.spacing / 2.0 + bracket.margin
    blank = rectangle((-half, start), (half, profile.end), min(8.0, bracket.margin / 2.0))
    edge, source = least_edge(bracket.bolt)
    holes = [
        Hole(f"{name}, {side}", x, y, hole.diameter, hole.drill, edge, source)
        for name, y in [("mounting hole", 0.0), *((f"rise {number}", rise) for number, rise in enumerate(rises, 1))]
        for side, x in (("left", -bracket.spacing / 2.0), ("right", bracket.spacing / 2.0))
    ]
    return Plate("valve plate", 1, steel, profile, blank, tuple(holes), down=False)
