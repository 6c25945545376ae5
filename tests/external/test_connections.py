"""Bolt groups, holes, plates and welds against published examples."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from scipy import integrate, optimize

from linkviz.bracket.groups import WeldGroup, ring
from linkviz.bracket.hole_checks import NET, bearing_allowable, block_shear, tear_out_allowable
from linkviz.bracket.loads import loads
from linkviz.bracket.materials import ELASTIC_MODULUS, MPA_PER_KSI, STEELS
from linkviz.bracket.parts import DropBracket
from linkviz.bracket.plate_checks import bar_moment, compression, net_modulus, tube
from linkviz.bracket.weld_checks import fillet_allowable, least_leg
from tests.external.bolt_group import bolt_group

INCH = 25.4
KIP = 4448.2216152605
A36 = STEELS["A36"]


def test_shigley_example_8_7() -> None:
    """Four M16 at (+-75, +-60) mm, 16 kN at 425 mm: 21.0 and 14.8 kN (answer from memory; both from its own sums)."""
    places = np.array([(-75.0, 60.0), (75.0, 60.0), (75.0, -60.0), (-75.0, -60.0)])
    found = np.hypot(*bolt_group(places, (0.0, -16e3), (425.0, 0.0)).T) / 1e3
    assert sorted(found) == pytest.approx([14.79, 14.79, 20.97, 20.97], abs=0.01)
    # again: 4 kN each, and 6800 N m over four bolts 96.05 mm off
    turn, slope = 6800.0 / (4 * 0.09605) / 1e3, math.atan2(60, 75)
    assert max(found) == pytest.approx(math.hypot(turn * math.sin(slope), 4 + turn * math.cos(slope)), abs=0.01)


def test_sharing_the_load_equally_is_wrong() -> None:
    """A public copy of that example shares the load equally: the moment is forgotten."""
    places = np.array([(-75.0, 60.0), (75.0, 60.0), (75.0, -60.0), (-75.0, -60.0)])
    found = np.hypot(*bolt_group(places, (0.0, -16e3), (425.0, 0.0)).T) / 1e3
    assert min(found) > 3.0 * 16.0 / 4.0


def test_three_bolts_in_a_line() -> None:
    """Indian GATE exam item: three M12, pitch 30 mm, 9 kN at 250 mm: 37.62 kN, 332.6 MPa on the full area."""
    found = np.hypot(*bolt_group([(0, -30), (0, 0), (0, 30)], (0.0, -9e3), (250.0, 0.0)).T)
    assert found.max() / 1e3 == pytest.approx(37.62, abs=0.01)
    assert found.max() / (math.pi / 4 * 12**2) == pytest.approx(332.6, abs=0.2)


def test_two_bolts_of_the_bracket_are_such_a_group() -> None:
    """The bracket's own statics against the elastic group: the same without upright force, which the group shares."""
    load = loads(-10e3, 0.0, drop=110.0, anchor=45.0)
    shared = bolt_group([(0.0, 0.0), (0.0, -45.0)], load.bar, (0.0, -110.0))
    assert -shared[0] == pytest.approx(load.original)
    assert -shared[1] == pytest.approx(load.anchor_bolt)


def test_bearing_and_tear_out() -> None:
    """1/2 in bolt, 9/16 in hole, 3/4 in to the edge, 1/4 in A36: 8.156 kip tear-out, 17.40 bearing; ASD 4.078."""
    clear = (0.75 - 9 / 32) * INCH
    tear = tear_out_allowable(clear, 0.25 * INCH, A36.strength) / KIP
    bear = bearing_allowable(0.5 * INCH, 0.25 * INCH, A36.strength) / KIP
    assert 2 * tear == pytest.approx(8.156, rel=1e-3)
    assert 2 * bear == pytest.approx(17.40, rel=1e-3)
    assert min(tear, bear) == pytest.approx(4.078, rel=1e-3)
    assert tear_out_allowable(-1.0, 6.0, 400.0) == 0.0


