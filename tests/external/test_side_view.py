"""The trailing links against an independent root of the planar loop, and the side-view instant centre.

Geometry invented; the poses are found here with scipy.optimize.fsolve on the two length equations. The instant centre
is the crossing of the link lines (any kinematics text; Gillespie, Fundamentals of Vehicle Dynamics, ch. 7), and the
motion rates of the axle must put it at the same place.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import fsolve

from linkviz.linkage.closed_form import closed_form
from linkviz.linkage.layout import Layout

AXLE = [(-20.0, 450.0, -80.0), (-20.0, -450.0, -80.0), (30.0, 350.0, 140.0), (30.0, -350.0, 140.0)]
FRAME = [(560.0, 450.0, -10.0), (560.0, -450.0, -10.0), (430.0, 350.0, 120.0), (430.0, -350.0, 120.0)]
BAR = ((-150.0, -480.0, 60.0), (-150.0, 470.0, 130.0))


def layout() -> Layout:
    """Return the layout with its links parallel to the centre plane."""
    return Layout.from_points(np.zeros(3), np.array([*FRAME, BAR[1]]), np.array([*AXLE, BAR[0]]), np.full(5, 5000.0))


@pytest.mark.parametrize("heave", [-100.0, -50.0, -25.0, 25.0, 50.0, 100.0])
def test_planar_loop(heave: float) -> None:
    def lengths(v: np.ndarray) -> list[float]:
        found = []
        for axle, frame in ((AXLE[0], FRAME[0]), (AXLE[2], FRAME[2])):
            c, s = np.cos(v[1] / 300.0), np.sin(v[1] / 300.0)  # mm at 300 mm, so that both unknowns weigh alike
            x, z = v[0] + c * axle[0] + s * axle[2] - frame[0], heave - s * axle[0] + c * axle[2] - frame[2]
            found.append(np.hypot(x, z) - np.hypot(axle[0] - frame[0], axle[2] - frame[2]))
        return found

    x, turn = fsolve(lengths, (0.0, 0.0), xtol=1e-11)
    pitch = turn / 300.0
    form = closed_form(layout(), np.array([heave]), np.zeros(1))
    assert form.x[0] == pytest.approx(x, abs=1e-8)
    assert form.pitch[0] == pytest.approx(pitch, abs=1e-11)


def test_instant_centre_from_motion_rates() -> None:
    """Lines (-20, -80)->(560, -10) and (30, 140)->(430, 120) cross at x 1283.535, z 77.323 (redone here)."""
    a, b, c, d = (np.array(v) for v in ((-20.0, -80.0), (560.0, -10.0), (30.0, 140.0), (430.0, 120.0)))
    share = np.linalg.solve(np.stack([b - a, c - d], axis=1), c - a)
    crossing = a + share[0] * (b - a)
    assert crossing == pytest.approx([1283.535, 77.323], abs=1e-3)
    step = 1e-3
    form = closed_form(layout(), np.array([-step, step]), np.zeros(2))
    dx, dpitch = (np.diff(v)[0] / (2 * step) for v in (form.x, form.pitch))
    # The point that stands still: (dx, dz) + dpitch * (z, -x) = 0 with dz = 1.
    assert (1.0 / dpitch, -dx / dpitch) == pytest.approx(tuple(crossing), abs=2e-3)
