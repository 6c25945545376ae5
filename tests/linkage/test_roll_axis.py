from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.measures import motion_per_roll, roll_centre
from linkviz.linkage.roll_axis import roll_axis, roll_steer
from linkviz.linkage.solve import solve
from tests.layouts import STIFFNESS, bench_layout, random_layout
from tests.textbook import bar_crossing, roll_axis_of_motion

CENTRE = np.array([0.0, 0.0, 370.0])


def layout_with(low: float, up: float, toe: float, bar_rise: float) -> Layout:
    """Return a symmetric layout: slopes of lower and upper links, their run towards the centre, rise of the bar."""
    frame, axle = [], []
    for height, slope, y in ((310.0, low, 450.0), (500.0, up, 320.0)):
        for side in (1.0, -1.0):
            axle.append((0.0, side * y, height))
            frame.append((600.0, side * (y - 600.0 * toe), height + 600.0 * slope))
    axle.append((-150.0, 440.0, 450.0))
    frame.append((-150.0, -440.0, 450.0 + bar_rise))
    return Layout.from_points(CENTRE, np.array(frame), np.array(axle), STIFFNESS)


@pytest.mark.parametrize(("low", "up", "toe"), [(0.0, 0.0, 0.0), (0.1, 0.1, 0.0), (0.15, 0.05, 0.1), (-0.1, 0.1, 0.05)])
def test_construction_and_motion_rates_agree_at_design(low: float, up: float, toe: float) -> None:
    """Two ways to the same axis: least squares over the link lines, and derivatives of the bushing energy."""
    layout = layout_with(low, up, toe, 0.0)
    poses = solve(layout, 0.0, 0.0)
    height, slope = roll_axis(layout, poses)
    rates = motion_per_roll(layout, poses)
    assert height[0] == pytest.approx(rates[1, 0], abs=1e-6)
    assert slope[0] == pytest.approx(rates[3, 0], abs=1e-9)


@pytest.mark.parametrize("heave", [-75.0, 0.0, 75.0])
def test_agreement_on_the_bench_with_its_sloping_bar(heave: float) -> None:
    """The forces of level heave turn the axis a little; without them the two routes meet."""
    bench = bench_layout()
    there = solve(bench, heave, 0.0)
    layout = bench.replace(length=bench.length + there.stretch[0])
    poses = solve(layout, heave, 0.0)
    height, slope = roll_axis(layout, poses)
    assert poses.stretch == pytest.approx(np.zeros((1, 5)), abs=1e-6)
    assert height[0] + 370.0 == pytest.approx(roll_centre(layout, poses, 370.0)[0], abs=3.0)
    rates = motion_per_roll(layout, poses)
    assert np.ravel(roll_axis_of_motion(poses, rates)) == pytest.approx(np.ravel((height, slope)), abs=0.01, rel=2e-3)
    assert roll_steer(poses, rates)[0] == pytest.approx(slope[0], abs=0.01)


def test_roll_steer_against_differences_of_the_heading() -> None:
    random = np.random.default_rng(3)
    for _ in range(5):
        layout, step = random_layout(random), 1e-4
        heave, roll = random.uniform(-60.0, 60.0, 4), random.uniform(-0.06, 0.06, 4)
        poses = solve(layout, heave, roll)
        headings = []
        for r in (roll + step, roll - step):
            across = solve(layout, heave, r).rotation()[:, :, 1]
            headings.append(np.arctan2(-across[:, 0], across[:, 1]))
        steer = roll_steer(poses, motion_per_roll(layout, poses))
        assert steer == pytest.approx((headings[0] - headings[1]) / (2 * step), rel=1e-4, abs=1e-5)


def test_the_axis_passes_through_the_crossing_of_the_bar() -> None:
    """Parallel trailing links: z at the axle is the bar's crossing carried along the slope of the links."""
    layout = layout_with(0.12, 0.12, 0.0, 0.0)
    poses = solve(layout, 0.0, 0.0)
    height, slope = roll_axis(layout, poses)
    x, z = bar_crossing(layout, poses)
    assert x[0] == pytest.approx(-150.0)
    assert slope[0] == pytest.approx(0.12, abs=1e-9)
    assert CENTRE[2] + height[0] == pytest.approx(z[0] + slope[0] * (0.0 - x[0]), abs=1e-6)


def test_links_sloping_up_to_the_front_raise_the_axis_forwards_and_steer_out_of_the_turn() -> None:
    up = layout_with(0.1, 0.1, 0.0, 0.0)
    poses = solve(up, 0.0, 0.0)
    assert roll_axis(up, poses)[1][0] > 0
    assert motion_per_roll(up, poses)[3, 0] > 0
    down = layout_with(-0.1, -0.1, 0.0, 0.0)
    poses = solve(down, 0.0, 0.0)
    assert roll_axis(down, poses)[1][0] < 0


def test_roll_steer_is_the_slope_of_the_roll_axis() -> None:
    random = np.random.default_rng(5)
    for _ in range(20):
        layout = random_layout(random)
        poses = solve(layout, 0.0, 0.0)
        assert roll_axis(layout, poses)[1][0] == pytest.approx(motion_per_roll(layout, poses)[3, 0], abs=0.02)


def test_mirrored_layout_has_the_same_axis() -> None:
    layout = random_layout(np.random.default_rng(8))
    swap = [1, 0, 3, 2, BAR]
    turn = np.array([1.0, -1.0, 1.0])
    mirrored = Layout(
        layout.centre, (layout.frame * turn)[swap], (layout.axle * turn)[swap], layout.length[swap],
        layout.stiffness[swap],
    )  # fmt: skip
    one, other = solve(layout, -40.0, 0.05), solve(mirrored, -40.0, -0.05)
    for a, b in zip(roll_axis(layout, one), roll_axis(mirrored, other), strict=True):
        assert a == pytest.approx(b, abs=1e-6)
    assert bar_crossing(layout, one)[1] == pytest.approx(bar_crossing(mirrored, other)[1], abs=1e-6)


def test_a_bar_along_the_vehicle_has_no_crossing() -> None:
    layout = bench_layout()
    frame, axle = layout.frame.copy(), layout.axle.copy()
    frame[BAR], axle[BAR] = (600.0, 100.0, 450.0), (0.0, 100.0, 80.0)
    along = Layout.from_points(layout.centre, frame, axle + layout.centre, STIFFNESS)
    assert np.isnan(bar_crossing(along, solve(along, 0.0, 0.0))[1][0])
