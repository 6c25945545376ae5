from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.pose import rotation
from linkviz.linkage.solve import BAR_TOO_SHORT, solve, solve_all
from tests.layouts import STIFFNESS, bench_layout, random_layout

FIXED = np.array(
    [
        (-75, 0, 20.400, -9.167, 2.8867, 0.0128),
        (75, 0, -6.588, 3.561, 0.3715, -0.0029),
        (0, 5, 1.531, 11.815, -0.1376, 0.7602),
        (-75, 5, 21.979, 7.792, 2.6000, 1.9191),
        (125, 5, -2.499, 6.658, 2.1106, -0.4477),
    ]
)
"""heave mm, roll deg, x mm, y mm, pitch deg, yaw deg; found once with scipy.optimize.least_squares."""


def test_bench_table() -> None:
    poses = solve(bench_layout(), FIXED[:, 0], np.radians(FIXED[:, 1]))
    assert poses.x == pytest.approx(FIXED[:, 2], abs=6e-4)
    assert poses.y == pytest.approx(FIXED[:, 3], abs=6e-4)
    assert np.degrees(poses.pitch) == pytest.approx(FIXED[:, 4], abs=6e-5)
    assert np.degrees(poses.yaw) == pytest.approx(FIXED[:, 5], abs=6e-5)
    assert poses.reached.all()


def test_design_pose_is_unloaded() -> None:
    poses = solve(bench_layout(), 0.0, 0.0)
    assert np.abs([poses.x, poses.y, poses.pitch, poses.yaw]).max() < 1e-9
    assert np.abs(poses.stretch).max() < 1e-9


def test_mirrored_vehicle_does_the_mirrored_thing() -> None:
    random = np.random.default_rng(11)
    layout = random_layout(random)
    mirror = np.array([1.0, -1.0, 1.0])
    swap = [1, 0, 3, 2, 4]
    other = Layout.from_points(
        layout.centre,
        layout.frame[swap] * mirror,
        (layout.axle + layout.centre)[swap] * mirror,
        layout.stiffness[swap],
    )
    heave, roll = np.array([-60.0, 0.0, 80.0]), np.radians([3.0, -4.0, 1.0])
    one, two = solve(layout, heave, roll), solve(other, heave, -roll)
    assert two.x == pytest.approx(one.x, abs=1e-7)
    assert two.y == pytest.approx(-one.y, abs=1e-7)
    assert two.pitch == pytest.approx(one.pitch, abs=1e-9)
    assert two.yaw == pytest.approx(-one.yaw, abs=1e-9)


def test_states_are_independent() -> None:
    layout = bench_layout()
    heave, roll = np.linspace(-120.0, 120.0, 5000), np.linspace(-0.1, 0.1, 5000)
    together = solve(layout, heave, roll)
    for i in (0, 1234, 2047, 2048, 4999):
        alone = solve(layout, heave[i], roll[i])
        assert alone.y[0] == pytest.approx(together.y[i], abs=1e-12)
        assert alone.yaw[0] == pytest.approx(together.yaw[i], abs=1e-14)


def test_states_are_independent_far_out_too() -> None:
    """Where some states go astray and their neighbours do not, each still comes to where it would by itself."""
    layout = bench_layout()
    heave, roll = (v.ravel() for v in np.meshgrid(np.linspace(-420.0, 420.0, 43), np.linspace(-0.45, 0.45, 13)))
    together = solve(layout, heave, roll)
    assert together.reached.any() and not together.reached.all()
    for i in range(0, len(heave), 7):
        alone = solve(layout, heave[i], roll[i])
        assert alone.reached[0] == together.reached[i]
        assert alone.stopped_by[0] == together.stopped_by[i]
        if together.reached[i]:
            assert alone.x[0] == pytest.approx(together.x[i], abs=1e-7)
            assert alone.y[0] == pytest.approx(together.y[i], abs=1e-7)


