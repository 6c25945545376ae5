from __future__ import annotations

import contextlib
import os
import shutil
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.lock import Held, lock_path, take
from linkviz.book.model import NO_JOB, Job, Whole
from linkviz.book.read import read_job
from linkviz.book.write import write_job
from linkviz.errors import FileRefused, LinkvizError
from linkviz.session import files
from linkviz.session.checks import EditRefused
from linkviz.session.document import Document
from linkviz.session.files import Lost, ReadOnly, free_name
from linkviz.session.session import MOST_PRINTED, Session
from linkviz.session.store import Store
from linkviz.session.unsaved import Unsaved
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from tests.hang import no_hang


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


def test_a_setup_of_a_job_that_is_in_no_file_is_unsaved(session: Session, job_file: str, tmp_path: Path) -> None:
    session.edit_setup("bracket drop", drop=90.0)
    session.save_as(str(tmp_path / "a.vehicle.toml"))
    assert session.dirty
    session.autosave()
    assert session.store.unsaved.file.exists()
    session.save()
    assert session.dirty
    session.undo()
    assert not session.dirty
    session.redo()
    session.save_as(str(tmp_path / "b.job.toml"))
    assert not session.dirty
    assert read_job(tmp_path / "b.job.toml").setup.drop == 90.0


def test_the_vehicle_of_a_job_that_is_saved_leaves_nothing_unsaved(
    session: Session, job_file: str, tmp_path: Path
) -> None:
    session.save_as(str(tmp_path / "a.vehicle.toml"))
    assert not session.dirty
    session.edit_setup("bracket drop", drop=90.0)
    assert session.dirty
    # opened as a vehicle, it is one: lift and drop are tried out
    session.open(str(tmp_path / "a.vehicle.toml"))
    session.edit_setup("bracket drop", drop=90.0)
    assert not session.dirty
    session.save()
    assert not session.dirty


@pytest.mark.parametrize("how", ["opened", "begun", "recovered"])
def test_a_job_of_which_nothing_is_filled_in_is_one(session: Session, wagon: Vehicle, tmp_path: Path, how: str) -> None:
    file = tmp_path / "c.job.toml"
    write_job(Whole(NO_JOB, Setup(drop=50.0), wagon), file)
    if how == "opened":
        session.open(str(file))
        session.edit_setup("bracket drop", drop=90.0)
    else:
        session.begin(Document(wagon, Setup(drop=90.0), form="job"))
    if how == "recovered":
        session.autosave()
        lock = session.store.unsaved._lock
        assert lock is not None
        lock.release()
        session = other(tmp_path, wagon)
        (leftover,) = Unsaved(tmp_path / "state" / "autosave").leftovers()
        session.recover(leftover)
    assert session.document.is_job
    session.save_as(str(tmp_path / "a.vehicle.toml"))
    assert session.dirty
    session.save_as(str(tmp_path / "d.job.toml"))
    assert read_job(tmp_path / "d.job.toml").setup.drop == 90.0


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
    assert document.replace(job=Job(number="7", customer="A. Sample")).title == "7 A. Sample"


def test_papers_that_were_made_are_noted_in_the_job(session: Session, job_file: str) -> None:
    session.papers_made(["template", "fitting sheet"])
    session.papers_made(["customer sheet"])
    session.save()
    printed = read_job(job_file).job.printed
    assert [entry.papers for entry in printed] == [("template", "fitting sheet"), ("customer sheet",)]
    assert printed[0].when <= printed[1].when


NAMES = ("a\x00b.job.toml", "n" * 5000 + ".job.toml", "round.job.toml", "pipe.job.toml", "folder.job.toml", "/dev/full")


@pytest.mark.parametrize("name", NAMES, ids=[ascii(name)[:20] for name in NAMES])
def test_names_that_no_file_has_are_refused_in_words(
    session: Session, job_file: str, tmp_path: Path, name: str
) -> None:
    (tmp_path / "round.job.toml").symlink_to(tmp_path / "round.job.toml")
    os.mkfifo(tmp_path / "pipe.job.toml")
    (tmp_path / "folder.job.toml").mkdir()
    path, before = str(tmp_path / name), session.document
    there = sorted(tmp_path.iterdir())
    for deed in (session.open, session.save_as, session.open_copy, session.new_from, session.import_sheet):
        with no_hang(), pytest.raises(LinkvizError) as caught:
            deed(path)
        assert "\x00" not in str(caught.value)
        assert session.document is before
    assert sorted(tmp_path.iterdir()) == there
    assert lock_path(Path(job_file)).exists()


