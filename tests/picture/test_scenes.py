"""Scenes of a cycle: how far they go and what stands behind them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.linkage.layout import BAR
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.against import frames_against
from linkviz.picture.ghost import ghost_links
from linkviz.picture.parts import link
from linkviz.picture.proportions import proportions
from linkviz.picture.scenes import moving_scenes
from linkviz.picture.shapes import Circle, Path
from linkviz.picture.stand import Stand
from tests.picture.scenes import build_of, demos, scene_of

LIFTED = Setup(lift=100.0, drop=60.0)


@pytest.mark.parametrize(
    ("setup", "behind", "ghost"),
    [
        (LIFTED, "as built", Setup()),
        (LIFTED, "lifted", Setup(lift=100.0)),
        (Setup(lift=100.0), "lifted", None),  # it is that itself
        (Setup(), "as built", None),
        (LIFTED, "", None),
    ],
)
def test_what_stands_behind(setup: Setup, behind: str, ghost: Setup | None) -> None:
    scenes = moving_scenes(demos()[0], setup, 0.0, None, behind)
    setups = {scene.ghost.build.setup if scene.ghost else None for scene in scenes}
    assert setups == {ghost}
    assert {scene.ghost_name for scene in scenes} == {behind if ghost is not None else ""}


def test_frames_go_from_the_middle_to_either_end_and_back() -> None:
    vehicle = demos()[0]
    low, high = Build.of(vehicle, Setup()).window
    frames = list(frames_against(vehicle, Setup(), count=4))
    for frame, travel in zip(frames, ((low + high) / 2, high, (low + high) / 2, low), strict=True):
        drawn = rear_view(Scene(live=study(Build.of(vehicle, Setup()), travel, 0.0), unit="mm"))
        eyes = [
            [s.centre for s in d.shapes if isinstance(s, Circle) and s.style == "bar_eye"] for d in (drawn, frame[0])
        ]
        assert eyes[0] and eyes[1] == [pytest.approx(eye, abs=1e-9) for eye in eyes[0]]


def test_the_bar_behind_is_as_thick_as_the_bar() -> None:
    build = build_of(0)
    p = proportions(build.vehicle)
    assert p.bar_radius != p.link_radius
    shapes = ghost_links(build, p, lambda x, y, z: (0.0, 0.0), lambda x, y, z: (1000.0, 0.0))
    halves = [max(v for _, v in shape.points) for shape in shapes if isinstance(shape, Path)]
    assert halves == pytest.approx([p.bar_radius if i == BAR else p.link_radius for i in range(5)], rel=1e-3)


def test_a_link_has_an_eye_round_a_hole_at_either_end() -> None:
    circles = [s for s in link((0.0, 0.0), (300.0, 40.0), 20.0, "link") if isinstance(s, Circle)]
    for end in ((0.0, 0.0), (300.0, 40.0)):
        outer, hole = (c for c in circles if c.centre == end)
        assert outer.style == "link" and hole.style == "eye"
        assert 20.0 < outer.radius < 40.0 and 0.0 < hole.radius < 20.0


def test_the_damper_stands_clear_of_the_tyre() -> None:
    for which in range(3):
        axle = demos()[which].axle
        for vehicle in (demos()[which], demos()[which].replace(dampers=None)):
            assert proportions(vehicle).damper_axle[1] < axle.track / 2.0 - axle.tyre_width / 2.0


@pytest.mark.parametrize("which", [0, 1, 2])
def test_springs_and_dampers_stand_where_they_were_measured(which: int) -> None:
    """As built, so that a point of the axle lies where it was measured; the side view is seen from the right."""
    scene = scene_of(which, setup={}, ghost=False)
    vehicle = scene.live.build.vehicle
    dampers, springs = vehicle.dampers, vehicle.springs
    assert dampers is not None and springs is not None
    for view, sides in ((rear_view(scene), (1.0, -1.0)), (side_view(scene), ())):
        eyes = [s.centre for s in view.shapes if isinstance(s, Circle) and s.style == "eye"]
        seats = [s.points for s in view.shapes if isinstance(s, Path) and s.style == "seat"]
        for x, y, z in (dampers.axle, dampers.body):
            for u in [-s * y for s in sides] or [x]:
                assert any(math.dist(eye, (u, z)) < 1e-6 for eye in eyes)
        for x, y, z in (springs.axle, springs.body):
            for u in [-s * y for s in sides] or [x]:
                assert any(_on_edge(seat, (u, z)) for seat in seats)


def _on_edge(outline: tuple[tuple[float, float], ...], at: tuple[float, float]) -> bool:
    """Return whether a point is the middle of an edge of an outline."""
    middles = [
        ((a + c) / 2.0, (b + d) / 2.0) for (a, b), (c, d) in zip(outline, outline[1:] + outline[:1], strict=True)
    ]
    return any(math.dist(middle, at) < 1e-6 for middle in middles)


def test_without_measures_they_stand_in_proportion() -> None:
    bare = proportions(demos()[0].replace(springs=None, dampers=None))
    assert bare.damper_axle != proportions(demos()[0]).damper_axle
    assert bare.spring_axle[2] < bare.spring_body[2] and bare.damper_axle[2] < bare.damper_body[2]


def test_a_point_of_the_axle_stands_where_the_pose_puts_it_though_the_axle_stands_aside() -> None:
    vehicle = demos()[0]
    aside = vehicle.axle.replace(centre=(*vehicle.axle.centre[:1], 40.0, vehicle.axle.centre[2]))
    state = study(Build.of(vehicle.replace(axle=aside), Setup()), 30.0, 0.05)
    centre = state.build.layout.centre
    assert centre[1] == 40.0
    point = centre + np.array([120.0, 300.0, -50.0])
    at = state.poses.place(centre, (point - centre)[None])[0, 0]
    assert Stand.of(state).on_axle(*point.tolist()) == pytest.approx(at.tolist())
