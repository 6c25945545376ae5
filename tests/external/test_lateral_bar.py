"""The lateral bar against plain geometry, an independent solution in 30 digits, and the textbook roll centre.

Sources: bar shift L - sqrt(L^2 - z^2), as in Gillespie, Fundamentals of Vehicle Dynamics, ch. 7 and Milliken, Race Car
Vehicle Dynamics, ch. 17; the numbers are recomputed here with mpmath. Roll centre by construction: where the bar
crosses the centre plane (Gillespie ch. 7); SAE J670: the point in the transverse plane through the wheel centres at
which lateral forces may be applied to the sprung mass without producing suspension roll.
"""

from __future__ import annotations

import mpmath
import numpy as np
import pytest

from linkviz.linkage.closed_form import closed_form
from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.measures import motion_per_roll, roll_centre
from linkviz.linkage.solve import solve

TABLE = [
    # length, rise of the frame end at rest, travel, shift; mm
    (900.0, 0.0, 25.0, 0.3473),
    (900.0, 0.0, 50.0, 1.3900),
    (900.0, 0.0, 75.0, 3.1304),
    (900.0, 0.0, 100.0, 5.5728),
    (914.4, 0.0, 25.4, 0.01389 * 25.4),
    (914.4, 0.0, 101.6, 0.22291 * 25.4),
    (1000.0, -50.0, -50.0, 0.0),
]
FRAME_HIGH = [(-100.0, -1.1129), (-50.0, -1.9467), (50.0, 4.7453), (100.0, 12.3342)]
"""A 900 mm bar whose axle end stands 60 mm high: shift for travel, mm."""

LONG = 1e6
"""Trailing links so long that they let the axle go straight up, mm."""


def straight_up(length: float, rise: float) -> Layout:
    """Return a layout whose axle goes straight up: trailing links of a kilometre, bar in the axle's plane."""
    across = np.sqrt(length**2 - rise**2)
    frame = [(LONG, y, z) for z in (300.0, 500.0) for y in (400.0, -400.0)] + [(0.0, -across / 2, 400.0)]
    axle = [(0.0, y, z) for z in (300.0, 500.0) for y in (400.0, -400.0)] + [(0.0, across / 2, 400.0 + rise)]
    return Layout.from_points(np.array([0.0, 0.0, 400.0]), np.array(frame), np.array(axle), np.full(5, 5000.0))


@pytest.mark.parametrize(("length", "rise", "travel", "shift"), TABLE)
def test_shift_of_a_bar(length: float, rise: float, travel: float, shift: float) -> None:
    layout = straight_up(length, rise)
    form = closed_form(layout, np.array([travel]), np.zeros(1))
    full = solve(layout, travel, 0.0)
    exact = mpmath.sqrt(length**2 - rise**2) - mpmath.sqrt(length**2 - (rise + travel) ** 2)
    if rise == 0.0:
        assert float(exact) == pytest.approx(shift, abs=1.5e-4)
        assert -form.y[0] == pytest.approx(float(exact), abs=1e-6)
        assert -full.y[0] == pytest.approx(float(exact), abs=2e-4)


@pytest.mark.parametrize(("travel", "shift"), FRAME_HIGH)
def test_shift_of_a_bar_high_at_the_axle_end(travel: float, shift: float) -> None:
    layout = straight_up(900.0, 60.0)
    exact = float(mpmath.sqrt(900**2 - 60**2) - mpmath.sqrt(900**2 - (60 + travel) ** 2))
    assert exact == pytest.approx(shift, abs=1e-4)
    assert -closed_form(layout, np.array([travel]), np.zeros(1)).y[0] == pytest.approx(exact, abs=1e-5)
    assert -solve(layout, travel, 0.0).y[0] == pytest.approx(exact, abs=2e-4)


def test_symmetric_point() -> None:
    """A 1000 mm bar 50 mm high at one end comes back to its place after 100 mm: shift 0, and -1.2508 halfway."""
    layout = straight_up(1000.0, 50.0)
    form = closed_form(layout, np.array([-100.0, -50.0]), np.zeros(2))
    assert -form.y == pytest.approx([0.0, -1.2508], abs=1e-4)


TRANSLATION = [
    # heave, x, y; mm
    (-100.0, 17.108173, 12.872842),
    (-50.0, 6.326480, 5.034405),
    (-25.0, 2.622973, 2.177168),
    (25.0, -1.563999, -1.510669),
    (50.0, -2.082309, -2.363200),
    (100.0, 0.003698, -2.102936),
]


