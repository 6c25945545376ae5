"""What hangs on the axle, by a second route: scipy's rotations and points moved one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from linkviz.analysis import fittings
from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import Study, study
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from tests.vehicles import random_vehicle

DEMOS = [read_vehicle(path) for path in demo_vehicle_paths()]
SETUP = Setup(lift=80.0, drop=60.0)


@pytest.fixture(scope="module", params=[0, 1, 2, 3, 4], ids=str)
def result(request: pytest.FixtureRequest) -> Study:
    index: int = request.param
    vehicle = DEMOS[index] if index < 3 else random_vehicle(np.random.default_rng(index))
    return study(Build.of(vehicle, SETUP), [-50.0, 0.0, 40.0, -30.0], np.radians([0.0, 0.0, 0.0, 4.0]))


def moved(result: Study, i: int, point: tuple[float, ...]) -> np.ndarray:
    """Return a point of the axle at a state, with scipy's rotations: intrinsic z, y, x."""
    poses, centre = result.poses, np.array(result.build.vehicle.axle.centre)
    turn = Rotation.from_euler("ZYX", [poses.yaw[i], poses.pitch[i], poses.roll[i]])
    spot = centre + np.array([poses.x[i], poses.y[i], poses.heave[i]])
    placed: np.ndarray = turn.apply(np.array(point) - centre) + spot
    return placed


def flip(point: tuple[float, ...]) -> tuple[float, ...]:
    return (point[0], -point[1], point[2])


def test_lengths_between_body_and_axle(result: Study) -> None:
    build, poses, vehicle = result.build, result.poses, result.build.vehicle
    springs = fittings.spring_lengths(build, poses)
    dampers = fittings.damper_lengths(build, poses)
    slack = fittings.hose_slack(build, poses)
    stops = fittings.bump_gaps(build, poses)
    room_in, room_out = fittings.damper_room(build, poses)
    for i in range(len(result)):
        for part, lengths in ((vehicle.springs, springs), (vehicle.dampers, dampers)):
            assert part is not None
            left, right = moved(result, i, part.axle), moved(result, i, flip(part.axle))
            assert lengths[i, 0] == pytest.approx(math.dist(left, part.body), abs=1e-9)
            assert lengths[i, 1] == pytest.approx(math.dist(right, flip(part.body)), abs=1e-9)
        for k, hose in enumerate(vehicle.hoses):
            assert slack[i, k] == pytest.approx(hose.length - math.dist(moved(result, i, hose.axle), hose.body))
        bump = vehicle.bump_stops
        assert bump is not None
        for k, pad in enumerate((bump.axle, flip(bump.axle))):
            assert stops[i, k] == pytest.approx(bump.body[2] - bump.free_height - moved(result, i, pad)[2])
        assert vehicle.dampers is not None
        assert room_in[i] == pytest.approx(min(dampers[i]) - vehicle.dampers.shortest)
        assert room_out[i] == pytest.approx(vehicle.dampers.longest - max(dampers[i]))


def test_joint_angles_by_arccos_and_slip_by_distance(result: Study) -> None:
    build, poses, shaft = result.build, result.poses, result.build.vehicle.driveshaft
    assert shaft is not None and shaft.slip is not None and shaft.output_angle_deg is not None
    front = np.array(shaft.front_joint)
    out = Rotation.from_euler("y", -shaft.output_angle_deg, degrees=True).apply([-1.0, 0.0, 0.0])
    nose = build.vehicle.axle.pinion_angle_deg
    for i in range(len(result)):
        pinion = moved(result, i, shaft.pinion_joint)
        along = (pinion - front) / np.linalg.norm(pinion - front)
        # nose up: turned about Y against pitch, before the axle turns with its pose
        turn = Rotation.from_euler("ZYX", [poses.yaw[i], poses.pitch[i], poses.roll[i]])
        axis = turn.apply(Rotation.from_euler("y", -nose, degrees=True).apply([-1.0, 0.0, 0.0]))
        assert fittings.front_joint_angle(build, poses)[i] == pytest.approx(math.acos(along @ out), abs=1e-7)
        assert fittings.pinion_joint_angle(build, poses)[i] == pytest.approx(math.acos(along @ axis), abs=1e-7)
        change = math.dist(pinion, front) - math.dist(shaft.pinion_joint, front)
        assert fittings.slip(build, poses)[i] == pytest.approx(change, abs=1e-9)
        room = min(shaft.slip.extend - change, shaft.slip.compress + change)
        assert fittings.slip_room(build, poses)[i] == pytest.approx(room, abs=1e-9)


