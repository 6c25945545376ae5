from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.session import edits
from linkviz.session.places import dragged, live_points
from linkviz.units import finest
from linkviz.vehicle.model import Vehicle


def test_at_design_height_every_point_stands_where_it_was_measured(wagon: Vehicle) -> None:
    points = live_points(study(Build.of(wagon, Setup()), 0.0))
    assert set(points) == set(edits.point_names(wagon))
    for name, place in points.items():
        assert place == pytest.approx(edits.point_of(wagon, name), abs=0.5)


def test_the_bracket_and_the_lift_show(wagon: Vehicle) -> None:
    points = live_points(study(Build.of(wagon, Setup(lift=100.0, drop=90.0)), 0.0))
    x, y, z = wagon.links.lateral_bar.frame
    assert points["links.lateral_bar.frame"] == pytest.approx((x, y, z - 90.0))
    assert points["axle.centre"][2] == pytest.approx(270.0)


def test_a_dragged_body_point_follows_the_mouse_in_its_plane(wagon: Vehicle) -> None:
    state = study(Build.of(wagon, Setup(lift=100.0)), 40.0, np.radians(5.0))
    start = wagon.links.lower_left.frame
    assert dragged(state, "links.lower_left.frame", start, "rear", (20.0, -5.0), 1.0) == (600.0, 420.0, 400.0)
    assert dragged(state, "links.lower_left.frame", start, "side", (20.0, -5.0), 1.0) == (620.0, 440.0, 400.0)


def test_a_dragged_axle_point_is_turned_back_to_design(wagon: Vehicle) -> None:
    state = study(Build.of(wagon, Setup()), 0.0, np.radians(5.0))
    start = wagon.links.lower_left.axle
    moved = dragged(state, "links.lower_left.axle", start, "rear", (-100.0, 0.0), 1.0)
    assert moved[0] == start[0]
    assert moved[1] - start[1] == pytest.approx(100 * np.cos(np.radians(5)), abs=1.0)
    assert moved[2] - start[2] == pytest.approx(-100 * np.sin(np.radians(5)), abs=1.0)


def test_in_inches_a_dragged_point_goes_to_sixteenths(wagon: Vehicle) -> None:
    state = study(Build.of(wagon, Setup()), 0.0)
    x, y, z = dragged(state, "links.lower_left.frame", wagon.links.lower_left.frame, "rear", (20.0, -5.0), finest("in"))
    assert x == wagon.links.lower_left.frame[0]
    assert y / 25.4 * 16 == pytest.approx(round(y / 25.4 * 16), abs=1e-9)
    assert z / 25.4 * 16 == pytest.approx(round(z / 25.4 * 16), abs=1e-9)
    assert abs(y - 420.0) <= finest("in") / 2 and abs(z - 400.0) <= finest("in") / 2
