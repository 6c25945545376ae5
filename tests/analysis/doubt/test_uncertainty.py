from __future__ import annotations

import threading
import time
from typing import Any

import numpy as np
import pytest

from linkviz.analysis.build import Build, measured_layout
from linkviz.analysis.compare import compare
from linkviz.analysis.doubt.drawn_case import CURVES
from linkviz.analysis.doubt.measured import coordinates, drawn, inputs
from linkviz.analysis.doubt.propagate import draws, symmetric
from linkviz.analysis.doubt.uncertainty import AT_REST, Uncertainty, run
from linkviz.analysis.goals import restore_drop
from linkviz.analysis.quantities import BY_KEY
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Measuring, Vehicle
from linkviz.vehicle.part import Part, values_of
from linkviz.vehicle.points import POINTS
from linkviz.vehicle.read import read_vehicle
from tests.vehicles import mirrored_vehicle, random_vehicle

DEMOS = demo_vehicle_paths()
SETUP = Setup(lift=100.0, drop=80.0, shift=4.0, bar_longer=3.0)


@pytest.fixture(scope="module")
def vehicle() -> Vehicle:
    return read_vehicle(DEMOS[0])


@pytest.fixture(scope="module")
def found(vehicle: Vehicle) -> Uncertainty:
    return ran(vehicle, SETUP, 300)


def ran(vehicle: Vehicle, setup: Setup, trials: int = 100, seed: int = 1) -> Uncertainty:
    result = run(vehicle, setup, trials, seed)
    assert result is not None
    return result


def plain(value: Any) -> Any:
    """Return a part with its parts as dictionaries."""
    if isinstance(value, tuple):
        return [plain(item) for item in value]
    return {name: plain(held) for name, held in values_of(value).items()} if isinstance(value, Part) else value


def drawn_vehicle(vehicle: Vehicle, row: np.ndarray) -> Vehicle:
    """Return the vehicle one draw stands for, written out by hand."""
    data = plain(vehicle)
    for value, c in zip(row, coordinates(vehicle), strict=True):
        place = data
        *path, last = c.point.split(".")
        for step in path:
            place = place[step]
        point = list(place[last])
        point[c.axis] = float(value)
        place[last] = tuple(point)
    radius = data["axle"]["tyre_radius"] + data["axle"]["centre"][2] - vehicle.axle.centre[2]
    data["axle"]["tyre_radius"] = radius  # the wheel stands on the ground
    return Vehicle(**data)


def test_every_point_of_the_mechanism_is_drawn(vehicle: Vehicle) -> None:
    assert {c.point for c in coordinates(vehicle)} == set(POINTS)
    assert [c.axis for c in coordinates(vehicle) if c.point == "axle.centre"] == [2]
    u = {c.point: c.u for c in coordinates(vehicle)}
    assert u["links.lateral_bar.frame"] == 2.0 and u["driveshaft.front_joint"] == 5.0 and u["axle.centre"] == 3.0


def test_drawn_vehicles_are_those_of_the_draws(vehicle: Vehicle) -> None:
    rows = draws(inputs(vehicle), 4, 9)
    some = drawn(vehicle, rows)
    for i, row in enumerate(rows):
        layout = measured_layout(drawn_vehicle(vehicle, row))
        one = some.batch.layout(i)
        assert one.frame == pytest.approx(layout.frame, abs=1e-9)
        assert one.axle == pytest.approx(layout.axle, abs=1e-9)
        assert one.length == pytest.approx(layout.length, abs=1e-9)


