from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, SetupTable, Whole
from linkviz.book.read import job_from_data, parse_job, read_either, read_job
from linkviz.book.write import dump_job, quick_text, write_job
from linkviz.errors import FileRefused
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.part import names_of
from linkviz.vehicle.write import write_vehicle


def spoilt(whole: Whole, change: Any) -> list[str]:
    """Return the problems of a job whose tables were changed."""
    data = tomllib.loads(dump_job(whole))
    change(data)
    with pytest.raises(FileRefused) as caught:
        job_from_data(data)
    return [str(p) for p in caught.value.problems]


def test_the_table_of_a_setup_has_every_value_of_a_setup() -> None:
    assert list(names_of(SetupTable)) == list(names_of(Setup))


def test_a_file_says_its_number_before_anything_long(whole: Whole) -> None:
    """The list of jobs reads only the head of a file."""
    text = dump_job(whole)
    assert text.startswith('format = "linkviz-job/1"\nnumber = "2026-014"\n')
    assert text.index("[vehicle]") > text.index("[setup]") > text.index("notes =")


def test_everything_wrong_is_told_at_once(whole: Whole) -> None:
    def change(data: dict[str, Any]) -> None:
        data["colour"] = "red"
        data["status"] = " "
        data["setup"]["lift"] = "four"
        data["vehicle"]["axle"]["track"] = 10.0
        del data["vehicle"]["links"]["upper_left"]

    said = "\n".join(spoilt(whole, change))
    for word in ('unknown key "colour"', "setup.lift", "vehicle.axle.track", "vehicle.links.upper_left"):
        assert word in said


@pytest.mark.parametrize(
    ("key", "value", "word"),
    [
        ("status", "", "how far the job is"),
        ("number", "a\nb", "one line"),
        ("customer", "x" * 201, "201 characters"),
        ("notes", "x" * 200_000, "at most"),
        ("printed", [{"when": 5}], "printed[0].when"),
        ("states", [{"name": "a", "lift": 5000.0}], "states[0].lift"),
        ("vehicle", 5, "a table [vehicle]"),
        ("setup", {"lift": float("nan")}, "setup.lift"),
        ("setup", {"lift": -20.0}, "setup.lift"),
        ("setup", 5, "a table [setup]"),
        ("format", "linkviz-job/9", "a newer program"),
        ("format", 5, "another kind of file"),
    ],
)
def test_a_value_that_makes_no_sense_is_told_where_it_stands(whole: Whole, key: str, value: Any, word: str) -> None:
    said = spoilt(whole, lambda data: data.update({key: value}))
    assert any(word in line for line in said), said


def test_a_line_may_be_200_characters_long(whole: Whole) -> None:
    long = Whole(whole.job.replace(customer="x" * 200), whole.setup, whole.vehicle)
    assert parse_job(dump_job(long)).job.customer == "x" * 200


def test_a_job_without_a_vehicle_is_none(whole: Whole) -> None:
    assert "[vehicle]" in spoilt(whole, lambda data: data.pop("vehicle"))[0]


def test_the_lengths_of_the_job_and_of_the_vehicle_have_units_of_their_own(whole: Whole) -> None:
    inches = Whole(
        whole.job.replace(units="in"),
        Setup(lift=101.6),
        whole.vehicle.replace(units="mm"),
    )
    text = dump_job(inches)
    assert "lift = 4.0\n" in text
    assert "track = 1480.0\n" in text
    back = parse_job(text)
    assert back.setup == Setup(lift=101.6)
    assert back.vehicle == inches.vehicle


def test_a_file_is_taken_for_what_it_says_it_is(whole: Whole, wagon: Vehicle, tmp_path: Path) -> None:
    write_job(whole, tmp_path / "a.toml")
    write_vehicle(wagon, tmp_path / "b.toml")
    assert isinstance(read_either(tmp_path / "a.toml"), Whole)
    assert isinstance(read_either(tmp_path / "b.toml"), Vehicle)
    assert read_job(tmp_path / "b.toml").job == Job()
    (tmp_path / "c.toml").write_text("hello")
    with pytest.raises(FileRefused, match="not TOML"):
        read_either(tmp_path / "c.toml")


def test_the_quick_text_says_the_same(whole: Whole) -> None:
    assert parse_job(quick_text(whole)) == parse_job(dump_job(whole)) == whole
