from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import shaft_ends, study, study_all
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

DEMOS = demo_vehicle_paths()


@pytest.fixture(params=DEMOS, ids=[p.name.split(".")[0] for p in DEMOS])
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    return read_vehicle(request.param)


def test_rest_as_built_is_design(vehicle: Vehicle) -> None:
    result = study(Build.of(vehicle, Setup()), 0.0)
    assert result.offset == pytest.approx(0.0, abs=1e-9)
    assert result.sway[0] == pytest.approx(0.0, abs=1e-9)
    assert np.degrees(result.pinion_angle[0]) == pytest.approx(vehicle.axle.pinion_angle_deg, abs=1e-9)
    assert np.abs(result.force).max() < 1e-4


def test_sway_is_measured_from_the_builds_own_rest(vehicle: Vehicle) -> None:
    result = study(Build.of(vehicle, Setup(lift=100.0)), [0.0, 40.0])
    assert result.sway[0] == pytest.approx(0.0, abs=1e-9)
    assert result.sway[1] == pytest.approx(result.poses.y[1] - result.offset)
    assert abs(result.offset) > 5.0


def test_studies_together_are_studies_alone(vehicle: Vehicle) -> None:
    builds = [Build.of(vehicle, s) for s in (Setup(), Setup(lift=80.0), Setup(lift=80.0, drop=70.0))]
    together = study_all([(build, [-30.0, 0.0, 20.0], 0.03) for build in builds])
    for build, joined in zip(builds, together, strict=True):
        alone = study(build, [-30.0, 0.0, 20.0], 0.03)
        assert joined.gap == pytest.approx(alone.gap, abs=1e-6)
        assert joined.roll_centre == pytest.approx(alone.roll_centre, abs=1e-5)


def test_shaft_goes_from_body_to_pinion(vehicle: Vehicle) -> None:
    assert vehicle.driveshaft is not None
    build = Build.of(vehicle, Setup())
    front, pinion = shaft_ends(build, study(build, [0.0, 30.0]).poses)
    assert front[0] == pytest.approx(vehicle.driveshaft.front_joint)
    assert pinion[0] == pytest.approx(vehicle.driveshaft.pinion_joint, abs=1e-9)
    assert pinion[1, 2] > pinion[0, 2] + 15.0


def test_gap_names_the_envelope_it_belongs_to(vehicle: Vehicle) -> None:
    result = study(Build.of(vehicle, Setup(lift=100.0)), np.linspace(-80.0, 80.0, 9))
    assert (result.tightest.envelope >= 0).all()
    spans = np.linalg.norm(result.tightest.on_shaft - result.tightest.on_solid, axis=1)
    assert spans == pytest.approx(np.abs(result.tightest.gap), abs=1e-6)


def test_nothing_to_touch(vehicle: Vehicle) -> None:
    for bare in (vehicle.replace(driveshaft=None), vehicle.replace(envelopes=())):
        result = study(Build.of(bare, Setup()), 0.0)
        assert result.gap[0] == np.inf
        assert result.tightest.envelope[0] == -1


def test_default_stiffness() -> None:
    vehicle = read_vehicle(DEMOS[0])
    assert vehicle.links.upper_left.stiffness is None
    assert Build.of(vehicle, Setup()).layout.stiffness.tolist() == [4000.0, 4000.0, 4000.0, 4000.0, 6000.0]
