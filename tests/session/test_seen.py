"""A file that others changed is not written over unasked, and what is not theirs never makes a question."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from linkviz.book.lock import lock_path
from linkviz.book.read import read_job
from linkviz.book.shelf import list_jobs, vehicles
from linkviz.errors import LinkvizError
from linkviz.session import edits, files, seen
from linkviz.session.document import Document
from linkviz.session.files import put_aside
from linkviz.session.seen import NONE_THERE, UNKNOWN, Changed, mark_of, mark_of_bytes
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.unsaved import Leftover, Unsaved
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.text import MOST_WRITTEN
from linkviz.vehicle.write import write_vehicle
from tests.hang import no_hang

THEIRS = "# measured again on Monday\n"


@pytest.fixture(params=["a.vehicle.toml", "a.job.toml"])
def file(request: pytest.FixtureRequest, session: Session, tmp_path: Path) -> Path:
    """Return a file that is open in the session."""
    path = tmp_path / str(request.param)
    session.save_as(str(path))
    return path


def rename(session: Session, name: str) -> None:
    session.edit_vehicle(edits.rename(session.document.vehicle, name), "rename")


def renamed(session: Session) -> Vehicle:
    return edits.rename(session.document.vehicle, "Half done")


def change(file: Path) -> str:
    """Let an editor add a line; return the text of the file then. Its time and size say nothing."""
    before = file.stat()
    text = file.read_text().replace("\n", f"\n{THEIRS}", 1)
    file.write_text(text)
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    return text


def test_a_file_changed_by_others_is_not_written_over(session: Session, file: Path) -> None:
    theirs = change(file)
    rename(session, "Half done")
    with pytest.raises(Changed, match="changed by another program") as caught:
        session.save()
    assert caught.value.path == str(file)
    assert caught.value.when == file.stat().st_mtime
    assert file.read_text() == theirs
    assert session.dirty
    assert session.document.vehicle.name == "Half done"
    with pytest.raises(Changed):
        session.save()


def test_a_vehicle_in_two_windows_is_not_lost(session: Session, tmp_path: Path, wagon: Vehicle) -> None:
    path = str(tmp_path / "a.vehicle.toml")
    write_vehicle(wagon, path)
    second = Session(Document(wagon), Store(tmp_path / "other"))
    session.open(path)
    second.open(path)
    rename(session, "Of the first")
    rename(second, "Of the second")
    session.save()
    with pytest.raises(Changed):
        second.save()
    assert read_vehicle(path).name == "Of the first"


def test_ones_own_saves_one_after_another_never_ask(session: Session, file: Path) -> None:
    for name in ("One", "Two", "Three"):
        rename(session, name)
        session.save()
        session.save()
    session.undo()
    session.save()
    session.save_as(str(file))
    assert read_vehicle(file).name == "Two" if file.name == "a.vehicle.toml" else read_job(file).vehicle.name == "Two"


def test_a_file_that_is_opened_again_is_known_again(session: Session, file: Path) -> None:
    change(file)
    session.open(str(file))
    rename(session, "Half done")
    session.save()
    assert THEIRS in file.read_text()


def test_the_same_bytes_are_the_same_file_whatever_their_time(session: Session, file: Path) -> None:
    content = file.read_bytes()
    file.unlink()
    file.write_bytes(content)
    os.utime(file, (1.0, 1.0))
    rename(session, "Half done")
    session.save()
    assert not session.dirty


def test_a_file_that_is_gone_is_written_again(session: Session, file: Path) -> None:
    file.unlink()
    rename(session, "Half done")
    session.save()
    assert file.exists()
    rename(session, "Done")
    session.save()


def test_one_that_takes_its_place_later_is_not_written_over(session: Session, file: Path) -> None:
    file.unlink()
    session.save()
    text = change(file)
    with pytest.raises(Changed):
        session.save()
    assert file.read_text() == text


def test_what_was_agreed_to_is_written_over_and_nothing_later(session: Session, file: Path) -> None:
    theirs = change(file)
    rename(session, "Half done")
    copy, mark = put_aside(str(file))
    assert Path(copy).read_text() == theirs
    assert Path(copy).name == file.name.replace(".toml", ".replaced.toml")
    later = change(file)
    with pytest.raises(Changed):
        session.save_as(str(file), mark)
    assert file.read_text() == later
    session.save_as(str(file), put_aside(str(file))[1])
    assert not session.dirty
    assert len(list(file.parent.glob("*.replaced*"))) == 2
    session.save()


def test_the_copy_can_be_opened(session: Session, file: Path, tmp_path: Path, wagon: Vehicle) -> None:
    change(file)
    copy, _ = put_aside(str(file))
    second = Session(Document(wagon), Store(tmp_path / "other"))
    second.open(copy)
    assert second.document.same(session.document.replace(setup=second.document.setup))


def test_the_copy_is_no_second_job_and_no_second_vehicle(session: Session, file: Path) -> None:
    there = [entry.name for entry in list_jobs(file.parent)], vehicles(file.parent)
    for _ in range(2):
        copy, _ = put_aside(str(file))
        assert Path(copy).parent == file.parent
    assert ([entry.name for entry in list_jobs(file.parent)], vehicles(file.parent)) == there


def test_what_is_no_file_of_ours_is_not_read_whole_to_be_kept(session: Session, file: Path) -> None:
    file.write_bytes(b"x" * (MOST_WRITTEN + 1))
    with pytest.raises(LinkvizError, match="more than 4 MB"):
        put_aside(str(file))
    file.unlink()
    os.mkfifo(file)
    with no_hang(), pytest.raises(LinkvizError, match="a pipe"):
        put_aside(str(file))
    assert list(file.parent.glob("*.replaced*")) == []


def test_a_file_that_nobody_could_read_is_not_written_over(
    session: Session, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session.hold.seen = UNKNOWN
    rename(session, "Half done")
    before = file.read_bytes()
    with monkeypatch.context() as patched:
        patched.setattr(seen, "mark_of", lambda path: UNKNOWN)
        patched.setattr(files, "mark_of", lambda path: UNKNOWN)
        with pytest.raises(Changed):
            session.save()
    assert file.read_bytes() == before


def test_a_save_that_cannot_keep_theirs_changes_nothing(
    session: Session, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    theirs = change(file)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(LinkvizError, match="No space left"):
            put_aside(str(file))
    assert file.read_text() == theirs
    assert list(file.parent.glob("*.replaced*")) == []


def test_a_failed_save_remembers_what_was_there(session: Session, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rename(session, "Half done")
    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(OSError(5, "Input/output error")))
        with pytest.raises(LinkvizError, match="Input/output"):
            session.save()
    session.save()
    change(file)
    with pytest.raises(Changed):
        session.save()


def test_a_change_while_the_file_is_read_is_seen_at_the_save(
    session: Session, tmp_path: Path, wagon: Vehicle, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.vehicle.toml"
    write_vehicle(wagon, file)
    read = files.read_either

    def slowly(path: str) -> object:
        found = read(path)
        change(file)
        return found

    with monkeypatch.context() as patched:
        patched.setattr("linkviz.session.session.load", lambda path, lift: Document(slowly(path), path=path))
        session.open(str(file))
    with pytest.raises(Changed):
        session.save()


def test_a_name_that_was_chosen_is_written_over(session: Session, file: Path, tmp_path: Path) -> None:
    other = tmp_path / "b.vehicle.toml"
    other.write_text("chosen by its name, and agreed to in the dialog")
    session.save_as(str(other))
    assert read_vehicle(other) == session.document.vehicle
    change(other)
    with pytest.raises(Changed):
        session.save()


def left_by(session: Session) -> Leftover:
    """Keep a copy of what is unsaved and end like a program that crashes; return what is found then."""
    session.autosave()
    unsaved = session.store.unsaved
    assert unsaved._lock is not None
    unsaved._lock.release()
    session.hold.drop()
    (leftover,) = Unsaved(unsaved.folder).leftovers()
    return leftover


@pytest.fixture
def second(tmp_path: Path, wagon: Vehicle) -> Session:
    return Session(Document(wagon), Store(tmp_path / "other"))


@pytest.mark.parametrize("times", [1, 2])
def test_recovered_work_is_not_saved_over_what_others_made_before_the_copy(
    session: Session, file: Path, second: Session, times: int
) -> None:
    rename(session, "Half done")
    theirs = change(file)
    leftover = left_by(session)
    assert leftover.file_changed
    assert not leftover.saved_later
    second.recover(leftover)
    if times == 2:
        # a second crash right after
        leftover = left_by(second)
        second = Session(Document(leftover.document.vehicle), second.store)
        second.recover(leftover)
    with pytest.raises(Changed):
        second.save()
    assert file.read_text() == theirs
    second.save_as(str(file), mark_of(str(file)))
    second.save()
    assert "Half done" in file.read_text()


def test_recovered_work_is_saved_over_what_it_began_with(session: Session, file: Path, second: Session) -> None:
    rename(session, "Half done")
    leftover = left_by(session)
    assert not leftover.file_changed
    os.utime(file, (leftover.when + 100.0, leftover.when + 100.0))
    second.recover(leftover)
    second.save()
    assert "Half done" in file.read_text()
    assert lock_path(file).exists() == (file.name == "a.job.toml")


def test_what_was_only_looked_at_is_recovered_and_never_saved_over_its_file_unasked(
    session: Session, second: Session, tmp_path: Path
) -> None:
    file = tmp_path / "a.job.toml"
    session.save_as(str(file))
    second.open(str(file), look=True)
    rename(second, "Half done")
    leftover = left_by(second)
    session.close()
    session.recover(leftover)
    with pytest.raises(Changed):
        session.save()


@pytest.mark.parametrize("same", [True, False])
def test_of_work_of_older_copies_a_file_is_known_that_holds_the_same(
    session: Session, file: Path, second: Session, same: bool
) -> None:
    document = session.document if same else session.document.with_job(number="7").replace(vehicle=renamed(session))
    session.close()
    left = file.parent / "left.toml"
    left.touch()
    second.recover(Leftover(left, document, file.stat().st_mtime + 100.0))
    rename(second, "Done")
    if not same:
        with pytest.raises(Changed):
            second.save()
        return
    second.save()
    assert "Done" in file.read_text()


def test_copies_of_unsaved_work_go_on(session: Session, file: Path) -> None:
    change(file)
    rename(session, "Half done")
    session.autosave()
    assert "Half done" in session.store.unsaved.file.read_text()


def test_marks(tmp_path: Path) -> None:
    file = tmp_path / "a"
    assert mark_of(str(file)) == NONE_THERE
    assert mark_of(str(tmp_path)) == NONE_THERE
    assert mark_of("a\x00b") == NONE_THERE
    file.write_bytes(b"one")
    assert mark_of(str(file)) == mark_of_bytes(b"one") not in (mark_of_bytes(b"two"), NONE_THERE, UNKNOWN)
    file.write_bytes(b"x" * (MOST_WRITTEN + 5))
    assert mark_of(str(file)) == mark_of_bytes(b"x" * (MOST_WRITTEN + 5))
    os.mkfifo(tmp_path / "pipe")
    with no_hang():
        assert mark_of(str(tmp_path / "pipe")) == NONE_THERE


def test_a_file_that_cannot_be_read_is_none_that_is_known(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> object:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr("builtins.open", refuse)
    assert mark_of(str(tmp_path / "a")) == UNKNOWN
