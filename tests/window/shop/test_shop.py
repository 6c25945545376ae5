from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QInputDialog, QPushButton

from linkviz.analysis.setup import Setup
from linkviz.book.compare import side_by_side
from linkviz.book.model import STATUSES, Job, Printed, Whole
from linkviz.book.problems import job_problems
from linkviz.book.read import read_job
from linkviz.book.recover import recover
from linkviz.book.write import write_job
from linkviz.errors import LinkvizError
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.write import write_vehicle
from linkviz.window import dialogs
from linkviz.window.main import first_session
from linkviz.window.shop import book, damage, details, new_job, pair
from linkviz.window.shop.folder import KEY, choose, shop_folder
from linkviz.window.theme import LIGHT
from linkviz.window.window import MainWindow


@pytest.fixture
def folder(tmp_path: Path, window: MainWindow) -> Path:
    """Return the shop's folder with five jobs, the fourth damaged, and a vehicle."""
    result = tmp_path / "jobs"
    result.mkdir()
    vehicles = [read_vehicle(path) for path in demo_vehicle_paths()]
    for i in range(5):
        job = Job(number=f"2026-00{i}", customer="ABCDE"[i], status=STATUSES[i], notes="hose" if i == 2 else "")
        write_job(Whole(job, Setup(lift=20.0 * i, drop=30.0), vehicles[i % 3]), result / f"{i}.job.toml")
    file = result / "3.job.toml"
    file.write_text(file.read_text().replace('customer = "D"', "customer = D"))
    write_vehicle(vehicles[0].replace(name="Shop's own"), result / "shops-own.vehicle.toml")
    choose(window.session.store, result)
    return result


def answer(monkeypatch: pytest.MonkeyPatch, kind: type[QDialog], do: Callable[[Any], object]) -> None:
    """Let a dialog be answered as soon as it is shown."""

    def run(dialog: Any) -> int:
        do(dialog)
        return int(dialog.result())

    monkeypatch.setattr(kind, "exec", run)


def opened(qtbot: Any, window: MainWindow) -> book.Book:
    """Return the job book with its list read."""
    dialog = book.Book(window.session, window)
    dialog.show()
    qtbot.waitUntil(lambda: dialog.rows.rowCount() > 0)
    return dialog


def texts(dialog: book.Book, column: int) -> list[str]:
    model = dialog.rows
    return [str(model.data(model.index(i, column))) for i in range(model.rowCount())]


# -- the job book


def test_the_book_lists_searches_and_narrows(window: MainWindow, folder: Path, qtbot: Any) -> None:
    dialog = opened(qtbot, window)
    assert texts(dialog, 0) == ["2026-004", "2026-002", "2026-001", "2026-000", "-"]
    assert dialog.count.text() == "5 jobs"
    qtbot.keyClicks(dialog.finder, "hose")
    assert texts(dialog, 0) == ["2026-002"]
    assert dialog.count.text() == "1 of 5"
    assert "hose" in dialog.words.text()
    dialog.finder.clear()
    dialog.status.setCurrentText(STATUSES[1])
    assert texts(dialog, 0) == ["2026-001"]
    dialog.finder.setText("nothing like it")
    assert dialog.stack.currentIndex() == 1
    assert "Take a word out" in dialog.empty.text()


def test_the_book_is_worked_with_the_keys_alone(window: MainWindow, folder: Path, qtbot: Any) -> None:
    dialog = opened(qtbot, window)
    dialog.finder.setFocus()
    qtbot.keyClick(dialog.finder, Qt.Key.Key_Down)
    qtbot.keyClick(dialog.finder, Qt.Key.Key_Down)
    assert [e.number for e in dialog.picked()] == ["2026-001"]
    qtbot.keyClick(dialog.finder, Qt.Key.Key_Up)
    qtbot.keyClick(dialog.finder, Qt.Key.Key_Return)
    assert dialog.result() == 1
    assert (dialog.answer, dialog.paths) == ("open", (folder / "2.job.toml",))


