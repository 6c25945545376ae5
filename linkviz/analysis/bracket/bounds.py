"""How long a drop can be on a vehicle: links, ground, axle, strength, each with its reason."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from linkviz.analysis.bracket.goals import ground_clearance
from linkviz.analysis.bracket.loads import cases_at, frame_bracket_of
from linkviz.analysis.bracket.room import Room
from linkviz.analysis.build import Build
from linkviz.analysis.clearance.sizes import sizes_of
from linkviz.analysis.compare import ROLLS
from linkviz.analysis.goals import LONGEST, restore_drop
from linkviz.analysis.limits import DEFAULTS, LinkLimits, run_out
from linkviz.analysis.setup import Setup
from linkviz.bracket.lengths import Bound
from linkviz.bracket.loads import CASES, LoadCase
from linkviz.bracket.parts import DropBracket
from linkviz.bracket.strength import Longest, longest_drop
from linkviz.linkage.layout import BAR
from linkviz.linkage.solve import solve
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle

_HEAD = 12.0
"""Bolt head outside a plate, mm."""
_UNMEASURED = {"tube_radius": "the tube's radius", "bracket_length": "the bracket's length fore and aft"}
"""Sizes that may be taken in proportion, as a sentence names them."""


def links_bound(vehicle: Vehicle, limits: LinkLimits = DEFAULTS, unit: Unit = "mm") -> Bound | None:
    """Return the drop that puts right the highest lift the trailing links allow; None if they allow any."""
    first = run_out(vehicle, limits).first
    drop = None if first is None else restore_drop(vehicle, first.lift)
    if first is None or drop is None:
        return None
    return Bound(
        "links",
        drop,
        f"from a lift of {format_length(first.lift, unit)} on, {first.said(unit)}; a longer drop would serve lifts "
        "that need other trailing links first",
    )


def ground_bound(vehicle: Vehicle, setup: Setup, bracket: DropBracket, room: Room, unit: Unit = "mm") -> Bound:
    """Return the drop with which the bracket's lower end comes as near to the ground as it may, at full jounce."""
    left = ground_clearance(vehicle, setup.with_(drop=0.0), bracket.end_bottom)
    return Bound(
        "ground",
        max(left - room.ground, 0.0),
        f"its lower end must stay {format_length(room.ground, unit)} above the ground at full jounce",
        f"height without a drop {left:.1f} mm - {room.ground:.1f} mm",
    )


def axle_bound(vehicle: Vehicle, setup: Setup, bracket: DropBracket, room: Room, unit: Unit = "mm") -> Bound | None:
    """Return the drop with which the bracket comes as near to the axle tube as it may, at full jounce.

    Level and rolled either way. None where the bracket passes in front of or behind the tube. The tube is straight
    from wheel to wheel, its radius as measured or in proportion (`linkviz.analysis.clearance.sizes`). Fore and aft the
    bracket is as long as the measured frame bracket makes it, else as that same table has it. What nobody measured is
    named in the words. Coils, dampers and the housing of the differential are not looked at.
    """
    frame, sizes = frame_bracket_of(vehicle), sizes_of(vehicle)
    long = bracket.inside_bottom(frame) + 2.0 * bracket.thickness if frame else sizes.bracket_length
    reach = long / 2.0 + _HEAD
    tube = sizes.tube_radius + room.axle
    build = Build.of(vehicle, setup)
    at = build.layout.frame[BAR]
    heave = np.full(len(ROLLS), vehicle.travel.window[1] - setup.lift)
    poses = solve(build.layout, heave, np.array(ROLLS))
    beside = poses.place(build.layout.centre, np.array([[0.0, at[1] - build.layout.centre[1], 0.0]]))[:, 0]
    apart = np.maximum(np.abs(at[0] - beside[:, 0]) - reach, 0.0)
    meets = apart < tube
    if not meets.any():
        return None
    top = beside[meets, 2] + np.sqrt(tube**2 - apart[meets] ** 2)
    room_left = float(vehicle.links.lateral_bar.frame[2] - bracket.end_bottom - top.max())
    words = f"its lower end must stay {format_length(room.axle, unit)} clear of the axle tube at full jounce"
    taken = [said for key, said in _UNMEASURED.items() if key in sizes.guessed and (key == "tube_radius" or not frame)]
    if taken:
        words += f", with {' and '.join(taken)} assumed for want of a measured one"
    return Bound("axle", max(room_left, 0.0), words)


def strength_bound(
    vehicle: Vehicle,
    setup: Setup,
    bracket: DropBracket,
    shortest: float,
    cases: Sequence[LoadCase] = CASES,
) -> Longest | None:
    """Return the longest drop that passes every check of strength; None without the mass on the rear axle."""
    if vehicle.mass is None:
        return None
    low = max(math.ceil(shortest), math.ceil(bracket.anchor))
    return longest_drop(
        bracket,
        frame_bracket_of(vehicle),
        lambda drops: cases_at(vehicle, setup, bracket, drops, cases),
        float(low),
        LONGEST,
    )


def longest_drops(
    vehicle: Vehicle,
    setup: Setup,
    bracket: DropBracket,
    shortest: float,
    cases: Sequence[LoadCase] = CASES,
    limits: LinkLimits = DEFAULTS,
    room: Room | None = None,
    unit: Unit = "mm",
) -> tuple[Bound, ...]:
    """Return the bounds from above, the shortest first: the first one binds.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        The lift.
    bracket : DropBracket
        Its sizes; its holes do not matter.
    shortest : float
        The shortest drop, mm: strength is looked at from there on.
    cases, limits, room
        Load cases, limits of the trailing links, room to leave.
    unit : {"mm", "in"}
        Unit of the words.
    """
    room = room or Room()
    found = [
        links_bound(vehicle, limits, unit),
        ground_bound(vehicle, setup, bracket, room, unit),
        axle_bound(vehicle, setup, bracket, room, unit),
    ]
    strength = strength_bound(vehicle, setup, bracket, shortest, cases)
    if strength is not None and strength.check is not None:
        check = strength.check
        found.append(
            Bound(
                "strength",
                strength.drop or 0.0,
                f"{check.in_sentence} reaches its allowable ({check.case})"
                if strength.drop is not None
                else f"no drop passes: {check.in_sentence} ({check.case})",
                check.formula,
            )
        )
    return tuple(sorted((bound for bound in found if bound is not None), key=lambda bound: bound.drop))
