"""Names that come out of files are shown as they are written, whatever they look like."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6 import QtGui
from PySide6.QtCore import QAbstractListModel, QModelIndex, Qt
from PySide6.QtGui import QAction, QTextDocument
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QLabel, QMessageBox, QWidget

from linkviz.analysis.photo import filling
from linkviz.analysis.setup import Setup
from linkviz.analysis.telling import Cell
from linkviz.book.compare import Line
from linkviz.book.model import Job
from linkviz.book.recover import Recovered
from linkviz.book.shelf import Entry
from linkviz.errors import FileRefused, Problem
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.live import slow_work
from linkviz.session.view import PAGES
from linkviz.vehicle.read import read_vehicle
from linkviz.window import dialogs
from linkviz.window.pages.sentences import Sentences
from linkviz.window.plain import plain_tip
from linkviz.window.theme import LIGHT
from linkviz.window.window import MainWindow
from tests.window.conftest import MakeWindow

might_be_rich = QtGui.Qt.mightBeRichText  # type: ignore[attr-defined]
NAME = "<b>x</b><img src='no.png'> & y"


def hostile() -> Document:
    """Return a job in which every name a person gives is markup."""
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    envelopes = tuple(e.replace(name=f"{NAME} {i}") for i, e in enumerate(vehicle.envelopes))
    update = {
        "name": NAME,
        "envelopes": envelopes,
        "load_places": tuple(p.replace(name=f"{NAME} {p.name}") for p in vehicle.load_places),
        "other_springs": tuple(s.replace(name=f"{NAME} {s.name}") for s in vehicle.other_springs),
    }
    job = Job(number=NAME, customer=NAME, contact=NAME, name=NAME, notes=NAME, status=NAME)
    return Document(vehicle.replace(**update), Setup(lift=100.0, drop=95.0), None, job)


def shown(widget: QWidget) -> Iterator[tuple[str, str]]:
    """Yield every text of a widget, and of what is in it, that Qt shows as HTML, and where it stands."""
    for one in (widget, *widget.findChildren(QWidget)):
        where = f"{type(one).__name__} {one.accessibleName()}"
        yield f"tip of {where}", one.toolTip()
        yield f"status tip of {where}", one.statusTip()
        if isinstance(one, QLabel) and one.textFormat() != Qt.TextFormat.PlainText:
            yield where, one.text()
        model = one.model() if isinstance(one, QAbstractItemView | QComboBox) else None
        if model is not None:
            for i in range(model.rowCount()):
                for j in range(1 if isinstance(model, QAbstractListModel) else model.columnCount(QModelIndex())):
                    tip = model.index(i, j).data(Qt.ItemDataRole.ToolTipRole)
                    yield f"tip of cell {i}, {j} of {where}", str(tip or "")
        for action in one.findChildren(QAction):
            yield f"tip of {action.text()}", action.toolTip()


def rendered(widget: QWidget) -> list[str]:
    """Return where the markup of a name would be followed."""
    return [f"{where}: {text}" for where, text in shown(widget) if might_be_rich(text) and "<img" in text]


@pytest.mark.parametrize("text", [NAME, "a\n<b>b</b>", "&lt;b&gt;", "a < b", "plain"])
def test_a_tip_shows_what_is_written(text: str, qapp: object) -> None:
    tip, seen = plain_tip(text), QTextDocument()
    seen.setHtml(tip) if might_be_rich(tip) else seen.setPlainText(tip)
    assert seen.toPlainText() == text


@pytest.mark.parametrize("page", PAGES)
def test_no_page_follows_the_markup_of_a_name(make_window: MakeWindow, page: str) -> None:
    window = make_window(document=hostile(), page=page)
    # what of it is worked out beside the painting thread is there, too
    window.live.take(window.live.slow_key, slow_work(window.session.shown, window.session.stock))
    window.session.edit_setup(f"delete {NAME}", drop=90.0)
    window.frame_now()
    if page == "clearance":
        for sheet in range(3):
            window.side.page("clearance").sheets.setCurrentIndex(sheet)
            window.frame_now()
    assert any(NAME in text or "&lt;img" in text for _, text in shown(window))
    assert rendered(window) == []


def test_no_counter_view_follows_it(make_window: MakeWindow) -> None:
    window = make_window(document=hostile(), counter=True)
    assert NAME in window.large.title.text()
    assert rendered(window) == []


def test_no_bar_of_a_photo_follows_it(make_window: MakeWindow, tmp_path: Path) -> None:
    document = hostile().with_photo(
        "rear", filling("rear", f"{tmp_path}/{NAME}.png", (10.0, 10.0), (0.0, 500.0), 900.0)
    )
    window = make_window(document=document)
    window.stage.placer.view = "rear"
    window.stage.photo_bar.show_photo()
    assert "img" in window.stage.photo_bar.title.toolTip()
    assert rendered(window) == []


def test_no_message_follows_it(window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    seen: list[list[str]] = []

    def run(dialog: QWidget) -> int:
        text = " ".join(label.text() for label in dialog.findChildren(QLabel))
        assert NAME in text or not isinstance(dialog, QMessageBox)
        seen.append(rendered(dialog))
        return 0

    monkeypatch.setattr(dialogs, "run", run)
    dialogs.ask_overwrite(window, tmp_path / NAME, [NAME])
    dialogs.tell(FileRefused(NAME, [Problem(NAME, NAME, NAME)]), window)
    dialogs._ask(window, NAME, NAME, NAME, {"save": "a", "discard": "b", "stay": "c"})
    assert seen == [[]] * 3


def test_no_dialog_of_the_shop_follows_it(window: MainWindow, tmp_path: Path) -> None:
    from linkviz.window.lift_limits import LiftLimits
    from linkviz.window.shop.book import Book, Shelf
    from linkviz.window.shop.damage import Damage
    from linkviz.window.shop.details import Details
    from linkviz.window.shop.new_job import NewJob
    from linkviz.window.shop.pair import Pair

    document = hostile()
    window.session.edit(document, "all of it")
    limits = LiftLimits(window.session, LIGHT, window)
    limits.wait()
    book = Book(window.session, window)
    book._work.wait()
    entry = Entry(NAME, customer=NAME, title=NAME, vehicle=NAME, notes=NAME, status=NAME, number=NAME)
    book._came(None, Shelf(book._shelf.folder, (entry, entry.replace(damage=NAME))))
    assert book.rows.rowCount() == 2
    empty = Book(window.session, window)
    empty._work.wait()
    empty._came(None, Shelf(empty._shelf.folder, trouble=f"{NAME} cannot be read"))
    new_job = NewJob((), (), document.vehicle, NAME, 100.0, "mm", window)
    new_job._say(NAME)
    made = [
        limits,
        book,
        empty,
        new_job,
        Details(document.job, document.setup, "mm", (NAME,), parent=window),
        Pair((Line(NAME, (Cell(NAME, ""), Cell("", "")), NAME),), (NAME, NAME), LIGHT, window),
        Damage(NAME, Recovered(document.job, document.setup, None, (NAME,)), window),
    ]
    assert [rendered(dialog) for dialog in made] == [[]] * len(made)
    for dialog in (book, empty):
        dialog.done(0)


def test_sentences_are_shown_as_they_are_written(qtbot: object) -> None:
    sentences = Sentences()
    sentences.show_sentences(((NAME, "ok"),))
    assert rendered(sentences) == []


def test_an_ampersand_in_what_is_undone_is_shown(window: MainWindow) -> None:
    window.session.edit_setup("delete R&D tank", drop=80.0)
    window.frame_now()
    assert "R&&D tank" in window.actions_by_name["undo"].text()
    assert "R&D tank" in window.actions_by_name["undo"].toolTip()
