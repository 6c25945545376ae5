from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from linkviz.errors import LinkvizError
from linkviz.session import edits
from linkviz.session.store import Store
from linkviz.vehicle.sheet_lines import blank_measuring_sheet
from linkviz.window import dialogs, share
from linkviz.window.guard import Guard, start_log
from linkviz.window.main import demo_document, first_session
from linkviz.window.window import MainWindow

HEAVY = {"sympy", "scipy", "ezdxf", "PIL", "tomlkit", "pyqtgraph", "reportlab", "shapely", "filelock"}
LATER = {"http.client", "ssl", "urllib.request", "xml.sax", "multiprocessing", "linkviz.window.tour"}
"""Of the standard library and of ours, what the first frame does not need."""


def test_with_no_file_a_lifted_demo_without_a_bracket_is_shown(tmp_path: Path) -> None:
    session, refused = first_session(None, Store(tmp_path))
    assert refused is None
    assert session.document == demo_document()
    assert session.document.setup.lift == 100.0
    assert not session.document.setup.corrected
    assert session.document.path is None
    assert session.view.playing


def test_a_named_file_is_opened(tmp_path: Path, window: MainWindow) -> None:
    file = tmp_path / "a.vehicle.toml"
    window.session.edit_vehicle(edits.rename(window.session.document.vehicle, "Mine"), "rename")
    window.session.save_as(str(file))
    session, refused = first_session(str(file), Store(tmp_path))
    assert refused is None
    assert session.document.vehicle.name == "Mine"
    assert session.document.path == str(file)
    assert not session.view.playing


@pytest.mark.parametrize("name", ["missing.vehicle.toml", "empty.csv"])
def test_a_file_that_cannot_be_taken_is_told_and_the_demo_is_shown(tmp_path: Path, name: str) -> None:
    if name == "empty.csv":
        (tmp_path / name).write_text(blank_measuring_sheet())
    session, refused = first_session(str(tmp_path / name), Store(tmp_path))
    assert isinstance(refused, LinkvizError)
    assert name in str(refused)
    assert session.document.path is None
    assert session.view.playing


def test_heavy_packages_are_not_loaded_by_the_window() -> None:
    code = "import sys, linkviz.window.main; print(*sorted(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not (HEAVY | LATER) & set(done.stdout.split())


