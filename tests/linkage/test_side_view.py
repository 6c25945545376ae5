from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage.layout import Layout
from linkviz.linkage.side_view import anti_squat, instant_centre, link_angles
from linkviz.linkage.solve import solve
from tests.layouts import STIFFNESS, bench_layout, random_layout
from tests.textbook import motion_per_heave

SOFT_BAR = np.array([4000.0, 4000.0, 4000.0, 4000.0, 1e-6])


def test_rates_per_heave_against_differences_of_the_solve() -> None:
    random = np.random.default_rng(4)
    for _ in range(5):
        layout = random_layout(random)
        heave, roll, step = random.uniform(-60.0, 60.0, 4), random.uniform(-0.06, 0.06, 4), 1e-2
        rates = motion_per_heave(layout, solve(layout, heave, roll))
        above, below = solve(layout, heave + step, roll), solve(layout, heave - step, roll)
        for rate, name in zip(rates, ("x", "y", "pitch", "yaw"), strict=True):
            assert rate == pytest.approx((getattr(above, name) - getattr(below, name)) / (2 * step), rel=1e-4, abs=1e-6)


@pytest.mark.parametrize("heave", [-80.0, 0.0, 80.0])
def test_instant_centre_is_where_the_motion_stands_still(heave: float) -> None:
    """Second route: the point (rx, rz) of the axle with dx + pitch' rz = 0 and 1 - pitch' rx = 0 does not move."""
    bench = bench_layout()
    layout = Layout.from_points(bench.centre, bench.frame, bench.axle + bench.centre, SOFT_BAR)
    poses = solve(layout, heave, 0.0)
    dx, _, turn, _ = motion_per_heave(layout, poses)
    ahead, height = instant_centre(layout, poses, 370.0)
    assert ahead[0] == pytest.approx(1.0 / turn[0], rel=2e-3)
    assert height[0] - 370.0 == pytest.approx(-dx[0] / turn[0], rel=2e-3, abs=0.5)


def parallel(slope: float) -> Layout:
    axle = [(0, 450, 310), (0, -450, 310), (0, 320, 500), (0, -320, 500), (-150, 440, 450)]
    frame = [(600, y, z + 600 * slope) for _, y, z in axle[:4]] + [(-150, -440, 450)]
    return Layout.from_points(np.array([0.0, 0.0, 370.0]), np.array(frame, float), np.array(axle, float), STIFFNESS)


def test_parallel_links_meet_at_infinity_and_anti_squat_is_their_slope() -> None:
    layout = parallel(0.1)
    poses = solve(layout, 0.0, 0.0)
    ahead, height = instant_centre(layout, poses, 370.0)
    assert np.isinf(ahead[0]) and np.isinf(height[0])
    assert anti_squat(layout, poses, 370.0, 2800.0, 700.0)[0] == pytest.approx(100 * 0.1 * 2800 / 700)


def test_links_falling_to_the_front_squat_more() -> None:
    down = parallel(-0.1)
    assert anti_squat(down, solve(down, 0.0, 0.0), 370.0, 2800.0, 700.0)[0] < 0


def test_crossing_straight_above_the_tyre_is_no_exception() -> None:
    axle = [(0, 450, 310), (0, -450, 310), (0, 320, 310.0), (0, -320, 310.0), (-150, 440, 450)]
    frame = [(600, 450, 400), (600, -450, 400), (600, 320, 500), (600, -320, 500), (-150, -440, 450)]
    layout = Layout.from_points(np.array([0.0, 0.0, 370.0]), np.array(frame, float), np.array(axle, float), STIFFNESS)
    poses = solve(bench_layout(), 0.0, 0.0)
    assert np.isinf(anti_squat(layout, poses, 370.0, 2800.0, 700.0)[0])


def test_link_angles_by_hand() -> None:
    layout = bench_layout()
    side, plan = link_angles(layout, solve(layout, 0.0, 0.0))
    assert side[0] == pytest.approx(np.arctan2([90.0, 90.0, 60.0, 60.0], [560.0, 560.0, 290.0, 290.0]))
    assert plan[0] == pytest.approx(np.arctan2([40.0, 40.0, -30.0, -30.0], [560.0, 560.0, 290.0, 290.0]))


def test_lifting_steepens_the_links() -> None:
    layout = bench_layout()
    side, _ = link_angles(layout, solve(layout, [0.0, -50.0, -100.0], 0.0))
    assert (np.diff(side, axis=0) > 0).all()
