"""Balance of brakes and the load-sensing valve against printed forms, the rules and scipy.

Sources: Limpert, Brake Design and Safety, ch. 2, 5 and 7 (parabola of ideal distribution, gains of disc and drum, the
load-dependent valve; from memory, recomputed); Gillespie, Fundamentals of Vehicle Dynamics, ch. 3 (dynamic loads);
Council Directive 71/320/EEC, Annex II, appendix, 3.1.1; UN R13-H, Annex 5 (efficiency line, constants from memory).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from linkviz.brakes import rules
from linkviz.brakes.balance import Brake, Standing, System, disc_gain, drum_gain
from linkviz.brakes.linkage import Lever, rise_for, turned
from linkviz.brakes.valve import Valve, rear_pressure

STANDING = Standing(weight=1.0, wheelbase=2.8, to_front=0.45 * 2.8, height=0.75)
IDEAL = [
    # z, front, rear, adhesion of a fixed 70/30 distribution at the front and the rear
    (0.2, 0.12071, 0.07929, 0.2320, 0.1514),
    (0.4, 0.26286, 0.13714, 0.4261, 0.3500),
    (0.5, 0.34196, 0.15804, 0.5117, 0.4746),
    (0.6, 0.42643, 0.17357, 0.5910, 0.6222),
    (0.8, 0.61143, 0.18857, 0.7327, 1.0182),
    (1.0, 0.81786, 0.18214, 0.8559, 1.6471),
]


@pytest.mark.parametrize(("z", "front", "rear", "used_front", "used_rear"), IDEAL)
def test_ideal_distribution(z: float, front: float, rear: float, used_front: float, used_rear: float) -> None:
    """Rear share at rest 0.45, height 0.75 on a wheelbase of 2.8."""
    ahead, behind = STANDING.ideal(z)
    assert (ahead, behind) == (pytest.approx(front, abs=1e-5), pytest.approx(rear, abs=1e-5))
    assert STANDING.ideal_rear(ahead) == pytest.approx(float(behind), abs=1e-12)
    fixed = System(Brake(0.7), Brake(0.3), knee=100.0, slope=0.0, standing=STANDING, greatest=2.0)
    got = fixed.adhesion(z)
    assert got[0] == pytest.approx(used_front, abs=1e-4)
    assert got[1] == pytest.approx(used_rear, abs=1e-4)


@pytest.mark.parametrize(("height", "z"), [(0.75, 0.5600), (0.825, 0.5091)])
def test_where_a_fixed_distribution_uses_the_same_adhesion(height: float, z: float) -> None:
    """At z = (B - (1 - psi)) / chi; a body 75 mm higher locks its rear earlier."""
    standing = Standing(1.0, 2.8, 0.45 * 2.8, height)
    fixed = System(Brake(0.7), Brake(0.3), knee=100.0, slope=0.0, standing=standing, greatest=2.0)

    def difference(at: float) -> float:
        front, rear = fixed.adhesion(at)
        return float(front - rear)

    found: float = brentq(difference, 0.1, 0.9)
    assert found == pytest.approx(z, abs=1e-4)
    assert fixed.first_lock(found - 0.05).axle == "front"
    assert fixed.first_lock(found + 0.05).axle == "rear"


def test_directive_front_above_rear() -> None:
    """71/320/EEC 3.1.1: M1 from 0.15 to 0.8, with the rear up to z + 0.05 from 0.3 to 0.45; N1 from 0.15 to 0.5."""
    assert rules.front_first(0.4, 0.42, 0.45)
    assert not rules.front_first(0.4, 0.42, 0.4501)
    assert not rules.front_first(0.46, 0.45, 0.47)
    assert not rules.front_first(0.7, 0.6, 0.8)
    assert rules.front_first(0.7, 0.6, 0.8, "N1")
    assert not rules.front_first(0.4, 0.42, 0.45, "N1")


def test_directive_band_of_vans() -> None:
    """A k of 0.58 at z = 0.5 passes both lines; k = 0.8 needs z = 0.61."""
    assert rules.van_band(0.5, 0.5, 0.58)
    assert rules.van_band(0.4999, 0.5, 0.5799)
    assert not rules.van_band(0.49, 0.5, 0.58)
    assert rules.van_band(0.61, 0.6, 0.80)
    assert not rules.van_band(0.60, 0.6, 0.80)
    assert rules.van_band(0.2, 0.28, 0.12)
    assert not rules.van_band(0.2, 0.281, 0.12)


@pytest.mark.parametrize(("k", "old", "new"), [(0.5, 0.355, 0.31), (0.8, 0.61, 0.52)])
def test_efficiency_lines(k: float, old: float, new: float) -> None:
    for slope, z in ((rules.DIRECTIVE, old), (rules.REGULATION, new)):
        assert rules.efficient(z, k, slope)
        assert not rules.efficient(z - 1e-6, k, slope)


def test_the_old_line_meets_the_rule_of_vans() -> None:
    """Both say z = 0.61 at k = 0.8: a check on the constant 0.85, which was printed as a picture."""
    line = 0.1 + rules.DIRECTIVE * (0.8 - 0.2)
    assert line == pytest.approx(0.5 * 0.8 + 0.21)


def test_limperts_form_of_the_valve() -> None:
    assert rear_pressure(8.0, 3.0, 0.35) == pytest.approx(4.75)
    assert rear_pressure(8.0, 1.5, 0.35) == pytest.approx(3.775)
    assert rear_pressure(2.0, 3.0, 0.35) == pytest.approx(2.0)


def test_disc_and_drum() -> None:
    """Per wheel: disc 2 mu p A r / R = 2780.1 N at 5 MPa; drum p A C* r / R = 814.4 N at 3 MPa."""
    disc = disc_gain(0.38, 54.0, 1.0, 115.0, 360.0)
    assert 5.0 * disc / 2.0 == pytest.approx(2.0 * 0.38 * 5.0 * math.pi * 27.0**2 * 115.0 / 360.0)
    assert 5.0 * disc / 2.0 == pytest.approx(2780.1, abs=0.1)
    assert 3.0 * drum_gain(2.3, 20.64, 1.0, 127.0, 360.0) / 2.0 == pytest.approx(814.4, abs=0.1)


LEVERS = [
    ((220.0, 560.0), (90.0, 545.0), (70.0, 410.0)),
    ((-150.0, 600.0), (-20.0, 640.0), (-5.0, 470.0)),
    ((100.0, 500.0), (230.0, 470.0), (200.0, 620.0)),
]


@pytest.mark.parametrize("places", LEVERS)
def test_lever_against_a_root(places: tuple[tuple[float, float], ...]) -> None:
    """The arm's angle that leaves the rod its length, found by scipy from the one before, step by step."""
    pivot, tip, axle = places
    lever = Lever.of(pivot, tip, axle)
    for way in (-1.0, 1.0):
        before = lever.angle
        for step in np.arange(1.0, 80.0):
            x, z = axle[0] + 0.1 * step, axle[1] + way * step

            def off(angle: float, x: float = x, z: float = z) -> float:
                return math.hypot(pivot[0] + lever.arm * math.cos(angle) - x,
                                  pivot[1] + lever.arm * math.sin(angle) - z) - lever.rod  # fmt: skip

            found = turned(lever, x, z)
            if not found.reached[0]:
                break
            try:
                before = brentq(off, before - 0.03, before + 0.03, xtol=1e-14)
            except ValueError:
                break  # near the end of its reach the arm turns faster than the bracket of the search
            assert found.angle[0] == pytest.approx(before, abs=1e-9)
        assert step > 30.0


