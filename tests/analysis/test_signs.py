"""Which way every quantity goes, and why, on a wagon of ordinary proportions; none is left out.

The wagon: frame end of the bar on the right, behind the axle and high; trailing links that rise to the front; the
driveshaft falls towards the axle; the tank hangs to the right of it.
"""

from __future__ import annotations

import math

import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.quantities import BY_KEY, QUANTITIES
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.linkage.layout import LINKS
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])
State = tuple[float, float, float]
"""Lift mm, travel mm, roll deg."""
BUILT: State = (0.0, 0.0, 0.0)
LIFTED: State = (100.0, 0.0, 0.0)
JOUNCE: State = (0.0, 40.0, 0.0)
REBOUND: State = (0.0, -60.0, 0.0)
LEFT_UP: State = (60.0, 0.0, 3.0)
LEVEL: State = (60.0, 0.0, 0.0)

SIGNS: tuple[tuple[str, State, State, int, str], ...] = (
    ("sway", BUILT, JOUNCE, 1, "the bar levels and pushes the axle away from its frame end"),
    ("offset", BUILT, LIFTED, -1, "the bar steepens and draws the axle to its frame end"),
    ("wheelbase_change", BUILT, LIFTED, -1, "the links swing down and draw the axle forward"),
    ("yaw", LEVEL, LEFT_UP, 1, "links that rise to the front carry the left wheel back less as it rises"),
    ("pinion_angle", BUILT, LIFTED, -1, "the shorter upper links draw the top of the axle forward"),
    ("bar_angle", BUILT, LIFTED, 1, "the frame end goes up with the body"),
    ("roll_centre", BUILT, LIFTED, 1, "the bar crosses the centre plane higher above the axle"),
    ("roll_axis_slope", BUILT, LIFTED, 1, "the trailing links rise to the front more steeply"),
    ("roll_steer", BUILT, LIFTED, 1, "as the roll axis does"),
    ("free_articulation", BUILT, LIFTED, -1, "steep links bind sooner"),
    ("instant_centre_ahead", LIFTED, (0.0, 80.0, 0.0), 1, "lifted the links open to the front, at jounce to the rear"),
    ("instant_centre_height", LIFTED, (0.0, 80.0, 0.0), 1, "rising lines cross below the axle behind it"),
    ("anti_squat", BUILT, LIFTED, 1, "steep links carry more of the drive"),
    ("static_stability", BUILT, LIFTED, -1, "the centre of gravity rises on the same track"),
    ("gap", BUILT, LIFTED, -1, "the shaft swings down and right towards the tank"),
    ("front_joint_angle", BUILT, LIFTED, 1, "the shaft falls more steeply than the gearbox"),
    ("pinion_joint_angle", BUILT, LIFTED, 1, "and the pinion does not follow"),
    ("residual_angle", BUILT, LIFTED, 1, "the two angles part"),
    ("front_speed_variation", BUILT, LIFTED, 1, "as its angle"),
    ("pinion_speed_variation", BUILT, LIFTED, 1, "as its angle"),
    ("slip", BUILT, LIFTED, -1, "the axle comes forward"),
    ("slip_room", LIFTED, (150.0, 0.0, 0.0), -1, "once it is past its middle the joint is pushed in further"),
    ("spring_left", BUILT, LIFTED, 1, "seats part"),
    ("spring_right", BUILT, LIFTED, 1, "seats part"),
    ("spring_looseness", BUILT, REBOUND, 1, "the coil comes nearer to being loose"),
    ("damper_left", BUILT, LIFTED, 1, "eyes part"),
    ("damper_right", BUILT, LIFTED, 1, "eyes part"),
    ("damper_room_in", BUILT, LIFTED, 1, "further from being pushed in"),
    ("damper_room_out", BUILT, LIFTED, -1, "nearer to being pulled out"),
    ("hose_slack", BUILT, LIFTED, -1, "its ends part"),
    ("bump_left", BUILT, LIFTED, 1, "stop and pad part"),
    ("bump_right", LEVEL, LEFT_UP, 1, "the right wheel goes down"),
    *((f"{link}_angle", BUILT, LIFTED, 1, "frame ends go up with the body") for link in LINKS[:4]),
    ("bind", BUILT, (0.0, 0.0, 3.0), 1, "crossed up the links bind"),
    ("patch_left_side", BUILT, LIFTED, -1, "as the axle"),
    ("patch_right_side", BUILT, LIFTED, -1, "as the axle"),
    ("patch_left_height", LEVEL, LEFT_UP, 1, "the left wheel goes up"),
    ("patch_right_height", LEVEL, LEFT_UP, -1, "the right one down"),
    ("tyre_left_inner", BUILT, LIFTED, -1, "the left tyre comes nearer to the middle"),
    ("tyre_left_outer", BUILT, LIFTED, -1, "the left tyre comes nearer to the middle"),
    ("tyre_right_inner", BUILT, LIFTED, 1, "the right one goes away from it"),
    ("tyre_right_outer", BUILT, LIFTED, 1, "the right one goes away from it"),
)  # fmt: skip

VALUES = {
    "joint_mismatch": -1,  # as built the front joint works at less than the pinion's
    "lower_left_plan_angle": 1,  # the lower links run together to the front
    "lower_right_plan_angle": 1,
    "upper_left_plan_angle": -1,  # the upper ones apart
    "upper_right_plan_angle": -1,
}
"""Quantities that a lift hardly touches, by the sign of their value as built."""


def of(key: str, state: State) -> float:
    lift, travel, roll = state
    there = study(Build.of(WAGON, Setup(lift=lift)), travel, math.radians(roll))
    return float(BY_KEY[key].of(there)[0])


@pytest.mark.parametrize(("key", "before", "after", "sign", "why"), SIGNS, ids=[row[0] for row in SIGNS])
def test_it_goes_the_way_it_should(key: str, before: State, after: State, sign: int, why: str) -> None:
    one, other = of(key, before), of(key, after)
    assert (other - one) * sign > 1e-3 * max(1.0, min(abs(one), abs(other))) or math.isinf(one), why
    assert (other > one) == (sign > 0), why


@pytest.mark.parametrize(("key", "sign"), VALUES.items())
def test_it_has_the_sign_it_should(key: str, sign: int) -> None:
    assert of(key, BUILT) * sign > 0.05


@pytest.mark.parametrize("i", range(5))
def test_a_link_that_is_pulled_long_bears_tension(i: int) -> None:
    """The ends of link i are moved apart by hand: against its free length it is then pulled."""
    there = study(Build.of(WAGON, Setup(lift=60.0)), 0.0, 0.06)
    layout, poses = there.build.layout, there.poses
    ends = poses.place(layout.centre, layout.axle[i : i + 1])[0, 0] - layout.frame[i]
    longer = math.sqrt(float(ends @ ends)) - float(layout.length[i])
    assert BY_KEY[f"{LINKS[i]}_force"].of(there)[0] * longer > 0


def test_no_quantity_is_left_out() -> None:
    told = {row[0] for row in SIGNS} | set(VALUES) | {f"{link}_force" for link in LINKS}
    assert told == {quantity.key for quantity in QUANTITIES}
