"""Vehicles and states at the edge of sense still give a drawing of finite numbers."""

from __future__ import annotations

import math

import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.shapes import Arrow, Circle, Drawing, Label, Path, Pt
from linkviz.vehicle.model import Driveshaft, Vehicle
from tests.picture.scenes import demos, scene_of


def places(drawing: Drawing) -> list[Pt]:
    result: list[Pt] = []
    for shape in drawing.shapes:
        if isinstance(shape, Path):
            result += [*shape.points, *(p for hole in shape.holes for p in hole)]
        elif isinstance(shape, Circle):
            result.append(shape.centre)
            assert shape.radius > 0.0
        elif isinstance(shape, Arrow):
            result += [shape.tail, shape.tip]
        elif isinstance(shape, Label):
            result.append(shape.at)
    return result


LIFTED = Setup(lift=80.0)


def drawn(vehicle: Vehicle, setup: Setup = LIFTED, travel: float = 0.0) -> tuple[Drawing, Drawing]:
    scene = Scene(live=study(Build.of(vehicle, setup), travel, 0.0))
    return rear_view(scene), side_view(scene)


def check(drawings: tuple[Drawing, Drawing]) -> None:
    for drawing in drawings:
        assert all(math.isfinite(u) and math.isfinite(v) for u, v in places(drawing))
        u0, v0, u1, v1 = drawing.extent
        assert u0 < u1 and v0 < v1


def test_without_shaft_and_envelopes() -> None:
    drawings = drawn(demos()[0].replace(driveshaft=None, envelopes=()))
    check(drawings)
    styles = {shape.style for drawing in drawings for shape in drawing.shapes}
    assert not styles & {"shaft", "shaft_hidden", "envelope", "gap_end"}


def test_joint_of_the_pinion_in_the_axle_centre() -> None:
    vehicle = demos()[0]
    shaft = Driveshaft(front_joint=vehicle.axle.centre, pinion_joint=vehicle.axle.centre, radius=38.0)
    check(drawn(vehicle.replace(driveshaft=shaft, envelopes=()), Setup()))


@pytest.mark.parametrize("which", [0, 1, 2])
@pytest.mark.parametrize("travel", [-400.0, 300.0])
def test_travel_far_beyond_reach(which: int, travel: float) -> None:
    scene = scene_of(which, travel, 9.0)
    check((rear_view(scene), side_view(scene)))


def test_all_parts_on_and_axle_off_the_origin() -> None:
    setup = Setup(lift=120.0, drop=90.0, shift=25.0, bar_longer=12.0, axle_raise=35.0)
    for vehicle in demos():
        rear, side = drawn(vehicle, setup, 30.0)
        check((rear, side))
        assert len([s for s in rear.shapes if s.style == "bracket"]) == 2
