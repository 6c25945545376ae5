"""Which drop does what: restore the bar's angle, level it, sway least, clear the tank; what centres the axle.

All on the full model.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Literal

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.compare import clearance_states, travel_grid
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study_all
from linkviz.linkage.measures import bar_angle
from linkviz.linkage.solve import solve_all
from linkviz.vehicle.model import Vehicle

LONGEST = 250.0
"""Drops are looked for up to here, mm."""
_FINE = 0.01
"""A clearing drop is found to within this, mm."""


@lru_cache(maxsize=64)
def restore_drop(vehicle: Vehicle, lift: float) -> float | None:
    """Return the drop that gives the lateral bar its angle as built back at the lifted rest, mm.

    None if no drop from 0 to `LONGEST` does.
    """
    return angle_drop(vehicle, lift, rest_angle(vehicle, Setup()))


@lru_cache(maxsize=64)
def level_drop(vehicle: Vehicle, lift: float) -> float | None:
    """Return the drop that brings the lateral bar level at the lifted rest, mm, or None as `restore_drop`."""
    return angle_drop(vehicle, lift, 0.0)


@lru_cache(maxsize=64)
def restore_raise(vehicle: Vehicle, lift: float) -> float | None:
    """Return how far the bar's axle end must be raised to give the bar its angle as built back, mm; None as above."""
    return _length_for(vehicle, lambda up: Setup(lift=lift, axle_raise=up), rest_angle(vehicle, Setup()))


def angle_drop(vehicle: Vehicle, lift: float, angle: float) -> float | None:
    """Return the drop that brings the bar to an angle (rad) at the lifted rest, mm, or None as `restore_drop`."""
    return _length_for(vehicle, lambda drop: Setup(lift=lift, drop=drop), angle)


def rest_angles(vehicle: Vehicle, setups: Sequence[Setup]) -> list[float]:
    """Return the angle of the lateral bar at the rest of each setup, rad, frame end higher +, in one solve."""
    layouts = [Build.of(vehicle, setup).layout for setup in setups]
    poses = solve_all([(layout, -setup.lift, 0.0) for layout, setup in zip(layouts, setups, strict=True)])
    return [float(bar_angle(layout, pose)[0]) for layout, pose in zip(layouts, poses, strict=True)]


def rest_angle(vehicle: Vehicle, setup: Setup) -> float:
    """Return the angle of the lateral bar at rest, rad, frame end higher +."""
    return rest_angles(vehicle, [setup])[0]


_LOOKS = 6
"""Lengths looked at in one call of the solver before the root is closed in on."""


def _length_for(vehicle: Vehicle, setup_of: Callable[[float], Setup], wanted: float) -> float | None:
    """Return the shortest length, mm, whose setup brings the bar to an angle at rest; None up to `LONGEST`."""
    lengths = np.linspace(0.0, LONGEST, _LOOKS).tolist()
    off = [angle - wanted for angle in rest_angles(vehicle, [setup_of(length) for length in lengths])]
    if abs(off[0]) < 1e-12:
        return 0.0
    for i in range(_LOOKS - 1):
        if off[i] * off[i + 1] <= 0:
            ends = (lengths[i], off[i], lengths[i + 1], off[i + 1])
            return _root(lambda length: rest_angle(vehicle, setup_of(length)) - wanted, *ends)
    return None


def _root(f: Callable[[float], float], low: float, f_low: float, high: float, f_high: float) -> float:
    """Find where f changes sign between two ends, by false position with halved stale ends (Illinois), to 1e-7."""
    for _ in range(60):
        if f_high == f_low:
            break
        at = high - f_high * (high - low) / (f_high - f_low)
        value = f(at)
        if abs(value) < 1e-10 or abs(high - low) < 1e-7:
            return at
        if value * f_high < 0:
            low, f_low = high, f_high
        else:
            f_low /= 2.0
        high, f_high = at, value
    return high


@lru_cache(maxsize=64)
def clear_drop(vehicle: Vehicle, lift: float) -> float | None:
    """Return the smallest drop that keeps the shaft its margin clear of every envelope, mm.

    Looked at over the whole travel window and the rolls of `linkviz.analysis.compare.ROLLS`. 0 if none is needed, None
    if no drop up to `LONGEST` does it. Takes tens of milliseconds.
    """
    if vehicle.driveshaft is None or not vehicle.envelopes:
        return None
    low, high, count = 0.0, LONGEST, 51
    while True:
        drops = np.linspace(low, high, count)
        good = np.array([spare >= 0.0 for spare in _spare(vehicle, lift, drops)])
        if not good.any():
            return None
        first = int(np.argmax(good))
        if first == 0 or high - low < _FINE * (count - 1):
            return float(drops[first])
        low, high, count = float(drops[first - 1]), float(drops[first]), 9


def _spare(vehicle: Vehicle, lift: float, drops: np.ndarray) -> list[float]:
    """Return, for each drop, the least of gap minus margin over window and rolls, mm."""
    builds = [Build.of(vehicle, Setup(lift=lift, drop=float(drop))) for drop in drops]
    return [float(part.spare.min()) for part in study_all([(build, *clearance_states(build)) for build in builds])]


@lru_cache(maxsize=64)
def least_sway_drop(vehicle: Vehicle, lift: float) -> float:
    """Return the drop with the smallest peak-to-peak sway over the travel window, level, mm.

    From 0 to `LONGEST`, to 0.01 mm; at an end of that range if the sway still falls there.
    """
    low, high, count = 0.0, LONGEST, 51
    while True:
        drops = np.linspace(low, high, count)
        best = int(np.argmin(_sways(vehicle, lift, drops)))
        step = (high - low) / (count - 1)
        if step <= _FINE:
            return float(drops[best])
        low, high = max(float(drops[best]) - step, 0.0), min(float(drops[best]) + step, LONGEST)
        count = 21


def _sways(vehicle: Vehicle, lift: float, drops: np.ndarray) -> np.ndarray:
    builds = [Build.of(vehicle, Setup(lift=lift, drop=float(drop))) for drop in drops]
    heave = travel_grid(builds[0]) - lift
    return np.array([np.ptp(poses.y) for poses in solve_all([(build.layout, heave, 0.0) for build in builds])])


By = Literal["shift", "bar_longer"]
"""What centres the axle: the bracket's holes to the side, or another length of the bar."""
MOST_CENTRING = 150.0
"""The axle is centred by at most this much, mm."""


@lru_cache(maxsize=64)
def centring(vehicle: Vehicle, setup: Setup, by: By) -> float | None:
    """Return the side shift, or how much longer the bar, that puts the axle in the middle at rest, mm.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        The lift and the parts; the value asked for is replaced.
    by : {"shift", "bar_longer"}
        Which of the two.

    Returns
    -------
    float or None
        As in `Setup`; None if `MOST_CENTRING` either way does not do it.
    """

    def offset(value: float) -> float:
        layout = Build.of(vehicle, setup.with_(**{by: value})).layout
        return float(solve_all([(layout, -setup.lift, 0.0)])[0].y[0])

    low, high = -MOST_CENTRING, MOST_CENTRING
    at_low, at_high = offset(low), offset(high)
    if at_low * at_high > 0:
        return None
    return _root(offset, low, at_low, high, at_high)
