from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from linkviz.bracket.loads import bar_force, loads
from linkviz.conventions import GRAVITY


@given(
    force=st.floats(-60e3, 60e3),
    angle=st.floats(-0.7, 0.7),
    drop=st.floats(40.0, 250.0),
    anchor=st.floats(20.0, 120.0),
    shift=st.floats(-60.0, 60.0),
)
def test_the_bracket_is_in_equilibrium(force: float, angle: float, drop: float, anchor: float, shift: float) -> None:
    load = loads(force, angle, drop, anchor, shift)
    places = np.array([(shift, -drop), (0.0, 0.0), (0.0, -anchor)])
    forces = np.array([load.bar, load.original, load.anchor_bolt])
    assert forces.sum(axis=0) == pytest.approx([0.0, 0.0], abs=1e-6)
    for about in ((0.0, 0.0), (shift, -drop), (13.0, -77.0)):
        arm = places - np.array(about)
        moment = arm[:, 0] * forces[:, 1] - arm[:, 1] * forces[:, 0]
        assert moment.sum() == pytest.approx(0.0, abs=1e-3)


def test_the_forces_of_a_straight_bracket() -> None:
    """R_a = N_y d / s_a; R_0 = N_y (d - s_a) / s_a, opposite; N_z on the original bolt alone."""
    load = loads(20e3, math.radians(10.0), drop=100.0, anchor=45.0)
    side, upright = 20e3 * math.cos(math.radians(10.0)), 20e3 * math.sin(math.radians(10.0))
    assert load.anchor_force == pytest.approx(side * 100 / 45)
    assert abs(load.original[0]) == pytest.approx(side * 55 / 45)
    assert load.original[0] * load.anchor_bolt[0] < 0
    assert load.original[1] == pytest.approx(upright)
    assert load.moment == pytest.approx(side * 55)
    assert load.anchor_force > 2 * load.force  # a 100 mm drop on a 45 mm anchor: more than twice the bar's force


def test_the_force_of_the_bar() -> None:
    assert bar_force(1.0, 900.0, 0.0) == pytest.approx(900 * GRAVITY)
    assert bar_force(2.0, 900.0, math.radians(60.0)) == pytest.approx(4 * 900 * GRAVITY)


def test_without_an_anchor_distance_there_is_no_bracket() -> None:
    with pytest.raises(ValueError, match="above 0"):
        loads(1.0, 0.0, 100.0, 0.0)


def test_the_bar_pulls_the_bracket_towards_the_axle() -> None:
    """In tension, its frame end above its axle end: inboard, where that is, and down; pushing: the other way."""
    pull = loads(20e3, 0.3, 100.0, 45.0)
    assert pull.bar == pytest.approx((-20e3 * math.cos(0.3), -20e3 * math.sin(0.3)))
    assert pull.anchor_bolt[0] > 0 > pull.original[0]
    push = loads(-20e3, 0.3, 100.0, 45.0)
    assert push.bar == pytest.approx((20e3 * math.cos(0.3), 20e3 * math.sin(0.3)))
