"""What does not reach over the travel: coils, dampers, hoses and the shaft's slip, and joints that work too steep."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from linkviz.analysis import fittings
from linkviz.analysis.study import Study
from linkviz.driveline.joints import SMOOTH
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.units import Unit, format_angle, format_length

LEAST = 0.5
"""Less than this is nothing, mm."""
STEEPER = float(np.radians(0.5))
"""Joint angles are spoken of when they grow by more than this, rad."""
SOURCE = "U.S. Army TM 5-4210-230-14&P-1"
"""Where the 3 deg rule of `linkviz.driveline.joints.SMOOTH` is printed."""


class Shortfall(Frozen):
    """One thing that does not reach.

    Attributes
    ----------
    words : str
        For a sentence, with ``{by}`` where the amount goes.
    by : float
        How far it is short, mm, > 0.
    travel : float
        Where it is worst, mm from rest.
    """

    words: str
    by: float
    travel: float

    def said(self, unit: Unit) -> str:
        """Return it as a part of a sentence."""
        return self.words.format(by=format_length(self.by, unit))


@lru_cache(maxsize=16)
def shortfalls(study: Study) -> tuple[Shortfall, ...]:
    """Return what does not reach over the states of a study, in the order of a walk around the axle."""
    build, poses, vehicle = study.build, study.poses, study.build.vehicle
    looked: list[tuple[str, Array]] = []
    if vehicle.springs is not None:
        rests = np.flatnonzero((study.travel == 0.0) & (study.roll == 0.0))
        loose = fittings.spring_looseness(build, poses, int(rests[0]) if len(rests) else None)
        looked.append(("the coils come loose by {by}", -loose))
    if vehicle.dampers is not None:
        push, pull = fittings.damper_room(build, poses)
        looked.append(("the dampers are {by} too short for full rebound", pull))
        looked.append(("the dampers bottom {by} before full jounce", push))
    for hose, slack in zip(vehicle.hoses, fittings.hose_slack(build, poses).T if vehicle.hoses else (), strict=True):
        looked.append((f"the {_safe(hose.name)} is {{by}} too short", slack))
    if vehicle.driveshaft is not None and vehicle.driveshaft.slip is not None:
        room = fittings.slip_room(build, poses)
        looked.append(("the driveshaft's slip joint is {by} short of travel", room))
    found = []
    for words, left in looked:
        worst = int(np.argmin(left))
        if left[worst] < -LEAST:
            found.append(Shortfall(words, -float(left[worst]), float(study.travel[worst])))
    return tuple(found)


def checked(study: Study) -> bool:
    """Return whether the file has anything for `shortfalls` to look at."""
    vehicle = study.build.vehicle
    slip = vehicle.driveshaft is not None and vehicle.driveshaft.slip is not None
    return bool(vehicle.springs or vehicle.dampers or vehicle.hoses or slip)


@lru_cache(maxsize=32)
def joint_angles(study: Study, index: int) -> tuple[float, ...]:
    """Return the working angles of the shaft's joints at one state, front first where it is known, rad."""
    shaft = study.build.vehicle.driveshaft
    if shaft is None:
        return ()
    poses = study.poses[index : index + 1]
    pinion = float(fittings.pinion_joint_angle(study.build, poses)[0])
    if shaft.output_angle_deg is None:
        return (pinion,)
    return (float(fittings.front_joint_angle(study.build, poses)[0]), pinion)


def too_steep(angles: tuple[float, ...], built: tuple[float, ...]) -> bool:
    """Return whether joints work beyond the 3 deg rule and steeper than they were built."""
    return bool(angles) and max(angles) > SMOOTH and max(angles) > max(built) + STEEPER


def angles_said(angles: tuple[float, ...]) -> str:
    """Return joint angles in words: "3.4 deg and 4.4 deg"."""
    return " and ".join(format_angle(a) for a in angles)


def _safe(name: str) -> str:
    return name.replace("{", "(").replace("}", ")")
