from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.shown import sections
from linkviz.analysis.study import study
from linkviz.linkage.closed_form import trailing
from linkviz.linkage.measures import link_force
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle


@pytest.mark.parametrize("demo", [0, 1, 2])
@pytest.mark.parametrize(
    ("setup", "travel", "roll"), [(Setup(), 0.0, 0.0), (Setup(100.0, 90.0, 4.0, 3.0), -40.0, 0.08)]
)
def test_the_numbers_end_at_what_the_drawing_shows(demo: int, setup: Setup, travel: float, roll: float) -> None:
    build = Build.of(read_vehicle(demo_vehicle_paths()[demo]), setup)
    one = study(build, np.array([travel]), roll)
    side, rear, full, read = sections(one)
    x, pitch = (float(v[0]) for v in trailing(build.layout).at(one.poses.heave))
    assert side.result("x") == pytest.approx(x, abs=1e-9)
    assert side.result("h") == pytest.approx(one.poses.heave[0], abs=1e-9)
    assert math.atan2(side.result("sin_theta"), side.result("cos_theta")) == pytest.approx(pitch, abs=1e-12)
    assert rear.result("y") == pytest.approx(one.poses.y[0], abs=1.0 + 200.0 * abs(roll))
    assert full.result("F") == pytest.approx(link_force(build.layout, one.poses)[0, 4], abs=1e-6)
    assert read.result("beta") == pytest.approx(one.bar_angle[0], abs=1e-12)
    assert read.result("P") == pytest.approx(one.pinion_angle[0], abs=1e-12)
    assert read.result("s_w") == pytest.approx(one.sway[0], abs=1e-9)
    assert read.result("z_rc") == pytest.approx(one.roll_centre[0], abs=1e-9)
    assert f"bar {math.degrees(one.bar_angle[0]):.1f}" in read.notes[0]


def test_without_a_shaft_there_is_no_joint_to_speak_of() -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0]).replace(driveshaft=None)
    read = sections(study(Build.of(vehicle, Setup()), np.array([0.0])))[-1]
    assert "U_v" not in {line.step.symbol for line in read.lines}
    assert {line.step.symbol for line in read.lines} == {"beta", "P", "s_w", "z_rc"}


def test_where_the_bar_does_not_reach_without_its_bushings_it_says_so() -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    bar = vehicle.links.lateral_bar
    x, y, z = bar.axle
    along = bar.replace(frame=(x - 320.0, y + 6.0, z), stiffness=2.0)  # it lies fore and aft, so that it holds nothing
    vehicle = vehicle.replace(links=vehicle.links.replace(lateral_bar=along))
    one = study(Build.of(vehicle, Setup()), np.array([-70.0]))
    rear = sections(one)[1]
    wx, wz, bar_length = rear.result("w_x"), rear.result("w_z"), math.dist(along.frame, along.axle)
    assert math.hypot(wx, wz) > bar_length
    assert math.isnan(rear.result("y"))
    assert f"{math.hypot(wx, wz) - bar_length:.2f} mm too short" in rear.notes[0]
