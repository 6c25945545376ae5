"""Bending of plate against DIN 6935 and two formulas of the trade, and the press force against makers' charts.

Sources: DIN 6935 as a German trade table book prints it (k, v, and the worked part of 60 + 16 + 21 mm; values at other
ratios recomputed from the formula). Machinery's Handbook, "Bending Sheet Metal", 0.55T / 0.64T / 0.71T + 1.57R: from
memory, so recomputed with pi/2. FAA AC 43.13-1B, (0.01743R + 0.0078T) N: seen second-hand, recomputed. Press force
1.42 Rm t^2 L / V: from memory; charts of press makers agree within 6 %.
"""

from __future__ import annotations

import math

import pytest

from linkviz.errors import LinkvizError
from linkviz.sheetmetal.checks import die_opening, press_force
from linkviz.sheetmetal.neutral import Neutral, bend_deduction, k_din

RIGHT = math.pi / 2.0


@pytest.mark.parametrize(
    ("inside", "thickness", "expected"),
    [
        (1.0, 1.0, 1.9187),
        (1.6, 1.0, 2.0961),
        (2.5, 1.0, 2.4062),
        (3.0, 3.0, 5.7561),
        (6.0, 5.0, 9.8672),
        (6.0, 6.0, 11.5122),
        (6.0, 4.0, 8.2566),
        (10.0, 6.0, 12.7063),
    ],
)
def test_v_of_din_6935_at_a_right_angle(inside: float, thickness: float, expected: float) -> None:
    found = bend_deduction(RIGHT, inside, thickness, Neutral.by("din", inside, thickness))
    assert found == pytest.approx(expected, abs=1e-4)


def test_the_worked_part_of_the_table_book() -> None:
    # 16 and 21 mm over the outside, opening angle 60 deg, r 6, s 5: k 0.7 from the chart, v 5.77, length 31.23
    assert k_din(6.0, 5.0) == pytest.approx(0.689, abs=1e-3)
    turned = math.radians(180.0 - 60.0)
    v = bend_deduction(turned, 6.0, 5.0, Neutral.of_shop(0.7))
    assert v == pytest.approx(5.77, abs=0.005)
    assert 16.0 + 21.0 - v == pytest.approx(31.23, abs=0.005)


def test_k_is_at_most_one_from_a_radius_of_five_thicknesses() -> None:
    # at r/s = 5 the formula gives 0.9995, which DIN 6935 calls 1
    assert k_din(5.0, 1.0) == pytest.approx(1.0, abs=6e-4)
    assert k_din(50.0, 1.0) == 1.0


def test_din_takes_nothing_off_above_165_degrees_and_we_take_what_is_there() -> None:
    found = bend_deduction(math.radians(15.0), 1.0, 1.0, Neutral.by("din", 1.0, 1.0))
    assert found == pytest.approx(4.0 * math.tan(math.radians(7.5)) - math.radians(15.0) * 1.325, abs=1e-12)
    assert 0.0 < found < 0.2


# T, R, and the lengths of the arc of 90 deg for soft, half hard and hard; inches
HANDBOOK = [
    (0.25, 0.25, (0.5300, 0.5525, 0.5700)),
    (0.1875, 0.1875, (0.3975, 0.4144, 0.4275)),
    (0.125, 0.125, (0.2650, 0.2763, 0.2850)),
    (0.25, 0.375, (0.7263, 0.7488, 0.7663)),
]


@pytest.mark.parametrize(("thickness", "inside", "expected"), HANDBOOK)
def test_arc_lengths_of_the_handbook(thickness: float, inside: float, expected: tuple[float, ...]) -> None:
    for rule, length, share in zip(("soft", "half hard", "hard"), expected, (0.55, 0.64, 0.71), strict=True):
        neutral = Neutral.by(rule, inside, thickness)  # type: ignore[arg-type]
        # printed with 1.57 for pi/2
        assert neutral.length(RIGHT, inside, thickness) == pytest.approx(length, abs=4e-4)
        assert neutral.length(RIGHT, inside, thickness) == pytest.approx(share * thickness + RIGHT * inside, abs=1e-12)


def test_bend_deductions_and_big_k_of_the_handbook() -> None:
    for rule, k, deduction in (("soft", 0.3501, 0.4698), ("half hard", 0.4074, 0.4473), ("hard", 0.4520, 0.4298)):
        neutral = Neutral.by(rule, 0.25, 0.25)  # type: ignore[arg-type]
        assert neutral.big_k == pytest.approx(k, abs=1e-4)
        assert bend_deduction(RIGHT, 0.25, 0.25, neutral) == pytest.approx(deduction, abs=1e-4)


@pytest.mark.parametrize(
    ("thickness", "inside", "expected"), [(0.25, 0.25, 0.56768), (0.125, 0.125, 0.28384), (0.040, 0.125, 0.22417)]
)
def test_bend_allowance_of_the_faa(thickness: float, inside: float, expected: float) -> None:
    neutral = Neutral.by("faa", inside, thickness)
    assert neutral.big_k == pytest.approx(0.4475, abs=1e-4)
    # its 0.01743 stands for pi / 180 = 0.0174533
    assert neutral.length(RIGHT, inside, thickness) == pytest.approx(expected, rel=2e-3)
    assert expected == pytest.approx((0.01743 * inside + 0.0078 * thickness) * 90.0, abs=1e-5)


def test_the_two_conventions_are_not_mixed() -> None:
    assert Neutral.of_big_k(0.35).k == pytest.approx(0.7)
    assert Neutral.of_shop(0.7).big_k == pytest.approx(0.35)
    with pytest.raises(LinkvizError, match="which of the two"):
        Neutral.of_big_k(0.7)


def test_a_test_bend_gives_the_k_it_was_made_with() -> None:
    made = Neutral.of_shop(0.78)
    flat = 60.0 + 50.0 - bend_deduction(RIGHT, 9.0, 6.0, made)
    assert Neutral.of_test_bend(flat, (60.0, 50.0), 9.0, 6.0).k == pytest.approx(0.78, abs=1e-12)
    with pytest.raises(LinkvizError, match="test bend"):
        Neutral.of_test_bend(flat + 6.0, (60.0, 50.0), 9.0, 6.0)


@pytest.mark.parametrize(
    ("thickness", "die", "formula", "chart"),
    [(6, 50, 460, 480), (6, 40, 575, 600), (4, 32, 320, 340), (8, 63, 649, 680), (10, 80, 799, 850)],
)
def test_press_force_of_a_metre(thickness: float, die: float, formula: float, chart: float) -> None:
    found = press_force(450.0, thickness, 1000.0, die)
    assert found == pytest.approx(formula, abs=0.6)
    assert found == pytest.approx(chart, rel=0.065)


def test_dies_of_the_charts() -> None:
    assert [die_opening(t) for t in (2.0, 6.0, 8.0, 10.0, 15.0)] == [12.0, 48.0, 64.0, 100.0, 180.0]