def test_tyres_against_points_all_around_them(result: Study) -> None:
    build, axle = result.build, result.build.vehicle.axle
    inner, outer = fittings.tyre_edges(build, result.poses)
    patches = fittings.contact_patches(build, result.poses)
    around = np.linspace(0.0, 2 * np.pi, 721)
    x0, y0, z0 = axle.centre
    for i in range(len(result)):
        for k, side in enumerate((1.0, -1.0)):
            points = [
                (x0 + axle.tyre_radius * np.cos(a), y0 + side * (axle.track + e * axle.tyre_width) / 2,
                 z0 + axle.tyre_radius * np.sin(a))
                for a in around for e in (-1.0, 1.0)
            ]  # fmt: skip
            across = [side * moved(result, i, point)[1] for point in points]
            assert inner[i, k] == pytest.approx(min(across), abs=0.01)
            assert outer[i, k] == pytest.approx(max(across), abs=0.01)
            patch = (x0, y0 + side * axle.track / 2, z0 - axle.tyre_radius)
            assert patches[i, k] == pytest.approx(moved(result, i, patch) - patch, abs=1e-9)


def plain(vehicle: Vehicle, lift: float, travel: float, roll: float = 0.0) -> Study:
    return study(Build.of(vehicle, Setup(lift=lift)), travel, roll)


def test_a_coil_bears_at_the_lifted_rest_what_it_bore_before() -> None:
    for vehicle in DEMOS:
        assert vehicle.springs is not None
        pressed = vehicle.springs.free_length - math.dist(vehicle.springs.body, vehicle.springs.axle)
        for lift in (0.0, 50.0, 100.0):
            there = plain(vehicle, lift, 0.0)
            loose = fittings.spring_looseness(there.build, there.poses)[0]
            assert -loose == pytest.approx(pressed, abs=1.0)


def test_signs() -> None:
    """Rebound: coils and dampers get longer, hoses tighter, bump gaps wider; the lift spends hose and damper."""
    wagon = DEMOS[0]
    up, rest, down = (plain(wagon, 0.0, t) for t in (60.0, 0.0, -60.0))

    def order(of: object) -> np.ndarray:
        values = [np.ravel(of(s.build, s.poses))[0] for s in (up, rest, down)]  # type: ignore[operator]
        return np.sign(np.diff(values))

    for growing in (fittings.spring_lengths, fittings.damper_lengths, fittings.bump_gaps, fittings.spring_looseness):
        assert order(growing) == pytest.approx([1, 1])
    assert order(fittings.hose_slack)[1] == -1
    lifted = plain(wagon, 100.0, 0.0)
    assert fittings.hose_slack(lifted.build, lifted.poses) < fittings.hose_slack(rest.build, rest.poses)
    # roll + is left wheel up: the left coil is pressed, the left tyre patch goes up
    rolled = plain(wagon, 0.0, 0.0, 0.05)
    left, right = fittings.spring_lengths(rolled.build, rolled.poses)[0]
    assert left < right
    assert fittings.contact_patches(rolled.build, rolled.poses)[0, 0, 2] > 0
    assert fittings.contact_patches(rolled.build, rolled.poses)[0, 1, 2] < 0


def test_what_is_not_on_file_is_named() -> None:
    bare = DEMOS[0].replace(springs=None, dampers=None, hoses=(), bump_stops=None)
    there = plain(bare, 0.0, 0.0)
    for function in (fittings.spring_lengths, fittings.damper_room, fittings.hose_slack, fittings.bump_gaps):
        with pytest.raises(fittings.NotOnFile):
            function(there.build, there.poses)