def test_a_fault_of_our_own_is_logged_told_in_words_and_loses_nothing(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log = start_log(tmp_path / "log")
    told: list[str] = []
    guard = Guard(window.session, log, lambda: window)
    monkeypatch.setattr(guard, "_tell", lambda error: told.append(guard.words(error)))
    window.session.edit_vehicle(edits.rename(window.session.document.vehicle, "Half done"), "rename")
    for _ in range(3):
        try:
            raise ZeroDivisionError("secret detail")
        except ZeroDivisionError as error:
            guard.caught(type(error), error, error.__traceback__)
    # the same fault in every frame is told once
    assert len(told) == 1
    assert "secret detail" not in told[0]
    assert "Traceback" not in told[0]
    assert str(log) in told[0]
    assert log.read_text().count("secret detail") >= 1
    assert list((window.session.store.folder / "autosave").glob("*.job.toml"))


def test_a_picture_of_both_drawings_is_saved(window: MainWindow, tmp_path: Path) -> None:
    from PySide6.QtGui import QImage

    file = tmp_path / "axle.png"
    share.save_picture(window, str(file))
    picture = QImage(str(file))
    assert picture.width() == 2 * window.stage.width()
    places = [(x, y) for x in range(0, picture.width(), 5) for y in range(0, picture.height(), 50)]
    colours = {picture.pixelColor(x, y).name() for x, y in places}
    assert len(colours) > 10
    with pytest.raises(LinkvizError, match="folder that you may write"):
        share.save_picture(window, str(tmp_path / "no folder" / "axle.png"))


def test_dialogs_have_something_to_read(window: MainWindow) -> None:
    from PySide6.QtWidgets import QTextBrowser

    for make, word in (
        (dialogs.signs, "jounce"),
        (dialogs.cautions, "licensed"),
        (dialogs.about, "Permission is hereby granted"),
    ):
        dialog = make(window)
        assert word in dialog.findChild(QTextBrowser).toPlainText()


def test_leftovers_are_offered_and_recovered(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    from linkviz.session.unsaved import Leftover

    folder = window.session.store.folder / "autosave"
    folder.mkdir(parents=True, exist_ok=True)
    document = demo_document()
    changed = document.with_vehicle(edits.rename(document.vehicle, "Left behind"))
    left = Leftover(folder / "x.vehicle.toml", changed, 0.0)
    left.file.write_text("")
    monkeypatch.setattr(window.session.store.unsaved, "leftovers", lambda: [left])
    monkeypatch.setattr(dialogs, "ask_recover", lambda parent, found: ("recover", found[0]))
    window.files.offer_leftovers()
    window.frame_now()
    assert "Left behind" in window.title.text()
    assert window.isWindowModified()
    assert not left.file.exists()


def test_recent_files_and_demos_are_in_the_menus(window: MainWindow, tmp_path: Path, qtbot: Any) -> None:
    actions = window.actions_by_name
    assert actions.recent is not None
    assert actions.demos is not None
    window.files.fill_recent(actions.recent)
    assert [a.isEnabled() for a in actions.recent.actions()] == [False]
    file = tmp_path / "a.vehicle.toml"
    window.session.save_as(str(file))
    window.files.fill_recent(actions.recent)
    assert str(file) in actions.recent.actions()[0].text()
    assert len(actions.demos.actions()) >= 3
    last = actions.demos.actions()[-1]
    last.trigger()
    window.frame_now()
    assert window.session.document.path is None
    assert window.session.document.vehicle.name.split(" (")[0] in last.text()


def test_a_measuring_sheet_is_opened_and_a_bad_one_is_told(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[dialogs.ProblemsDialog] = []
    monkeypatch.setattr(dialogs.ProblemsDialog, "exec", lambda dialog: told.append(dialog) or 0)
    blank = tmp_path / "blank.csv"
    blank.write_text(blank_measuring_sheet())
    before = window.session.document
    assert not window.files.open_path(str(blank))
    assert told[0].table is not None
    assert told[0].table.rowCount() > 5
    assert window.session.document is before
    rows = ["units;mm", "point;x;y;z;+-", "axle.centre;0;0;370;3", "track;1480", "tyre radius;370", "tyre width;255"]
    rows += ["lower_left.frame;560;420;400;3", "lower_left.axle;0;460;310;3"]
    rows += ["upper_left.frame;300;330;560;3", "upper_left.axle;10;300;500;3"]
    rows += ["lateral_bar.frame;-130;-440;520;3", "lateral_bar.axle;-130;430;440;3"]
    sheet = tmp_path / "green_van.csv"
    sheet.write_text("\n".join(rows) + "\n")
    assert window.files.open_path(str(sheet))
    window.frame_now()
    assert "green van" in window.title.text()
    assert "other side" in window.notice.text.text()
    # no shaft, no tank: every page still shows
    for page in ("counter", "vehicle", "clearance"):
        window.session.set_view(page=page, graph="gap")
        window.frame_now()
    assert "no driveshaft" in window.side.page("clearance").sentences.texts()[0]


@pytest.mark.parametrize(("ago", "word"), [(100.0, True), (-100.0, False)])
def test_work_older_than_its_file_is_said_to_be(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ago: float, word: bool
) -> None:
    from linkviz.session.unsaved import Leftover

    file = tmp_path / "a.vehicle.toml"
    window.session.save_as(str(file))
    said: list[str] = []
    monkeypatch.setattr(dialogs, "_ask", lambda parent, title, text, more, answers: said.append(more) or "later")
    dialogs.ask_recover(window, [Leftover(file, window.session.document, file.stat().st_mtime - ago)])
    assert ("saved later" in said[0]) == word
    dialogs.ask_recover(window, [Leftover(file, window.session.document, file.stat().st_mtime - ago, "another")])
    assert ("changed elsewhere" in said[1]) != word
