"""Cardan joints against the motion of their cross, the printed extremes and a shaft maker's limits.

Sources: the cross of a Hooke joint stays square to itself, u1 . u2 = 0, solved here by scipy's brentq; the extremes
1/cos b and cos b (printed in Machinery's Handbook); residual angle of two joints, VDI 2722 / SAE AE-7;
the 3 deg rule, U.S. Army TM 5-4210-230-14&P-1.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from linkviz.driveline import joints

TABLE = [
    # b deg, greatest, least, variation, greatest lead deg
    (1, 1.00015, 0.99985, 0.00030, 0.0044),
    (2, 1.00061, 0.99939, 0.00122, 0.0175),
    (3, 1.00137, 0.99863, 0.00274, 0.0393),
    (4, 1.00244, 0.99756, 0.00488, 0.0699),
    (5, 1.00382, 0.99619, 0.00763, 0.1092),
    (6, 1.00551, 0.99452, 0.01099, 0.1574),
    (8, 1.00983, 0.99027, 0.01956, 0.2802),
    (10, 1.01543, 0.98481, 0.03062, 0.4386),
    (15, 1.03528, 0.96593, 0.06935, 0.9931),
    (20, 1.06418, 0.93969, 0.12449, 1.7817),
    (30, 1.15470, 0.86603, 0.28868, 4.1172),
    (45, 1.41421, 0.70711, 0.70711, 9.8793),
]


@pytest.mark.parametrize(("degrees", "most", "least", "variation", "lead"), TABLE)
def test_table(degrees: float, most: float, least: float, variation: float, lead: float) -> None:
    b = np.radians(degrees)
    assert joints.speed_ratio(b, 0.0) == pytest.approx(most, abs=6e-6)
    assert joints.speed_ratio(b, np.pi / 2) == pytest.approx(least, abs=6e-6)
    assert joints.speed_variation(b) == pytest.approx(variation, abs=6e-6)
    assert np.degrees(joints.lead(b)) == pytest.approx(lead, abs=6e-5)


def output(joint: float, turned: float) -> float:
    """Return how far the output has turned, from the cross alone: its two arms stay square to each other."""
    arm = np.array([np.cos(turned), np.sin(turned), 0.0])  # input shaft along z, the shafts' plane is x-z

    def square(angle: float) -> float:
        # the output's arm turns in the plane square to the output shaft, a quarter turn ahead
        across, along = np.array([0.0, 1.0, 0.0]), np.array([np.cos(joint), 0.0, -np.sin(joint)])
        other = -along * np.sin(angle) + across * np.cos(angle)
        return float(arm @ other)

    found: float = brentq(square, turned - 0.8, turned + 0.8, xtol=1e-14)
    return found


@pytest.mark.parametrize("degrees", [1.0, 5.0, 10.0, 30.0])
def test_ratio_and_lead_from_the_perpendicular_arms(degrees: float) -> None:
    b, step = np.radians(degrees), 1e-4
    for turned in np.linspace(0.1, 1.4, 6):
        rate = (output(b, turned + step) - output(b, turned - step)) / (2 * step)
        assert joints.speed_ratio(b, turned) == pytest.approx(rate, rel=1e-6)
    greatest = minimize_scalar(
        lambda t: -abs(output(b, t) - t), bounds=(0.1, 1.4), method="bounded", options={"xatol": 1e-10}
    )
    assert np.degrees(joints.lead(b)) == pytest.approx(-np.degrees(greatest.fun), abs=1e-5)


def test_two_joints_leave_what_one_of_the_residual_angle_does() -> None:
    five, four = np.radians([5.0, 4.0])
    left = np.cos(four) / np.cos(five)
    assert left == pytest.approx(1.001375, abs=1e-6)
    alone = np.arccos(1 / left)
    assert np.degrees(alone) == pytest.approx(3.0024, abs=1e-4)
    assert joints.residual_angle(five, four) == pytest.approx(alone, rel=1e-3)
    ten, nine = np.radians([10.0, 9.0])
    assert joints.residual_angle(ten, nine) == pytest.approx(np.arccos(np.cos(ten) / np.cos(nine)), rel=5e-3)


def test_smooth_is_a_variation_of_a_quarter_of_a_percent() -> None:
    """A shaft maker's limit of 0.0027 on what is left is a single joint of 2.98 deg: the rule of 3 deg."""
    found = brentq(lambda b: float(joints.speed_variation(b)) - 0.0027, 0.01, 0.2)
    assert np.degrees(found) == pytest.approx(2.98, abs=0.01)
    assert pytest.approx(found, rel=0.01) == joints.SMOOTH