@pytest.mark.parametrize("demo", [0, 1, 2])
def test_bands_and_results_are_those_of_the_vehicles_one_by_one(demo: int) -> None:
    """Everything again by a loop over vehicles through `compare` and `BY_KEY`: no batch, nothing left out."""
    vehicle = read_vehicle(DEMOS[demo])
    result = ran(vehicle, SETUP, 100, 5)
    trials = [drawn_vehicle(vehicle, row) for row in draws(inputs(vehicle), 100, 5)]
    for name in ("lifted", "corrected"):
        cases = [compare(trial, SETUP).cases[name] for trial in trials]  # type: ignore[index]
        uncertain = result.cases[name]  # type: ignore[index]
        for key, band in uncertain.bands.items():
            low, high = symmetric(np.stack([BY_KEY[key].of(case.study) for case in cases]))
            tolerance = {"bind": 0.02, "roll_centre": 1e-4}.get(key, 2e-6)
            assert band.low == pytest.approx(low, abs=tolerance), key
            assert band.high == pytest.approx(high, abs=tolerance), key
        singles = {
            "worst_gap": [case.worst.gap for case in cases if case.worst],
            "swing": [case.swing for case in cases],
            "offset": [case.study.offset for case in cases],
        }
        for key, values in singles.items():
            estimate = uncertain.results[key]
            assert (estimate.low, estimate.high) == pytest.approx(symmetric(np.array(values)), abs=1e-5), key
            assert estimate.mean == pytest.approx(np.mean(values), abs=1e-5)


def test_restoring_drop_is_that_of_each_vehicle(vehicle: Vehicle) -> None:
    result = ran(vehicle, SETUP, 100, 5)
    each = [restore_drop(drawn_vehicle(vehicle, row), SETUP.lift) for row in draws(inputs(vehicle), 100, 5)]
    assert result.restore is not None
    assert result.restore.value == restore_drop(vehicle, SETUP.lift)
    assert (result.restore.low, result.restore.high) == pytest.approx(symmetric(np.array(each, float)), abs=1e-5)


def test_values_are_those_of_the_screens(vehicle: Vehicle, found: Uncertainty) -> None:
    comparison = compare(vehicle, SETUP)
    for name, case in comparison.cases.items():
        results = found.cases[name].results
        assert case.worst is not None
        assert results["worst_gap"].value == case.worst.gap
        assert results["swing"].value == case.swing
        for key in AT_REST:
            assert results[key].value == BY_KEY[key].of(case.study)[case.rest]
        for key, band in found.cases[name].bands.items():
            assert np.array_equal(band.value, BY_KEY[key].of(case.study))


def test_the_same_seed_gives_the_same_figures(vehicle: Vehicle) -> None:
    one, two, other = (ran(vehicle, Setup(lift=50.0), 100, seed) for seed in (3, 3, 4))
    assert one.cases["lifted"].results == two.cases["lifted"].results
    assert one.cases["lifted"].results != other.cases["lifted"].results


def test_what_is_exact_stays_exact(found: Uncertainty) -> None:
    """As built the axle stands where it was measured, whatever the points; its pinion angle is as measured."""
    results = found.cases["as built"].results
    for key in ("offset", "pinion_angle"):
        assert results[key].high - results[key].low == pytest.approx(0.0, abs=1e-6)
        assert results[key].causes == ()
    for case in found.cases.values():
        rest = int(np.argmin(np.abs(case.travel)))
        assert case.bands["sway"].low[rest] == case.bands["sway"].high[rest] == 0.0


def test_perfect_measuring_leaves_nothing_open(vehicle: Vehicle) -> None:
    exact = vehicle.replace(measuring=Measuring(u=0.0))
    result = ran(exact, SETUP)
    for case in result.cases.values():
        for estimate in case.results.values():
            assert (estimate.low, estimate.high) == pytest.approx((estimate.value, estimate.value), abs=2e-6)
            assert estimate.causes == ()
    assert result.measure_again() == ("", ())


def test_twice_the_error_is_nearly_twice_the_interval(vehicle: Vehicle) -> None:
    one, two = (ran(vehicle.replace(measuring=Measuring(u=u)), SETUP, 300) for u in (1.0, 2.0))
    for key, estimate in one.cases["corrected"].results.items():
        assert two.cases["corrected"].results[key].u == pytest.approx(2.0 * estimate.u, rel=0.05)


def test_a_badly_measured_point_leads_the_ranking(vehicle: Vehicle) -> None:
    for point in ("links.lateral_bar.frame", "links.lateral_bar.axle"):
        bad = vehicle.replace(measuring=Measuring(u=1.0, points=((point, 10.0),)))
        cause = ran(bad, SETUP, 200).cases["lifted"].results["offset"].causes[0]
        assert cause.point == point and cause.share > 0.8 and cause.u == 10.0
        assert cause.words.startswith("lateral bar")


