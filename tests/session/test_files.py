from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.lock import Held, lock_path, take
from linkviz.book.model import NO_JOB, Job
from linkviz.book.read import read_job
from linkviz.errors import LinkvizError
from linkviz.session.checks import EditRefused
from linkviz.session.document import Document
from linkviz.session.files import Lost, ReadOnly, free_name
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle


@pytest.fixture
def job_file(session: Session, wagon: Vehicle, tmp_path: Path) -> str:
    """Return a job file that is open in the session."""
    path = str(tmp_path / "a.job.toml")
    session.begin(Document(wagon, Setup(lift=100.0, drop=76.2), None, Job(number="7", customer="A. Sample")))
    session.save_as(path)
    return path


def other(tmp_path: Path, wagon: Vehicle) -> Session:
    return Session(Document(wagon), Store(tmp_path / "other"))


def test_a_new_job_is_unsaved_until_it_has_a_file(session: Session, wagon: Vehicle, tmp_path: Path) -> None:
    session.begin(Document(wagon, Setup(lift=50.0), "/not/this", Job(number="7")))
    assert session.dirty
    assert session.document.path is None
    assert session.document.is_job
    session.save_as(str(tmp_path / "a.job.toml"))
    assert not session.dirty
    assert read_job(tmp_path / "a.job.toml") == session.document.whole


def test_everything_of_a_job_is_saved_and_undone(session: Session, job_file: str) -> None:
    session.edit_job("status", status="cut")
    session.edit_setup("ride height", lift=80.0)
    assert session.dirty
    session.save()
    assert read_job(job_file).job.status == "cut"
    assert read_job(job_file).setup.lift == 80.0
    session.undo()
    session.undo()
    assert session.document.job.status == "asked"
    assert session.dirty
    session.redo()
    session.redo()
    assert not session.dirty


def test_a_job_that_makes_no_sense_is_refused(session: Session, job_file: str) -> None:
    before = session.document
    with pytest.raises(EditRefused, match="Status: an empty word"):
        session.edit_job("status", status=" ")
    assert session.document is before
    assert not session.preview(before.with_job(customer="a\nb"))


def test_opening_a_job_brings_its_lift_and_parts(
    session: Session, job_file: str, tmp_path: Path, wagon: Vehicle
) -> None:
    session.close()
    second = other(tmp_path, wagon)
    second.open(job_file)
    assert second.document == session.document
    assert not second.dirty


def test_where_a_vehicle_is_looked_at_its_lift_is_no_matter(session: Session) -> None:
    session.edit_setup("ride height", lift=20.0)
    assert not session.dirty
    assert session.changed
    assert not session.document.is_job


def test_a_vehicle_file_does_not_hold_the_job(session: Session, tmp_path: Path) -> None:
    session.edit_job("customer", customer="A. Sample")
    path = str(tmp_path / "a.vehicle.toml")
    session.save_as(path)
    assert read_vehicle(path) == session.document.vehicle
    assert session.dirty
    session.save_as(str(tmp_path / "a.job.toml"))
    assert not session.dirty


def test_the_second_to_open_a_job_is_told_and_nothing_changes(
    session: Session, job_file: str, tmp_path: Path, wagon: Vehicle
) -> None:
    second = other(tmp_path, wagon)
    before = second.document
    with pytest.raises(Held):
        second.open(job_file)
    assert second.document is before
    session.close()
    second.open(job_file)
    assert second.document.job.number == "7"


def test_looking_saves_nothing_under_that_name(session: Session, job_file: str, tmp_path: Path, wagon: Vehicle) -> None:
    second = other(tmp_path, wagon)
    second.open(job_file, look=True)
    second.edit_job("status", status="cut")
    with pytest.raises(ReadOnly, match="Save as"):
        second.save()
    assert read_job(job_file).job.status == "asked"
    second.save_as(str(tmp_path / "b.job.toml"))
    second.edit_job("status", status="sent")
    second.save()
    assert read_job(tmp_path / "b.job.toml").job.status == "sent"


def test_a_copy_is_a_job_of_its_own(session: Session, job_file: str, tmp_path: Path, wagon: Vehicle) -> None:
    second = other(tmp_path, wagon)
    second.open_copy(job_file)
    assert second.document.path is None
    assert second.dirty
    assert second.document.job.name.endswith("(copy)")
    assert second.document.setup == session.document.setup


def test_nobody_saves_over_a_job_that_another_has_open(
    session: Session, job_file: str, tmp_path: Path, wagon: Vehicle
) -> None:
    second = other(tmp_path, wagon)
    text = Path(job_file).read_text()
    with pytest.raises(Held):
        second.save_as(job_file)
    assert Path(job_file).read_text() == text
    assert second.document.path is None


def test_a_lock_lost_while_the_machine_slept_is_found_at_the_save(session: Session, job_file: str) -> None:
    lock_path(Path(job_file)).unlink()
    session.edit_job("status", status="cut")
    session.save()
    lock_path(Path(job_file)).unlink()
    theirs = take(Path(job_file))
    assert theirs is not None
    session.edit_job("status", status="sent")
    with pytest.raises(Lost, match="slept"):
        session.save()
    assert read_job(job_file).job.status == "cut"
    theirs.release()


def test_saving_under_another_name_gives_the_old_one_free(session: Session, job_file: str, tmp_path: Path) -> None:
    session.save_as(str(tmp_path / "b.job.toml"))
    assert not lock_path(Path(job_file)).exists()
    assert lock_path(tmp_path / "b.job.toml").exists()
    session.open_copy(job_file)
    assert not lock_path(tmp_path / "b.job.toml").exists()


def test_a_failed_save_keeps_everything(session: Session, job_file: str, tmp_path: Path) -> None:
    session.edit_job("status", status="cut")
    with pytest.raises(LinkvizError, match="not there"):
        session.save_as(str(tmp_path / "not there" / "b.job.toml"))
    assert session.dirty
    assert session.document.job.status == "cut"


def test_names_are_free_and_titles_say_what_the_job_is(tmp_path: Path, wagon: Vehicle) -> None:
    assert free_name(tmp_path, "a").name == "a.job.toml"
    (tmp_path / "a.job.toml").write_text("")
    assert free_name(tmp_path, "a").name == "a-2.job.toml"
    document = Document(wagon)
    assert document.title == wagon.name
    assert document.job is NO_JOB
    assert replace(document, job=Job(number="7", customer="A. Sample")).title == "7 A. Sample"


def test_papers_that_were_made_are_noted_in_the_job(session: Session, job_file: str) -> None:
    session.papers_made(["template", "fitting sheet"])
    session.papers_made(["customer sheet"])
    session.save()
    printed = read_job(job_file).job.printed
    assert [entry.papers for entry in printed] == [("template", "fitting sheet"), ("customer sheet",)]
    assert printed[0].when <= printed[1].when
