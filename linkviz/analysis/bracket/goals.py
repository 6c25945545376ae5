"""The goals a drop can be chosen for, side by side, and how each does: sway, offset, roll centre, gap, ground."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.compare import clearance_states, travel_grid
from linkviz.analysis.goals import centring, clear_drop, least_sway_drop, level_drop, restore_drop, restore_raise
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study_all
from linkviz.frozen import Frozen
from linkviz.vehicle.model import Vehicle

TYPICAL_END = 30.0
"""Plate below the bar's hole where no bracket is given, mm."""


class Goal(Frozen):
    """One goal and what it comes to.

    Attributes
    ----------
    key, label : str
        For programs and for people.
    plain : str
        What it means, a sentence.
    setup : Setup or None
        What reaches it; None if nothing does.
    why : str
        Why nothing does, "" otherwise.
    sway : float
        Peak to peak over the travel window, mm; NaN without a setup, as all below.
    offset : float
        Axle centre sideways at rest, mm, left +.
    bar_angle : float
        At rest, rad, frame end higher +.
    roll_centre : float
        At rest, mm above the ground.
    spare : float
        Least gap of the shaft less the margin asked for there, over window and rolls, mm; inf with nothing to touch.
    ground : float
        From the ground to the lowest end of the bracket at full jounce, mm.
    """

    key: str
    label: str
    plain: str
    setup: Setup | None
    why: str
    sway: float
    offset: float
    bar_angle: float
    roll_centre: float
    spare: float
    ground: float


def ground_clearance(vehicle: Vehicle, setup: Setup, end: float) -> float:
    """Return the height of the bracket's lower end above the ground at full jounce, mm.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        Lift and drop.
    end : float
        Plate below the bar's hole, mm.

    Notes
    -----
    In the body's frame the ground stands at the axle centre less the tyre's radius; tyres do not give.
    """
    heave = vehicle.travel.window[1] - setup.lift
    ground = vehicle.axle.centre[2] + heave - vehicle.axle.tyre_radius
    return vehicle.links.lateral_bar.frame[2] - setup.drop - end - ground


def goals(vehicle: Vehicle, setup: Setup, end: float = TYPICAL_END) -> tuple[Goal, ...]:
    """Return every goal for a lift, what reaches it and how it does.

    Parameters
    ----------
    vehicle : Vehicle
        As built.
    setup : Setup
        The lift; its drop is what the two ways of centring start from (the restoring drop if it has none).
    end : float
        Plate below the bar's hole, mm.

    Notes
    -----
    All on the full model. Takes a tenth of a second.
    """
    lift = setup.lift
    restore = restore_drop(vehicle, lift)
    level = level_drop(vehicle, lift)
    clear = clear_drop(vehicle, lift)
    raised = restore_raise(vehicle, lift)
    base = setup if setup.drop else Setup(lift=lift, drop=restore or 0.0)
    shift, longer = centring(vehicle, base, "shift"), centring(vehicle, base, "bar_longer")
    bare = Setup(lift=lift)
    nothing_to_clear = "The file has no driveshaft or no envelope." if not _shaft_and_envelopes(vehicle) else ""
    too_long = "No drop within reach does it."
    wanted: list[tuple[str, str, str, Setup | None, str]] = [
        ("none", "No bracket", "The lift on the original bar.", bare, ""),
        ("restore", "Restore", "The bar gets the angle it was built with.",
         None if restore is None else bare.with_(drop=restore), too_long),
        ("level", "Level", "The bar stands level at rest.",
         None if level is None else bare.with_(drop=level), too_long),
        ("least_sway", "Least sway", "The axle swings least sideways over the travel.",
         bare.with_(drop=least_sway_drop(vehicle, lift)), ""),
        ("clear", "Clear", "The shortest drop that keeps the shaft its margin clear over the whole travel.",
         None if clear is None else bare.with_(drop=clear), nothing_to_clear or too_long),
        ("centred_shift", "Centred by side shift", "The axle stands in the middle: holes moved to the side.",
         None if shift is None else base.with_(shift=shift), "No side shift within reach does it."),
        ("centred_bar", "Centred by bar length", "The axle stands in the middle: bar of another length.",
         None if longer is None else base.with_(bar_longer=longer), "No length of the bar within reach does it."),
        ("raise", "Raise the axle end instead", "The bar gets its angle back from the axle end.",
         None if raised is None else bare.with_(axle_raise=raised), "No raise within reach does it."),
    ]  # fmt: skip
    if setup.corrected:
        wanted.insert(1, ("set", "As set", "What is set now.", setup, ""))
    return tuple(_measured(vehicle, wanted, end))


def _shaft_and_envelopes(vehicle: Vehicle) -> bool:
    return vehicle.driveshaft is not None and bool(vehicle.envelopes)


def _measured(vehicle: Vehicle, wanted: list[tuple[str, str, str, Setup | None, str]], end: float) -> Iterator[Goal]:
    builds = [Build.of(vehicle, setup) for *_, setup, _ in wanted if setup is not None]
    requests = [(build, *clearance_states(build)) for build in builds]
    studies = iter(study_all([*requests, *((build, 0.0, 0.0) for build in builds)]))
    wholes = [next(studies) for _ in builds]
    pairs = iter(zip(wholes, studies, strict=True))
    for key, label, plain, setup, why in wanted:
        if setup is None:
            nan = float("nan")
            yield Goal(key, label, plain, None, why, nan, nan, nan, nan, nan, nan)
            continue
        whole, rest = next(pairs)
        level = whole[: len(travel_grid(whole.build))]
        yield Goal(
            key=key,
            label=label,
            plain=plain,
            setup=setup,
            why="",
            sway=float(np.ptp(level.poses.y)),
            offset=rest.offset,
            bar_angle=float(rest.bar_angle[0]),
            roll_centre=float(rest.roll_centre[0]),
            spare=float(whole.spare.min()),
            ground=ground_clearance(vehicle, setup, end),
        )
