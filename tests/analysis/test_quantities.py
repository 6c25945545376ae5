"""Every quantity: named, finite or with a reason, the same in a mirror, and by a second route."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from linkviz.analysis.build import Build
from linkviz.analysis.quantities import BY_KEY, QUANTITIES, free_articulation
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import Study, study
from linkviz.driveline import joints
from linkviz.linkage.layout import LINKS
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from tests.textbook import motion_per_heave
from tests.vehicles import mirrored_vehicle, random_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])
QUICK = [q for q in QUANTITIES if not q.slow]


def of(key: str, vehicle: Vehicle = WAGON, lift: float = 0.0, travel: object = 0.0, roll: object = 0.0) -> np.ndarray:
    values: np.ndarray = BY_KEY[key].of(study(Build.of(vehicle, Setup(lift=lift)), travel, roll))  # type: ignore[arg-type]
    return values


def test_names_are_there_once() -> None:
    for name in ("key", "label", "column"):
        assert len({getattr(q, name) for q in QUANTITIES}) == len(QUANTITIES)
    for q in QUANTITIES:
        assert q.plain.endswith(".") and q.group
        assert q.unit in ("mm", "deg", "N", "%", "")


def test_what_is_missing_has_a_reason_and_nothing_else_has() -> None:
    assert not any(q.missing(WAGON) for q in QUANTITIES)
    bare = Vehicle(name="Bare", axle=WAGON.axle, links=WAGON.links)
    absent = {q.key for q in QUANTITIES if q.missing(bare)}
    assert {"gap", "slip", "anti_squat", "spring_left", "damper_room_in", "hose_slack", "bump_left"} <= absent
    assert not absent & {"sway", "roll_centre", "roll_steer", "bind", "lower_left_angle", "tyre_left_inner"}
    assert all(q.missing(bare).endswith(".") for q in QUANTITIES if q.key in absent)
    half = bare.replace(driveshaft=WAGON.driveshaft.replace(output_angle_deg=None))  # type: ignore[union-attr]
    assert "output_angle_deg" in BY_KEY["front_joint_angle"].missing(half)
    assert BY_KEY["pinion_joint_angle"].missing(half) == ""
    assert "[[envelopes]]" in BY_KEY["gap"].missing(half)


def holds(seed: int, lift: float, drop: float, travel: float, roll: float, bare: float) -> None:
    vehicle = random_vehicle(np.random.default_rng(seed), bare)
    there = study(Build.of(vehicle, Setup(lift=lift, drop=drop)), [travel, 0.0], [roll, 0.0])
    for quantity in QUANTITIES:
        if quantity.missing(vehicle):
            continue
        values = quantity.of(there)
        assert values.shape == (2,), quantity.key
        assert not np.isnan(values).any(), quantity.key
        if np.isinf(values).any():
            assert quantity.infinite or quantity.key == "gap", quantity.key
    for reached, words in zip(there.reached, there.stopped_by, strict=True):
        assert reached or words


CASES = {
    "seed": st.integers(0, 2**32 - 1),
    "lift": st.floats(0.0, 250.0),
    "drop": st.floats(-50.0, 200.0),
    "travel": st.floats(-200.0, 150.0),
    "roll": st.floats(-0.2, 0.2),
    "bare": st.sampled_from([0.0, 0.3, 1.0]),
}
QUIET = [HealthCheck.too_slow]


@settings(max_examples=300, deadline=None, suppress_health_check=QUIET)
@given(**CASES)
def test_any_vehicle_gives_numbers_or_reasons(
    seed: int, lift: float, drop: float, travel: float, roll: float, bare: float
) -> None:
    holds(seed, lift, drop, travel, roll, bare)


@pytest.mark.soak
@settings(max_examples=2000, deadline=None, suppress_health_check=QUIET)
@given(**CASES)
def test_thousands_of_vehicles_give_numbers_or_reasons(
    seed: int, lift: float, drop: float, travel: float, roll: float, bare: float
) -> None:
    holds(seed, lift, drop, travel, roll, bare)


# -- mirror

ODD = {"sway", "offset", "yaw", "patch_left_side", "patch_right_side"}


def twin(key: str) -> str:
    swap = {"left": "right", "right": "left"}
    return "_".join(swap.get(part, part) for part in key.split("_"))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_mirror(seed: int) -> None:
    """Left and right exchanged and rolled the other way: the same numbers, sideways ones with the other sign."""
    vehicle = random_vehicle(np.random.default_rng(seed))
    setup, travel, roll = Setup(lift=60.0, drop=40.0), np.array([-50.0, 0.0, 40.0]), np.array([0.03, 0.02, -0.04])
    one = study(Build.of(vehicle, setup), travel, roll)
    other = study(Build.of(mirrored_vehicle(vehicle), setup), travel, -roll)
    for quantity in QUANTITIES:
        sign = -1.0 if quantity.key in ODD else 1.0
        seen = BY_KEY[twin(quantity.key)].of(other)
        assert quantity.of(one) == pytest.approx(sign * seen, rel=1e-5, abs=2e-5), quantity.key


# -- second routes for what is put together here


@pytest.fixture(scope="module")
def there() -> Study:
    vehicle = random_vehicle(np.random.default_rng(11))
    return study(Build.of(vehicle, Setup(lift=50.0)), [-40.0, 0.0, 30.0], [0.02, 0.0, -0.03])


def test_axle_quantities_are_the_pose(there: Study) -> None:
    rest = study(there.build, 0.0).poses
    assert BY_KEY["sway"].of(there) == pytest.approx(there.poses.y - rest.y[0])
    assert BY_KEY["offset"].of(there) == pytest.approx(there.poses.y)
    assert BY_KEY["wheelbase_change"].of(there) == pytest.approx(-there.poses.x)
    assert BY_KEY["yaw"].of(there) == pytest.approx(np.degrees(there.poses.yaw))
    nose = there.build.vehicle.axle.pinion_angle_deg
    assert BY_KEY["pinion_angle"].of(there) == pytest.approx(nose - np.degrees(there.poses.pitch))


def test_link_forces_and_angles_from_the_ends_of_the_links(there: Study) -> None:
    layout = there.build.layout
    ends = there.poses.place(layout.centre, layout.axle)
    largest = np.zeros(len(there))
    for i, name in enumerate(LINKS):
        along = layout.frame[i] - ends[:, i]
        force = layout.stiffness[i] * (np.sqrt((along**2).sum(axis=1)) - layout.length[i])
        largest = np.maximum(largest, abs(force))
        assert BY_KEY[f"{name}_force"].of(there) == pytest.approx(force, abs=1e-6)
        if i == 4:
            bar = np.degrees(np.arcsin(along[:, 2] / np.hypot(along[:, 1], along[:, 2])))
            assert BY_KEY["bar_angle"].of(there) == pytest.approx(bar)
            continue
        slope = np.degrees(np.arctan(along[:, 2] / along[:, 0]))
        in_plan = np.degrees(np.arctan(along[:, 1] / along[:, 0])) * (-1.0 if "left" in name else 1.0)
        assert BY_KEY[f"{name}_angle"].of(there) == pytest.approx(slope)
        assert BY_KEY[f"{name}_plan_angle"].of(there) == pytest.approx(in_plan)
    assert BY_KEY["bind"].of(there) == pytest.approx(largest)


def test_joint_quantities_from_the_two_angles(there: Study) -> None:
    front, pinion = (np.radians(BY_KEY[f"{end}_joint_angle"].of(there)) for end in ("front", "pinion"))
    assert BY_KEY["joint_mismatch"].of(there) == pytest.approx(np.degrees(front - pinion))
    assert BY_KEY["residual_angle"].of(there) == pytest.approx(np.degrees(np.sqrt(abs(front**2 - pinion**2))))
    turn = np.linspace(0.0, math.pi, 20_001)
    for key, angles in (("front", front), ("pinion", pinion)):
        spans = [100.0 * np.ptp(joints.speed_ratio(a, turn)) for a in angles]
        assert BY_KEY[f"{key}_speed_variation"].of(there) == pytest.approx(spans, rel=1e-4)


def test_anti_squat_from_the_motion_of_the_axle() -> None:
    """The tyre patch of a locked wheel moves along the line square to the one to the instant centre: e/d = -dx/dz."""
    assert WAGON.mass is not None
    bar = WAGON.links.lateral_bar.replace(stiffness=1.0)  # a bar that hardly meddles in pure heave
    vehicle = WAGON.replace(links=WAGON.links.replace(lateral_bar=bar))
    for travel in (-60.0, 0.0, 60.0):
        there = study(Build.of(vehicle, Setup()), travel)
        dx, _, turn, _ = motion_per_heave(there.build.layout, there.poses)
        patch = dx - turn * WAGON.axle.tyre_radius  # a point below the centre: pitch + moves it backwards
        wheelbase, height = WAGON.mass.wheelbase - there.poses.x, WAGON.mass.cg_height - there.poses.heave
        assert BY_KEY["anti_squat"].of(there) == pytest.approx(-100.0 * patch * wheelbase / height, rel=2e-3)


def test_roll_steer_is_the_slope_of_the_roll_axis_at_rest() -> None:
    slope = np.tan(np.radians(of("roll_axis_slope")))
    assert of("roll_steer") == pytest.approx(100.0 * slope, abs=0.3)


def test_free_articulation_takes_a_limit_and_no_notice_of_roll() -> None:
    there = study(Build.of(WAGON, Setup(lift=80.0)), [-40.0, -40.0, 0.0], [0.0, 0.05, 0.0])
    found = free_articulation(there, 6000.0)
    assert found[0] == found[1]
    assert found[2] > found[0] > 0
    assert BY_KEY["free_articulation"].of(there) == pytest.approx(np.degrees(free_articulation(there)))


# -- signs, one line each: what a lift of 100 mm, jounce or roll does to an ordinary wagon


@pytest.mark.parametrize(
    ("key", "sign"),
    [
        ("wheelbase_change", -1),
        ("pinion_angle", -1),
        ("bar_angle", 1),
        ("roll_centre", 1),
        ("roll_axis_slope", 1),
        ("roll_steer", 1),
        ("lower_left_angle", 1),
        ("upper_right_angle", 1),
        ("front_joint_angle", 1),
        ("pinion_joint_angle", 1),
        ("front_speed_variation", 1),
        ("slip", -1),
        ("gap", -1),
        ("spring_left", 1),
        ("damper_right", 1),
        ("damper_room_out", -1),
        ("damper_room_in", 1),
        ("hose_slack", -1),
        ("bump_left", 1),
        ("patch_left_height", -1),
        ("offset", -1),  # the frame end is on the right: the axle goes right
        ("tyre_left_outer", -1),
        ("tyre_right_outer", 1),
        ("bind", 1),
        ("anti_squat", 1),
        ("static_stability", -1),
        ("tyre_left_inner", -1),
        ("tyre_right_inner", 1),
    ],
)
def test_what_a_lift_does(key: str, sign: int) -> None:
    assert np.sign(of(key, lift=100.0) - of(key))[0] == sign


def test_bar_end_lower_on_the_axle_side_moves_the_axle_away_from_the_frame_end_in_jounce() -> None:
    """The wagon's bar has its frame end on the right and high: in jounce it levels and pushes the axle left."""
    assert of("sway", travel=40.0)[0] > 0
    assert of("sway", travel=-40.0)[0] < 0
    low = WAGON.replace(
        links=WAGON.links.replace(lateral_bar=WAGON.links.lateral_bar.replace(frame=(-130.0, -440.0, 360.0)))
    )
    assert of("sway", low, travel=40.0)[0] < 0