def test_the_picked_job_is_drawn(window: MainWindow, folder: Path, qtbot: Any) -> None:
    dialog = opened(qtbot, window)
    qtbot.waitUntil(lambda: dialog.picture.shown, timeout=20000)
    grabbed = dialog.picture.grab().toImage()
    assert len({grabbed.pixel(x, y) for x in range(0, grabbed.width(), 5) for y in range(0, 140, 5)}) > 10
    dialog.table.selectRow(dialog.rows.row_of("3.job.toml"))
    assert not dialog.picture.shown
    assert "damaged" in dialog.words.text()
    assert not dialog.buttons["duplicate"].isEnabled()
    assert dialog.buttons["open"].isEnabled()


def test_a_click_on_a_heading_sorts(window: MainWindow, folder: Path, qtbot: Any) -> None:
    dialog = opened(qtbot, window)
    dialog.table.sortByColumn(4, Qt.SortOrder.AscendingOrder)
    assert texts(dialog, 4) == ["0 mm", "", "20 mm", "40 mm", "80 mm"]
    dialog.finder.setText("2026")
    assert texts(dialog, 4) == ["0 mm", "20 mm", "40 mm", "80 mm"]


def test_what_is_picked_stays_picked_when_the_book_is_sorted(window: MainWindow, folder: Path, qtbot: Any) -> None:
    dialog = opened(qtbot, window)
    dialog.table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
    dialog.table.selectRow(1)
    picked = dialog.picked()
    dialog.table.sortByColumn(0, Qt.SortOrder.DescendingOrder)
    assert dialog.picked() == picked
    assert dialog.table.currentIndex().row() == 3


