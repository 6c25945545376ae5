from __future__ import annotations

import math

import pytest

from linkviz.sheetmetal.checks import Rules, bending_force, checks, die_opening, least_flange, press_force
from tests.sheetmetal.plates import angled, joggled


def failed(plate, rules: Rules | None = None) -> list[str]:
    return [c.what for c in checks(plate, rules) if not c.passed]


def test_a_good_plate_fails_nothing_but_the_distance_of_its_bends() -> None:
    # 8 mm of offset in a 6 mm plate: no plain V die takes both bends
    plate = joggled(anchor=40.0)
    plate = plate.replace(nominal=tuple(h.replace(y=min(h.y + 6.0, h.y)) for h in plate.nominal))
    rules = Rules(hole_thicknesses=1.0)
    assert failed(plate, rules) == ["bend 1 to bend 2"]
    assert "offset tool" in checks(plate, rules)[0].reason


def test_each_check_finds_its_fault() -> None:
    assert "bend 1, inside radius" in failed(joggled(inside=6.0))
    assert "bar hole 1, edge to bend 2" in failed(joggled(drops=(105.0, 140.0)))
    assert "original bolt, middle to edge" in failed(joggled(width=34.0))
    assert "bar hole 1 to bar hole 2, steel between" in failed(joggled(drops=(130.0, 148.0)))
    assert "bend 2, plate beyond it" in failed(joggled(drops=(75.0,)))
    assert "bend 1, press force" in failed(joggled(), Rules(press=10.0))
    assert "bend 1, press force" not in failed(joggled(), Rules(press=1000.0))
    assert [c for c in checks(angled(0.0)) if "bend" in c.what] == []


def test_what_fails_comes_first_and_every_check_has_its_reason() -> None:
    found = checks(joggled(inside=6.0), Rules(press=500.0))
    order = [c.passed for c in found]
    assert order == sorted(order)
    assert all(c.reason and c.source for c in found)


def test_distances_are_those_of_the_flat_pattern() -> None:
    plate = joggled()
    found = {c.what: c for c in checks(plate, Rules(hole_thicknesses=5.0))}
    hole, line = plate.holes[2], plate.bend_lines[1]
    check = found["bar hole 1, edge to bend 2"]
    assert check.value == pytest.approx(line.y - hole.y - hole.diameter / 2.0)
    assert check.limit == pytest.approx(5.0 * 6.0 + 9.0)
    assert found["original bolt, middle to edge"].value == pytest.approx(30.0)


def test_the_flange_reaches_the_shoulder_of_the_die() -> None:
    # flat: half the die; at a right angle: half the die times the square root of 2
    assert least_flange(0.0, 48.0) == pytest.approx(24.0)
    assert least_flange(math.pi / 2.0, 48.0) == pytest.approx(24.0 * math.sqrt(2.0))


def test_the_force_of_a_plate_is_that_of_its_bend() -> None:
    assert bending_force(joggled()) == pytest.approx(press_force(550.0, 6.0, 60.0, die_opening(6.0)))
    assert bending_force(joggled(), Rules(die=40.0)) == pytest.approx(press_force(550.0, 6.0, 60.0, 40.0))
    assert bending_force(angled(0.0)) == 0.0
