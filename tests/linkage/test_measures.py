from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage import measures
from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.solve import solve
from tests.layouts import STIFFNESS, bench_layout, random_layout


def test_rates_against_differences_of_the_solve() -> None:
    random = np.random.default_rng(21)
    for _ in range(5):
        layout = random_layout(random)
        heave, roll, step = random.uniform(-60.0, 60.0, 4), random.uniform(-0.06, 0.06, 4), 1e-4
        rates = measures.motion_per_roll(layout, solve(layout, heave, roll))
        above, below = solve(layout, heave, roll + step), solve(layout, heave, roll - step)
        for rate, name in zip(rates, ("x", "y", "pitch", "yaw"), strict=True):
            difference = (getattr(above, name) - getattr(below, name)) / (2 * step)
            assert rate == pytest.approx(difference, rel=1e-4, abs=1e-3)


def test_bar_angle_at_design_by_hand() -> None:
    poses = solve(bench_layout(), 0.0, 0.0)
    assert measures.bar_angle(bench_layout(), poses)[0] == pytest.approx(np.arctan2(80.0, 870.0))


def test_bar_angle_sign_does_not_depend_on_the_side() -> None:
    layout = bench_layout()
    mirrored = Layout.from_points(
        layout.centre, layout.frame * [1, -1, 1], (layout.axle + layout.centre) * [1, -1, 1], STIFFNESS
    )
    assert measures.bar_angle(mirrored, solve(mirrored, 0.0, 0.0))[0] > 0
    low = layout.with_bar(drop=160.0)
    assert measures.bar_angle(low, solve(low, 0.0, 0.0))[0] < 0


def test_lifting_steepens_the_bar() -> None:
    layout = bench_layout()
    angles = measures.bar_angle(layout, solve(layout, [0.0, -50.0, -100.0], 0.0))
    assert (np.diff(angles) > 0).all()


def test_pinion_angle_is_nose_up() -> None:
    """Pitch is positive nose down, so the pinion angle falls as pitch grows; here the nose joint really goes down."""
    layout = bench_layout()
    poses = solve(layout, -75.0, 0.0)
    nose = np.array([[230.0, 0.0, 0.0]])
    drop = poses.place(layout.centre, nose)[0, 0, 2] - (layout.centre[2] + poses.heave[0])
    assert poses.pitch[0] > 0
    assert drop < 0
    assert measures.pinion_angle(poses, np.radians(4.0))[0] == pytest.approx(np.radians(4.0) - poses.pitch[0])


def test_forces_are_stiffness_times_stretch_and_bind_when_crossed_up() -> None:
    layout = bench_layout()
    level, crossed = (measures.link_force(layout, solve(layout, -75.0, r)) for r in (0.0, np.radians(5.0)))
    assert np.abs(crossed).max() > 4 * np.abs(level).max()
    poses = solve(layout, -75.0, np.radians(5.0))
    assert crossed == pytest.approx(layout.stiffness * poses.stretch)


def test_forces_balance() -> None:
    """In (x, y) and in moments about y and z the link forces on the axle sum to nothing: the pose is at rest."""
    layout = bench_layout()
    poses = solve(layout, -60.0, 0.06)
    ends = poses.place(layout.centre, layout.axle)[0]
    unit = (layout.frame - ends) / np.linalg.norm(layout.frame - ends, axis=1)[:, None]
    pulls = unit * measures.link_force(layout, poses)[0][:, None]
    centre = layout.centre + np.array([poses.x[0], poses.y[0], poses.heave[0]])
    moment = np.cross(ends - centre, pulls).sum(axis=0)
    total = pulls.sum(axis=0)
    assert total[:2] == pytest.approx([0.0, 0.0], abs=1e-3)
    yaw_axis = np.array([0.0, 0.0, 1.0])
    pitch_axis = np.array([-np.sin(poses.yaw[0]), np.cos(poses.yaw[0]), 0.0])
    assert moment @ yaw_axis == pytest.approx(0.0, abs=1.0)
    assert moment @ pitch_axis == pytest.approx(0.0, abs=1.0)


def test_roll_centre_of_a_level_bar_is_at_the_bar() -> None:
    """With parallel level trailing links the axle rolls about where its level bar crosses the centre plane."""
    frame = np.array([(500, 400, 300), (500, -400, 300), (500, 400, 500), (500, -400, 500), (0, -450, 420)], float)
    axle = np.array([(0, 400, 300), (0, -400, 300), (0, 400, 500), (0, -400, 500), (0, 450, 420)], float)
    layout = Layout.from_points(np.array([0.0, 0.0, 370.0]), frame, axle, STIFFNESS)
    height = measures.roll_centre(layout, solve(layout, 0.0, 0.0), tyre_radius=370.0)
    assert height[0] == pytest.approx(420.0, abs=1e-6)
    assert layout.frame[BAR, 2] == 420.0
