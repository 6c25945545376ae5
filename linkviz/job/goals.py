"""Which drop does what: restore the bar's angle, level it, clear the tank. All on the full model."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from linkviz.job.build import Build
from linkviz.job.compare import clearance_states
from linkviz.job.setup import Setup
from linkviz.job.study import study_all
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
    return _drop_for(vehicle, lift, _rest_angle(vehicle, Setup()))


@lru_cache(maxsize=64)
def level_drop(vehicle: Vehicle, lift: float) -> float | None:
    """Return the drop that brings the lateral bar level at the lifted rest, mm, or None as `restore_drop`."""
    return _drop_for(vehicle, lift, 0.0)


_LOOKS = 6
"""Drops looked at in one call of the solver before the root is closed in on."""


def _rest_angles(vehicle: Vehicle, setups: list[Setup]) -> list[float]:
    layouts = [Build.of(vehicle, setup).layout for setup in setups]
    poses = solve_all([(layout, -setup.lift, 0.0) for layout, setup in zip(layouts, setups, strict=True)])
    return [float(bar_angle(layout, pose)[0]) for layout, pose in zip(layouts, poses, strict=True)]


def _rest_angle(vehicle: Vehicle, setup: Setup) -> float:
    return _rest_angles(vehicle, [setup])[0]


def _drop_for(vehicle: Vehicle, lift: float, wanted: float) -> float | None:
    drops = np.linspace(0.0, LONGEST, _LOOKS).tolist()
    off = [angle - wanted for angle in _rest_angles(vehicle, [Setup(lift=lift, drop=drop) for drop in drops])]
    if abs(off[0]) < 1e-12:
        return 0.0
    for i in range(_LOOKS - 1):
        if off[i] * off[i + 1] <= 0:
            ends = (drops[i], off[i], drops[i + 1], off[i + 1])
            return _root(lambda drop: _rest_angle(vehicle, Setup(lift=lift, drop=drop)) - wanted, *ends)
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

    Looked at over the whole travel window and the rolls of `linkviz.job.compare.ROLLS`. 0 if none is needed, None
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
    margins = np.array([envelope.margin for envelope in vehicle.envelopes])
    studies = study_all([(build, *clearance_states(build)) for build in builds])
    return [float((part.gap - margins[part.near]).min()) for part in studies]