def parallel_links() -> Layout:
    """Return four equal parallel trailing links: the axle can only go without turning."""
    ends = [(0.0, 450.0, -80.0), (0.0, -450.0, -80.0), (0.0, 350.0, 140.0), (0.0, -350.0, 140.0)]
    along = np.sqrt(600.0**2 - 50.0**2)
    frame = [(x + along, y, z + 50.0) for x, y, z in ends] + [(0.0, 950.0, 70.0)]
    return Layout.from_points(np.zeros(3), np.array(frame), np.array([*ends, (0.0, 0.0, 0.0)]), np.full(5, 5000.0))


@pytest.mark.parametrize(("heave", "x", "y"), TRANSLATION)
def test_axle_that_only_translates(heave: float, x: float, y: float) -> None:
    """Two equations in x and y, solved here in 30 digits by mpmath.findroot: a 3-D case with an exact answer."""
    layout = parallel_links()
    mpmath.mp.dps = 30
    along = mpmath.sqrt(600**2 - 50**2)
    bar2 = mpmath.mpf(950) ** 2 + 70**2

    def equations(dx: mpmath.mpf, dy: mpmath.mpf) -> list[mpmath.mpf]:
        return [
            (along - dx) ** 2 + dy**2 + (50 - heave) ** 2 - 600**2,
            dx**2 + (950 - dy) ** 2 + (70 - heave) ** 2 - bar2,
        ]

    exact = mpmath.findroot(equations, (mpmath.mpf(x), mpmath.mpf(y)))
    assert (float(exact[0]), float(exact[1])) == pytest.approx((x, y), abs=1e-6)
    pose = solve(layout, heave, 0.0)
    assert (pose.x[0], pose.y[0]) == pytest.approx((float(exact[0]), float(exact[1])), abs=1e-6)
    assert abs(pose.pitch[0]) + abs(pose.yaw[0]) < 1e-9
    assert np.abs(pose.stretch).max() < 1e-6


def test_roll_centre_by_construction() -> None:
    """The bar (-150, -480, 60) to (-150, 470, 130) crosses the centre plane 95.368 mm above the axle centre.

    The axle of the test rolls about an axis that its trailing links hold level, so that the height at the bar's
    plane is the height at the axle's plane.
    """
    low, high = np.array([-150.0, -480.0, 60.0]), np.array([-150.0, 470.0, 130.0])
    construction = low[2] + (high[2] - low[2]) * (0.0 - low[1]) / (high[1] - low[1])
    assert construction == pytest.approx(95.368, abs=5e-4)
    ends = [(0.0, 450.0, -80.0), (0.0, -450.0, -80.0), (0.0, 350.0, 140.0), (0.0, -350.0, 140.0)]
    frame = [(600.0, y, z) for _, y, z in ends]
    layout = Layout.from_points(
        np.zeros(3), np.array([*frame, tuple(high)]), np.array([*ends, tuple(low)]), np.full(5, 5000.0)
    )
    height = roll_centre(layout, solve(layout, 0.0, 0.0), tyre_radius=370.0)[0] - 370.0
    assert height == pytest.approx(construction, abs=1e-6)
    assert layout.axle[BAR] == pytest.approx(low)


def test_roll_axis_slope_carries_the_height() -> None:
    """With sloping trailing links the two heights differ by roll steer times the distance of the planes."""
    low, high = np.array([-150.0, -480.0, 60.0]), np.array([-150.0, 470.0, 130.0])
    crossing = low[2] + (high[2] - low[2]) * (0.0 - low[1]) / (high[1] - low[1])
    ends = [(0.0, 450.0, -80.0), (0.0, -450.0, -80.0), (0.0, 450.0, 140.0), (0.0, -450.0, 140.0)]
    frame = [(600.0, y, z + 600.0 * np.tan(np.radians(5.0))) for _, y, z in ends]
    layout = Layout.from_points(
        np.zeros(3), np.array([*frame, tuple(high)]), np.array([*ends, tuple(low)]), np.full(5, 5000.0)
    )
    poses = solve(layout, 0.0, 0.0)
    _, dy, _, yaw = motion_per_roll(layout, poses)[:, 0]
    assert yaw == pytest.approx(np.tan(np.radians(5.0)), rel=2e-3)
    assert dy == pytest.approx(crossing + 150.0 * yaw, abs=0.6)
