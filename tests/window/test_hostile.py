"""Damaged and hostile files opened in one living window: an answer or a clear refusal, whatever they hold.

The long run: ``python3 -m tests -m soak tests/window/test_hostile.py -s``.
"""

from __future__ import annotations

import logging
import os
import random
import stat
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QDialog, QMessageBox

from linkviz.book.lock import lock_path
from linkviz.book.model import Job
from linkviz.book.read import read_job
from linkviz.letters import hidden
from linkviz.session.view import PAGES
from linkviz.vehicle.outline_files import write_outlines
from linkviz.window import dialogs
from linkviz.window.dialogs import ProblemsDialog
from linkviz.window.import_outlines import ImportDialog
from linkviz.window.pages.bracket import BracketPage
from linkviz.window.shop.damage import Damage
from linkviz.window.window import MainWindow
from linkviz.window.work import LatestWork
from tests.commands.test_fuzz import SAMPLES
from tests.hang import no_hang
from tests.mutate import mutated
from tests.window.conftest import MakeWindow

MANY = 2000
HANG_S = 30.0
"""The processor's time of all threads, slow work beside the window too."""
SQUARE = [(0.0, 300.0), (200.0, 300.0), (200.0, 500.0), (0.0, 500.0)]


class Opener:
    """Opens files in a window as a person does, and answers its dialogs by chance."""

    def __init__(self, window: MainWindow, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
        self.window, self.chance = window, random.Random(seed)
        self.told: list[str] = []
        self.slowest = 0.0
        monkeypatch.setattr(dialogs, "run", self._answer)
        monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: "discard")
        monkeypatch.setattr(dialogs, "ask_held", lambda parent, held: self.chance.choice(["copy", "look", "stay"]))
        window.envelopes.refused.connect(self.told.append)

    def _answer(self, dialog: QDialog) -> int:
        said = dialog.windowTitle()
        if isinstance(dialog, ProblemsDialog):
            cells = dialog.table
            said = str(dialog.findChild(dialogs.QLabel).text())
            if cells is not None:
                said += "".join(cells.item(i, j).text() for i in range(cells.rowCount()) for j in range(3))
        elif isinstance(dialog, Damage):
            said = "".join(dialog.losses.item(i).text() for i in range(dialog.losses.count())) or said
        assert isinstance(dialog, ProblemsDialog | Damage | ImportDialog | QMessageBox), said
        assert said
        assert not hidden(said, allowed="\n"), ascii(hidden(said, allowed="\n"))
        self.told.append(said)
        dialog.deleteLater()
        if isinstance(dialog, ImportDialog):
            return int(self.chance.random() < 0.7)
        return int(isinstance(dialog, Damage) and hasattr(dialog, "take") and self.chance.random() < 0.5)

    def open(self, path: Path) -> str:
        """Open a file as what its name says it is; return what came of it."""
        session = self.window.session
        before, told = session.document, len(self.told)
        stock = session.stock.path
        start = time.thread_time()
        if path.suffix == ".dxf" or path.name.startswith("outlines"):
            self.window.envelopes.import_from(str(path))
        elif path.name.endswith(".parts.toml"):
            session.set_view(page="bracket")
            page = self.window.side.page("bracket")
            assert isinstance(page, BracketPage)
            page.ask_stock()
        else:
            self.window.files.open_path(str(path))
        self.slowest = max(self.slowest, time.thread_time() - start)
        taken = session.document is not before or session.stock.path != stock
        refused = len(self.told) > told
        assert taken or refused or session.document is before
        return "taken" if taken else "refused" if refused else "the same"

    def look(self) -> None:
        """Look at some page of what is open."""
        self.window.session.set_view(page=self.chance.choice(PAGES), envelope=self.chance.choice([-1, 0]))
        self.window.frame_now()

    def settle(self) -> None:
        """Wait for all work beside the window."""
        for work in self.window.findChildren(LatestWork):
            work.wait()
        self.window.frame_now()


def files(folder: Path) -> list[tuple[str, str]]:
    """Return names and sound texts of all kinds of files that the window opens."""
    found = [(name, text) for name, text, _ in SAMPLES]
    for ending in (".dxf", ".csv"):
        path = folder / f"outlines{ending}"
        write_outlines(path, {"tank rear": [SQUARE], "tank side": [SQUARE], "hole": [SQUARE]})
        found.append((path.name, path.read_text(encoding="utf-8")))
        path.unlink()
    return found


