from __future__ import annotations

import numpy as np
import pytest

from linkviz.driveline import joints


def test_angle_between_is_the_arccos_of_unit_vectors() -> None:
    random = np.random.default_rng(1)
    a, b = random.normal(size=(2, 50, 3))
    dot = (a * b).sum(axis=1) / np.linalg.norm(a, axis=1) / np.linalg.norm(b, axis=1)
    assert joints.angle_between(a, b) == pytest.approx(np.arccos(dot))


def test_a_compound_angle_adds_in_three_dimensions() -> None:
    shaft = [-np.cos(0.06) * np.cos(0.08), np.sin(0.08) * np.cos(0.06), -np.sin(0.06)]
    assert joints.angle_between(shaft, joints.sloping(0.0)) == pytest.approx(np.hypot(0.06, 0.08), rel=2e-3)


def test_slope_points_to_the_rear_and_down() -> None:
    x, y, z = joints.sloping(np.radians(4.0))
    assert x < 0 and y == 0 and z < 0


def test_variation_is_the_span_of_the_ratio_over_a_turn() -> None:
    turn = np.linspace(0.0, 2 * np.pi, 100_001)
    for joint in np.radians([1.0, 5.0, 20.0]):
        ratio = joints.speed_ratio(joint, turn)
        assert joints.speed_variation(joint) == pytest.approx(np.ptp(ratio), rel=1e-6)
        assert ratio.mean() == pytest.approx(1.0, abs=1e-4)


def test_residual() -> None:
    three, four, five = np.radians([3.0, 4.0, 5.0])
    assert joints.residual_angle(five, four) == pytest.approx(three)
    assert joints.residual_angle(four, five) == pytest.approx(three)
    assert joints.residual_angle(three, four, crossed=True) == pytest.approx(five)
    assert joints.residual_angle(four, four) == 0.0
