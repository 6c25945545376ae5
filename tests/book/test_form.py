from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.form import OtherForm, bare_name, form_of_file, form_of_name, form_there, refuse_other
from linkviz.book.model import Job, Whole
from linkviz.book.shelf import list_jobs, vehicles
from linkviz.book.write import write_job
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.text import MOST_WRITTEN
from linkviz.vehicle.write import write_vehicle
from tests.hang import no_hang

NAMES = {
    "a.job.toml": "job",
    "A.JOB.TOML": "job",
    "/x/Smith.Job.toml": "job",
    "a.vehicle.toml": "vehicle",
    "a.Vehicle.TOML": "vehicle",
    "c.toml": None,
    "a.job.replaced.toml": None,
    "job.toml": None,
    "/x.job.toml/c": None,
}


@pytest.mark.parametrize(("name", "form"), NAMES.items())
def test_a_name_says_what_a_file_is_whatever_its_letters(name: str, form: str | None) -> None:
    assert form_of_name(name) == form


@pytest.mark.parametrize("name", ["a.toml", "a.TOML", "/x/a.Job.toml", "a.vehicle.TOML", "a"])
def test_a_name_without_its_ending(name: str) -> None:
    assert bare_name(name) == "a"


TEXTS = {
    'format = "linkviz-job/1"\n[setup]\n': "job",
    "# note\r\n\r\n  'format'='linkviz-job/9'\r\n": "job",
    'name = "x"\nformat = "linkviz-vehicle/1"\ntorn [': "vehicle",
    '\ufeffformat = "linkviz-vehicle/1"': "vehicle",
    '[table]\nformat = "linkviz-job/1"\n': None,
    '# format = "linkviz-job/1"\n': None,
    'format = "else/1"\n': None,
    "": None,
}


@pytest.mark.parametrize(("text", "form"), TEXTS.items())
def test_a_file_says_what_it_is_also_a_damaged_one(tmp_path: Path, text: str, form: str | None) -> None:
    file = tmp_path / "c.toml"
    file.write_text(text, encoding="utf-8", newline="")
    assert form_there(str(file)) == form
    assert form_of_file(str(file)) == (form or "vehicle")
    for other in ("job", "vehicle"):
        if form in (None, other):
            refuse_other(str(file), other)  # type: ignore[arg-type]
            continue
        with pytest.raises(OtherForm, match=f"holds a {form}, and what is to be saved there is a {other}"):
            refuse_other(str(file), other)  # type: ignore[arg-type]


@pytest.mark.parametrize("many", ["\n", " ", "format\n", "format ="])
def test_a_file_that_says_nothing_at_length_is_read_at_once(tmp_path: Path, many: str) -> None:
    file = tmp_path / "c.toml"
    file.write_text(f"x{many * (MOST_WRITTEN // len(many) - 2)}x", encoding="utf-8")
    with no_hang():
        assert form_there(str(file)) is None


def test_what_is_there_comes_before_the_name(tmp_path: Path) -> None:
    file = tmp_path / "a.job.toml"
    assert form_there(str(file)) is None
    assert form_of_file(str(file)) == "job"
    write_vehicle(read_vehicle(demo_vehicle_paths()[0]), file)
    assert form_of_file(str(file)) == "vehicle"


def test_the_lists_take_up_names_in_any_letters(tmp_path: Path) -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    write_job(Whole(Job(number="7"), Setup(), vehicle), tmp_path / "B.JOB.TOML")
    write_vehicle(vehicle, tmp_path / "W.Vehicle.toml")
    assert [entry.number for entry in list_jobs(tmp_path)] == ["7"]
    assert vehicles(tmp_path) == (tmp_path / "W.Vehicle.toml",)
