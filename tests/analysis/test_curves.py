"""Curves against the study of single states, and lines that pass through infinity against a function that does."""

from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.compare import compare, setups_of
from linkviz.analysis.curves import Curves, broken, line, poles, stop, studies_over, value_at
from linkviz.analysis.quantities import BY_KEY
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])
SETUP = Setup(lift=100.0, drop=80.0)
COMPARISON = compare(WAGON, SETUP)
NAMES = tuple(COMPARISON.cases)
ENDLESS = BY_KEY["instant_centre_ahead"]
X = np.linspace(-1.0, 1.0, 41)


@pytest.mark.parametrize("axis", ["travel", "roll"])
@pytest.mark.parametrize("key", ["sway", "pinion_angle", "gap", "roll_steer", "damper_room_out"])
def test_a_line_is_the_quantity_at_each_state_on_its_own(axis: str, key: str) -> None:
    x = COMPARISON.travel if axis == "travel" else np.linspace(-10.0, 10.0, 41)
    held = 3.0 if axis == "travel" else 25.0
    found = studies_over(COMPARISON, NAMES, axis, x, held)  # type: ignore[arg-type]
    for name in NAMES:
        values = line(found[name], BY_KEY[key])
        build = Build.of(WAGON, setups_of(SETUP)[name])
        for i in (0, 17, 40):
            travel, roll = (x[i], np.radians(held)) if axis == "travel" else (held, np.radians(x[i]))
            alone = study(build, travel, roll)
            assert values[i] == pytest.approx(float(BY_KEY[key].of(alone)[0]), abs=1e-6), (name, i)


def test_the_level_travel_window_is_not_solved_again() -> None:
    found = studies_over(COMPARISON, NAMES, "travel", COMPARISON.travel, 0.0)
    assert all(found[name] is COMPARISON.cases[name].study for name in NAMES)


def test_where_the_axle_does_not_get_there_is_no_value_but_a_reason() -> None:
    far = study(Build.of(WAGON, Setup(lift=150.0)), np.linspace(-300.0, 80.0, 41))
    assert not far.reached.all()
    values = line(far, BY_KEY["sway"])
    assert np.array_equal(np.isfinite(values), far.reached)
    words = far.stopped_by
    assert stop(far) in words
    assert stop(far) != ""
    assert stop(COMPARISON.cases["as built"].study) == ""


def test_a_pole_is_told_from_a_zero() -> None:
    with np.errstate(divide="ignore"):
        pole, zero = 1.0 / (X - 0.3333), X - 0.3333
    assert np.flatnonzero(poles(pole, ENDLESS)).tolist() == [int(np.searchsorted(X, 0.3333)) - 1]
    assert not poles(zero, ENDLESS).any()
    assert not poles(X**3 - 0.01, ENDLESS).any()
    # a quantity that is never infinite has none, whatever it does
    assert not poles(pole, BY_KEY["sway"]).any()


def test_a_pole_at_either_end_is_found() -> None:
    for at in (X[0] + 0.01, X[-1] - 0.01):
        assert poles(1.0 / (X - at), ENDLESS).sum() == 1


def test_a_broken_line_has_a_gap_at_the_pole_and_keeps_every_value() -> None:
    values = 1.0 / (X - 0.3333)
    x, y = broken(X, values, ENDLESS)
    assert len(x) == 42
    assert np.isnan(y).sum() == 1
    assert (np.diff(x) > 0).all()
    assert np.array_equal(y[np.isfinite(y)], values)
    x, y = broken(X, np.where(X > 0.5, np.inf, X), ENDLESS)
    assert np.array_equal(np.isnan(y), X > 0.5)


def test_a_value_between_two_points_is_on_the_line() -> None:
    values = X**2
    assert value_at(X, values, ENDLESS, 0.4321) == pytest.approx(np.interp(0.4321, X, values))
    assert value_at(X, values, ENDLESS, X[7]) == values[7]
    assert value_at(X, values, ENDLESS, X[-1]) == values[-1]
    assert np.isnan(value_at(X, values, ENDLESS, 1.01))
    holes = np.where(X < 0.0, np.nan, values)
    assert np.isnan(value_at(X, holes, ENDLESS, -0.01))
    assert value_at(X, holes, ENDLESS, 0.0) == 0.0
    assert value_at(X, np.where(X < 0.0, np.inf, values), ENDLESS, -0.01) == np.inf
    assert value_at(X, 1.0 / (X - 0.3333), ENDLESS, 0.3333) == np.inf


def test_curves_say_whether_a_line_is_broken() -> None:
    whole = Curves(ENDLESS, "travel", X, 0.0, {"as built": X + 3.0})
    assert not whole.breaks
    assert Curves(ENDLESS, "travel", X, 0.0, {"as built": 1.0 / (X - 0.3333)}).breaks
    assert whole.at(0.5) == {"as built": pytest.approx(3.5)}
