"""Where the mechanism ends, and up to which lift its trailing links still stand as links should.

Travel ends where the side-view linkage of the trailing links has its dead point or is stretched out, or where the
lateral bar cannot span its gap (`linkviz.linkage.closed_form`, `linkviz.linkage.solve`). Lift ends sooner: the links
stand ever steeper, the pinion turns and the axle moves under the body. `run_out` follows that over lift and says which
limit comes first. Parts that correct the lateral bar change none of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.frozen import Frozen
from linkviz.linkage.closed_form import trailing
from linkviz.linkage.energy import Bools
from linkviz.linkage.layout import BAR, Array
from linkviz.linkage.measures import link_force
from linkviz.linkage.side_view import link_angles
from linkviz.linkage.solve import solve
from linkviz.units import Unit, format_angle, format_length
from linkviz.vehicle.model import Vehicle

HIGHEST = 250.0
"""Lifts are looked at up to here, mm."""
_STEP = 2.0
_LOOKS = 121
_CLOSER = 21

# -- end of travel


class End(Frozen):
    """An end of the travel.

    Attributes
    ----------
    heave : float
        From design height, mm.
    travel : float
        From the rest of the build, mm.
    words : str
        What ends it.
    room : float
        How much further that is than the travel window asks for, mm; negative where the window is not reached.
    """

    heave: float
    travel: float
    words: str
    room: float


class TravelLimits(Frozen):
    """Both ends of the travel the mechanism allows, level."""

    droop: End
    bump: End


def travel_limits(build: Build) -> TravelLimits:
    """Return how far down and up the axle gets, level, and what ends it there.

    That is what the links allow: what hangs on the axle (dampers, coils, hoses, bump stops) ends travel sooner.
    """
    links = trailing(build.layout)
    up, words = _solved_end(build, links.high, links.stop_high)
    travel = up + build.setup.lift
    return TravelLimits(_droop(build), End(up, travel, words, travel - build.window[1]))


def _droop(build: Build) -> End:
    links = trailing(build.layout)
    down, words = _solved_end(build, links.low, links.stop_low)
    travel = down + build.setup.lift
    return End(down, travel, words, build.window[0] - travel)


def _solved_end(build: Build, end: float, words: str) -> tuple[float, str]:
    """Return how far the full solve gets on the way from design to an end of the side-view linkage, and what ends it.

    A hundredth of a mm before that end is near enough: on it, rounding decides.
    """
    inner = end - np.sign(end) * min(0.01, abs(end))
    inside, outside = 0.0, float(inner)
    for looks in (_LOOKS, _CLOSER, _CLOSER, _CLOSER):
        way = np.linspace(inside, outside, looks)
        poses = solve(build.layout, way, 0.0)
        if poses.reached.all():
            return end, words
        first = int(np.argmin(poses.reached))
        if first == 0:
            return 0.0, poses.stopped_by[0]
        inside, outside, words = float(way[first - 1]), float(way[first]), poses.stopped_by[first]
    return inside, words


# -- trailing links that run out with lift

Key = Literal["link_angle", "pinion_change", "wheelbase_change", "reach"]


class LinkLimits(Frozen):
    """Up to where trailing links are reasonable, at rest; editable.

    Attributes
    ----------
    link_angle_deg : float
        Slope of the steepest trailing link, deg. 30: common practice, no published source. There the sine is
        one half: of every force along the link half stands up and lifts or squats the body, and every mm of travel
        moves the axle 0.58 mm along the vehicle.
    pinion_change_deg : float
        Change of the pinion angle from design, either way, deg. 3: as much as a universal joint may work at and run
        smoothly (U.S. Army TM 5-4210-230-14&P-1, p. 23): two joints that cancelled are set apart by a whole one.
    wheelbase_change : float
        Axle along the vehicle from design, either way, mm. 50: common practice, no published source; about the room a
        tyre has ahead of it in its arch, and more than most slip joints have to give.
    """

    link_angle_deg: float = 30.0
    pinion_change_deg: float = 3.0
    wheelbase_change: float = 50.0


DEFAULTS = LinkLimits()


class Crossing(Frozen):
    """A limit and the lift that passes it.

    Attributes
    ----------
    key : str
        Which of the curves.
    lift : float
        mm; 0 if it is passed without a lift.
    limit : float
        rad for angles, mm for the wheelbase; for "reach" the rebound asked for, mm.
    what : str
        What passes it, such as "the upper links".
    """

    key: Key
    lift: float
    limit: float
    what: str

    def said(self, unit: Unit) -> str:
        """Return the reason as a part of a sentence."""
        if self.key == "link_angle":
            return f"{self.what} stand steeper than {format_angle(self.limit, 0)}"
        if self.key == "pinion_change":
            return f"the pinion has turned {self.what} by more than {format_angle(self.limit, 0)}"
        if self.key == "wheelbase_change":
            return f"the axle has moved {self.what} by more than {format_length(self.limit, unit)}"
        return f"the axle no longer drops all of its {format_length(self.limit, unit)}: {self.what}"


class RunOut(Frozen, eq=False):
    """The trailing links over lift, at rest, level.

    Attributes
    ----------
    lift : ndarray, shape (m,)
        mm, from 0 to `HIGHEST`.
    curves : mapping of str to ndarray, shape (m,)
        "link_angle": slope of the steepest trailing link, rad, >= 0; "lower_angle" and "upper_angle": of the steeper of
        either pair, rad, frame end higher +; "pinion_change": rad, nose up +; "wheelbase_change": mm, longer +;
        "force": largest force in any link, N.
    reached : ndarray of bool, shape (m,)
        Whether the axle still gets to that rest.
    crossings : tuple of Crossing
        The limits that are passed up to `HIGHEST`, by lift.
    """

    vehicle: Vehicle
    limits: LinkLimits
    lift: Array
    curves: Mapping[str, Array]
    reached: Bools
    crossings: tuple[Crossing, ...]

    @property
    def first(self) -> Crossing | None:
        """Return the limit that is passed first, None if none is."""
        return self.crossings[0] if self.crossings else None

    def said(self, unit: Unit = "mm") -> str:
        """Return what it comes to, a sentence."""
        if self.first is None:
            return f"The trailing links stay within their limits up to a lift of {format_length(HIGHEST, unit)}."
        if self.first.lift <= 0:
            return f"Without any lift {self.first.said(unit)}."
        return f"From a lift of {format_length(self.first.lift, unit)} on, {self.first.said(unit)}."


@lru_cache(maxsize=16)
def run_out(vehicle: Vehicle, limits: LinkLimits = DEFAULTS) -> RunOut:
    """Follow the trailing links over lift.

    Parameters
    ----------
    vehicle : Vehicle
        As built; the lift is everything that is done to it.
    limits : LinkLimits
        Where the links stop being reasonable.

    Raises
    ------
    ValueError
        If a limit is not positive.
    """
    if min(limits.link_angle_deg, limits.pinion_change_deg, limits.wheelbase_change) <= 0:
        raise ValueError("the limits of the links must be above 0")
    build = Build.of(vehicle, Setup())
    lift = np.arange(0.0, HIGHEST + _STEP / 2, _STEP)
    poses = solve(build.layout, -lift, 0.0)
    slopes, _ = link_angles(build.layout, poses)
    rows = np.arange(len(lift))
    pairs = [slopes[:, :2], slopes[:, 2:BAR]]
    lower, upper = (pair[rows, np.abs(pair).argmax(axis=1)] for pair in pairs)
    curves = {
        "link_angle": np.maximum(np.abs(lower), np.abs(upper)),
        "lower_angle": lower,
        "upper_angle": upper,
        "pinion_change": -poses.pitch,
        "wheelbase_change": -poses.x,
        "force": np.abs(link_force(build.layout, poses)).max(axis=1),
    }
    found = []
    for key, limit in (
        ("link_angle", float(np.radians(limits.link_angle_deg))),
        ("pinion_change", float(np.radians(limits.pinion_change_deg))),
        ("wheelbase_change", limits.wheelbase_change),
    ):
        at = _passes(lift, np.abs(curves[key]) - limit)
        if at is not None:
            found.append(Crossing(key, at, limit, _what(key, curves, lift, at)))  # type: ignore[arg-type]
    droop = _droop(build)
    if droop.room < HIGHEST:
        found.append(Crossing("reach", max(droop.room, 0.0), vehicle.travel.rebound, droop.words))
    found.sort(key=lambda crossing: crossing.lift)
    return RunOut(vehicle, limits, lift, curves, poses.reached, tuple(found))


def _passes(lift: Array, over: Array) -> float | None:
    """Return the lift at which a curve first comes above 0, straight between two looks."""
    above = np.flatnonzero(over > 0)
    if not len(above):
        return None
    i = int(above[0])
    if i == 0:
        return 0.0
    share = over[i - 1] / (over[i - 1] - over[i])
    return float(lift[i - 1] + share * (lift[i] - lift[i - 1]))


def _what(key: str, curves: Mapping[str, Array], lift: Array, at: float) -> str:
    def there(name: str) -> float:
        return float(np.interp(at, lift, curves[name]))

    if key == "link_angle":
        return "the upper links" if abs(there("upper_angle")) > abs(there("lower_angle")) else "the lower links"
    after = float(np.interp(at + _STEP, lift, curves[key]))
    if key == "pinion_change":
        return "up" if after > 0 else "down"
    return "back" if after > 0 else "forward"
