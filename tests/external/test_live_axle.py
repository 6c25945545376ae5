"""Roll centre, instant centre, anti-squat, roll steer and a solver check with printed inputs and answers.

Sources: Gillespie, Fundamentals of Vehicle Dynamics, ch. 7 (roll centre of a lateral bar, anti-squat e/d = h/L, the
oversteer of arms that slope up to the front); SAE J670 (roll centre); the numbers were worked out with scipy and
mpmath, apart from this program.
"""

from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage.layout import Layout
from linkviz.linkage.measures import motion_per_roll
from linkviz.linkage.roll_axis import roll_axis, roll_steer
from linkviz.linkage.side_view import anti_squat, instant_centre
from linkviz.linkage.solve import solve
from tests.textbook import bar_crossing, motion_per_heave

STIFFNESS = np.array([4000.0, 4000.0, 4000.0, 4000.0, 6000.0])
CENTRE = np.array([0.0, 0.0, 370.0])


def made(frame: list[tuple[float, ...]], axle: list[tuple[float, ...]], bar: float = 6000.0) -> Layout:
    stiffness = STIFFNESS.copy()
    stiffness[4] = bar
    return Layout.from_points(CENTRE, np.array(frame) + CENTRE, np.array(axle) + CENTRE, stiffness)


def geometry(bar: float = 6000.0) -> Layout:
    frame = [(560.0, 400.0, -10.0), (560.0, -400.0, -10.0), (430.0, 390.0, 120.0), (430.0, -390.0, 120.0)]
    axle = [(-20.0, 450.0, -80.0), (-20.0, -450.0, -80.0), (30.0, 350.0, 140.0), (30.0, -350.0, 140.0)]
    return made([*frame, (-150.0, 470.0, 130.0)], [*axle, (-150.0, -480.0, 60.0)], bar)


def arms(slope: float, bar_axle: tuple[float, ...], bar_frame: tuple[float, ...]) -> Layout:
    """Return four equal trailing arms of 600 mm, parallel to the vehicle, frame ends higher by the slope."""
    ahead, up = 600.0 * np.cos(slope), 600.0 * np.sin(slope)
    axle = [(0.0, s * 450.0, z) for z in (-80.0, 120.0) for s in (1.0, -1.0)]
    frame = [(x + ahead, y, z + up) for x, y, z in axle]
    return made([*frame, bar_frame], [*axle, bar_axle])


def test_roll_centre_is_where_the_bar_crosses_the_centre_plane() -> None:
    layout = arms(0.0, (-150.0, -480.0, 60.0), (-150.0, 470.0, 130.0))
    poses = solve(layout, 0.0, 0.0)
    x, z = bar_crossing(layout, poses)
    assert z[0] - CENTRE[2] == pytest.approx(95.368, abs=1e-3)
    assert x[0] == pytest.approx(-150.0)
    # level parallel arms: the roll axis is level, so that the axle's plane has the same height, by both routes
    height, slope = roll_axis(layout, poses)
    assert (height[0], slope[0]) == pytest.approx((95.368, 0.0), abs=1e-3)
    assert motion_per_roll(layout, poses)[1, 0] == pytest.approx(95.368, abs=1e-3)


def test_instant_centre() -> None:
    layout = geometry(bar=1e-6)
    poses = solve(layout, 0.0, 0.0)
    ahead, height = instant_centre(layout, poses, 370.0)
    assert ahead[0] == pytest.approx(1283.535, abs=1e-3)
    assert height[0] - 370.0 == pytest.approx(77.323, abs=1e-3)
    dx, _, pitch, _ = motion_per_heave(layout, poses)
    assert 1.0 / pitch[0] == pytest.approx(1283.535, abs=0.01)
    assert -dx[0] / pitch[0] == pytest.approx(77.323, abs=0.01)


def test_anti_squat() -> None:
    layout = geometry()
    value = anti_squat(layout, solve(layout, 0.0, 0.0), tyre_radius=370.0, wheelbase=2800.0, cg_height=750.0)
    assert value[0] == pytest.approx(130.11, abs=0.01)


def test_full_anti_squat_is_the_line_to_the_centre_of_gravity() -> None:
    """100 % where e/d = h/L."""
    layout = geometry()
    e_over_d = (77.323 + 370.0) / 1283.535
    value = anti_squat(layout, solve(layout, 0.0, 0.0), 370.0, wheelbase=2800.0, cg_height=2800.0 * e_over_d)
    assert value[0] == pytest.approx(100.0, abs=0.01)


@pytest.mark.parametrize(("roll", "ratio"), [(0.5, 0.087493), (1.0, 0.087505), (2.0, 0.087554), (3.0, 0.087637)])
def test_roll_steer_of_two_arms_sloping_up_by_five_degrees(roll: float, ratio: float) -> None:
    """Printed for the two tips of the arms alone; a bar level with the axle centre leaves the beam to follow them."""
    layout = arms(np.radians(5.0), (0.0, -480.0, 0.0), (0.0, 470.0, 0.0))
    poses = solve(layout, 0.0, 0.0)
    rate = roll_steer(poses, motion_per_roll(layout, poses))[0]
    assert rate == pytest.approx(np.tan(np.radians(5.0)), abs=1e-6)
    there = solve(layout, 0.0, np.radians(roll))
    across = there.rotation()[0, :, 1]
    steer = np.arctan2(-across[0], across[1])
    assert steer / np.radians(roll) == pytest.approx(ratio, rel=2e-4)
    assert steer > 0  # left wheel up, body leaning to the left as in a right turn: the wheels point left, out of it
