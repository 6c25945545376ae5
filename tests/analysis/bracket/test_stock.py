from __future__ import annotations

import math

import pytest

from linkviz.analysis.bracket.catalogue import Catalogue, parse_catalogue, read_catalogue
from linkviz.analysis.bracket.design import design
from linkviz.analysis.bracket.stock import propose
from linkviz.analysis.bracket.table import BracketTable
from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.errors import FileRefused
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from tests.hang import no_hang

WAGON, CRUISER, PICKUP = (read_vehicle(path) for path in demo_vehicle_paths())
TEXT = demo_catalogue_path().read_text(encoding="utf-8")
STOCK = read_catalogue(demo_catalogue_path())


def test_the_demo_stock_says_that_it_is_invented() -> None:
    assert "INVENTED" in TEXT.splitlines()[0] and "invented" in STOCK.name
    assert all(part.number.startswith("INV-") for part in STOCK.brackets)
    assert any(part.joggle for part in STOCK.brackets)


@pytest.mark.parametrize(
    ("inches", "number", "hole"), [(3, "INV-101", 75.0), (4, "INV-101", 100.0), (6, "INV-102", 150.0)]
)
def test_a_part_and_a_hole_are_proposed(inches: float, number: str, hole: float) -> None:
    found = propose(WAGON, inches * 25.4, STOCK)
    assert found.best is not None and found.unknown == ""
    assert (found.best.part.number, found.best.hole) == (number, hole)
    built = study(Build.of(WAGON, Setup()), 0.0).bar_angle[0]
    then = study(Build.of(WAGON, Setup(lift=inches * 25.4, drop=hole)), 0.0).bar_angle[0]
    assert found.best.off == pytest.approx(then - built, abs=1e-9)
    assert not any(tried.fits and abs(tried.off) < abs(found.best.off) for tried in found.tried)


def test_every_refused_part_has_its_reason() -> None:
    found = propose(CRUISER, 101.6, STOCK)
    assert found.best is None
    assert len(found.tried) == len(STOCK.brackets)
    assert all(tried.reasons for tried in found.tried)
    told = {tried.part.number: " ".join(tried.reasons) for tried in found.tried}
    assert "bolt is 5/8-18" in told["INV-101"] and "wide inside" in told["INV-101"]
    assert "No hole serves this lift" in told["INV-102"]


@pytest.mark.parametrize(
    ("lift", "number", "words"),
    [
        (101.6, "INV-110", "Over the allowable"),
        (101.6, "INV-301", "over its plates"),
        (76.2, "INV-102", "No hole serves this lift"),
    ],
)
def test_reasons(lift: float, number: str, words: str) -> None:
    found = propose(WAGON, lift, STOCK)
    assert words in " ".join(next(t for t in found.tried if t.part.number == number).reasons)


def test_a_hole_shorter_than_the_lip_allows_is_refused() -> None:
    found = propose(PICKUP, 76.2, STOCK)
    assert "too short here" in " ".join(next(t for t in found.tried if t.part.number == "INV-101").reasons)


def test_a_bare_vehicle_is_told_what_was_not_looked_at() -> None:
    bare = Vehicle(name="Bare", axle=WAGON.axle, links=WAGON.links)
    found = propose(bare, 101.6, STOCK)
    assert found.best is not None
    assert "strong enough" in found.unknown and "eye" in found.unknown


def test_an_empty_shelf_has_nothing() -> None:
    found = propose(WAGON, 101.6, Catalogue(name="empty"))
    assert found.best is None and found.tried == ()


def test_a_bracket_goes_into_a_table_and_back() -> None:
    for part in STOCK.brackets:
        bracket = part.bracket()
        again = BracketTable.of(bracket).bracket()
        assert again == bracket or (
            again.joggle is not None and again.joggle.angle == pytest.approx(bracket.joggle.angle)  # type: ignore[union-attr]
        )
    joggled = next(part for part in STOCK.brackets if part.joggle).bracket()
    assert joggled.joggle is not None and joggled.joggle.angle == pytest.approx(math.radians(40.0))
    proposed = design(WAGON, Setup(lift=101.6)).bracket
    assert BracketTable.of(proposed).bracket() == proposed


def test_a_catalogue_in_inches() -> None:
    text = """
format = "linkviz-parts/1"
name = "inches (invented)"
units = "in"
[[brackets]]
number = "1"
name = "one"
inside = 2.5
holes = [3.0, 4]
anchor = 1.75
thickness = 0.25
"""
    part = parse_catalogue(text).brackets[0]
    assert part.holes == pytest.approx((76.2, 101.6)) and part.inside == pytest.approx(63.5)


BAD = [
    ('format = "linkviz-parts/1"', 'format = "linkviz-vehicle/1"', "format"),
    ("holes = [75.0, 100.0]", "holes = [100.0, 75.0]", "brackets[0].holes"),
    ("holes = [75.0, 100.0]", "holes = []", "brackets[0].holes"),
    ("holes = [75.0, 100.0]", "holes = 75.0", "a list of numbers in mm"),
    ("holes = [75.0, 100.0]", "holes = [30.0]", "brackets[0].holes[0]"),
    ("holes = [75.0, 100.0]", "holes = [75.0, nan]", "finite"),
    ('number = "INV-102"', 'number = "INV-101"', "a number of its own"),
    ('steel = "S275"', 'steel = "iron"', "brackets[0].steel"),
    ('bolt = "M12"', 'bolt = "M11"', "brackets[0].bolt"),
    ("thickness = 8.0", "thickness = 80.0", "brackets[0].thickness"),
    ("inside = 56.5 ", "outside = 56.5 ", "unknown key"),
    ("angle_deg = 40.0", "angle_deg = 90.0", "joggle.angle_deg"),
    ("tube_wall = 6.0", "tube_wall = 16.0", "brackets[0].tube_wall"),
    ('[[brackets]]\nnumber = "INV-101"', '[[brackets]\nnumber = "INV-101"', "not TOML"),
]


@pytest.mark.parametrize(("old", "new", "words"), BAD)
def test_a_catalogue_is_read_strictly(old: str, new: str, words: str) -> None:
    assert old in TEXT
    with pytest.raises(FileRefused) as caught:
        parse_catalogue(TEXT.replace(old, new, 1), "stock.parts.toml")
    assert words in str(caught.value) and "stock.parts.toml" in str(caught.value)


@pytest.mark.parametrize(("damage", "words"), [
    ('note = "a\\u001b[31m"\n', "control character"),
    ('name = "a\\u202e"\n', "one line"),
    (f"name = '{'n' * 5000}'\n", "5000 characters"),
    ("x = " + "9" * 5000 + "\n", "thousands of digits"),
    ("x" + ".a" * 100_000 + " = 1\n", "more than 40 parts"),
    ("".join(f"k{i} = 1\n" for i in range(60_000)), "unknown key"),
    ("brackets = [" + "{}," * 100_000 + "]\n", "list of 100000"),
    ("x = " + "[" * 10_000 + "]" * 10_000 + "\n", "nested too deeply"),
])  # fmt: skip
def test_a_hostile_catalogue_is_refused_at_once(damage: str, words: str) -> None:
    head = 'format = "linkviz-parts/1"\n' + ("" if damage.startswith("name") else 'name = "Shop"\n')
    with no_hang(), pytest.raises(FileRefused, match=words) as caught:
        parse_catalogue(head + damage)
    assert all(line.isprintable() for line in str(caught.value).splitlines())
