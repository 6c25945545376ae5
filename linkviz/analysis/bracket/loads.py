"""What the load cases put on a bracket of a vehicle, from the mass on the rear axle and the bar's angle there."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.bracket.bolts import find_size
from linkviz.bracket.loads import CASES, LoadCase, bar_force, loads
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket
from linkviz.bracket.strength import Cases
from linkviz.linkage.measures import bar_angle
from linkviz.linkage.solve import solve_all
from linkviz.vehicle.model import Vehicle

End = Literal["frame", "axle"]
"""Ends of the lateral bar."""


def frame_bracket_of(vehicle: Vehicle) -> FrameBracket | None:
    """Return the vehicle's frame bracket, None if it was not measured."""
    part = vehicle.frame_bracket
    if part is None:
        return None
    bolt = find_size(part.bolt).key
    return FrameBracket(part.inside_width, part.thickness, part.lip, part.width, bolt, part.steel)


def bar_end_of(vehicle: Vehicle) -> BarEnd | None:
    """Return the end of the vehicle's bar, None if it was not measured."""
    part = vehicle.bar_end
    if part is None:
        return None
    return BarEnd(part.eye_width, part.eye_diameter, find_size(part.bolt).key)


def cases_at(
    vehicle: Vehicle,
    setup: Setup,
    bracket: DropBracket,
    drops: Sequence[float],
    cases: Sequence[LoadCase] = CASES,
    end: End = "frame",
) -> list[Cases]:
    """Return the load cases with their loads for each drop; none without the mass on the rear axle.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        The lift; the drop is replaced by each of `drops` and the shift by the bracket's.
    bracket : DropBracket
        Anchor distance and shift.
    drops : sequence of float
        mm.
    cases : sequence of LoadCase
        Each is looked at rolled either way and kept where the bar is steeper.
    end : {"frame", "axle"}
        Which end of the bar the bracket moves: for "axle" it stands on the axle's bracket and each of `drops` is how
        far it raises the bar's end. The lever arm is the same, from its own bolts.
    """
    if vehicle.mass is None or not drops:
        return [[] for _ in drops]
    if end == "frame":
        setups = tuple(setup.with_(drop=drop, shift=bracket.shift) for drop in drops)
    else:
        setups = tuple(setup.with_(axle_raise=rise) for rise in drops)
    found: list[Cases] = []
    for drop, angles in zip(drops, _steepest(vehicle, setups, tuple(cases)), strict=True):
        at_drop = []
        for case, angle in zip(cases, angles, strict=True):
            force = bar_force(case.lateral_g, vehicle.mass.rear_axle, angle)
            at_drop.append((case, loads(force, angle, drop, bracket.anchor, bracket.shift, case.fore_aft)))
        found.append(at_drop)
    return found


@lru_cache(maxsize=32)
def _steepest(
    vehicle: Vehicle, setups: tuple[Setup, ...], cases: tuple[LoadCase, ...]
) -> tuple[tuple[float, ...], ...]:
    """Return the angle of the bar in each case, rad, the steeper of both rolls, for each setup.

    Kept: thickness, bolts and anchor of a bracket change none of it, and a search for changes tries dozens.
    """
    travel = np.array([case.travel for case in cases for _ in (-1, 1)])
    roll = np.radians([case.roll_deg * way for case in cases for way in (-1.0, 1.0)])
    layouts = [Build.of(vehicle, setup).layout for setup in setups]
    states = [(layout, travel - setup.lift, roll) for layout, setup in zip(layouts, setups, strict=True)]
    found = []
    for layout, poses in zip(layouts, solve_all(states), strict=True):
        pairs = bar_angle(layout, poses).reshape(-1, 2)
        found.append(tuple(float(pair[int(np.argmax(np.abs(pair)))]) for pair in pairs))
    return tuple(found)
