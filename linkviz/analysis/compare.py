"""The same vehicle three times: as built, lifted, and lifted with parts on, over its whole travel."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal

import numpy as np

from linkviz.analysis.build import Build, solid_of
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import Study, shaft_ends, study
from linkviz.analysis.tightness import Sign, shaft_margins, sign_of, tightest
from linkviz.clearance.zone import Zone, interference_zone
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.linkage.solve import solve
from linkviz.vehicle.model import Vehicle

Name = Literal["as built", "lifted", "corrected"]
NAMES: tuple[Name, ...] = ("as built", "lifted", "corrected")
"""The states that are compared, in the order in which they come about."""

ROLLS = tuple(float(v) for v in np.radians([-5.0, 0.0, 5.0]))
"""Rolls at which clearance is looked at, rad."""
_HALF = 20
"""Steps from rest to each end of the travel window."""


class Worst(Frozen):
    """Where the shaft is tightest over travel and roll: its deepest contact, else where it has the least to spare.

    Attributes
    ----------
    gap : float
        To the envelope, mm; negative is depth. One with a smaller margin may be nearer.
    travel, roll : float
        Where, mm from rest and rad.
    envelope : int
        Index of the envelope.
    margin : float
        What was asked for there, mm.
    """

    gap: float
    travel: float
    roll: float
    envelope: int
    margin: float

    @property
    def sign(self) -> Sign:
        """Return "hit" for contact, "warn" within the margin, "ok" clear of it."""
        return sign_of(self.gap, self.margin)


class Case(Frozen, eq=False):
    """One of the states: its name, its study over the window at no roll, and its tightest gap.

    Attributes
    ----------
    name : str
        One of `NAMES`.
    study : Study
        Over the travel window, roll 0.
    rest : int
        Index of the rest in the study.
    worst : Worst or None
        Over the window and `ROLLS`; None with nothing to touch.
    """

    name: Name
    study: Study
    rest: int
    worst: Worst | None

    @property
    def swing(self) -> float:
        """Return how far the axle goes sideways between its extremes over the window, mm."""
        return float(np.ptp(self.study.poses.y))


class Comparison(Frozen, eq=False):
    """The states of one vehicle under one setup.

    Attributes
    ----------
    vehicle : Vehicle
    setup : Setup
    travel : ndarray, shape (m,)
        The travel window, mm from rest.
    cases : mapping of str to Case
        "as built" always, "lifted" with a lift, "corrected" with parts on.
    """

    vehicle: Vehicle
    setup: Setup
    travel: Array
    cases: Mapping[Name, Case]

    @property
    def studies(self) -> dict[str, Study]:
        """Return the study of each case, roll 0, over the window."""
        return {name: case.study for name, case in self.cases.items()}


def travel_grid(build: Build) -> Array:
    """Return the travels at which curves are drawn: the window, rest among them, mm."""
    low, high = build.window
    return np.concatenate([np.linspace(low, 0.0, _HALF + 1)[:-1], np.linspace(0.0, high, _HALF + 1)])


def clearance_states(build: Build) -> tuple[Array, Array]:
    """Return the states at which clearance is looked at: travels (mm) and rolls (rad), shape (m * rolls,) each.

    The travel window at no roll comes first, then the same window at every other roll of `ROLLS`.
    """
    travel = travel_grid(build)
    rolls = [0.0, *(roll for roll in ROLLS if roll)]
    return np.tile(travel, len(rolls)), np.repeat(rolls, len(travel))


def setups_of(setup: Setup) -> dict[Name, Setup]:
    """Return which setups are worth comparing with this one."""
    result: dict[Name, Setup] = {"as built": Setup()}
    if setup.lift > 0:
        result["lifted"] = setup.without_parts()
    if setup.corrected:
        result["corrected"] = setup
    return result


@lru_cache(maxsize=32)
def _case(name: Name, vehicle: Vehicle, setup: Setup) -> Case:
    build = Build.of(vehicle, setup)
    travel = travel_grid(build)
    whole = study(build, *clearance_states(build))
    level = whole[: len(travel)]
    return Case(name, level, int(np.argmin(np.abs(travel))), _worst(whole))


def _worst(whole: Study) -> Worst | None:
    found = whole.tightest
    if found.envelope[0] < 0:
        return None
    i = int(tightest(found.gap[:, None], found.margin[:, None])[0])
    at = (float(found.gap[i]), float(whole.travel[i]), float(whole.roll[i]))
    return Worst(*at, int(found.envelope[i]), float(found.margin[i]))


def compare(vehicle: Vehicle, setup: Setup) -> Comparison:
    """Compare as built, lifted and corrected; what has not changed since last time is not computed again."""
    cases = {name: _case(name, vehicle, part) for name, part in setups_of(setup).items()}
    return Comparison(vehicle, setup, cases["as built"].study.travel, cases)


def zones(build: Build) -> tuple[Zone, ...]:
    """Return, for each envelope, what the shaft touches or nearly touches over the window and `ROLLS`.

    Takes tens of milliseconds per envelope: not for the thread that paints. The last ones are kept: two papers show the
    same two states.
    """
    return _zones(build.vehicle, build.setup)


@lru_cache(maxsize=8)
def _zones(vehicle: Vehicle, setup: Setup) -> tuple[Zone, ...]:
    build, shaft = Build.of(vehicle, setup), vehicle.driveshaft
    if shaft is None or not vehicle.envelopes:
        return ()
    travel, roll = clearance_states(build)
    front, pinion = shaft_ends(build, solve(build.layout, travel - build.setup.lift, roll))
    return tuple(
        interference_zone(solid_of(envelope), front, pinion, shaft.radius, margin)
        for envelope, margin in zip(vehicle.envelopes, shaft_margins(vehicle), strict=True)
    )