@pytest.mark.parametrize("lift", [25.0, 76.2, 120.0])
def test_rise_is_the_lift_for_a_vertical_rod(lift: float) -> None:
    """Common practice, no published source: raise the pick-up by as much as the vehicle was lifted."""
    lever = Lever.of((220.0, 560.0), (90.0, 560.0), (90.0, 400.0))
    assert rise_for(lever, (90.0, 400.0 - lift, 0.0), (0.0, 1.0, 0.0)) == pytest.approx(lift, abs=1e-9)


@pytest.mark.parametrize("ahead", [0.0, 10.0, 25.0])
def test_exact_rise_where_the_rod_leans_and_the_axle_swings(ahead: float) -> None:
    """With the axle point forward by s the rod stands sqrt(r^2 - (w + s)^2) tall; it stood sqrt(r^2 - w^2)."""
    lean, up = 40.0, 150.0
    lever = Lever.of((220.0, 560.0), (90.0, 400.0 + up), (90.0 + lean, 400.0))
    rise = rise_for(lever, (90.0 + lean + ahead, 300.0, 0.0), (0.0, 1.0, 0.0))
    rod = math.hypot(lean, up)
    exact = 100.0 + up - math.sqrt(rod**2 - (lean + ahead) ** 2)
    assert rise == pytest.approx(exact, abs=1e-9)

    def left(at: float) -> float:
        return float(turned(lever, 90.0 + lean + ahead, 300.0 + at).turn[0])

    assert rise == pytest.approx(brentq(left, 60.0, 130.0, xtol=1e-12), abs=1e-7)


def test_signs() -> None:
    """A body raised alone lowers the knee; a bracket on the axle restores it; too much of it locks the rear first."""
    lever = Lever.of((220.0, 560.0), (90.0, 560.0), (90.0, 400.0))
    valve = Valve(knee=3.0, per_rad=8.0, least=1.0, most=9.0, slope=0.3)
    standing = Standing(19000.0, 2720.0, 1250.0, 690.0)

    def at(height: float) -> System:
        knee = float(valve.knee_at(turned(lever, 90.0, height).turn[0]))
        return System(Brake(1150.0, 0.1), Brake(800.0, 0.3), knee, valve.slope, standing)

    built, lifted, raised, overdone = at(400.0), at(325.0), at(325.0 + 75.0), at(325.0 + 150.0)
    assert lifted.knee < built.knee
    assert raised.knee == pytest.approx(built.knee)
    assert overdone.knee > built.knee
    assert lifted.share(0.5) < built.share(0.5) < overdone.share(0.5)
    assert built.first_lock(0.8).axle == "front"
    assert overdone.first_lock(0.8).axle == "rear"
