"""What both views show stands where the study says it stands."""

from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.linkage.layout import BAR
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.shapes import Arrow, Circle, Drawing, Label, Path, Pt
from linkviz.picture.style import styles
from tests.picture.scenes import demos, scene_of

STATES = [(0.0, 0.0), (70.0, 0.0), (-60.0, 5.0), (30.0, -5.0)]


def circles(drawing: Drawing, style: str) -> list[Circle]:
    return [s for s in drawing.shapes if isinstance(s, Circle) and s.style == style]


def paths(drawing: Drawing, style: str) -> list[Path]:
    return [s for s in drawing.shapes if isinstance(s, Path) and s.style == style]


def near(places: list[Pt], at: tuple[float, float]) -> bool:
    return any(math.dist(p, at) < 1e-6 for p in places)


def axle_points(scene: Scene, points: np.ndarray) -> np.ndarray:
    build = scene.live.build
    return scene.live.poses.place(build.layout.centre, points)[0]


@pytest.mark.parametrize("which", [0, 1, 2])
@pytest.mark.parametrize(("travel", "roll"), STATES)
def test_eyes_of_the_bar_stand_on_the_pose(which: int, travel: float, roll: float) -> None:
    scene = scene_of(which, travel, roll, setup={"lift": 100.0, "drop": 60.0})
    layout = scene.live.build.layout
    x, y, z = axle_points(scene, layout.axle[BAR : BAR + 1])[0]
    fx, fy, fz = layout.frame[BAR]
    rear = [c.centre for c in circles(rear_view(scene), "bar_eye")]
    side = [c.centre for c in circles(side_view(scene), "bar_eye")]
    assert near(rear, (-y, z + 100.0)) and near(rear, (-fy, fz + 100.0))
    assert near(side, (x, z + 100.0)) and near(side, (fx, fz + 100.0))


@pytest.mark.parametrize("which", [0, 1, 2])
@pytest.mark.parametrize(("travel", "roll"), STATES)
def test_joints_and_near_links_stand_on_the_pose(which: int, travel: float, roll: float) -> None:
    scene = scene_of(which, travel, roll)
    build = scene.live.build
    eyes = [c.centre for c in circles(side_view(scene), "eye")]
    for index in (1, 3):
        x, _, z = axle_points(scene, build.layout.axle[index : index + 1])[0]
        assert near(eyes, (x, z + 100.0))
    shaft = build.vehicle.driveshaft
    assert shaft is not None
    x, y, z = axle_points(scene, np.array([shaft.pinion_joint]) - build.layout.centre)[0]
    assert near(eyes, (x, z + 100.0))
    assert near([c.centre for c in circles(rear_view(scene), "shaft_hidden")], (-y, z + 100.0))


def test_tyres_stand_on_level_ground_at_rest_whatever_the_lift() -> None:
    for lift in (0.0, 100.0, 200.0):
        scene = scene_of(0, setup={"lift": lift}, ghost=False)
        for tyre in paths(rear_view(scene), "tyre"):
            assert min(v for _, v in tyre.points) == pytest.approx(0.0, abs=1.0)
        ground = paths(rear_view(scene), "ground")[0]
        assert all(v == 0.0 for _, v in ground.points)


def test_ground_rises_under_a_wheel_that_moves_up() -> None:
    scene = scene_of(0, travel=50.0, ghost=False)
    for drawing in (rear_view(scene), side_view(scene)):
        ground = paths(drawing, "ground")[0]
        assert max(v for _, v in ground.points) == pytest.approx(50.0, abs=1.5)
        assert ground.points[0][1] == ground.points[-1][1] == 0.0


def test_left_wheel_is_on_the_left_and_goes_up_with_positive_roll() -> None:
    tyres = paths(rear_view(scene_of(0, roll_deg=5.0, ghost=False)), "tyre")
    left, right = sorted(tyres, key=lambda t: sum(u for u, _ in t.points))
    mean = [sum(v for _, v in t.points) / len(t.points) for t in (left, right)]
    track = demos()[0].axle.track
    assert mean[0] - mean[1] == pytest.approx(track * math.sin(math.radians(5.0)), abs=0.5)


