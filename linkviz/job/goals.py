"""Which drop does what: restore the bar's angle, level it, clear the tank. All on the full model."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from linkviz.job.build import Build
from linkviz.job.compare import ROLLS, travel_grid
from linkviz.job.setup import Setup
from linkviz.job.study import study_all
from linkviz.linkage.measures import bar_angle
from linkviz.linkage.solve import solve
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


def _rest_angle(vehicle: Vehicle, setup: Setup) -> float:
    layout = Build.of(vehicle, setup).layout
    return float(bar_angle(layout, solve(layout, -setup.lift, 0.0))[0])


def _drop_for(vehicle: Vehicle, lift: float, wanted: float) -> float | None:
    return _root(lambda drop: _rest_angle(vehicle, Setup(lift=lift, drop=drop)) - wanted, 0.0, LONGEST)


def _root(f: Callable[[float], float], low: float, high: float) -> float | None:
    """Find where f changes sign, by false position with halved stale ends (Illinois), to 1e-7."""
    f_low, f_high = f(low), f(high)
    if abs(f_low) < 1e-12:
        return low
    if f_low * f_high > 0:
        return None
    for _ in range(60):
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
    travel = np.tile(travel_grid(builds[0]), len(ROLLS))
    roll = np.repeat(ROLLS, len(travel) // len(ROLLS))
    margins = np.array([envelope.margin for envelope in vehicle.envelopes])
    return [
        float((part.gap - margins[part.near]).min()) for part in study_all([(build, travel, roll) for build in builds])
    ]
