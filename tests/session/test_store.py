from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from linkviz.job.setup import Setup
from linkviz.session import store as store_module
from linkviz.session.document import Document
from linkviz.session.store import RECENT_LIMIT, Store, state_dir
from linkviz.vehicle.model import Vehicle


def gone_pid() -> int:
    """Return the number of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def leave_behind(store: Store, document: Document) -> None:
    """Autosave as a session that then died."""
    store.autosave(document)
    for file in (store.folder / "autosave").glob("*.json"):
        meta = json.loads(file.read_text())
        meta["pid"] = gone_pid()
        file.write_text(json.dumps(meta))


def test_state_goes_where_the_system_wants_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    assert state_dir() == tmp_path / "linkviz"


def test_recent_files_come_latest_first_and_once(store: Store, tmp_path: Path) -> None:
    names = []
    for i in range(RECENT_LIMIT + 3):
        file = tmp_path / f"{i}.vehicle.toml"
        file.write_text("")
        names.append(str(file.resolve()))
        store.add_recent(str(file))
    store.add_recent(names[5])
    assert store.recent()[0] == names[5]
    assert len(store.recent()) == RECENT_LIMIT
    assert len(set(store.recent())) == RECENT_LIMIT


def test_recent_files_that_are_gone_are_not_offered(store: Store, tmp_path: Path) -> None:
    file = tmp_path / "a.vehicle.toml"
    file.write_text("")
    store.add_recent(str(file))
    file.unlink()
    assert store.recent() == []


@pytest.mark.parametrize("text", ["", "[]", "{", '{"files": 5}', '{"files": [1, null]}'])
def test_a_spoilt_list_of_recent_files_is_an_empty_one(store: Store, text: str) -> None:
    store.folder.mkdir(parents=True)
    (store.folder / "recent.json").write_text(text)
    assert store.recent() == []


def test_the_window_comes_back_as_it_was_left(store: Store) -> None:
    assert store.layout() == {}
    store.keep_layout({"theme": "dark"})
    assert Store(store.folder).layout() == {"theme": "dark"}


def test_unsaved_work_of_a_dead_session_is_found(store: Store, wagon: Vehicle) -> None:
    changed = wagon.model_copy(update={"name": "Half done"})
    leave_behind(store, Document(changed, Setup(lift=75.0, drop=40.0), "/tmp/a.vehicle.toml"))
    (leftover,) = Store(store.folder).leftovers()
    assert leftover.document == Document(changed, Setup(lift=75.0, drop=40.0), "/tmp/a.vehicle.toml")
    Store(store.folder).forget(leftover)
    assert Store(store.folder).leftovers() == []
    assert list((store.folder / "autosave").iterdir()) == []


def test_work_of_a_session_that_still_runs_is_left_alone(store: Store, wagon: Vehicle) -> None:
    store.autosave(Document(wagon))
    assert Store(store.folder).leftovers() == []


def test_a_session_does_not_offer_its_own_work(store: Store, wagon: Vehicle) -> None:
    leave_behind(store, Document(wagon))
    assert store.leftovers() == []


def test_a_spoilt_leftover_is_passed_over(store: Store, wagon: Vehicle) -> None:
    leave_behind(store, Document(wagon))
    for file in (store.folder / "autosave").glob("*.toml"):
        file.write_text("format = 3")
    assert Store(store.folder).leftovers() == []


def test_what_was_saved_leaves_nothing_behind(store: Store, wagon: Vehicle) -> None:
    store.autosave(Document(wagon))
    store.drop_autosave()
    assert list((store.folder / "autosave").iterdir()) == []


def test_a_write_that_fails_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "a.json"
    store_module.write_atomic(file, "old")

    def broken(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", broken)
    with pytest.raises(OSError, match="No space"):
        store_module.write_atomic(file, "new")
    assert file.read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["a.json"]


def test_a_disk_that_takes_nothing_does_not_stop_the_work(tmp_path: Path, wagon: Vehicle) -> None:
    (tmp_path / "state").write_text("a file where a folder should be")
    store = Store(tmp_path / "state")
    store.keep_layout({"theme": "dark"})
    store.add_recent(str(tmp_path))
    store.autosave(Document(wagon))
    assert store.layout() == {}
    assert store.leftovers() == []


@pytest.mark.parametrize(
    "meta", ['{"pid": "x"}', '{"setup": 5}', '{"setup": {"lift": "far"}}', '{"when": []}', "[]", ""]
)
def test_spoilt_notes_on_a_leftover_harm_nobody(store: Store, wagon: Vehicle, meta: str) -> None:
    leave_behind(store, Document(wagon))
    for file in (store.folder / "autosave").glob("*.json"):
        file.write_text(meta)
    assert len(Store(store.folder).leftovers()) <= 1
