from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.pairs import Pair, pair_gap, possible_pairs, watched_pairs, with_pair
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import shaft_gaps
from linkviz.analysis.tightness import MARGIN
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import read_vehicle

SETUP = Setup(lift=100.0, drop=90.0)


@pytest.fixture(params=demo_vehicle_paths(), ids=lambda path: path.name)
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    return read_vehicle(request.param)


def pair_of(pairs: tuple[Pair, ...], *names: str) -> Pair:
    return next(pair for pair in pairs if {pair.one, pair.other} == set(names))


def test_driveshaft_to_envelopes_is_the_gap_of_the_sweep(vehicle: Vehicle) -> None:
    """The column gap_mm is the tube's gap to all envelopes; the pairs of the tube say the same."""
    build = Build.of(vehicle, Setup(lift=100.0))
    heave, roll = (grid.ravel() for grid in np.meshgrid(np.linspace(-190.0, -20.0, 9), np.radians([-5.0, 0.0, 5.0])))
    poses = solve(build.layout, heave, roll)
    names = [envelope.name for envelope in vehicle.envelopes]
    pairs = watched_pairs(vehicle, build.setup)
    gaps = [pair_gap(build, pair_of(pairs, "driveshaft", name), poses).distance for name in names]
    of_sweep = [found.distance for found in shaft_gaps(build, poses)]
    assert np.min(gaps, axis=0) == pytest.approx(np.min(of_sweep, axis=0), abs=1e-6)


def test_as_built_nothing_touches_at_rest(vehicle: Vehicle) -> None:
    build = Build.of(vehicle, Setup())
    poses = solve(build.layout, 0.0, 0.0)
    assert all(pair_gap(build, pair, poses).distance[0] > 0 for pair in watched_pairs(vehicle, Setup()))


def test_what_is_bolted_together_is_no_pair(vehicle: Vehicle) -> None:
    names = [{pair.one, pair.other} for pair in possible_pairs(vehicle, SETUP)]
    assert {"driveshaft", "pinion yoke"} not in names
    assert {"axle tube", "left tyre"} not in names
    assert {"drop bracket", "axle tube"} in names
    assert all(len(pair) == 2 for pair in names)


def test_a_pair_is_switched_and_given_a_margin(vehicle: Vehicle) -> None:
    pair = pair_of(watched_pairs(vehicle, SETUP), "lateral bar", "housing")
    assert pair.margin == MARGIN
    off = with_pair(vehicle, pair, watch=False, margin=None)
    assert pair not in watched_pairs(off, SETUP)
    assert not problems_of(off)
    wide = with_pair(off, pair, watch=True, margin=22.0)
    assert pair_of(watched_pairs(wide, SETUP), "lateral bar", "housing").margin == 22.0
    assert with_pair(wide, pair, watch=True, margin=None).pairs == ()
    rare = pair_of(possible_pairs(vehicle, SETUP), "left damper", "link ends")
    assert not rare.usual
    assert pair_of(watched_pairs(with_pair(vehicle, rare, True, None), SETUP), "left damper", "link ends")


def test_nearest_points_of_a_pair(vehicle: Vehicle) -> None:
    build = Build.of(vehicle, SETUP)
    poses = solve(build.layout, np.array([-60.0, -100.0]), np.array([0.0, 0.05]))
    for pair in watched_pairs(vehicle, SETUP):
        found = pair_gap(build, pair, poses)
        apart = np.linalg.norm(found.on_one - found.on_other, axis=1)
        assert apart == pytest.approx(np.abs(found.distance), abs=1e-6)
