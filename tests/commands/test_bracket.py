from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.table import BracketTable, LoadCaseTable
from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Whole
from linkviz.book.write import write_job
from linkviz.commands import main
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON, CRUISER, _ = map(str, demo_vehicle_paths())
STOCK = str(demo_catalogue_path())
Capture = pytest.CaptureFixture[str]

BARE = "\n".join(Path(WAGON).read_text(encoding="utf-8").partition("[driveshaft]")[0].splitlines())
KEYS = {
    "drop_min_mm",
    "drop_max_mm",
    "drop_restore_mm",
    "drop_level_mm",
    "drop_least_sway_mm",
    "drop_clear_mm",
    "holes",
    "checks",
}


def data(capsys: Capture, *words: str) -> dict:  # type: ignore[type-arg]
    assert main(["bracket", *words, "--json"]) == 0
    out = capsys.readouterr()
    assert out.err == ""
    return json.loads(out.out)  # type: ignore[no-any-return]


def test_json_for_programs(capsys: Capture) -> None:
    found = data(capsys, WAGON, "--lift", "4in", "--drop", "90mm")
    assert set(found) >= KEYS
    assert found["drop_mm"] == 90.0 and found["lift_mm"] == pytest.approx(101.6)
    assert found["drop_min_mm"] < found["drop_restore_mm"] < found["drop_max_mm"]
    assert found["drop_restore_mm"] < found["drop_level_mm"]
    used = [check["utilisation"] for check in found["checks"] if check["kind"] == "strength"]
    assert used == sorted(used, reverse=True) and used[0] > 0
    assert {"formula", "numbers", "source", "demand", "allowable", "unit"} <= set(found["checks"][0])
    assert found["missing"] == [] and found["cautions"]
    assert all(hole["serves_mm"] for hole in found["holes"])


def test_a_bare_file_works_and_says_what_to_measure(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "bare.vehicle.toml"
    path.write_text(BARE, encoding="utf-8")
    found = data(capsys, str(path), "--lift", "4in")
    assert found["drop_min_mm"] is None and found["drop_clear_mm"] is None
    assert [c for c in found["checks"] if c["kind"] == "strength"] == []
    assert found["drop_restore_mm"] == pytest.approx(100.0, abs=2.0)
    assert main(["bracket", str(path), "--lift", "4in", "--parts", STOCK]) == 0
    out = capsys.readouterr().out
    for table in ("[frame_bracket]", "[bar_end]", "[mass]", "[driveshaft]"):
        assert table in out
    assert "Not looked at, for lack of measurements" in out


@pytest.mark.parametrize("units", ["mm", "in"])
def test_text_with_stock_and_cautions(capsys: Capture, units: str) -> None:
    assert main(["bracket", WAGON, "--lift", "4in", "--parts", STOCK, "--units", units]) == 0
    out = capsys.readouterr().out
    assert "INV-101, short, two holes" in out and "INV-301 not" in out
    flat = " ".join(out.split())
    assert "within the allowable, at most 0.64 of it, for the load cases shown" in flat
    assert "qualified welder" in flat and "stands" in flat and "local law" in flat
    assert not re.search(r"\bsafe\b", flat, re.IGNORECASE)
    assert max(len(line) for line in out.splitlines()) <= 110
    assert ('4"' in out) == (units == "in")


def test_a_drop_too_long_says_what_to_do(capsys: Capture) -> None:
    assert main(["bracket", CRUISER, "--lift", "4in", "--drop", "8in"]) == 0
    flat = " ".join(capsys.readouterr().out.split())
    assert "over the allowable" in flat and "outside these bounds" in flat
    assert "take a shorter drop" in flat or "To pass" in flat


def test_one_part_of_the_stock_is_checked(capsys: Capture) -> None:
    found = data(capsys, WAGON, "--lift", "4in", "--drop", "100", "--parts", STOCK, "--part", "INV-110")
    assert found["bracket"]["proposed"] is False and found["bracket"]["thickness"] == 4.0
    assert found["checks"][0]["utilisation"] > 1.0
    assert found["to_pass"] and found["stock"]["part"] == "INV-101"


def test_a_job_brings_its_bracket_and_its_load_cases(capsys: Capture, tmp_path: Path) -> None:
    part = next(part for part in read_catalogue(STOCK).brackets if part.number == "INV-101")
    job = Job(bracket=BracketTable.of(part.bracket()), load_cases=(LoadCaseTable(name="ditch, 3.0 g", lateral_g=3.0),))
    path = tmp_path / "a.job.toml"
    write_job(Whole(job, Setup(lift=101.6, drop=90.0), read_vehicle(WAGON)), path)
    found = data(capsys, str(path))
    assert found["bracket"]["name"] == part.name and found["drop_mm"] == 90.0
    assert [load["case"] for load in found["loads"]] == ["ditch, 3.0 g"]
    assert main(["bracket", str(path)]) == 0
    assert "it has no hole at 90 mm, only at 75 mm, 100 mm" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    "words",
    [
        ["--drop=-50"],
        ["--part", "INV-101"],
        ["--parts", STOCK, "--part", "NONE"],
        ["--parts", "nowhere.parts.toml"],
        ["--parts", WAGON],
        ["--lift", "wide"],
    ],
)
def test_what_cannot_be_taken_is_refused(words: list[str], capsys: Capture) -> None:
    assert main(["bracket", WAGON, *words]) == 1
    out = capsys.readouterr()
    assert out.out == ""
    assert any(words in out.err for words in ("expected", "Give the file", "not a length"))
    assert "Traceback" not in out.err


def test_no_millimetres_in_what_is_told_in_inches(capsys: Capture) -> None:
    assert main(["bracket", CRUISER, "--lift=4in", "--units=in"]) == 0
    text = capsys.readouterr().out
    bracket = text[text.index("Holes for a range") : text.index("Strength")]
    assert "mm" not in bracket
    assert "two plates 0.312 in x" in bracket