def test_nothing_can_be_opened_from_a_book_that_is_still_read(
    window: MainWindow, folder: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog = book.Book(window.session, window)
    assert not any(dialog.buttons[name].isEnabled() for name in ("open", "duplicate", "compare"))
    qtbot.waitUntil(lambda: dialog.buttons["open"].isEnabled())
    monkeypatch.setattr(book.QFileDialog, "getExistingDirectory", lambda *_: str(folder.parent))
    dialog.folder.click()
    assert not dialog.buttons["open"].isEnabled(), "the jobs of the other folder are not in this one"


def test_an_empty_folder_says_how_to_begin(window: MainWindow, tmp_path: Path, qtbot: Any) -> None:
    choose(window.session.store, tmp_path / "none yet")
    dialog = book.Book(window.session, window)
    qtbot.waitUntil(lambda: "jobs" in dialog.count.text())
    assert "New job" in dialog.empty.text()
    assert not dialog.buttons["open"].isEnabled()
    assert dialog.buttons["new"].isEnabled()


def test_another_folder_is_chosen_and_remembered(
    window: MainWindow, folder: Path, tmp_path: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "other"
    other.mkdir()
    dialog = opened(qtbot, window)
    monkeypatch.setattr(book.QFileDialog, "getExistingDirectory", lambda *_: str(other))
    dialog.folder.click()
    qtbot.waitUntil(lambda: dialog.count.text() == "0 jobs")
    assert shop_folder(Store(window.session.store.folder)) == other
    assert "other" in dialog.folder.text()


def test_a_spoilt_memory_of_the_folder_is_no_matter(window: MainWindow) -> None:
    window.session.store.remember(KEY, {"folder": 5})
    assert shop_folder(window.session.store).name == "linkviz-jobs"


@pytest.mark.parametrize("wish", ["open", "duplicate"])
def test_what_was_asked_for_in_the_book_is_done(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch, wish: str
) -> None:
    def pick(dialog: book.Book) -> None:
        dialog.answer, dialog.paths = wish, (folder / "2.job.toml",)  # type: ignore[assignment]
        dialog.setResult(1)

    answer(monkeypatch, book.Book, pick)
    window.actions_by_name["book"].trigger()
    document = window.session.document
    assert document.job.customer == "C"
    assert document.setup.lift == 40.0
    assert document.job.number == ("2026-002" if wish == "open" else new_number(folder))
    assert document.path == (str(folder / "2.job.toml") if wish == "open" else None)
    assert window.session.dirty == (wish == "duplicate")
    window.frame_now()
    assert document.job.number in window.title.text()


def new_number(folder: Path) -> str:
    import time

    from linkviz.book.shelf import list_jobs, next_number

    return next_number(list_jobs(folder), time.localtime().tm_year)


def test_two_jobs_are_compared_from_the_book(
    window: MainWindow, folder: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[pair.Pair] = []

    def pick(dialog: book.Book) -> None:
        dialog.answer, dialog.paths = "compare", (folder / "0.job.toml", folder / "1.job.toml")
        dialog.setResult(1)

    answer(monkeypatch, book.Book, pick)
    answer(monkeypatch, pair.Pair, lambda dialog: shown.append(dialog) or dialog.only.setChecked(True))
    window.actions_by_name["book"].trigger()
    table = shown[0].table
    assert table.horizontalHeaderItem(1).text() == "2026-000 A"
    lines = side_by_side(read_job(folder / "0.job.toml"), read_job(folder / "1.job.toml"))
    assert [table.isRowHidden(i) for i in range(table.rowCount())] == [not line.differs for line in lines]
    assert table.item(0, 2).text() == "B"
    dialog = opened(qtbot, window)
    assert not dialog.buttons["compare"].isEnabled()
    dialog.table.selectAll()
    assert not dialog.buttons["compare"].isEnabled()


# -- new jobs and details


def test_a_new_job_begins_with_a_vehicle_of_the_shop(
    window: MainWindow, folder: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fill(dialog: new_job.NewJob) -> None:
        qtbot.keyClicks(dialog.finder, "own")
        qtbot.keyClicks(dialog.customer, "F. Sample")
        assert dialog.lift.text() == "75 mm"  # what was shown at the counter a moment ago
        dialog.show()
        dialog.lift.setFocus()
        dialog.lift.selectAll()
        qtbot.keyClicks(dialog.lift, "4in")
        qtbot.keyClick(dialog.lift, Qt.Key.Key_Return)

    answer(monkeypatch, new_job.NewJob, fill)
    window.session.edit_setup("ride height", lift=75.0)
    window.actions_by_name["newjob"].trigger()
    document = window.session.document
    assert document.vehicle.name == "Shop's own"
    assert document.job.customer == "F. Sample"
    assert document.job.opened
    assert document.setup == Setup(lift=101.6)
    assert document.path is None
    assert window.session.dirty


def test_a_vehicle_is_shown_by_its_name_whatever_its_letters(window: MainWindow) -> None:
    found = (Path("/x/green-van.Vehicle.TOML"),)
    dialog = new_job.NewJob(found, (), window.session.document.vehicle, "1", 100.0, "mm", window)
    assert dialog.vehicles.item(1).text() == "Green Van"


def test_a_vehicle_that_cannot_be_read_is_told_in_the_dialog(window: MainWindow, tmp_path: Path) -> None:
    bad = tmp_path / "bad.vehicle.toml"
    bad.write_text("x")
    dialog = new_job.NewJob((bad,), (), window.session.document.vehicle, "1", 100.0, "mm", window)
    dialog.vehicles.setCurrentRow(1)
    dialog._take()
    assert dialog.document is None
    assert "bad.vehicle.toml" in dialog.trouble.text()
    dialog.finder.setText("no such vehicle")
    dialog._take()
    assert dialog.document is None


def test_details_are_one_step_that_can_be_undone(
    window: MainWindow, folder: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fill(dialog: details.Details) -> None:
        dialog.lines["customer"].setText("G. Sample")
        dialog.status.setCurrentText("at the painter's")
        dialog.notes.setPlainText("first\nsecond")
        dialog.keep("this one")
        dialog.accept()

    window.session.edit_setup("bracket drop", drop=50.0)
    before = window.session.document
    answer(monkeypatch, details.Details, fill)
    window.actions_by_name["details"].trigger()
    job = window.session.document.job
    assert (job.customer, job.status, job.notes) == ("G. Sample", "at the painter's", "first\nsecond")
    assert job.states[0].setup() == before.setup
    assert window.session.undo_text == "job details"
    window.session.undo()
    assert window.session.document == before


def test_a_kept_setup_is_taken_back(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    dialog = details.Details(
        Job(printed=(Printed(when="2026-11-25T10:00", papers=("template",)),)), Setup(lift=50.0), "mm"
    )
    monkeypatch.setattr(QInputDialog, "getText", lambda *_: ("one", True))
    for button in dialog.findChildren(QPushButton):
        if "Keep" in button.text():
            button.click()
    dialog.setup = Setup(lift=70.0, drop=20.0)
    dialog.keep("two")
    dialog.keep("two")
    assert [dialog.states.item(i).text() for i in range(dialog.states.count())] == [
        "one: lift 50 mm, bracket 0 mm",
        "two: lift 70 mm, bracket 20 mm",
    ]
    dialog.states.setCurrentRow(0)
    dialog._back()
    assert dialog.setup == Setup(lift=50.0)
    dialog._forget()
    assert len(dialog.changes()["states"]) == 1  # type: ignore[arg-type]
    assert "2026-11-25 10:00 template" in dialog.history.text()


def test_what_is_open_is_duplicated(window: MainWindow, folder: Path) -> None:
    window.files.open_path(str(folder / "1.job.toml"))
    window.actions_by_name["duplicate"].trigger()
    document = window.session.document
    assert document.job.number == new_number(folder)
    assert document.job.customer == "B"
    assert document.path is None


# -- opening


def test_a_job_is_opened_saved_and_shown_in_the_title(window: MainWindow, folder: Path) -> None:
    assert window.files.open_path(str(folder / "1.job.toml"))
    window.frame_now()
    assert "2026-001 B" in window.title.text()
    assert "1.job.toml" in window.windowTitle()
    window.session.edit_job("status", status="cut")
    window.actions_by_name["save"].trigger()
    assert read_job(folder / "1.job.toml").job.status == "cut"


def test_a_job_named_on_the_command_line_is_opened(folder: Path, tmp_path: Path) -> None:
    session, refused = first_session(str(folder / "1.job.toml"), Store(tmp_path / "s"))
    assert refused is None
    assert session.document.job.customer == "B"
    session.close()


@pytest.mark.parametrize(("word", "path"), [("copy", False), ("look", True), ("stay", None)])
def test_a_job_open_elsewhere_is_asked_about(
    window: MainWindow, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, word: str, path: bool | None
) -> None:
    file = str(folder / "1.job.toml")
    other = Session(Document(read_vehicle(demo_vehicle_paths()[0])), Store(tmp_path / "other"))
    other.open(file)
    monkeypatch.setattr(dialogs, "ask_held", lambda *_: word)
    before = window.session.document
    assert window.files.open_path(file) == (path is not None)
    document = window.session.document
    if path is None:
        assert document is before
    else:
        assert document.job.customer == "B"
        assert (document.path == file) == path
    other.close()


def test_a_damaged_job_says_what_is_lost_and_opens_the_rest(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []

    def take(dialog: damage.Damage) -> None:
        said.append(dialog.losses.item(0).text())
        dialog.take.click()

    answer(monkeypatch, damage.Damage, take)
    file = folder / "3.job.toml"
    text = file.read_text()
    assert window.files.open_path(str(file))
    assert "customer = D" in said[0]
    assert window.session.document.setup.lift == 60.0
    assert window.session.document.path is None
    assert window.session.dirty
    assert file.read_text() == text


def test_a_damaged_job_named_on_the_command_line_is_offered_too(
    window: MainWindow, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer(monkeypatch, damage.Damage, lambda dialog: dialog.take.click())
    _, refused = first_session(str(folder / "3.job.toml"), Store(tmp_path / "s"))
    assert refused is not None
    window.files.tell(refused)
    assert window.session.document.setup.lift == 60.0


def test_a_job_without_its_vehicle_shows_the_rest_to_copy(window: MainWindow, folder: Path) -> None:
    file = folder / "2.job.toml"
    file.write_text(file.read_text().split("[vehicle.links")[0])
    dialog = damage.Damage(str(file), recover(file), window)
    assert "customer: C" in dialog.rest.toPlainText()
    assert not hasattr(dialog, "take")


def test_a_new_job_is_saved_into_the_shops_folder(
    window: MainWindow, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from linkviz.window import files

    asked: list[str] = []

    def name(parent: object, title: str, start: str, kinds: str, kind: str) -> tuple[str, str]:
        asked.append(start)
        return start, kind

    monkeypatch.setattr(files.QFileDialog, "getSaveFileName", name)
    window.session.begin(Document(window.session.document.vehicle, Setup(), None, Job(number="2026-009", customer="H")))
    window.actions_by_name["save"].trigger()
    assert asked == [str(folder / "2026-009-h.job.toml")]
    assert read_job(asked[0]).job.customer == "H"


def test_every_dialog_can_be_named_and_reached(window: MainWindow, folder: Path, qtbot: Any) -> None:
    whole = read_job(folder / "1.job.toml")
    for dialog in (
        opened(qtbot, window),
        new_job.NewJob((), demo_vehicle_paths(), window.session.document.vehicle, "1", 100.0, "mm", window),
        details.Details(whole.job, whole.setup, "in", parent=window),
        pair.Pair(side_by_side(whole, whole), ("a", "b"), LIGHT, window),
        damage.Damage("3.job.toml", recover(folder / "3.job.toml"), window),
    ):
        dialog.show()
        QApplication.processEvents()
        assert dialog.width() <= 1280
        assert dialog.height() <= 720
        for button in dialog.findChildren(QPushButton):
            assert button.text() or button.accessibleName()
            assert button.focusPolicy() != Qt.FocusPolicy.NoFocus
        dialog.close()


def test_the_folder_is_remembered_as_plain_text(window: MainWindow, folder: Path) -> None:
    assert json.loads((window.session.store.folder / KEY).read_text()) == {"folder": str(folder)}


def test_letters_that_came_along_with_a_pasted_number_are_left_out(qtbot: Any) -> None:
    """Address books put changes of direction around telephone numbers; nobody sees them."""
    dialog = details.Details(Job(number="7"), Setup(), "mm")
    qtbot.addWidget(dialog)
    dialog.lines["contact"].setText("\u202a+1 555 0100\u202c")
    dialog.notes.setPlainText("call\u200e back\nsoon")
    changed = dialog.changes()
    assert changed == {"contact": "+1 555 0100", "notes": "call back\nsoon"}
    assert job_problems(Job(number="7").replace(**changed)) == []


def test_details_that_are_refused_stay_to_be_put_right(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    before = window.session.document
    shown: list[details.Details] = []

    def fill(dialog: details.Details) -> None:
        shown.append(dialog)
        dialog.notes.setPlainText("word " * 30_000)
        dialog.accept()
        assert not dialog.result() and not dialog.trouble.isHidden()
        assert "Notes: 150000 characters" in dialog.trouble.text()
        assert window.session.document == before
        dialog.notes.setPlainText("a word")
        dialog.accept()

    answer(monkeypatch, details.Details, fill)
    window.actions_by_name["details"].trigger()
    assert len(shown) == 1 and shown[0].result()
    assert window.session.document.job.notes == "a word"


def test_a_kept_setup_that_is_refused_is_not_taken_back() -> None:
    def refuse(changes: dict[str, object], setup: Setup) -> None:
        raise LinkvizError("not today")

    dialog = details.Details(Job(), Setup(lift=50.0), "mm", take=refuse)
    dialog.keep("one")
    dialog.setup = Setup(lift=70.0)
    dialog._back()
    assert dialog.setup == Setup(lift=70.0) and dialog.trouble.text() == "not today"


def test_enter_presses_the_button_that_has_the_keys(window: MainWindow, folder: Path, qtbot: Any) -> None:
    for words, answer in (("Close", ""), ("&Duplicate", "duplicate"), ("&Open", "open")):
        dialog = opened(qtbot, window)
        dialog.finder.setText("2026-001")
        (button,) = (one for one in dialog.findChildren(QPushButton) if one.text() == words)
        button.setFocus()
        qtbot.keyClick(button, Qt.Key.Key_Return)
        assert not dialog.isVisible() and dialog.answer == answer
    for part in ("finder", "table"):
        dialog = opened(qtbot, window)
        dialog.finder.setText("2026-001")
        getattr(dialog, part).setFocus()
        qtbot.keyClick(getattr(dialog, part), Qt.Key.Key_Return)
        assert dialog.answer == "open"


def test_a_setup_that_only_the_job_holds_is_asked_about(
    window: MainWindow, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert window.files.open_path(str(folder / "1.job.toml"))
    window.session.edit_setup("bracket drop", drop=90.0)
    said: list[str] = []
    window.files.said.connect(said.append)
    assert window.files.save_to(str(tmp_path / "a.vehicle.toml"))
    assert "Only the vehicle" in said[-1]
    asked: list[str] = []
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: asked.append(name) or "stay")
    assert not window.files.may_leave()
    assert len(asked) == 1
    assert window.files.open_path(str(tmp_path / "a.vehicle.toml")) is False
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: "discard")
    assert window.files.open_path(str(tmp_path / "a.vehicle.toml"))
    window.session.edit_setup("bracket drop", drop=95.0)
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: pytest.fail("a sketch is not asked about"))
    assert window.files.may_leave()
