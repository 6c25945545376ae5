"""The side-view linkage against a worked example of the planar four-bar.

Source: Norton, Design of Machinery, ch. 4, Freudenstein example: ground 100, crank 40, coupler 120, rocker 80, crank at
40 deg. The printed output angles 57.33 deg (open) and -98.01 deg (crossed), coupler 20.30 and -60.98 deg, are from
memory; they are recomputed here by Freudenstein's equation and by a numerical root (scipy.optimize.fsolve).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import fsolve

from linkviz.linkage import equations

GROUND, CRANK, COUPLER, ROCKER, INPUT = 100.0, 40.0, 120.0, 80.0, math.radians(40.0)
PRINTED = {"open": (57.33, 20.30), "crossed": (-98.01, -60.98)}


def ours(branch: float) -> tuple[float, float]:
    """Return (output, coupler) angles, deg, by the generated equations: the lower link is the crank."""
    # Frame pivots on a level line; the axle is the coupler, given in a design pose along x.
    numbers = (0.0, 0.0, CRANK, GROUND, 0.0, ROCKER, 0.0, 0.0, COUPLER, 0.0, 0.0, 0.0)
    _, _, sine, cosine, _ = equations.side_view(INPUT, branch, *numbers)
    coupler = -math.atan2(sine, cosine)  # pitch turns x towards -z
    x = CRANK * math.cos(INPUT) + COUPLER * math.cos(coupler) - GROUND
    z = CRANK * math.sin(INPUT) + COUPLER * math.sin(coupler)
    return math.degrees(math.atan2(z, x)), math.degrees(coupler)


def freudenstein(sign: float) -> float:
    """Return the output angle, deg, by Freudenstein's equation (Freudenstein 1955)."""
    k1, k2 = GROUND / CRANK, GROUND / ROCKER
    k3 = (CRANK**2 - COUPLER**2 + ROCKER**2 + GROUND**2) / (2 * CRANK * ROCKER)
    assert (k1, k2, k3) == (2.5, 1.25, 0.5625)
    a = math.cos(INPUT) - k1 - k2 * math.cos(INPUT) + k3
    b = -2 * math.sin(INPUT)
    c = k1 - (k2 + 1) * math.cos(INPUT) + k3
    return math.degrees(2 * math.atan((-b + sign * math.sqrt(b * b - 4 * a * c)) / (2 * a)))


@pytest.mark.parametrize(("closure", "sign", "guess"), [("open", -1.0, (0.4, 1.0)), ("crossed", 1.0, (-1.0, -1.7))])
def test_both_closures(closure: str, sign: float, guess: tuple[float, float]) -> None:
    def loop(v: np.ndarray) -> list[float]:
        return [
            CRANK * math.cos(INPUT) + COUPLER * math.cos(v[0]) - ROCKER * math.cos(v[1]) - GROUND,
            CRANK * math.sin(INPUT) + COUPLER * math.sin(v[0]) - ROCKER * math.sin(v[1]),
        ]

    found = np.degrees(fsolve(loop, guess, xtol=1e-13))
    answers = [ours(branch) for branch in (-1.0, 1.0)]
    output, coupler = min(answers, key=lambda v: abs(v[0] - PRINTED[closure][0]))
    assert output == pytest.approx(PRINTED[closure][0], abs=0.02)
    assert coupler == pytest.approx(PRINTED[closure][1], abs=0.01)
    assert output == pytest.approx(freudenstein(sign), abs=1e-9)
    assert (coupler, output) == pytest.approx(tuple(found), abs=1e-8)


def test_velocity_ratio() -> None:
    """Norton ch. 6: coupler speed over crank speed, open: -0.164837 (recomputed from the loop's derivative)."""
    output, coupler = (math.radians(v) for v in (57.325, 20.298))
    formula = CRANK * math.sin(output - INPUT) / (COUPLER * math.sin(coupler - output))
    numbers = (0.0, 0.0, CRANK, GROUND, 0.0, ROCKER, 0.0, 0.0, COUPLER, 0.0, 0.0, 0.0)
    step = 1e-6
    pitch = []
    for alpha in (INPUT - step, INPUT + step):
        answers = [equations.side_view(alpha, branch, *numbers) for branch in (-1.0, 1.0)]
        angles = [-math.atan2(a[2], a[3]) for a in answers]
        pitch.append(min(angles, key=lambda v: abs(v - coupler)))
    assert (pitch[1] - pitch[0]) / (2 * step) == pytest.approx(formula, abs=2e-5)
    assert formula == pytest.approx(-0.164837, abs=2e-5)
