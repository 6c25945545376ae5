from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.brake_valve import lever_of, valve_of
from linkviz.analysis.study import Study, study
from linkviz.picture.shapes import Circle, Drawing, Label
from linkviz.picture.valve_view import valve_view
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])
LEVER = lever_of(valve_of(WAGON))


def at(setup: Setup, travel: float = 0.0) -> Study:
    return study(Build.of(WAGON, setup), travel)


def labels(drawing: Drawing) -> dict[str, Label]:
    return {shape.name: shape for shape in drawing.shapes if isinstance(shape, Label)}


def eyes(drawing: Drawing, style: str) -> list[Circle]:
    return [shape for shape in drawing.shapes if isinstance(shape, Circle) and shape.style == style]


def test_arm_and_rod_are_drawn_as_long_as_they_are() -> None:
    for travel in (-30.0, 0.0, 60.0):
        end, tip = (np.array(c.centre) for c in eyes(valve_view(at(Setup(), travel), None, "", "mm"), "bar_eye"))
        assert np.linalg.norm(tip - LEVER.pivot) == pytest.approx(LEVER.arm)
        # the rod leads a little out of the picture
        assert LEVER.rod - 1.0 < np.linalg.norm(tip - end) <= LEVER.rod


def test_it_says_how_far_the_arm_has_turned() -> None:
    assert labels(valve_view(at(Setup()), None, "", "mm"))["arm"].text == "arm 0\N{DEGREE SIGN} as measured"
    lifted = labels(valve_view(at(Setup(lift=100.0)), at(Setup()), "as built", "mm"))["arm"]
    assert lifted.text == "arm 39\N{DEGREE SIGN} towards empty"
    low = labels(valve_view(at(Setup(lift=100.0), -80.0), None, "", "mm"))["arm"]
    assert (low.icon, low.text) == ("hit", "rod pulls the arm straight")


def test_the_bracket_is_drawn_and_named() -> None:
    drawing = valve_view(at(Setup(lift=101.6, valve_rise=101.6)), at(Setup()), "as built", "in")
    assert labels(drawing)["rise"].text == 'rod raised 4"'
    assert "dashed: as built" in drawing.caption
    assert "rise" not in labels(valve_view(at(Setup(lift=100.0)), None, "", "mm"))


def test_a_rod_raised_by_the_lift_needs_no_more_room() -> None:
    top = valve_view(at(Setup()), None, "", "mm").extent[3]
    assert valve_view(at(Setup(lift=100.0, valve_rise=100.0)), None, "", "mm").extent[3] == top
    assert valve_view(at(Setup(lift=100.0, valve_rise=130.0)), None, "", "mm").extent[3] == top + 30.0


def test_everything_is_inside_the_picture_over_the_travel() -> None:
    for setup in (Setup(), Setup(lift=100.0), Setup(lift=100.0, valve_rise=200.0)):
        for travel in (-90.0, 0.0, 85.0):
            drawing = valve_view(at(setup, travel), None, "", "mm")
            left, low, right, high = drawing.extent
            for circle in eyes(drawing, "bar_eye"):
                assert left <= circle.centre[0] <= right
                assert low <= circle.centre[1] <= high
