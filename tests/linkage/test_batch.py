from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage import measures
from linkviz.linkage.batch import Batch, bar_angle, limits, sideways_per_roll, solve_batch
from linkviz.linkage.closed_form import trailing
from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.solve import solve, solve_all
from tests.layouts import bench_layout, random_layout

NAMES = ("x", "y", "pitch", "yaw")


def around(layout: Layout, count: int, random: np.random.Generator, u: float = 4.0) -> Batch:
    """Return builds whose points are off by up to u."""
    frame = layout.frame + random.uniform(-u, u, (count, 5, 3))
    axle = layout.axle + layout.centre + random.uniform(-u, u, (count, 5, 3))
    centre = layout.centre + random.uniform(-u, u, (count, 1)) * np.array([0.0, 0.0, 1.0])
    return Batch.from_points(layout, centre, frame, axle)


def test_each_build_is_the_one_solved_by_itself() -> None:
    random = np.random.default_rng(11)
    for _ in range(12):
        batch = around(random_layout(random), 8, random).with_bar(70.0, shift=5.0, longer=3.0, axle_raise=10.0)
        heave, roll = random.uniform(-150.0, 100.0, 30), random.uniform(-0.09, 0.09, 30)
        poses = solve_batch(batch, heave, roll)
        alone = solve_all([(batch.layout(i), heave, roll) for i in range(len(batch))])
        for i, single in enumerate(alone):
            assert single.reached.all() and poses.reached[i].all()
            for name in NAMES:
                assert getattr(poses, name)[i] == pytest.approx(getattr(single, name), abs=2e-6)
            assert poses.stretch[i] == pytest.approx(single.stretch, abs=2e-6)
            layout = batch.layout(i)
            assert bar_angle(batch, poses)[i] == pytest.approx(measures.bar_angle(layout, single), abs=1e-8)
            rate = measures.motion_per_roll(layout, single)[1]
            assert sideways_per_roll(batch, poses)[i] == pytest.approx(rate, abs=1e-4)


def test_brackets_are_those_of_a_layout() -> None:
    random = np.random.default_rng(2)
    drops = random.uniform(0.0, 120.0, 6)
    bare = around(random_layout(random), 6, random)
    batch = bare.with_bar(drops, shift=4.0, longer=2.0, axle_raise=8.0)
    for i, drop in enumerate(drops):
        one = bare.layout(i).with_bar(float(drop), 4.0, 2.0, 8.0)
        assert batch.frame[i] == pytest.approx(one.frame, abs=1e-12)
        assert batch.axle[i] == pytest.approx(one.axle, abs=1e-12)
        assert batch.length[i] == pytest.approx(one.length, abs=1e-12)


def test_bar_keeps_its_length_under_a_bracket() -> None:
    random = np.random.default_rng(3)
    bare = around(bench_layout(), 5, random)
    assert bare.with_bar(95.0).length == pytest.approx(bare.length, abs=0.0)
    assert (bare.with_bar(95.0, longer=7.0).length - bare.length)[:, BAR] == pytest.approx(7.0, abs=1e-12)


def test_no_error_of_points_is_the_middle_build() -> None:
    layout = bench_layout()
    count = 3
    batch = Batch.from_points(
        layout, np.tile(layout.centre, (count, 1)), np.tile(layout.frame, (count, 1, 1)),
        np.tile(layout.axle + layout.centre, (count, 1, 1)),
    )  # fmt: skip
    heave = np.linspace(-150.0, 100.0, 21)
    poses, single = solve_batch(batch, heave, 0.03), solve(layout, heave, 0.03)
    for name in NAMES:
        assert getattr(poses, name) == pytest.approx(np.tile(getattr(single, name), (count, 1)), abs=1e-7)


def test_ends_of_travel_are_each_builds_own() -> None:
    random = np.random.default_rng(4)
    for _ in range(10):
        batch = around(random_layout(random), 10, random)
        low, high = limits(batch, -900.0, 900.0)
        for i in range(len(batch)):
            links = trailing(batch.layout(i))
            assert low[i] == pytest.approx(links.low, abs=1e-4)
            assert high[i] == pytest.approx(links.high, abs=1e-4)


def test_no_end_of_travel_where_none_is_asked_for() -> None:
    batch = around(bench_layout(), 4, np.random.default_rng(5))
    low, high = limits(batch, -100.0, 100.0)
    assert np.isneginf(low).all() and np.isposinf(high).all()


def test_beyond_reach_a_build_stands_at_its_limit() -> None:
    batch = around(bench_layout(), 20, np.random.default_rng(6))
    poses = solve_batch(batch, np.array([-400.0, 0.0]))
    assert poses.reached.tolist() == [[False, True]] * 20
    low, _ = limits(batch, -400.0, 0.0)
    assert poses.heave[:, 0] == pytest.approx(low)
    assert np.ptp(low) > 1.0
    for name in NAMES:
        assert np.isfinite(getattr(poses, name)).all()


def test_a_bar_too_short_is_not_reached() -> None:
    batch = around(bench_layout(), 5, np.random.default_rng(8)).with_bar(longer=-750.0)
    poses = solve_batch(batch, np.array([-120.0, 0.0]))
    assert not poses.reached.any()
    assert np.isfinite(poses.y).all()


def test_nothing_holds_the_pitch() -> None:
    layout = bench_layout()
    axle = layout.axle + layout.centre
    axle[2:4] = axle[:2]
    flat = Layout.from_points(layout.centre, layout.frame, axle, layout.stiffness)
    poses = solve_batch(around(flat, 3, np.random.default_rng(9), 0.0), np.array([-50.0, 0.0, 50.0]))
    assert np.isfinite(poses.y).all()
    assert not poses.reached[:, [0, 2]].any()


def test_no_builds_and_bad_numbers() -> None:
    batch = around(bench_layout(), 3, np.random.default_rng(10))
    assert solve_batch(batch[:0], np.array([0.0, 1.0])).stretch.shape == (0, 2, 5)
    with pytest.raises(ValueError, match="finite"):
        solve_batch(batch, np.array([np.nan]))


def test_portions_do_not_show() -> None:
    random = np.random.default_rng(12)
    batch = around(bench_layout(), 300, random)
    heave = np.linspace(-120.0, 80.0, 41)
    whole, some = solve_batch(batch, heave), solve_batch(batch[200:203], heave)
    assert whole.y[200:203] == pytest.approx(some.y, abs=1e-9)
