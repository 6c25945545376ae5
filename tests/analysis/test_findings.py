from __future__ import annotations

from linkviz.analysis.compare import compare
from linkviz.analysis.findings import CAUTIONS, findings, place_words, sideways
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])


def said(setup: Setup, unit: str = "mm") -> str:
    return "\n".join(s.text for s in findings(compare(WAGON, setup), unit).sentences)  # type: ignore[arg-type]


def test_lifted_says_what_is_wrong_and_what_would_help() -> None:
    words = findings(compare(WAGON, Setup(lift=100.0)), "mm", 89.7)
    icons = [s.icon for s in words.sentences]
    assert icons[:2] == ["warn", "hit"]
    text = words.sentences[0].text
    assert "100 mm" in text
    assert "to the right" in text
    assert "the body that is pushed" in text
    assert "touches the fuel tank at 90 mm of rebound" in words.sentences[1].text
    assert "98 mm gives the bar back" in words.sentences[2].text
    assert "90 mm or more" in words.sentences[2].text


def test_corrected_says_that_it_heals() -> None:
    words = findings(compare(WAGON, Setup(lift=100.0, drop=98.0)))
    assert "bar's frame end 98 mm lower" in words.sentences[3].text
    assert words.sentences[3].icon == "ok"
    assert any("clear of the fuel tank" in s.text and s.icon == "ok" for s in words.sentences)


def test_every_row_has_every_state() -> None:
    words = findings(compare(WAGON, Setup(lift=100.0, drop=98.0)))
    for row in words.rows:
        assert set(row.cells) == {"as built", "lifted", "corrected"}
        assert all(cell.text for cell in row.cells.values())
        assert row.plain.endswith(".")
    gaps = words.rows[-1].cells
    assert [gaps[n].icon for n in ("as built", "lifted", "corrected")] == ["ok", "hit", "ok"]


def test_inches() -> None:
    text = said(Setup(lift=101.6), "in")
    assert '4"' in text
    assert "mm" not in text


def test_as_built_alone() -> None:
    assert "As built, the axle swings" in said(Setup())


def test_a_limit_is_named() -> None:
    assert "does not get through its whole travel" in said(Setup(lift=240.0))


def test_cautions_are_handed_on() -> None:
    assert findings(compare(WAGON, Setup())).cautions == CAUTIONS
    joined = " ".join(CAUTIONS)
    for word in ("qualified", "licensed", "local law", "stands"):
        assert word in joined


def test_words_for_places() -> None:
    assert sideways(0.2, "mm") == "centred"
    assert sideways(12.0, "mm") == "12 mm left"
    assert sideways(-25.4, "in") == '1" right'
    assert place_words(-40.0, 0.0873, "mm") == "at 40 mm of rebound with the left wheel up 5\N{DEGREE SIGN}"
    assert place_words(0.0, 0.0, "mm") == "at rest height"


def test_joints_beyond_the_rule_are_told_with_its_source() -> None:
    text = said(Setup(lift=100.0, drop=98.0))
    assert "With the parts on, the driveshaft's joints work at 9.9\N{DEGREE SIGN} and 11.6\N{DEGREE SIGN}" in text
    assert "Beyond 3\N{DEGREE SIGN}" in text
    assert "TM 5-4210-230-14&P-1" in text
    assert "joints" not in said(Setup())
    rows = {row.label: row for row in findings(compare(WAGON, Setup(lift=100.0))).rows}
    cells = rows["Driveshaft joints at rest"].cells
    assert (cells["as built"].icon, cells["lifted"].icon) == ("", "warn")


def test_what_does_not_reach_is_told() -> None:
    text = said(Setup(lift=100.0))
    assert "Lifted, over the travel that was given, the dampers are 79 mm too short for full rebound" in text
    assert "the brake hose is 10 mm too short" in text
    assert "too short" not in said(Setup())
    rows = {row.label: row for row in findings(compare(WAGON, Setup(lift=100.0))).rows}
    cells = rows["Reach of springs, dampers, hoses"].cells
    assert cells["as built"].text == "all reach"
    assert cells["lifted"].icon == "hit"
    assert cells["lifted"].text == "2 fall short"


def test_a_bare_vehicle_has_no_such_rows() -> None:
    bare = WAGON.replace(driveshaft=None, springs=None, dampers=None, hoses=(), bump_stops=None)
    words = findings(compare(bare, Setup(lift=100.0, drop=98.0)))
    assert [row.label for row in words.rows][-1] == "Roll centre above ground"
    assert not any("joint" in s.text or "reach" in s.text for s in words.sentences)


def test_less_than_a_sixteenth_to_the_side_is_centred_in_inches() -> None:
    assert sideways(0.7, "in") == "centred"
    assert sideways(0.7, "mm") == "1 mm left"
    assert sideways(-1.0, "in") == '1/16" right'
