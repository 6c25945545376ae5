"""A job stays a job and a vehicle a vehicle, whatever their files are called."""

from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.form import OtherForm
from linkviz.book.lock import Held, lock_path
from linkviz.book.model import Job, Whole
from linkviz.book.read import read_either, read_job
from linkviz.book.write import write_job
from linkviz.session import edits
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.unsaved import Leftover
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.write import write_vehicle

STRANGE = ("B.JOB.TOML", "c.toml", "d.vehicle.toml", "Smith.Job.toml")


@pytest.fixture
def whole(wagon: Vehicle) -> Whole:
    return Whole(Job(number="7", customer="A. Sample", notes="call"), Setup(lift=80.0, drop=60.0), wagon)


@pytest.mark.parametrize("name", STRANGE)
def test_a_job_under_any_name_stays_one(session: Session, whole: Whole, tmp_path: Path, name: str) -> None:
    file = tmp_path / name
    write_job(whole, file)
    session.open(str(file))
    assert session.document.is_job
    assert lock_path(file).exists()
    with pytest.raises(Held):
        Session(Document(whole.vehicle), Store(tmp_path / "other")).open(str(file))
    session.edit_job("status", status="cut")
    session.edit_setup("bracket drop", drop=70.0)
    assert session.dirty
    session.save()
    assert not session.dirty
    found = read_job(file)
    assert found.job == whole.job.replace(status="cut")
    assert found.setup == Setup(lift=80.0, drop=70.0)
    session.undo()
    session.save_as(str(file))
    assert read_job(file).setup.drop == 60.0
    session.close()
    assert not lock_path(file).exists()


def test_a_vehicle_under_the_name_of_a_job_stays_one(session: Session, wagon: Vehicle, tmp_path: Path) -> None:
    file = tmp_path / "a.job.toml"
    write_vehicle(wagon, file)
    session.open(str(file))
    assert not session.document.is_job
    assert not lock_path(file).exists()
    session.edit_vehicle(edits.rename(wagon, "Mine"), "rename")
    session.save()
    assert isinstance(read_either(file), Vehicle)
    assert read_vehicle(file).name == "Mine"


@pytest.mark.parametrize("name", ["Smith.Job.toml", "X.JOB.TOML", "x.toml"])
def test_a_job_is_saved_whole_under_a_name_in_any_letters(
    session: Session, whole: Whole, tmp_path: Path, name: str
) -> None:
    session.begin(Document.of(whole))
    session.save_as(str(tmp_path / name))
    assert read_job(tmp_path / name) == whole
    assert lock_path(tmp_path / name).exists()
    assert session.document.is_job
    assert not session.dirty


def test_a_vehicle_is_saved_under_its_ending_in_any_letters(session: Session, whole: Whole, tmp_path: Path) -> None:
    session.begin(Document.of(whole))
    session.save_as(str(tmp_path / "Wagon.Vehicle.TOML"))
    assert isinstance(read_either(tmp_path / "Wagon.Vehicle.TOML"), Vehicle)
    assert session.dirty


@pytest.mark.parametrize("name", ["c.toml", "d.vehicle.toml"])
def test_no_vehicle_is_written_over_a_job(session: Session, whole: Whole, tmp_path: Path, name: str) -> None:
    file = tmp_path / name
    write_job(whole, file)
    text, before = file.read_bytes(), session.document
    with pytest.raises(OtherForm, match="holds a job"):
        session.save_as(str(file))
    assert file.read_bytes() == text
    assert session.document is before
    assert not lock_path(file).exists()


@pytest.mark.parametrize("name", ["c.toml", "a.job.toml"])
def test_no_job_is_written_over_a_vehicle(session: Session, whole: Whole, tmp_path: Path, name: str) -> None:
    file = tmp_path / name
    write_vehicle(whole.vehicle, file)
    text = file.read_bytes()
    session.begin(Document.of(whole))
    with pytest.raises(OtherForm, match="holds a vehicle"):
        session.save_as(str(file))
    assert file.read_bytes() == text
    assert session.dirty
    assert not lock_path(file).exists()


@pytest.mark.parametrize("name", STRANGE)
def test_recovered_work_on_a_job_under_any_name_is_saved_as_one(
    session: Session, whole: Whole, tmp_path: Path, name: str
) -> None:
    file, left = tmp_path / name, tmp_path / "left"
    write_job(whole, file)
    left.touch()
    document = Document.of(whole, str(file)).with_job(status="cut")
    session.recover(Leftover(left, document, file.stat().st_mtime + 100.0))
    assert session.document.is_job
    assert lock_path(file).exists()
    session.save_as(str(tmp_path / "e.toml"))
    assert read_job(tmp_path / "e.toml").job.status == "cut"