def run(
    opener: Opener, folder: Path, times: int, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> Counter[str]:
    """Open damaged files one after the other in one window; return how often what came of it."""
    caplog.set_level(logging.ERROR)
    caplog.set_level(logging.CRITICAL, logger="ezdxf")
    samples, came = files(folder), Counter[str]()
    for i in range(times):
        name, text = opener.chance.choice(samples)
        path = folder / name
        data = mutated(text, opener.chance)
        path.write_bytes(data)
        monkeypatch.setattr("linkviz.window.pages.bracket.QFileDialog.getOpenFileName", lambda *_, p=path: (str(p), ""))
        told = f"file {i}: {data[:2000]!r}"
        try:
            with no_hang(HANG_S):
                came[f"{name.partition('.')[2] if name[0] == 'a' else name} {opener.open(path)}"] += 1
                opener.look()
                if i % 20 == 19:
                    opener.settle()
        except BaseException as error:
            raise AssertionError(told) from error
        assert not caplog.records, told
        assert path.read_bytes() == data, told
        allowed = {sample for sample, _ in samples} | {lock_path(folder / "a.job.toml").name}
        assert {entry.name for entry in folder.iterdir()} <= allowed, told
    opener.settle()
    assert not caplog.records
    return came


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return the folder the files lie in."""
    (tmp_path / "files").mkdir()
    return tmp_path / "files"


def test_damaged_files_in_one_window(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    came = run(Opener(window, monkeypatch, 1), folder, 40, monkeypatch, caplog)
    kinds = Counter(what.split()[-1] for what in came.elements())
    assert kinds["taken"] > 1
    assert kinds["refused"] > 10


@pytest.mark.soak
@pytest.mark.timeout(7200)
def test_two_thousand_damaged_files_in_one_window(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    opener = Opener(window, monkeypatch, 2)
    came = run(opener, folder, MANY, monkeypatch, caplog)
    print(f"\n{dict(sorted(came.items()))}\nslowest opening {opener.slowest:.2f} s of the window's thread")


def strange(folder: Path) -> dict[str, Path]:
    """Put things into a folder that are called like files of ours and are none; return them by name."""
    made: dict[str, Path] = {}
    for ending in (".job.toml", ".vehicle.toml", ".csv", ".parts.toml", ".dxf"):
        for kind in ("pipe", "folder", "gone", "round", "device", "zeros", "utf16", "bom", "latin", "brackets"):
            path = folder / f"{'outlines-' if ending == '.dxf' else ''}{kind}{ending}"
            made[f"{kind}{ending}"] = path
            if kind == "pipe":
                os.mkfifo(path)
            elif kind == "folder":
                path.mkdir()
            elif kind in ("gone", "round", "device"):
                path.symlink_to({"gone": folder / "nowhere", "round": path, "device": Path("/dev/zero")}[kind])
            else:
                path.write_bytes(
                    {
                        "zeros": b"\0" * 3_000_000,
                        "utf16": 'format = "linkviz-job/1"'.encode("utf-16"),
                        "bom": b"\xef\xbb\xbf",
                        "latin": b'format = "linkviz-vehicle/1"\nname = "Z\xfcg"\n',
                        "brackets": b"x = " + b"[" * 10_000 + b"]" * 10_000,
                    }[kind]
                )
        for name in ("a\0b", "n" * 5000, "\udcff", "C:\\con", "\\\\server\\share\\x", "con", "../../x", "\u202ex"):
            made[f"{ascii(name)[:12]}{ending}"] = folder / f"{name}{ending}"
    return made


def test_what_is_no_file_of_ours_is_refused_and_left_as_it_is(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    things = strange(folder)
    there = {p.name: stat.S_IFMT(p.lstat().st_mode) for p in folder.iterdir()}
    opener, before = Opener(window, monkeypatch, 3), window.session.document
    for name, path in things.items():
        monkeypatch.setattr("linkviz.window.pages.bracket.QFileDialog.getOpenFileName", lambda *_, p=path: (str(p), ""))
        with no_hang(HANG_S):
            assert opener.open(path) == "refused", name
        assert window.session.document is before, name
    assert {p.name: stat.S_IFMT(p.lstat().st_mode) for p in folder.iterdir()} == there
    assert not [record for record in caplog.records if record.levelno >= logging.ERROR]


def test_a_file_that_grows_while_it_is_read_is_refused(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However long it has become, no more is read than a file of ours may have."""
    path = folder / "a.vehicle.toml"
    path.write_bytes(b"# a\n")
    real = os.fstat

    def grown(handle: int) -> Any:
        with path.open("ab") as stream:
            stream.write(b"# more\n" * 600_000)
        return real(handle)

    opener = Opener(window, monkeypatch, 4)
    with monkeypatch.context() as patched:
        patched.setattr("linkviz.vehicle.text.os.fstat", grown)
        assert opener.open(path) == "refused"
    assert "more than 4 MB" in opener.told[0]


def test_two_windows_on_one_job(make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second may look or take a copy; it never writes what the first has open."""
    one, other = make_window(), make_window()
    path = str(tmp_path / "a.job.toml")
    one.session.begin(one.session.document.replace(job=Job(number="7")))
    assert one.files.save_to(path)
    told: list[str] = []
    monkeypatch.setattr(dialogs, "tell", lambda error, parent: told.append(str(error)))
    answers = iter(["stay", "look", "copy"])
    monkeypatch.setattr(dialogs, "ask_held", lambda parent, held: next(answers))
    before = other.session.document
    assert not other.files.open_path(path)
    assert other.session.document is before
    assert other.files.open_path(path)
    other.session.edit_job("notes", notes="of the second")
    assert not other.files.save()
    assert "only looked at" in told[-1]
    assert other.files.open_path(path)
    assert other.session.document.path is None
    assert not other.files.save_to(path)
    assert "open elsewhere" in told[-1]
    one.session.edit_job("notes", notes="of the first")
    assert one.files.save()
    assert read_job(path).job.notes == "of the first"
    one.session.close()
    assert other.files.save_to(path)
    assert read_job(path).job.number == "7"
