"""Coil springs and ride against printed examples and rules.

Sources: Budynas and Nisbett, Shigley's Mechanical Engineering Design, Example 10-1 and ch. 10 (from memory, recomputed
here in inches from the torsion of a straight bar); Wahl's and Bergstrasser's factors (from memory, recomputed);
Gillespie, Fundamentals of Vehicle Dynamics, ch. 5 (rule of 3.13, from memory, recomputed); Milliken, Race Car Vehicle
Dynamics, ch. 16 (wheel rate); NHTSA, rollover resistance: static stability factor T / 2h.
"""

from __future__ import annotations

import math

import pytest

from linkviz.conventions import MM_PER_INCH
from linkviz.stance import coil, ride

N_PER_LBF = 4.4482216152605
MPA_PER_PSI = N_PER_LBF / MM_PER_INCH**2


def test_shigley_example_10_1() -> None:
    """Music wire 0.037 in, outside 7/16 in, 12.5 turns, squared (10.5 active), Ssy = 0.45 * 201 / d^0.145 ksi."""
    wire, outside = 0.037, 7.0 / 16.0
    mean = outside - wire
    k = coil.rate(wire * MM_PER_INCH, mean * MM_PER_INCH, 10.5, 11.85e6 * MPA_PER_PSI)
    per_inch = k * MM_PER_INCH / N_PER_LBF
    assert per_inch == pytest.approx(4.13, rel=0.005)
    assert per_inch == pytest.approx(4.116, abs=0.001)
    # by way of the bar: twist of a straight bar of length pi D N, times half the coil
    polar = math.pi * wire**4 / 32.0
    bar = 11.85e6 * polar / (math.pi * mean * 10.5) / (mean / 2.0) ** 2
    assert per_inch == pytest.approx(bar, rel=1e-9)

    yield_ksi = 0.45 * 201.0 / wire**0.145
    assert yield_ksi == pytest.approx(145.9, abs=0.1)
    factor = coil.bergstrasser(coil.index(wire, mean))
    assert factor == pytest.approx(1.124, abs=0.001)
    load = math.pi * wire**3 * yield_ksi * 1000.0 / (8.0 * factor * mean)
    assert load == pytest.approx(6.46, abs=0.02)
    assert load / per_inch == pytest.approx(1.566, abs=0.002)
    # (total turns + 1) wires for squared ends that are not ground: 0.4995 in
    solid = coil.solid_length(wire, 13.5)
    assert solid == pytest.approx(0.4995, abs=1e-4)
    assert coil.free_length(solid, load, per_inch) == pytest.approx(2.066, abs=0.002)


@pytest.mark.parametrize(
    ("c", "wahl", "bergstrasser"),
    [
        (4, 1.4038, 1.3846),
        (5, 1.3105, 1.2941),
        (6, 1.2525, 1.2381),
        (8, 1.1840, 1.1724),
        (10, 1.1448, 1.1351),
        (12, 1.1194, 1.1111),
    ],
)
def test_curvature_factors(c: int, wahl: float, bergstrasser: float) -> None:
    assert coil.wahl(c) == pytest.approx(wahl, abs=6e-5)
    assert coil.bergstrasser(c) == pytest.approx(bergstrasser, abs=6e-5)


def test_stress_by_wahl() -> None:
    """A coil of index 5 at 1000 N: 1.3105 * 8 * 1000 * 50 / (pi * 1000) = 166.86 MPa."""
    assert coil.shear_stress(1000.0, 10.0, 50.0) == pytest.approx(166.86, abs=0.01)


def test_a_coil_the_size_of_a_vehicle() -> None:
    assert coil.rate(14.0, 120.0, 6.0) == pytest.approx(36.728, abs=0.001)


def test_wheel_rate() -> None:
    assert ride.wheel_rate(50.0, 0.8) == pytest.approx(32.0)


@pytest.mark.parametrize(("inches", "hertz"), [(1.0, 3.127), (5.0, 1.399), (10.0, 0.989)])
def test_ride_frequency_is_the_rule_of_static_deflection(inches: float, hertz: float) -> None:
    load = 3600.0
    found = ride.ride_frequency(load / (inches * MM_PER_INCH), load)
    assert found == pytest.approx(hertz, abs=0.001)
    assert found == pytest.approx(3.13 / math.sqrt(inches), rel=0.0015)


@pytest.mark.parametrize(("deflection", "hertz"), [(100.0, 1.576), (150.0, 1.287), (200.0, 1.1145), (250.0, 0.9968)])
def test_ride_frequency_in_millimetres(deflection: float, hertz: float) -> None:
    assert ride.ride_frequency(3600.0 / deflection, 3600.0) == pytest.approx(hertz, abs=6e-4)


def test_static_stability_factor() -> None:
    """Half the track over the height of the centre of gravity: 1.55 m on 0.75 m and 0.80 m."""
    assert ride.static_stability(1550.0, 750.0) == pytest.approx(1.0333, abs=1e-4)
    assert ride.static_stability(1550.0, 800.0) == pytest.approx(0.96875)
