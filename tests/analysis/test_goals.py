from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.compare import ROLLS, travel_grid
from linkviz.analysis.goals import clear_drop, level_drop, restore_drop
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

DEMOS = demo_vehicle_paths()


@pytest.fixture(params=DEMOS, ids=[p.name.split(".")[0] for p in DEMOS])
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    return read_vehicle(request.param)


@pytest.mark.parametrize("lift", [0.0, 50.0, 101.6])
def test_restore_gives_the_angle_back(vehicle: Vehicle, lift: float) -> None:
    drop = restore_drop(vehicle, lift)
    assert drop is not None
    built = study(Build.of(vehicle, Setup()), 0.0).bar_angle[0]
    mended = study(Build.of(vehicle, Setup(lift=lift, drop=drop)), 0.0).bar_angle[0]
    assert mended == pytest.approx(built, abs=1e-8)


def test_level_levels(vehicle: Vehicle) -> None:
    drop = level_drop(vehicle, 100.0)
    assert drop is not None
    assert study(Build.of(vehicle, Setup(lift=100.0, drop=drop)), 0.0).bar_angle[0] == pytest.approx(0.0, abs=1e-8)


def test_trade_fact_drop_is_about_the_lift(vehicle: Vehicle) -> None:
    """Common practice, no published source: a drop about as long as the lift puts the bar back."""
    for lift in (50.0, 75.0, 100.0):
        assert restore_drop(vehicle, lift) == pytest.approx(lift, abs=0.06 * lift)


def test_clear_is_the_smallest_on_a_grid(vehicle: Vehicle) -> None:
    drop = clear_drop(vehicle, 100.0)
    assert drop is not None

    def spare(d: float) -> float:
        build = Build.of(vehicle, Setup(lift=100.0, drop=d))
        found = [study(build, travel_grid(build), roll) for roll in ROLLS]
        return min(
            float((found_gap.distance - envelope.margin).min())
            for one in found
            for found_gap, envelope in zip(one.gaps, vehicle.envelopes, strict=True)
        )

    assert spare(drop) >= 0.0
    for d in np.arange(0.0, drop - 0.1, 5.0):
        assert spare(float(d)) < 0.0


def test_out_of_reach_is_none(vehicle: Vehicle) -> None:
    assert restore_drop(vehicle, 400.0) is None or restore_drop(vehicle, 400.0) <= 250.0  # type: ignore[operator]
    assert clear_drop(vehicle.replace(envelopes=()), 100.0) is None


def test_no_drop_needed(vehicle: Vehicle) -> None:
    assert clear_drop(vehicle, 0.0) == 0.0