def test_a_save_under_another_name_that_fails_leaves_the_job_with_its_holder(
    session: Session, job_file: str, tmp_path: Path, wagon: Vehicle, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(LinkvizError, match="No space left"):
            session.save_as(str(tmp_path / "b.job.toml"))
    assert sorted(p.name for p in tmp_path.iterdir() if "job" in p.name) == [".a.job.toml.lock", "a.job.toml"]
    with pytest.raises(Held):
        other(tmp_path, wagon).open(job_file)
    session.edit_job("status", status="cut")
    session.save()
    assert read_job(job_file).job.status == "cut"


def test_a_damaged_file_does_not_take_the_lock_from_the_open_one(
    session: Session, job_file: str, tmp_path: Path
) -> None:
    (tmp_path / "b.job.toml").write_text("format = 5")
    with pytest.raises(FileRefused):
        session.open(str(tmp_path / "b.job.toml"))
    assert lock_path(Path(job_file)).exists()
    assert not lock_path(tmp_path / "b.job.toml").exists()


def test_a_job_whose_folder_is_gone_is_kept_and_saved_elsewhere(
    session: Session, wagon: Vehicle, tmp_path: Path
) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    session.begin(Document(wagon, Setup(lift=100.0), None, Job(number="7")))
    session.save_as(str(folder / "a.job.toml"))
    session.edit_job("status", status="cut")
    shutil.rmtree(folder)
    session.hold.touch()
    session.autosave()
    with pytest.raises(LinkvizError, match="save under another name"):
        session.save()
    assert session.dirty
    assert "cut" in session.store.unsaved.file.read_text()
    session.save_as(str(tmp_path / "b.job.toml"))
    assert read_job(tmp_path / "b.job.toml").job.status == "cut"
    assert not folder.exists()


def test_a_folder_that_takes_a_lock_only_later_is_not_written_over(
    session: Session, job_file: str, tmp_path: Path, wagon: Vehicle, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Opened where nothing could be written; then the folder was opened up, and somebody else was first."""
    session.close()
    second = other(tmp_path, wagon)
    with monkeypatch.context() as patched:
        patched.setattr(files, "take", lambda path: None)
        second.open(job_file)
    session.open(job_file)
    session.edit_job("status", status="cut")
    session.save()
    second.edit_job("status", status="sent")
    with pytest.raises(Held):
        second.save()
    assert read_job(job_file).job.status == "cut"


def test_what_is_read_is_what_stands_there_when_the_lock_is_taken(
    session: Session, job_file: str, tmp_path: Path, wagon: Vehicle, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other one saves and closes at the last moment before the lock is free."""

    def take_late(path: Path) -> object:
        session.edit_job("status", status="cut")
        session.save()
        session.close()
        return take(path)

    second = other(tmp_path, wagon)
    with monkeypatch.context() as patched:
        patched.setattr(files, "take", take_late)
        patched.setattr(session.hold, "writing", lambda *_: contextlib.nullcontext())
        second.open(job_file)
    assert second.document.job.status == "cut"


def test_a_link_to_a_job_is_the_job(session: Session, job_file: str, tmp_path: Path, wagon: Vehicle) -> None:
    """Where the link leads is where it is shown to lie, locked and saved; the link stays one."""
    (tmp_path / "mail").mkdir()
    link = tmp_path / "mail" / "link.job.toml"
    link.symlink_to(job_file)
    with pytest.raises(Held):
        other(tmp_path, wagon).open(str(link))
    session.close()
    second = other(tmp_path, wagon)
    second.open(str(link))
    assert second.document.path == job_file
    second.edit_job("status", status="cut")
    second.save()
    assert link.is_symlink()
    assert read_job(job_file).job.status == "cut"
    assert [p.name for p in link.parent.iterdir()] == ["link.job.toml"]


def test_of_many_papers_the_latest_are_remembered(session: Session, job_file: str) -> None:
    for i in range(MOST_PRINTED + 3):
        session.papers_made([f"paper {i}"])
    printed = session.document.job.printed
    assert len(printed) == MOST_PRINTED
    assert printed[-1].papers == (f"paper {MOST_PRINTED + 2}",)