def test_block_shear() -> None:
    """1/4 in A36, one 1/2 in bolt, end 1 in, side 3/4 in: rupture 12.325, yield cap 11.744 kip (AISC 360 J4.3)."""
    assert pytest.approx(INCH / 16) == NET
    gross, net = 0.25 * 1.0, 0.25 * (1.0 - 0.3125)
    tension = 0.25 * (0.75 - 0.3125)
    mm2 = INCH**2
    found = block_shear(gross * mm2, net * mm2, tension * mm2, A36.yields, A36.strength) / KIP
    assert found == pytest.approx(11.744, rel=1e-3)
    never_yields = block_shear(gross * mm2, net * mm2, tension * mm2, 10 * A36.yields, A36.strength) / KIP
    assert never_yields == pytest.approx(12.325, rel=1e-3)


def test_fillets() -> None:
    """E70: 0.928 kip/in ASD for each 1/16 in; 3/16 in nominal 5.57 kip/in (AISC Design Examples, J.1)."""
    assert fillet_allowable(INCH / 16) * INCH / KIP == pytest.approx(0.928, abs=5e-4)
    assert 2 * fillet_allowable(3 * INCH / 16) * INCH / KIP == pytest.approx(5.57, abs=5e-3)


@pytest.mark.parametrize(("thick", "leg"), [(0.25, 1 / 8), (0.26, 3 / 16), (0.5, 3 / 16), (0.75, 1 / 4), (0.8, 5 / 16)])
def test_least_fillets_of_table_j2_4(thick: float, leg: float) -> None:
    assert least_leg(thick * INCH) == pytest.approx(leg * INCH)


def test_steels() -> None:
    """ASTM A36 36/58, A500 B round 42/58, C 46/62, A572-50 50/65 ksi."""
    found = {key: (s.yields / MPA_PER_KSI, s.strength / MPA_PER_KSI) for key, s in STEELS.items()}
    assert found["A36"] == pytest.approx((36, 58))
    assert found["A500B"] == pytest.approx((42, 58))
    assert found["A500C"] == pytest.approx((46, 62))
    assert found["A572-50"] == pytest.approx((50, 65))
    assert found["1020-DOM"] == pytest.approx((70, 80))
    weakest = STEELS["unknown"]
    assert all(weakest.yields <= s.yields and weakest.strength <= s.strength for s in STEELS.values())


def test_net_section_against_an_integral() -> None:
    """Plastic modulus: the integral of |z| over the strip that is there."""
    there = [integrate.quad(lambda z: 2 * z * 6.35, (14.3 + NET) / 2, 76.2 / 2)[0]]
    assert net_modulus(6.35, 76.2, 14.3) == pytest.approx(there[0])
    assert net_modulus(6.35, 10.0, 14.3) == 0.0


def test_long_thin_bars_buckle_as_euler_says() -> None:
    """0.877 of Euler's load (AISC 360 E3); Euler's load again as the root of tan for a bar held at one end."""
    t, b, free = 6.0, 60.0, 500.0
    inertia = b * t**3 / 12
    root = optimize.brentq(lambda k: math.cos(k * free), 1e-4, 0.004)  # v'' + k^2 v = 0, fixed at one end
    assert compression(t, b, free, 250.0) == pytest.approx(0.877 * ELASTIC_MODULUS * inertia * root**2, rel=1e-6)
    assert compression(t, b, 1e-6, 250.0) == pytest.approx(250.0 * t * b, rel=1e-6)
    lengths = np.linspace(1.0, 600.0, 200)
    strengths = [compression(t, b, length, 250.0) for length in lengths]
    assert all(a > b for a, b in itertools.pairwise(strengths))


def test_long_thin_bars_tip_over_as_timoshenko_says() -> None:
    """AISC 360 F11: elastic Fcr S = 1.9 E S d... of a bar in even bending.

    Again by theory: M = pi/L sqrt(E Iy G J), G = E/2.6, J = d t^3/3: 1.95 E against AISC's rounded 1.9 (Timoshenko and
    Gere, Theory of Elastic Stability, 6.2).
    """
    t, d, free = 4.0, 100.0, 1500.0
    theory = math.pi / free * math.sqrt(ELASTIC_MODULUS**2 / 2.6 * (d * t**3 / 12) * (d * t**3 / 3))
    assert bar_moment(t, d, free, 345.0) == pytest.approx(theory, rel=0.03)


