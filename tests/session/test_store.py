from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest

from linkviz.session.document import Document
from linkviz.session.store import RECENT_LIMIT, Store, cache_dir, state_dir
from linkviz.vehicle.model import Vehicle


def test_state_goes_where_the_system_wants_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    assert state_dir() == tmp_path / "linkviz"


def test_a_place_that_is_none_of_its_own_is_passed_over(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("LOCALAPPDATA")
    monkeypatch.setenv("XDG_STATE_HOME", "state")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert state_dir() == tmp_path / ".local" / "state" / "linkviz"


def test_an_account_without_a_home_has_its_state_among_the_temporary_files(monkeypatch: pytest.MonkeyPatch) -> None:
    def none() -> Path:
        raise RuntimeError("Could not determine home directory.")

    for name in ("XDG_STATE_HOME", "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name)
    monkeypatch.setattr(Path, "home", none)
    for folder in (state_dir(), cache_dir()):
        assert folder.is_absolute() and folder.is_relative_to(tempfile.gettempdir())
    assert state_dir() != cache_dir()


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


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "{",
        '{"files": 5}',
        '{"files": [1, null]}',
        "[" * 100_000,
        '{"files": ["\\u0000", "' + "x" * 5000 + '"]}',
    ],
)
def test_a_spoilt_list_of_recent_files_is_an_empty_one(store: Store, text: str) -> None:
    store.folder.mkdir(parents=True)
    (store.folder / "recent.json").write_text(text)
    assert store.recent() == []


def test_the_window_comes_back_as_it_was_left(store: Store) -> None:
    assert store.layout() == {}
    store.keep_layout({"theme": "dark"})
    assert Store(store.folder).layout() == {"theme": "dark"}


def test_a_write_that_fails_leaves_the_old_file(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    store.keep_layout({"theme": "dark"})

    def broken(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", broken)
    store.keep_layout({"theme": "light"})
    assert store.layout() == {"theme": "dark"}
    assert [p.name for p in store.folder.iterdir()] == ["window.json"]


def test_a_disk_that_takes_nothing_does_not_stop_the_work(tmp_path: Path, wagon: Vehicle) -> None:
    (tmp_path / "state").write_text("a file where a folder should be")
    store = Store(tmp_path / "state")
    store.keep_layout({"theme": "dark"})
    store.add_recent(str(tmp_path))
    store.unsaved.keep(Document(wagon))
    assert store.layout() == {}
    assert store.unsaved.leftovers() == []


def test_limits_are_read_from_the_disk_once(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    store.keep_limits({"link_angle_deg": 25.0})
    later = Store(store.folder)
    assert later.limits() == {"link_angle_deg": 25.0}
    monkeypatch.setattr(Path, "read_text", lambda *_, **__: pytest.fail("read again"))
    later.limits()["link_angle_deg"] = 1.0  # a copy
    assert later.limits() == {"link_angle_deg": 25.0}
    later.keep_limits({"link_angle_deg": 20.0})
    assert later.limits() == {"link_angle_deg": 20.0}