def test_rounding_of_the_inputs_does_not_decide_what_is_reached() -> None:
    layout = bench_layout()
    heave, roll = (v.ravel() for v in np.meshgrid(np.linspace(-300.0, 300.0, 101), np.linspace(-0.4, 0.4, 21)))
    one, other = solve(layout, heave, roll), solve(layout, heave + 1e-11, roll)
    inside = np.abs(one.heave - heave) == 0.0  # a heave at the very limit may fall to either side
    assert (one.reached == other.reached)[inside].all()
    both = one.reached & other.reached
    assert one.y[both] == pytest.approx(other.y[both], abs=1e-8)
    assert one.yaw[both] == pytest.approx(other.yaw[both], abs=1e-11)


def test_several_layouts_in_one_go() -> None:
    bare, random = bench_layout(), np.random.default_rng(2)
    layouts = [bare, bare.with_bar(drop=90.0), random_layout(random)]
    requests = [(layout, np.linspace(-90.0, 40.0, n), 0.02) for layout, n in zip(layouts, (3, 1, 7), strict=True)]
    for (layout, heave, roll), joined in zip(requests, solve_all(requests), strict=True):
        alone = solve(layout, heave, roll)
        assert len(joined) == len(heave)
        assert joined.x == pytest.approx(alone.x, abs=1e-7)
        assert joined.stretch == pytest.approx(alone.stretch, abs=1e-7)


def test_drop_brings_the_axle_back() -> None:
    """Lifted on a bar with its frame end on the right and high, the axle goes right; a drop of the lift undoes it."""
    bare = bench_layout()
    lifted, corrected = solve(bare, -100.0, 0.0), solve(bare.with_bar(drop=100.0), -100.0, 0.0)
    assert lifted.y[0] < -10.0
    assert abs(corrected.y[0]) < 3.0


@pytest.mark.parametrize("heave", [-178.0, -300.0, -1e6, 2000.0])
def test_beyond_the_dead_point_is_not_reached(heave: float) -> None:
    poses = solve(bench_layout(), heave, 0.0)
    assert not poses.reached[0]
    assert "links" in poses.stopped_by[0]
    assert np.isfinite([poses.x[0], poses.y[0], poses.pitch[0], poses.yaw[0]]).all()


def test_energy_grows_towards_the_dead_point() -> None:
    """With a 95 mm drop the bushings hold some 6 J at -170 mm; the dead point is near -178 mm."""
    layout = bench_layout().with_bar(drop=95.0)
    poses = solve(layout, [-100.0, -170.0, -177.0, -180.0], 0.0)
    joule = 0.5e-3 * (layout.stiffness * poses.stretch**2).sum(axis=1)
    assert joule[1] == pytest.approx(6.0, abs=1.0)
    assert list(poses.reached) == [True, True, True, False]
    assert joule[0] < joule[1] < joule[2]


def test_a_bar_shorter_than_the_gap_is_named() -> None:
    poses = solve(bench_layout().with_bar(longer=-80.0), 0.0, 0.0)
    assert not poses.reached[0] or abs(poses.y[0]) > 50.0
    poses = solve(bench_layout().with_bar(longer=-860.0), 0.0, 0.0)
    assert not poses.reached[0]
    assert poses.stopped_by[0] == BAR_TOO_SHORT
    assert np.isfinite(poses.y[0])


@pytest.mark.parametrize("bad", [(np.nan, 0.0), (0.0, np.inf)])
def test_what_is_no_number_is_refused(bad: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="finite"):
        solve(bench_layout(), *bad)


