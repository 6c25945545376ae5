"""Our own Monte Carlo against the worked examples of the metrology guides, and against what is known exactly.

Sources: JCGM 100:2008 (GUM), H.1; JCGM 101:2008 (Supplement 1), 9.2 to 9.5. The published Monte Carlo values carry the
sampling error of their own trials, as ours do; tolerances are that and the rounding of the last digit.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from linkviz.analysis.doubt.propagate import Input, Kind, draws, propagate, shares, shortest, summary

TRIALS = 400_000
ROOT3 = math.sqrt(3.0)


def total(rows: np.ndarray) -> np.ndarray:
    """Return the sum of the inputs."""
    return rows.sum(axis=1)


def four(kind: Kind, *spreads: float) -> list[Input]:
    return [Input(f"x{i}", 0.0, spread, kind) for i, spread in enumerate(spreads)]


def test_sum_of_four_normal_inputs() -> None:
    """JCGM 101, 9.2.2: u = 2.00, 95 % within +-3.92."""
    found = summary(propagate(total, four("normal", 1.0, 1.0, 1.0, 1.0), TRIALS, 1))
    assert found.mean == pytest.approx(0.0, abs=0.015)
    assert found.u == pytest.approx(2.00, abs=0.01)
    assert (found.low, found.high) == pytest.approx((-3.92, 3.92), abs=0.03)


def test_sum_of_four_rectangular_inputs() -> None:
    """JCGM 101, 9.2.3: the same spread, u = 2.00, but the interval is shorter, +-3.88: no normal distribution."""
    found = summary(propagate(total, four("rectangular", ROOT3, ROOT3, ROOT3, ROOT3), TRIALS, 2))
    assert found.u == pytest.approx(2.00, abs=0.01)
    assert (found.low, found.high) == pytest.approx((-3.88, 3.88), abs=0.025)


def test_one_rectangular_input_outweighs_the_others() -> None:
    """JCGM 101, 9.2.4: u = 10.1 and +-17.0, where the linear method would say +-19.9."""
    found = summary(propagate(total, four("rectangular", ROOT3, ROOT3, ROOT3, 10 * ROOT3), TRIALS, 3))
    assert found.u == pytest.approx(10.1, abs=0.08)
    assert (found.low, found.high) == pytest.approx((-17.0, 17.0), abs=0.07)


def test_mass_calibration() -> None:
    """JCGM 101, 9.3: 1.234 mg, u = 0.075 mg, shortest 95 % interval 1.083 to 1.383 mg (first order: u = 0.054 mg)."""
    inputs = [
        Input("conventional mass of the reference, mg", 100_000.0, 0.050, "normal"),
        Input("added small mass, mg", 1.234, 0.020, "normal"),
        Input("density of air, kg/m3", 1.20, 0.10),
        Input("density of the weight, kg/m3", 8000.0, 1000.0),
        Input("density of the reference, kg/m3", 8000.0, 50.0),
    ]

    def off_nominal(rows: np.ndarray) -> np.ndarray:
        reference, added, air, weight, standard = rows.T
        return (reference + added) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000.0

    values = propagate(off_nominal, inputs, TRIALS, 4)
    found = summary(values)
    assert found.mean == pytest.approx(1.2341, abs=0.0006)
    assert found.u == pytest.approx(0.0754, abs=0.0004)
    assert shortest(values) == pytest.approx((1.0834, 1.3825), abs=0.004)


@pytest.mark.parametrize(
    ("at", "mean", "u", "interval"),
    [(0.000, 50e-6, 50e-6, (0.0, 150e-6)), (0.010, 150e-6, 112e-6, (0.0, 367e-6)), (0.050, 2551e-6, 502e-6, None)],
)
def test_square_of_two_normal_inputs(at: float, mean: float, u: float, interval: tuple[float, float] | None) -> None:
    """JCGM 101, 9.4 (microwave comparison loss): where the function bends the linear method says u = 0 at 0."""
    inputs = [Input("x1", at, 0.005, "normal"), Input("x2", 0.0, 0.005, "normal")]
    values = propagate(lambda rows: (rows**2).sum(axis=1), inputs, TRIALS, 5)
    assert (summary(values).mean, summary(values).u) == pytest.approx((mean, u), abs=2e-6)
    if interval is not None:
        assert shortest(values) == pytest.approx(interval, abs=3e-6)


NOMINAL = 50_000_000.0
"""nm"""


def gauge(rows: np.ndarray) -> np.ndarray:
    """Return the length over 50 mm of H.1: inputs ls, d, d1, d2, alpha_s, theta, Delta, delta alpha, delta theta."""
    ls, d, d1, d2, alpha, mean, swing, apart, warmer = rows.T
    return ls + d + d1 + d2 - ls * (apart * (mean + swing) + alpha * warmer) - NOMINAL


def test_end_gauge_of_the_gum() -> None:
    """JCGM 100, H.1: 838 nm and u_c = 32 nm from the first order; every input given its standard uncertainty there.

    u(theta) = 0.41 is made of its mean, 0.2, and its swing, 0.35; the rest as printed. With the terms of second order
    (H.1.7) u_c is 34 nm.
    """
    inputs = [
        Input("ls", NOMINAL + 623.0, 25.0, "normal"),
        Input("d", 215.0, 9.7, "normal"),
        Input("d1", 0.0, 0.0, "normal"),
        Input("d2", 0.0, 0.0, "normal"),
        Input("alpha_s", 11.5e-6, 1.2e-6, "normal"),
        Input("theta mean", -0.1, 0.2, "normal"),
        Input("theta swing", 0.0, 0.35, "normal"),
        Input("delta alpha", 0.0, 0.58e-6, "normal"),
        Input("delta theta", 0.0, 0.029, "normal"),
    ]
    found = summary(propagate(gauge, inputs, TRIALS, 6))
    assert found.mean == pytest.approx(838.0, abs=0.5)
    assert found.u == pytest.approx(34.0, abs=0.5)
    # the two products of the second order are the whole difference: without them it is 32 nm
    straight = math.sqrt(found.u**2 - 11.7**2 - 1.7**2)
    assert straight == pytest.approx(31.7, abs=0.3)


def test_end_gauge_of_the_supplement() -> None:
    """JCGM 101, 9.5: the same gauge with its real distributions: 838 nm, u = 36 nm, 99 % within 745 to 932 nm."""
    inputs = [
        Input("ls", NOMINAL + 623.0, 25.0, "t", 18.0),
        Input("d", 215.0, 6.0, "t", 24.0),
        Input("d1", 0.0, 4.0, "t", 5.0),
        Input("d2", 0.0, 7.0, "t", 8.0),
        Input("alpha_s", 11.5e-6, 2.0e-6),
        Input("theta mean", -0.1, 0.2, "normal"),
        Input("theta swing", 0.0, 0.5, "arcsine"),
        Input("delta alpha", 0.0, 1.0e-6, "inexact", 0.1e-6),
        Input("delta theta", 0.0, 0.050, "inexact", 0.025),
    ]
    values = propagate(gauge, inputs, TRIALS, 7)
    found = summary(values, 0.99)
    assert found.mean == pytest.approx(838.0, abs=0.5)
    assert found.u == pytest.approx(36.0, abs=0.5)
    assert shortest(values, 0.99) == pytest.approx((745.0, 932.0), abs=2.0)


@pytest.mark.parametrize(
    ("kind", "more", "u"),
    [
        ("rectangular", 0.0, 3.0 / ROOT3),
        ("normal", 0.0, 3.0),
        ("arcsine", 0.0, 3.0 / math.sqrt(2.0)),
        ("t", 10.0, 3.0 * math.sqrt(10.0 / 8.0)),
        ("inexact", 0.6, math.sqrt(3.0**2 / 3.0 + 0.6**2 / 9.0)),
    ],
)
def test_standard_uncertainties_of_the_distributions(kind: Kind, more: float, u: float) -> None:
    """JCGM 101, 6.4, table 1 and (5): the standard deviation of each distribution."""
    found = summary(propagate(lambda rows: rows[:, 0], [Input("x", 7.0, 3.0, kind, more)], TRIALS, 8))
    assert found.mean == pytest.approx(7.0, abs=0.03)
    assert found.u == pytest.approx(u, rel=0.006)


def test_linear_function_is_the_law_of_propagation() -> None:
    """JCGM 100, 5.1.2: u_c^2 is the sum of (c_i u_i)^2, and each input's share is its term of it."""
    factors, halves = np.array([2.0, -0.5, 0.0, 7.0]), np.array([1.0, 3.0, 5.0, 0.2])
    inputs = [Input(str(i), 0.0, float(half)) for i, half in enumerate(halves)]
    rows = draws(inputs, TRIALS, 9)
    values = rows @ factors
    terms = (factors * halves) ** 2 / 3.0
    assert summary(values).u == pytest.approx(math.sqrt(terms.sum()), rel=0.005)
    share, explained = shares(rows, values)
    assert share == pytest.approx(terms / terms.sum(), abs=0.005)
    assert explained == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("function", [total, lambda rows: np.exp(rows.sum(axis=1) / 3.0)], ids=["straight", "bent"])
def test_intervals_cover_what_they_say(function: Callable[[np.ndarray], np.ndarray]) -> None:
    """Of new draws, 95 % fall inside an interval found from others, also with few trials (JCGM 101, 7.7)."""
    inputs = four("rectangular", 1.0, 2.0, 0.5, 1.5)
    fresh = propagate(function, inputs, 100_000, 77)
    for trials, tolerance in ((200, 0.03), (2000, 0.012), (100_000, 0.003)):
        inside = []
        for seed in range(8):
            found = summary(propagate(function, inputs, trials, seed))
            inside.append(float(((fresh >= found.low) & (fresh <= found.high)).mean()))
        assert np.mean(inside) == pytest.approx(0.95, abs=tolerance)