def test_shares_are_those_of_one_point_at_a_time(vehicle: Vehicle) -> None:
    """The ranking's second route: every point wrong by itself, the others held (JCGM 101, annex B)."""
    whole = ran(vehicle, SETUP, 500).cases["corrected"].results
    alone = {}
    for point in ("links.lateral_bar.frame", "links.lower_left.axle", "driveshaft.pinion_joint"):
        u = next(c.u for c in coordinates(vehicle) if c.point == point)
        only = vehicle.replace(measuring=Measuring(u=0.0, points=((point, u),)))
        alone[point] = ran(only, SETUP, 200).cases["corrected"].results
    for key in ("bar_angle", "offset", "swing", "worst_gap"):
        shares = {cause.point: cause.share for cause in whole[key].causes}
        for point, results in alone.items():
            assert shares.get(point, 0.0) == pytest.approx((results[key].u / whole[key].u) ** 2, abs=0.06)


def test_shares_add_up(found: Uncertainty) -> None:
    for case in found.cases.values():
        for estimate in case.results.values():
            if estimate.u > 1e-6:
                assert estimate.explained > 0.98
                # points below 1 % are not listed
                assert 0.9 < sum(cause.share for cause in estimate.causes) <= estimate.explained + 1e-9
                assert [c.share for c in estimate.causes] == sorted((c.share for c in estimate.causes), reverse=True)


def test_mirror_image(vehicle: Vehicle) -> None:
    """Left and right exchanged, the interval of the offset turns over; other seeds apart it is the same figure."""
    one, other = ran(vehicle, Setup(lift=90.0), 300, 1), ran(mirrored_vehicle(vehicle), Setup(lift=90.0), 300, 2)
    a, b = (r.cases["lifted"].results["offset"] for r in (one, other))
    assert (a.low, a.high) == pytest.approx((-b.high, -b.low), abs=0.2 * (a.high - a.low))
    assert a.u == pytest.approx(b.u, rel=0.12)


def test_without_a_shaft_there_is_no_gap() -> None:
    bare = random_vehicle(np.random.default_rng(5), bare=1.0).replace(driveshaft=None)
    result = ran(bare, Setup(lift=60.0))
    assert set(result.cases) == {"as built", "lifted"}
    lifted = result.cases["lifted"]
    assert "worst_gap" not in lifted.results and "gap" not in lifted.bands and "slip" not in lifted.bands
    assert result.measure_again()[0] == "Sideways from design at rest"


def test_keys_are_those_of_the_quantities() -> None:
    assert set(CURVES) <= set(BY_KEY)
    assert set(AT_REST) <= set(CURVES)


def test_where_the_axle_does_not_get_it_stands_at_its_limit(vehicle: Vehicle) -> None:
    result = ran(vehicle, Setup(lift=240.0))
    lifted = result.cases["lifted"]
    assert lifted.reached == 0.0
    assert not study(Build.of(vehicle, Setup(lift=240.0)), -90.0).reached[0]
    for band in lifted.bands.values():
        assert np.isfinite(band.low).all() and np.isfinite(band.high).all()


def test_progress_rises_to_one(vehicle: Vehicle) -> None:
    told: list[float] = []
    assert run(vehicle, Setup(), 200, progress=told.append) is not None
    assert told == sorted(told) and told[-1] == 1.0 and 0.0 < told[0] < 0.5


def test_cancel_from_another_thread(vehicle: Vehicle) -> None:
    stop, answers, asked = threading.Event(), [], []

    def cancelled() -> bool:
        asked.append(time.perf_counter())
        return stop.is_set()

    thread = threading.Thread(target=lambda: answers.append(run(vehicle, SETUP, 100_000, cancelled=cancelled)))
    thread.start()
    while len(asked) < 5:
        time.sleep(0.005)
    stop.set()
    thread.join(20.0)
    assert answers == [None]


def test_too_few_trials(vehicle: Vehicle) -> None:
    with pytest.raises(ValueError, match="at least"):
        run(vehicle, SETUP, 50)
