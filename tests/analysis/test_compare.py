from __future__ import annotations

import numpy as np
import pytest
import shapely

from linkviz.analysis.build import Build
from linkviz.analysis.compare import ROLLS, compare, travel_grid, zones
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

DEMOS = demo_vehicle_paths()


@pytest.fixture(params=DEMOS, ids=[p.name.split(".")[0] for p in DEMOS])
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    return read_vehicle(request.param)


def test_which_states_are_compared(vehicle: Vehicle) -> None:
    assert list(compare(vehicle, Setup()).cases) == ["as built"]
    assert list(compare(vehicle, Setup(lift=50.0)).cases) == ["as built", "lifted"]
    assert list(compare(vehicle, Setup(lift=50.0, drop=50.0)).cases) == ["as built", "lifted", "corrected"]
    assert list(compare(vehicle, Setup(drop=50.0)).cases) == ["as built", "corrected"]


def test_window_holds_rest_and_both_ends(vehicle: Vehicle) -> None:
    travel = travel_grid(Build.of(vehicle, Setup(lift=50.0)))
    assert travel[0] == -vehicle.travel.rebound
    assert travel[-1] == vehicle.travel.jounce
    assert 0.0 in travel
    assert (np.diff(travel) > 0).all()


def test_the_demos_tell_the_story(vehicle: Vehicle) -> None:
    """As built clear by the margin, lifted touching, corrected clear again; the bar's swing grows and heals."""
    cases = compare(vehicle, Setup(lift=100.0, drop=98.0)).cases
    built, lifted, corrected = (cases[n] for n in ("as built", "lifted", "corrected"))
    for case in (built, corrected):
        assert case.worst is not None
        assert case.worst.gap > vehicle.envelopes[case.worst.envelope].margin
    assert lifted.worst is not None
    assert lifted.worst.gap < 0
    assert lifted.swing > 1.7 * built.swing
    assert corrected.swing < 1.3 * built.swing
    assert abs(corrected.study.offset) < 2.0 < abs(lifted.study.offset)


def test_worst_is_the_least_over_a_finer_grid(vehicle: Vehicle) -> None:
    """No state of a finer grid comes more than half a millimetre closer."""
    setup = Setup(lift=100.0)
    worst = compare(vehicle, setup).cases["lifted"].worst
    assert worst is not None
    low, high = Build.of(vehicle, setup).window
    travel = np.linspace(low, high, 301)
    for roll in ROLLS:
        assert study(Build.of(vehicle, setup), travel, roll).gap.min() > worst.gap - 0.5
    again = study(Build.of(vehicle, setup), worst.travel, worst.roll)
    assert again.gap[0] == pytest.approx(worst.gap, abs=1e-6)
    assert again.tightest.envelope[0] == worst.envelope


def test_same_question_same_answer_object(vehicle: Vehicle) -> None:
    one, two = (compare(vehicle, Setup(lift=70.0, drop=d)) for d in (10.0, 20.0))
    assert one.cases["lifted"] is two.cases["lifted"]
    assert one.cases["corrected"] is not two.cases["corrected"]


def test_zone_agrees_with_the_gap(vehicle: Vehicle) -> None:
    for setup, touched in ((Setup(), False), (Setup(lift=100.0), True)):
        found = zones(Build.of(vehicle, setup))
        assert len(found) == len(vehicle.envelopes)
        assert any(zone.touched for zone in found) == touched
    worst = compare(vehicle, Setup(lift=100.0)).cases["lifted"].worst
    assert worst is not None
    zone = zones(Build.of(vehicle, Setup(lift=100.0)))[worst.envelope]
    at = study(Build.of(vehicle, Setup(lift=100.0)), worst.travel, worst.roll).tightest.on_shaft[0]
    rear = shapely.union_all([shapely.Polygon(r.outer, r.holes) for r in zone.touched_rear])
    side = shapely.union_all([shapely.Polygon(r.outer, r.holes) for r in zone.touched_side])
    assert rear.distance(shapely.Point(at[1], at[2])) < 4.0
    assert side.distance(shapely.Point(at[0], at[2])) < 4.0


def test_no_shaft_no_zone(vehicle: Vehicle) -> None:
    assert zones(Build.of(vehicle.replace(driveshaft=None), Setup())) == ()