def test_no_state_is_no_trouble() -> None:
    assert len(solve(bench_layout(), np.zeros(0), 0.0)) == 0


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_a_pose_or_a_named_limit(seed: int) -> None:
    """Any plausible vehicle, lift, drop, height and roll: never NaN, and never silence about what stops it."""
    random = np.random.default_rng(seed)
    layout = random_layout(random).with_bar(
        drop=random.uniform(-50.0, 200.0), shift=random.uniform(-40.0, 40.0), longer=random.uniform(-30.0, 30.0)
    )
    heave, roll = random.uniform(-350.0, 250.0, 30), random.uniform(-0.25, 0.25, 30)
    poses = solve(layout, heave, roll)
    for values in (poses.heave, poses.x, poses.y, poses.pitch, poses.yaw, poses.stretch):
        assert np.isfinite(values).all()
    for reached, words in zip(poses.reached, poses.stopped_by, strict=True):
        assert bool(words) != bool(reached)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_reached_poses_are_at_rest_and_least(seed: int) -> None:
    """Moving the axle a little any way from a reached pose never lowers the bushing energy."""
    random = np.random.default_rng(seed)
    layout = random_layout(random)
    heave, roll = random.uniform(-120.0, 100.0, 8), random.uniform(-0.1, 0.1, 8)
    poses = solve(layout, heave, roll)
    points = layout.axle
    energy = 0.5 * (layout.stiffness * poses.stretch**2).sum(axis=1)
    for name, step in (("x", 0.05), ("y", 0.05), ("pitch", 1e-4), ("yaw", 1e-4)):
        for sign in (-1.0, 1.0):
            parts = {k: getattr(poses, k) for k in ("heave", "roll", "x", "y", "pitch", "yaw")}
            parts[name] = parts[name] + sign * step
            moved = type(poses)(**parts, stretch=poses.stretch, reached=poses.reached, stopped_by=poses.stopped_by)
            length = np.linalg.norm(moved.place(layout.centre, points) - layout.frame, axis=-1)
            other = 0.5 * (layout.stiffness * (length - layout.length) ** 2).sum(axis=1)
            assert (other[poses.reached] >= energy[poses.reached] - 1e-9).all()


def test_stretch_is_the_length_between_the_ends() -> None:
    layout = bench_layout()
    poses = solve(layout, [-50.0, 30.0], [0.05, -0.03])
    length = np.linalg.norm(poses.place(layout.centre, layout.axle) - layout.frame, axis=-1)
    assert poses.stretch == pytest.approx(length - layout.length, abs=1e-7)


def test_rotation_is_a_rotation() -> None:
    poses = solve(bench_layout(), [-50.0, 30.0], [0.05, -0.03])
    for turn in poses.rotation():
        assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
        assert np.linalg.det(turn) == pytest.approx(1.0)


def test_rotations_are_a_group() -> None:
    """Turns about one axis add up, a turn back undoes it, and yaw is outside pitch outside roll."""
    a, b, none = np.array([0.31]), np.array([-0.17]), np.zeros(1)
    turns = (lambda t: rotation(t, none, none), lambda t: rotation(none, t, none), lambda t: rotation(none, none, t))
    for turn in turns:
        assert turn(a)[0] @ turn(b)[0] == pytest.approx(turn(a + b)[0], abs=1e-12)
        assert turn(-a)[0] == pytest.approx(turn(a)[0].T, abs=1e-12)
        assert turn(none)[0] == pytest.approx(np.eye(3), abs=1e-15)
    roll, pitch, yaw = (turn(value)[0] for turn, value in zip(turns, (a, b, a + b), strict=True))
    assert rotation(a, b, a + b)[0] == pytest.approx(yaw @ pitch @ roll, abs=1e-12)
    assert np.abs(yaw @ pitch - pitch @ yaw).max() > 1e-3


def test_bar_index() -> None:
    layout = bench_layout().with_bar(drop=10.0, shift=5.0, longer=3.0, axle_raise=7.0)
    bare = bench_layout()
    assert layout.frame[BAR] - bare.frame[BAR] == pytest.approx([0.0, -5.0, -10.0])
    assert layout.axle[BAR] - bare.axle[BAR] == pytest.approx([0.0, 0.0, 7.0])
    assert layout.length[BAR] - bare.length[BAR] == pytest.approx(3.0)
    assert (layout.stiffness == STIFFNESS).all()