def test_springs_join_body_and_axle() -> None:
    low, high = (rear_view(scene_of(0, travel=t, ghost=False)) for t in (-60.0, 60.0))

    def span(drawing: Drawing) -> tuple[float, float]:
        vs = [v for s in paths(drawing, "spring") for _, v in s.points]
        return min(vs), max(vs)

    assert span(low)[1] == pytest.approx(span(high)[1], abs=10.0)
    assert span(high)[0] - span(low)[0] == pytest.approx(120.0, abs=10.0)


def test_ghost_is_dashed_behind_and_stands_on_its_own_pose() -> None:
    scene = scene_of(0, travel=40.0)
    assert scene.ghost is not None
    for drawing in (rear_view(scene), side_view(scene)):
        assert all(styles(theme)["ghost"].dash for theme in ("light", "dark"))
        kinds = [s.style for s in drawing.shapes if not isinstance(s, Label)]
        ghosts = [i for i, style in enumerate(kinds) if style == "ghost"]
        assert len(ghosts) > 6
        assert max(ghosts) < min(i for i, style in enumerate(kinds) if style in ("steel", "bar"))
    y = float(scene.ghost.poses.y[0])
    housing = next(c for c in circles(rear_view(scene), "ghost"))
    assert housing.centre[0] == pytest.approx(-y, abs=0.5)
    assert "as built" in rear_view(scene).caption
    assert not [s for s in rear_view(scene_of(0, ghost=False)).shapes if s.style == "ghost"]


def test_zones_drawn_are_the_zones_given() -> None:
    scene = scene_of(0, zoned=True)
    zone = scene.zones[0]
    assert zone.touched_rear and zone.near_side
    for drawing, touched, close, turn in (
        (rear_view(scene), zone.touched_rear, zone.near_rear, -1.0),
        (side_view(scene), zone.touched_side, zone.near_side, 1.0),
    ):
        for style, regions in (("touched", touched), ("near", close)):
            drawn = paths(drawing, style)
            assert len(drawn) == len(regions)
            for path, region in zip(drawn, regions, strict=True):
                assert path.points == tuple((turn * u, v + 100.0) for u, v in region.outer)
                assert len(path.holes) == len(region.holes)
    assert styles("light")["touched"].hatch and styles("light")["near"].hatch
    assert styles("light")["touched"].hatch != styles("light")["near"].hatch


def test_extent_is_the_same_in_every_state_and_of_one_height() -> None:
    extents = {
        tuple(view(scene_of(0, travel, roll, setup={"lift": lift})).extent for view in (rear_view, side_view))
        for travel, roll in STATES
        for lift in (0.0, 200.0)
    }
    assert len(extents) == 1
    rear, side = extents.pop()
    assert (rear[1], rear[3]) == (side[1], side[3])


@pytest.mark.parametrize("which", [0, 1, 2])
def test_everything_important_is_inside_the_extent(which: int) -> None:
    travel = demos()[which].travel
    for lift, t in ((0.0, travel.jounce), (200.0, travel.jounce), (100.0, -travel.rebound)):
        scene = scene_of(which, t, setup={"lift": lift}, ghost=False)
        for drawing in (rear_view(scene), side_view(scene)):
            u0, v0, u1, v1 = drawing.extent
            for shape in drawing.shapes:
                if isinstance(shape, Path) and shape.style in ("tyre", "bar", "shaft", "envelope", "spring"):
                    for u, v in shape.points:
                        assert u0 <= u <= u1 and v0 <= v <= v1, (shape.style, u, v)


def test_every_style_of_a_drawing_is_known_in_both_themes() -> None:
    scene = scene_of(
        0,
        zoned=True,
        large=True,
        show_points=True,
        point="links.lateral_bar.frame",
        envelope=0,
        draft=((0.0, 300.0), (50.0, 300.0), (50.0, 400.0)),
        draft_view="rear",
        setup={"lift": 100.0, "drop": 40.0, "axle_raise": 20.0},
    )
    for drawing in (rear_view(scene), side_view(scene)):
        for theme in ("light", "dark"):
            assert {shape.style for shape in drawing.shapes} <= set(styles(theme))


def test_sway_arrows_point_at_centre_plane_and_axle_centre() -> None:
    scene = scene_of(0, travel=-40.0, ghost=False)
    tips = [s.tip[0] for s in rear_view(scene).shapes if isinstance(s, Arrow)]
    y = float(scene.live.poses.y[0])
    assert abs(y) > 1.0
    assert sorted(tips) == pytest.approx(sorted([0.0, -y]))
