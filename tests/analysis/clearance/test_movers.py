from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.movers import Places, things
from linkviz.analysis.clearance.sizes import sizes_of
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import shaft_ends
from linkviz.clearance.bodies import Body
from linkviz.clearance.distance import farthest
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Sizes
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.watching import PART_NAMES

SETUP = Setup(lift=100.0, drop=90.0)


@pytest.fixture(params=demo_vehicle_paths(), ids=lambda path: path.name)
def build(request: pytest.FixtureRequest) -> Build:
    return Build.of(read_vehicle(request.param), SETUP)


def test_every_part_has_its_name(build: Build) -> None:
    found = things(build.vehicle, SETUP)
    assert list(found) == [*PART_NAMES, *(e.name for e in build.vehicle.envelopes)]
    assert "drop bracket" not in things(build.vehicle, Setup(lift=100.0))


def test_bodies_stand_where_the_measured_points_are(build: Build) -> None:
    vehicle = build.vehicle
    poses = solve(build.layout, np.array([-150.0, -100.0, -20.0]), np.array([0.05, 0.0, -0.08]))
    places, centre = Places(build, poses), build.layout.centre
    front, pinion = shaft_ends(build, poses)
    origin, tip = np.zeros((3, 3)), np.repeat(np.array([[1.0], [0.0], [0.0]]), 3, axis=1)
    for name, start, end in (
        ("shaft", front, pinion),
        ("bar", np.tile(build.layout.frame[4], (3, 1)), poses.place(centre, build.layout.axle[4:])[:, 0]),
        (
            "right damper",
            np.tile(np.array(vehicle.dampers.body) * (1, -1, 1), (3, 1)),
            poses.place(centre, np.array([vehicle.dampers.axle]) * (1, -1, 1) - centre)[:, 0],
        ),
    ):
        assert np.abs(places[name].place(origin).T - start).max() < 1e-9
        assert np.abs(places[name].place(tip).T - end).max() < 1e-9
    assert np.abs(places["shaft rear"].place(origin).T - pinion).max() < 1e-9
    unit = places["shaft front"].place(tip).T - front
    assert np.linalg.norm(unit, axis=1) == pytest.approx(1.0)


def test_tyre_is_as_wide_and_high_as_measured(build: Build) -> None:
    axle = build.vehicle.axle
    stock = Build.of(build.vehicle, Setup())
    places = Places(stock, solve(stock.layout, 0.0, 0.0))
    tyre = things(build.vehicle, SETUP)["left tyre"].pieces[0].body
    assert isinstance(tyre, Body)
    for way, reach in (
        ((0.0, 1.0, 0.0), axle.track / 2 + axle.tyre_width / 2),
        ((0.0, -1.0, 0.0), -axle.track / 2 + axle.tyre_width / 2),
        ((0.0, 0.0, -1.0), -axle.centre[2] + axle.tyre_radius),
        ((1.0, 0.0, 0.0), axle.centre[0] + axle.tyre_radius),
    ):
        direction = np.array(way)[:, None]
        _, point = farthest(tyre, places["wheels"], direction)
        assert float(way @ point[:, 0]) + tyre.radius == pytest.approx(reach, abs=1e-6)


def test_bracket_reaches_from_the_old_bolt_to_the_new_one(build: Build) -> None:
    sizes = sizes_of(build.vehicle)
    box = things(build.vehicle, SETUP)["drop bracket"].pieces[0].body.vertices
    bolt = build.vehicle.links.lateral_bar.frame
    assert box[:, 2].max() == pytest.approx(bolt[2] + sizes.bracket_lip)
    assert box[:, 2].min() == pytest.approx(bolt[2] - 90.0 - sizes.bracket_lip)
    assert box[:, 0].mean() == pytest.approx(bolt[0])


def test_sizes_measured_stand_before_sizes_guessed(build: Build) -> None:
    plain = build.vehicle.replace(sizes=Sizes())
    assert "bar_radius" in sizes_of(plain).guessed
    told = plain.replace(sizes=Sizes(bar_radius=17.0))
    assert sizes_of(told).bar_radius == 17.0
    assert "bar_radius" not in sizes_of(told).guessed
    assert len(sizes_of(told).guessed) == len(sizes_of(plain).guessed) - 1
