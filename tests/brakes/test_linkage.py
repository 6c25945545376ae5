from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.brakes.linkage import Lever, rise_for, tips, turned
from linkviz.errors import OutOfReach

PIVOT, TIP, AXLE = (220.0, 560.0), (90.0, 545.0), (70.0, 410.0)
LEVER = Lever.of(PIVOT, TIP, AXLE, across=12.0)
UP = (0.0, 1.0, 0.0)


def test_as_built_the_arm_has_not_turned() -> None:
    found = turned(LEVER, *AXLE, 12.0)
    assert found.reached[0]
    assert found.turn[0] == pytest.approx(0.0, abs=1e-12)
    assert tips(LEVER, found.angle)[0] == pytest.approx(TIP)


@pytest.mark.parametrize("tip", [(90.0, 545.0), (350.0, 545.0), (90.0, 300.0), (200.0, 460.0)])
def test_up_is_towards_laden_whichever_way_the_arm_points(tip: tuple[float, float]) -> None:
    lever = Lever.of(PIVOT, tip, AXLE)
    x, z = AXLE
    turn = turned(lever, x, [z - 10.0, z, z + 10.0]).turn
    assert np.all(np.diff(turn) > 0)


def test_arm_and_rod_keep_their_lengths() -> None:
    z = np.linspace(340.0, 470.0, 29)
    across = np.linspace(0.0, 30.0, 29)
    found = turned(LEVER, 80.0, z, across)
    assert found.reached.all()
    tip = tips(LEVER, found.angle)
    assert np.hypot(tip[:, 0] - PIVOT[0], tip[:, 1] - PIVOT[1]) == pytest.approx(LEVER.arm)
    assert np.sqrt((tip[:, 0] - 80.0) ** 2 + (tip[:, 1] - z) ** 2 + across**2) == pytest.approx(LEVER.rod)


def test_out_of_reach_stands_in_line() -> None:
    far = turned(LEVER, 220.0, 560.0 - (LEVER.arm + LEVER.rod) - np.array([-5.0, 5.0, 200.0]))
    assert list(far.reached) == [True, False, False]
    assert np.isfinite(far.angle).all()
    assert far.angle[1:] % (2 * math.pi) == pytest.approx(1.5 * math.pi)
    near = turned(LEVER, PIVOT[0] + 0.1, PIVOT[1])
    assert not near.reached[0] and np.isfinite(near.angle).all()


def test_a_rise_puts_the_arm_back() -> None:
    lowered = (85.0, AXLE[1] - 95.0, 20.0)
    rise = rise_for(LEVER, lowered, UP)
    assert rise is not None
    back = turned(LEVER, lowered[0], lowered[1] + rise, lowered[2])
    assert back.turn[0] == pytest.approx(0.0, abs=1e-12)


def test_no_rise_when_the_point_is_too_far_away() -> None:
    assert rise_for(LEVER, (90.0 + LEVER.rod + 1.0, 400.0, 0.0), UP) is None


@pytest.mark.parametrize(
    ("tip", "axle"),
    [((220.0, 560.0), AXLE), (AXLE, AXLE), ((220.0, 500.0), (220.0, 410.0)), ((90.0, 545.0), (50.0, 545.0))],
)
def test_points_that_make_no_lever(tip: tuple[float, float], axle: tuple[float, float]) -> None:
    with pytest.raises(OutOfReach, match="Measure"):
        Lever.of(PIVOT, tip, axle)


def test_a_level_rod_is_told_apart_from_one_in_line() -> None:
    with pytest.raises(OutOfReach, match="rod lies level"):
        Lever.of(PIVOT, (220.0, 545.0), (300.0, 545.0))
