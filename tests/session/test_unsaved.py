from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import Job
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.unsaved import Unsaved
from linkviz.vehicle.model import Vehicle
from tests.hang import no_hang

OLD = Path(__file__).resolve().parents[1] / "book" / "old"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "autosave"


def leave_behind(folder: Path, document: Document) -> None:
    """Keep a copy and let go of its lock, as the system does when a process ends."""
    unsaved = Unsaved(folder)
    unsaved.keep(document)
    assert unsaved._lock is not None
    unsaved._lock.release()


def gone_pid() -> int:
    """Return the number of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def test_the_whole_job_of_a_dead_session_is_found(folder: Path, wagon: Vehicle) -> None:
    changed = wagon.replace(name="Half done")
    job = Job(number="12", notes="call\nagain", status="cut")
    document = Document(changed, Setup(lift=75.0, drop=40.0), "/tmp/a.job.toml", job)
    leave_behind(folder, document)
    other = Unsaved(folder)
    (leftover,) = other.leftovers()
    assert leftover.document == document
    assert abs(leftover.when - time.time()) < 3600
    other.forget(leftover)
    assert other.leftovers() == []
    assert list(folder.iterdir()) == []


def test_work_of_a_session_that_still_runs_is_left_alone(folder: Path, wagon: Vehicle) -> None:
    running = Unsaved(folder)
    running.keep(Document(wagon))
    assert Unsaved(folder).leftovers() == []
    running.drop()
    assert list(folder.iterdir()) == []


def test_a_session_does_not_offer_its_own_work(folder: Path, wagon: Vehicle) -> None:
    unsaved = Unsaved(folder)
    unsaved.keep(Document(wagon))
    assert unsaved.leftovers() == []


def test_the_latest_of_many_copies_is_kept(folder: Path, wagon: Vehicle) -> None:
    unsaved = Unsaved(folder)
    for lift in range(60):
        unsaved.ask(Document(wagon, Setup(lift=float(lift))))
    unsaved.wait()
    assert "lift = 59.0" in unsaved.file.read_text()


def test_a_copy_asked_for_before_the_save_does_not_come_after_it(folder: Path, wagon: Vehicle) -> None:
    unsaved = Unsaved(folder)
    for lift in range(20):
        unsaved.ask(Document(wagon, Setup(lift=float(lift))))
        unsaved.drop()
    unsaved.wait()
    assert not unsaved.file.exists()


@pytest.mark.parametrize("text", ["format = 3", "", "\x00\x01", '# {"path": 5\nformat = "linkviz-job/1"'])
def test_a_spoilt_copy_is_passed_over(folder: Path, wagon: Vehicle, text: str) -> None:
    leave_behind(folder, Document(wagon))
    for file in folder.glob("*.toml"):
        file.write_text(text)
    assert Unsaved(folder).leftovers() == []


def test_a_copy_of_the_time_before_jobs_is_found(folder: Path) -> None:
    folder.mkdir()
    shutil.copy(OLD / "autosave.vehicle.toml", folder / "abc.vehicle.toml")
    note = json.loads((OLD / "autosave.json").read_text()) | {"pid": gone_pid()}
    (folder / "abc.json").write_text(json.dumps(note))
    (leftover,) = Unsaved(folder).leftovers()
    assert leftover.document.vehicle.name == "Quarry Pickup (invented)"
    assert leftover.document.setup == Setup(lift=76.2, drop=50.8)
    assert leftover.document.path == "/shop/quarry.vehicle.toml"
    Unsaved(folder).forget(leftover)
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize(
    "note", ['{"pid": "x"}', '{"setup": 5}', '{"setup": {"lift": "far"}}', '{"when": []}', "[]", ""]
)
def test_a_spoilt_note_of_that_time_harms_nobody(folder: Path, note: str) -> None:
    folder.mkdir()
    shutil.copy(OLD / "autosave.vehicle.toml", folder / "abc.vehicle.toml")
    (folder / "abc.json").write_text(note)
    assert len(Unsaved(folder).leftovers()) <= 1


def test_a_disk_that_takes_nothing_does_not_stop_the_work(tmp_path: Path, wagon: Vehicle) -> None:
    (tmp_path / "file").write_text("a file where a folder should be")
    unsaved = Unsaved(tmp_path / "file")
    unsaved.keep(Document(wagon).replace(path=None))
    unsaved.drop()
    assert unsaved.leftovers() == []


HOSTILE = {
    "deep": "[" * 100_000,
    "deep note": "# " + "[" * 100_000 + '\nformat = "linkviz-job/1"',
    "digits": "# 1\nformat = " + "9" * 5000,
    "dotted": "a" + ".a" * 200_000 + " = 1",
    "large": "# " + "x" * 4_100_000,
    "utf16": "\ufeff",
}


@pytest.mark.parametrize("kind", [*HOSTILE, "pipe", "folder", "link"])
def test_a_hostile_copy_is_passed_over_and_the_others_are_found(folder: Path, wagon: Vehicle, kind: str) -> None:
    leave_behind(folder, Document(wagon))
    for suffix in (".job.toml", ".vehicle.toml"):
        file = folder / f"x{suffix}"
        if kind == "pipe":
            os.mkfifo(file)
        elif kind == "folder":
            file.mkdir()
        elif kind == "link":
            file.symlink_to("/dev/zero")
        else:
            file.write_text(HOSTILE[kind], encoding="utf-16" if kind == "utf16" else "utf-8")
    with no_hang():
        (leftover,) = Unsaved(folder).leftovers()
    assert leftover.document.vehicle == wagon


@pytest.mark.parametrize("note", [
    '{"path": 5, "when": "soon"}', '{"path": "a\\u0000b.job.toml", "when": 1e308}', '{"when": NaN}',
    '{"when": Infinity}', '{"when": -1}', '{"path": "../../x.job.toml"}', "[1]", "{",
    '{"path": "/tmp/a.job.toml", "form": 5, "seen": [1]}',
    '{"path": "/tmp/a.job.toml", "form": "x", "seen": "\\ud800"}',
    '{"when": ' + "9" * 400 + "}",
])  # fmt: skip
def test_a_spoilt_note_loses_no_work(folder: Path, wagon: Vehicle, store: Store, note: str) -> None:
    leave_behind(folder, Document(wagon, Setup(lift=75.0), "/tmp/a.job.toml"))
    (file,) = folder.glob("*.toml")
    file.write_text(f"# {note}\n{file.read_text().partition(chr(10))[2]}")
    (leftover,) = Unsaved(folder).leftovers()
    assert leftover.document.setup == Setup(lift=75.0)
    assert time.localtime(leftover.when).tm_year < 2100
    session = Session(Document(wagon), store)
    session.recover(leftover)
    assert session.dirty or not session.document.is_job
    assert session.document.setup == Setup(lift=75.0)
    session.close()


def test_a_letter_that_no_file_can_hold_does_not_stop_the_copies(folder: Path, wagon: Vehicle) -> None:
    strange = Document(wagon).replace(path="/tmp/br\udcfccke.job.toml")
    leave_behind(folder, strange)
    (leftover,) = Unsaved(folder).leftovers()
    assert leftover.document.path == strange.path
