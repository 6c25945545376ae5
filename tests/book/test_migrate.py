from __future__ import annotations

import json
import tomllib
from typing import Any

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book import migrate
from linkviz.book.migrate import MIGRATIONS, from_note, migrated
from linkviz.book.model import FORMAT, Job, Whole
from linkviz.book.read import job_from_data, read_job
from linkviz.book.write import dump_job
from linkviz.errors import FileRefused
from linkviz.vehicle.read import read_vehicle

from .conftest import OLD

SAMPLES = {"linkviz-vehicle/1": "vehicle-1.vehicle.toml"}
"""A kept file of each old format."""


def test_a_sample_of_every_old_format_is_kept_and_opens() -> None:
    assert SAMPLES.keys() == MIGRATIONS.keys()
    for found, name in SAMPLES.items():
        assert tomllib.loads((OLD / name).read_text())["format"] == found
        assert read_job(OLD / name).job.format == FORMAT


def test_a_vehicle_file_opens_as_a_job_as_built() -> None:
    whole = read_job(OLD / "vehicle-1.vehicle.toml")
    assert whole == Whole(Job(units="in"), Setup(), read_vehicle(OLD / "vehicle-1.vehicle.toml"))


def test_a_copy_with_a_note_beside_it_keeps_its_setup() -> None:
    data = tomllib.loads((OLD / "autosave.vehicle.toml").read_text())
    whole = job_from_data(from_note(data, json.loads((OLD / "autosave.json").read_text())))
    assert whole.setup == Setup(lift=76.2, drop=50.8)
    assert whole.vehicle == read_vehicle(OLD / "autosave.vehicle.toml")


def test_steps_are_taken_one_after_the_other(whole: Whole, monkeypatch: pytest.MonkeyPatch) -> None:
    def first(data: dict[str, Any]) -> dict[str, Any]:
        return {**data, "format": "linkviz-job/b", "customer": data["buyer"]}

    def second(data: dict[str, Any]) -> dict[str, Any]:
        return {key: value for key, value in data.items() if key != "buyer"} | {"format": FORMAT}

    monkeypatch.setattr(migrate, "MIGRATIONS", {"linkviz-job/a": first, "linkviz-job/b": second})
    data = tomllib.loads(dump_job(whole)) | {"format": "linkviz-job/a", "buyer": "B. Sample"}
    assert job_from_data(data).job.customer == "B. Sample"


def test_a_ring_of_steps_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(migrate, "MIGRATIONS", {"linkviz-job/a": lambda data: data})
    assert migrated({"format": "linkviz-job/a"}) == {"format": "linkviz-job/a"}
    with pytest.raises(FileRefused, match="another version"):
        job_from_data({"format": "linkviz-job/a"})