def test_left_wheel_up() -> None:
    roll = math.radians(3.0)
    assert of("patch_left_height", roll=roll)[0] > 0 > of("patch_right_height", roll=roll)[0]
    assert of("bump_left", roll=roll)[0] < of("bump_right", roll=roll)[0]
    assert of("spring_left", roll=roll)[0] < of("spring_right", roll=roll)[0]
    assert of("damper_left", roll=roll)[0] < of("damper_right", roll=roll)[0]
    assert of("yaw", lift=60.0, roll=roll)[0] > 0  # links rise to the front: it steers left, out of a right turn
    assert of("bind", roll=roll)[0] > of("bind")[0]


def test_stability_by_hand() -> None:
    assert WAGON.mass is not None
    assert of("static_stability")[0] == pytest.approx(1480.0 / (2 * 690.0))
    assert of("static_stability", lift=60.0)[0] == pytest.approx(1480.0 / (2 * 750.0))


def changed(**changes: object) -> Vehicle:
    assert WAGON.driveshaft is not None
    return WAGON.replace(driveshaft=WAGON.driveshaft.replace(**changes))


def test_signs_of_the_driveline() -> None:
    """A shaft that drives it and falls as steeply as the driveshaft brings no angle; so does a pinion in line."""
    slope = math.degrees(math.atan2(520.0 - 385.0, 1150.0 - 230.0))
    assert of("front_joint_angle", changed(output_angle_deg=slope))[0] == pytest.approx(0.0, abs=1e-6)
    assert of("joint_mismatch", changed(output_angle_deg=slope))[0] < 0
    assert of("joint_mismatch", changed(output_angle_deg=0.0))[0] > 0
    assert of("residual_angle", changed(output_angle_deg=4.0))[0] == pytest.approx(0.0, abs=1e-4)
    axle = WAGON.axle.replace(pinion_angle_deg=slope)
    assert of("pinion_joint_angle", WAGON.replace(axle=axle))[0] == pytest.approx(0.0, abs=1e-4)
    # front joint further from the axle at design: nothing changes there; under travel the same shaft gets shorter
    assert of("slip")[0] == pytest.approx(0.0, abs=1e-9)
    assert of("slip_room")[0] == pytest.approx(35.0, abs=1e-9)


def test_tension_is_plus() -> None:
    """The axle lower on the same links in a roll: the links that are pulled long bear tension."""
    there = study(Build.of(WAGON, Setup(lift=60.0)), 0.0, 0.06)
    for i, name in enumerate(LINKS):
        assert np.sign(BY_KEY[f"{name}_force"].of(there)[0]) == np.sign(there.poses.stretch[0, i])


def test_links_that_run_together_to_the_front_are_plus_in_plan() -> None:
    assert of("lower_left_plan_angle")[0] > 0 and of("lower_right_plan_angle")[0] > 0
    assert of("upper_left_plan_angle")[0] < 0


def test_a_crossing_before_the_axle_is_plus() -> None:
    assert of("instant_centre_ahead", travel=80.0)[0] > 0
    assert of("instant_centre_ahead", lift=100.0)[0] < 0