def test_short_bars_reach_the_full_moment() -> None:
    """Fy Z = 1.5 Fy S for a rectangle; the three ranges of F11 only fall."""
    t, d, fy = 10.0, 60.0, 250.0
    assert bar_moment(t, d, 0.0, fy) == pytest.approx(fy * t * d**2 / 4)
    frees = np.linspace(0.0, 4000.0, 800)
    moments = np.array([bar_moment(4.0, 100.0, free, fy) for free in frees])
    assert (np.diff(moments) <= 1e-9).all()


def test_a_ring_of_weld() -> None:
    """Line properties of a circle: L = 2 pi r, I = pi r^3, so f = P/L + P e / (pi r^2) (Blodgett, 7.4)."""
    r, force, lever = 16.0, 1000.0, 90.0
    group = WeldGroup(ring(0.0, 0.0, r, 180))
    assert group.length == pytest.approx(2 * math.pi * r)
    assert group.seconds == pytest.approx((math.pi * r**3, math.pi * r**3, 0.0), rel=1e-3, abs=1e-6)
    assert group.peak(force, (0.0, lever)) == pytest.approx(
        force / (2 * math.pi * r) + force * lever / (math.pi * r**2), rel=2e-3
    )


def test_two_lines_of_weld() -> None:
    """Blodgett, table of line properties: two lines of length d, b apart: Sx = d^2/3 and Sy = b d about the middle."""
    b, d = 76.0, 60.0
    group = WeldGroup(((-b / 2, -d / 2, -b / 2, d / 2), (b / 2, -d / 2, b / 2, d / 2)))
    assert group.peak(500.0, (0.0, 200.0)) == pytest.approx(500 / (2 * d) + 500 * 200 / (d**2 / 3))
    assert group.peak(500.0, (200.0, 0.0)) == pytest.approx(500 / (2 * d) + 500 * 200 / (b * d))


def test_an_angle_of_weld_off_its_middle() -> None:
    """Blodgett, table of line properties (memory): an L of b across and d upright, middle at d^2 / 2(b + d) above b.

    The peak again by balance of many short pieces of weld, without second moments or a middle.
    """
    b, d, force, at = 40.0, 90.0, 800.0, (55.0, 140.0)
    group = WeldGroup(((10.0, 20.0, 10.0 + b, 20.0), (10.0, 20.0, 10.0, 20.0 + d)))
    assert group.centroid == pytest.approx((10.0 + b**2 / (2 * (b + d)), 20.0 + d**2 / (2 * (b + d))))
    share = (np.arange(4000) + 0.5) / 4000
    x = np.concatenate([10.0 + b * share, np.full(4000, 10.0)])
    y = np.concatenate([np.full(4000, 20.0), 20.0 + d * share])
    w = np.concatenate([np.full(4000, b / 4000), np.full(4000, d / 4000)])
    # the force spread f = p + q x + r y over the pieces, in balance with the force in size and in both moments
    basis = np.stack([np.ones_like(x), x, y])
    p, q, r = np.linalg.solve((basis * w) @ basis.T, force * np.array([1.0, *at]))
    corners = [p + q * u + r * v for u, v in ((10.0, 20.0), (10.0 + b, 20.0), (10.0, 20.0 + d))]
    assert group.peak(force, at) == pytest.approx(max(map(abs, corners)), rel=1e-5)


def test_weld_in_one_line_holds_no_moment_about_it() -> None:
    group = WeldGroup(((38.0, 50.0, 38.0, 100.0),))
    assert group.peak(500.0, (38.0, 100.0)) == pytest.approx(500 / 50 + 500 * 25 / (50**2 / 6))
    with pytest.raises(ValueError, match="in one line"):
        group.peak(500.0, (0.0, 100.0))


def test_area_of_a_spacer_tube() -> None:
    """1.5 in x 0.25 in wall: 0.98175 in2 (exact; a mesh of sectionproperties gives 0.98135)."""
    bracket = DropBracket("one", (100.0,), tube_outer=1.5 * INCH, tube_wall=0.25 * INCH)
    area = tube(bracket).allowable * 1000.0 * 1.67 / STEELS[bracket.tube_steel].yields
    assert area / INCH**2 == pytest.approx(0.98175, rel=1e-4)
