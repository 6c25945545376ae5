"""A bracket and load cases in a job file."""

from __future__ import annotations

import pytest

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.design import design
from linkviz.analysis.bracket.table import BracketTable, LoadCaseTable, RulesTable
from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Whole
from linkviz.book.read import parse_job
from linkviz.book.write import dump_job, quick_text
from linkviz.bracket.loads import CASES
from linkviz.bracket.parts import DropBracket
from linkviz.errors import FileRefused
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])
JOGGLED = next(part for part in read_catalogue(demo_catalogue_path()).brackets if part.joggle).bracket()


def whole(units: str) -> Whole:
    job = Job(
        units=units,  # type: ignore[arg-type]
        bracket=BracketTable.of(JOGGLED.replace(brace=False, shift=12.5, mass=None)),
        load_cases=tuple(LoadCaseTable.of(case) for case in CASES),
        rules=RulesTable(lowest_lift=60.0, highest_lift=120.0, bar_angle_deg=0.4, room_to_ground=200.0),
    )
    return Whole(job, Setup(lift=101.6, drop=125.0), WAGON)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_both_come_back_from_a_job_file(units: str) -> None:
    sent = whole(units)
    for text in (dump_job(sent), quick_text(sent)):
        job = parse_job(text).job
        assert job.bracket is not None and sent.job.bracket is not None
        back, first = job.bracket.bracket(), sent.job.bracket.bracket()
        assert back.holes == pytest.approx(first.holes) and back.shift == pytest.approx(12.5)
        assert (back.brace, back.steel, back.fit, back.grade) == (first.brace, first.steel, first.fit, first.grade)
        assert back.joggle is not None and first.joggle is not None
        assert back.joggle.angle == pytest.approx(first.joggle.angle)
        assert [c.case().lateral_g for c in job.load_cases] == [1.0, 2.0]
        rules = job.rules
        assert rules is not None and rules.bar_angle_deg == 0.4
        lengths = (rules.lowest_lift, rules.highest_lift, rules.room_to_ground, rules.room_to_axle)
        assert lengths == pytest.approx((60.0, 120.0, 200.0, 15.0))


BAD = [
    ("width = 90.0", "width = 900.0", "bracket.width"),
    ("holes = [125.0]", "holes = [125.0, 125.0]", "bracket.holes"),
    ("lateral_g = 2.0", "lateral_g = 20.0", "load_cases[1].lateral_g"),
    ("fore_aft = 0.1", "fore_aft = 3.0", "load_cases[0].fore_aft"),
    ('name = "kerb strike, 2.0 g"', 'name = "hard cornering, 1.0 g"', "load_cases[1].name"),
    ("lowest_lift = 60.0", "lowest_lift = 130.0", "rules.lowest_lift"),
    ("highest_lift = 120.0", "highest_lift = 1200.0", "rules.highest_lift"),
    ("bar_angle_deg = 0.4", "bar_angle_deg = 0.0", "rules.bar_angle_deg"),
    ("room_to_ground = 200.0", "room_to_ground = -1.0", "rules.room_to_ground"),
]


@pytest.mark.parametrize(("old", "new", "where"), BAD)
def test_what_makes_no_sense_is_told(old: str, new: str, where: str) -> None:
    text = dump_job(whole("mm"))
    assert old in text
    with pytest.raises(FileRefused) as caught:
        parse_job(text.replace(old, new, 1))
    assert where in str(caught.value)


def test_a_table_that_names_nothing_is_the_bracket_that_names_nothing() -> None:
    assert BracketTable(name="plain", holes=(75.0,)).bracket() == DropBracket("plain", (75.0,))


def test_a_bracket_without_the_hole_that_is_asked_for_is_told() -> None:
    given = JOGGLED.replace(joggle=None, holes=(75.0, 100.0))
    assert not design(WAGON, Setup(lift=101.6, drop=90.0), given).drilled
    usual = design(WAGON, Setup(lift=101.6), given)
    assert usual.setup.drop == 100.0 and usual.drilled
