"""The drop that clears with the measuring error counted in: of vehicles drawn around the measured one, 95 % stay clear.

The same draws serve every drop that is tried, so that the share that stays clear changes with the drop and not by
chance. A one-sided statement: at most one vehicle in twenty that fits what was measured comes inside a margin.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.compare import clearance_states
from linkviz.analysis.doubt.least import Measured
from linkviz.analysis.doubt.measured import Drawn, drawn, inputs
from linkviz.analysis.doubt.propagate import draws
from linkviz.analysis.goals import LONGEST, clear_drop
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import least_spare, study, tube_gaps
from linkviz.analysis.tightness import shaft_margins
from linkviz.frozen import Frozen
from linkviz.linkage.batch import solve_batch
from linkviz.linkage.layout import Array
from linkviz.vehicle.model import Vehicle

SHARE = 0.95
"""Share of the vehicles that must stay clear."""
TRIALS = 600
"""Usual number of vehicles drawn: the share is good to about 1 % with so many."""
SEED = 20260211
_CLOSE = 0.1
"""A sure drop is found to within this, mm."""
_PORTION = 50


class SureDrop(Frozen):
    """The smallest drop that keeps the shaft its margin from every envelope over window and rolls.

    Attributes
    ----------
    drop : float or None
        For at least `SHARE` of the drawn vehicles, mm; None if no drop up to `linkviz.analysis.goals.LONGEST` does.
    plain : float or None
        For the points as measured, mm.
    trials : int
        How many vehicles were drawn.
    """

    drop: float | None
    plain: float | None
    trials: int


def sure_drop(
    vehicle: Vehicle, lift: float, everyone: Drawn | None = None, cancelled: Callable[[], bool] | None = None
) -> SureDrop | None:
    """Return the drop that clears with 95 % confidence. Takes about a second: not for the thread that paints.

    Parameters
    ----------
    vehicle : Vehicle
    lift : float
        mm.
    everyone : Drawn, optional
        The drawn vehicles; `TRIALS` are drawn where they are left out.
    cancelled : callable, optional
        Asked several times a second.

    Returns
    -------
    SureDrop or None
        None if it was cancelled, or with nothing to stay clear of.
    """
    if vehicle.driveshaft is None or not vehicle.envelopes:
        return None
    if everyone is None:
        everyone = drawn(vehicle, draws(inputs(vehicle), TRIALS, SEED))
    trials, drawn_ones = len(everyone), everyone
    plain = clear_drop(vehicle, lift)

    def low_end(drop: float) -> float | None:
        """Return what all but one in twenty have to spare, mm."""
        found = spares(vehicle, Setup(lift=lift, drop=drop), drawn_ones, cancelled)
        return None if found is None else float(np.quantile(found, 1.0 - SHARE, method="lower"))

    if plain is None:
        return SureDrop(None, None, trials)
    at, high = plain, min(plain + 25.0, LONGEST)
    spare = low_end(at)
    if spare is None:
        return None
    if spare >= 0:
        return SureDrop(at, plain, trials)
    more = low_end(high)
    while more is not None and more < 0 and high < LONGEST:
        at, spare, high = high, more, min(high + 50.0, LONGEST)
        more = low_end(high)
    if more is None:
        return None
    if more < 0:
        return SureDrop(None, plain, trials)
    while high - at > _CLOSE:
        middle = float(np.clip(at - spare * (high - at) / (more - spare), at + 0.3 * _CLOSE, high - 0.3 * _CLOSE))
        value = low_end(middle)
        if value is None:
            return None
        if value >= 0:
            high, more = middle, value
            nearer = max(at, middle - _CLOSE)
            value = low_end(nearer) if nearer > at else spare
            if value is None:
                return None
            middle = nearer
        if value < 0:
            at, spare = middle, value
        else:
            high, more = middle, value
    return SureDrop(high, plain, trials)


def spares(
    vehicle: Vehicle, setup: Setup, everyone: Drawn, cancelled: Callable[[], bool] | None = None
) -> Array | None:
    """Return the least of gap minus margin of each drawn vehicle, over window and rolls, shape (trials,), mm."""
    build, shaft = Build.of(vehicle, setup), vehicle.driveshaft
    if shaft is None or everyone.front is None or everyone.pinion is None:
        raise ValueError("the vehicle has no driveshaft")
    envelopes, margins, radius = vehicle.envelopes, shaft_margins(vehicle), shaft.radius

    def spare(front: Array, pinion: Array) -> Array:
        return least_spare(margins, tube_gaps(envelopes, front, pinion, radius))

    states = study(build, *clearance_states(build))
    heave, measured, found = states.travel - setup.lift, Measured.at(states, spare), []
    for i in range(0, len(everyone), _PORTION):
        if cancelled is not None and cancelled():
            return None
        some = everyone[i : i + _PORTION]
        if some.front is None or some.pinion is None:
            raise ValueError("the vehicle has no driveshaft")
        batch = some.batch.with_bar(setup.drop, setup.shift, setup.bar_longer, setup.axle_raise)
        pinion = solve_batch(batch, heave, states.roll).place(batch.centre, some.pinion - batch.centre)
        found.append(measured.least(np.broadcast_to(some.front[:, None], pinion.shape), pinion))
    return np.concatenate(found)
