"""Every control is reached by the keys in the order in which it is read, has a name, and lets the keys go on."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QDialog, QSlider, QTableWidget, QToolButton, QWidget

from linkviz.analysis.setup import Setup
from linkviz.book.compare import side_by_side
from linkviz.book.model import Job, Whole
from linkviz.book.recover import recover
from linkviz.book.write import write_job
from linkviz.errors import FileRefused, Problem
from linkviz.papers.shapes import Page as Sheet
from linkviz.resources import demo_vehicle_paths
from linkviz.session.outline_exchange import Found
from linkviz.session.view import PAGES
from linkviz.window import dialogs
from linkviz.window.equations import Equations
from linkviz.window.guide import Guide
from linkviz.window.import_outlines import ImportDialog, TakeDialog
from linkviz.window.lift_limits import LiftLimits
from linkviz.window.pages.results import Results
from linkviz.window.pages.table import TypedTable
from linkviz.window.preview import Large
from linkviz.window.reading_order import show_focus
from linkviz.window.shop.book import Book
from linkviz.window.shop.damage import Damage
from linkviz.window.shop.details import Details
from linkviz.window.shop.folder import choose
from linkviz.window.shop.new_job import NewJob
from linkviz.window.shop.pair import Pair
from linkviz.window.theme import LIGHT
from linkviz.window.window import MainWindow
from tests.window.conftest import MakeWindow
from tests.window.walking import assert_read, called, in_a_group, name_of, operable, walked


def parts(window: MainWindow) -> list[QWidget]:
    page = window.side.page(window.session.view.page)
    return [window.toolbar, window.stage, window.controls, window.graph, page.widget()]


def show(window: MainWindow, page: str, qtbot: Any) -> None:
    window.session.set_view(page=page, envelope=0 if page == "clearance" else -1)
    window.frame_now()
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
    window.frame_now()
    window.activateWindow()


@pytest.mark.parametrize("page", PAGES)
def test_tab_goes_once_through_every_control_as_it_is_read_and_back(window: MainWindow, page: str, qtbot: Any) -> None:
    show(window, page, qtbot)
    met = walked(window.stage.rear)
    for widget in operable(window):
        assert widget in met or in_a_group(widget), f"{called(widget)} is not reached"
    back = walked(window.stage.rear, Qt.Key.Key_Backtab)
    assert [called(widget) for widget in back] == [called(widget) for widget in met[:1] + met[:0:-1]]
    regions = [next((i for i, part in enumerate(parts(window)) if part.isAncestorOf(w)), 9) for w in met]
    begin = met.index(next(w for w in met if window.toolbar.isAncestorOf(w)))
    told = [r for r in regions[begin:] + regions[:begin] if r < 9]
    assert told == sorted(told), "the parts of the window are not gone through one after the other"
    for part in parts(window):
        assert_read(met, part)


def test_what_comes_later_is_reached_where_it_is_read(window: MainWindow, qtbot: Any) -> None:
    show(window, "vehicle", qtbot)
    folds = [b for b in window.side.page("vehicle").findChildren(QToolButton) if b.isCheckable()]
    folds[0].setFocus()
    qtbot.keyClick(folds[0], Qt.Key.Key_Space)
    window.frame_now()
    window.actions_by_name["draw"].trigger()
    window.frame_now()
    window.notice.refuse("No.")
    met = walked(window.stage.rear)
    for widget in operable(window):
        assert widget in met or in_a_group(widget), f"{called(widget)} is not reached"
    assert {window.notice.close_button, window.stage.bar.kinds, window.stage.bar.close_button} <= set(met)
    assert 1 < met.index(window.stage.bar.kinds) < met.index(window.controls.lift.slider)
    at = met.index(folds[0])
    assert called(met[at + 1]).startswith("Entry"), "the fields of what was unfolded come after it"
    assert_read(met, window.side.page("vehicle").widget())


@pytest.mark.parametrize(("page", "kind"), [("counter", QTableWidget), ("valve", Results), ("bracket", TypedTable)])
def test_the_place_of_the_keys_in_a_long_table_is_in_sight(
    make_window: MakeWindow, page: str, kind: type[QTableWidget], qtbot: Any
) -> None:
    window = make_window(size=(1000, 560))
    show(window, page, qtbot)
    shown = window.side.page(page)
    table = shown.findChildren(kind)[0]
    table.setFocus(Qt.FocusReason.TabFocusReason)
    show_focus(window)
    table.setCurrentCell(0, 0)
    for _ in range(table.rowCount() - 1):
        qtbot.keyClick(table, Qt.Key.Key_Down)
        cell = table.visualRect(table.currentIndex())
        top = table.viewport().mapTo(shown, cell.topLeft()).y()
        assert top >= 0
        assert top + min(cell.height(), shown.height()) <= shown.height()
    assert table.currentRow() == table.rowCount() - 1


def test_what_is_switched_off_under_the_keys_hands_them_to_what_is_read_next(window: MainWindow, qtbot: Any) -> None:
    show(window, "counter", qtbot)
    window.controls.drop.slider.setFocus()
    window.controls.drop.slider.setEnabled(False)
    assert QApplication.focusWidget() is window.controls.drop.box


def told_dialogs(window: MainWindow, folder: Path) -> dict[str, QDialog]:
    """Return every dialog of the program, none of them shown."""
    vehicle = window.session.document.vehicle
    whole = Whole(Job(number="2026-001", customer="A"), Setup(lift=80.0, drop=60.0), vehicle)
    folder.mkdir()
    write_job(whole, folder / "1.job.toml")
    torn = folder / "2.job.toml"
    torn.write_text((folder / "1.job.toml").read_text().replace('customer = "A"', "customer = A"))
    choose(window.session.store, folder)
    square = Found("tank", ((0.0, 300.0), (200.0, 300.0), (200.0, 500.0), (0.0, 500.0)), "")
    assert window.frame is not None
    return {
        "signs": dialogs.signs(window),
        "cautions": dialogs.cautions(window),
        "about": dialogs.about(window),
        "problems": dialogs.ProblemsDialog(FileRefused("a.toml", [Problem("axle.track", "-1", "a length")]), window),
        "limits": LiftLimits(window.session, LIGHT, window),
        "equations": Equations(window.frame.scene.live, LIGHT, window),
        "guide": Guide("light", "mm", window),
        "book": Book(window.session, window),
        "new job": NewJob((), demo_vehicle_paths(), vehicle, "1", 100.0, "mm", window),
        "details": Details(whole.job, whole.setup, "in", parent=window),
        "pair": Pair(side_by_side(whole, whole), ("a", "b"), LIGHT, window),
        "damage": Damage(torn.name, recover(torn), window),
        "import": ImportDialog((square,), vehicle.envelopes, 0, "mm", window),
        "take": TakeDialog("Other", vehicle.envelopes, "mm", window),
        "large": Large(Sheet(210.0, 297.0, ()), "Cut list", window),
    }


def test_tab_goes_through_every_dialog(window: MainWindow, tmp_path: Path, qtbot: Any) -> None:
    for name, dialog in told_dialogs(window, tmp_path / "jobs").items():
        dialog.show()
        dialog.activateWindow()
        qtbot.wait(30)
        there = operable(dialog)
        met = walked(next(widget for widget in there if not in_a_group(widget)))
        for widget in there:
            assert widget in met or in_a_group(widget), f"{name}: {called(widget)} is not reached"
            assert name_of(widget), f"{name}: {called(widget)} has no name"
        assert len(there) == len({*met, *filter(in_a_group, there)}), name
        first = min(range(len(met)), key=lambda i: (met[i].mapTo(dialog, QPoint(0, 0)).y() // 20, met[i].x()))
        assert_read(met[first:] + met[:first], dialog)
        qtbot.keyClick(dialog, Qt.Key.Key_Escape)
        assert dialog.isHidden(), f"{name} does not close by Esc"


@pytest.mark.parametrize("page", PAGES)
def test_every_control_has_a_name_and_what_slides_says_its_value_with_its_unit(
    window: MainWindow, page: str, qtbot: Any
) -> None:
    show(window, page, qtbot)
    for unit in ("mm", "in"):
        window.session.set_view(unit=unit)
        window.frame_now()
        for widget in operable(window):
            assert name_of(widget), f"{called(widget)} has no name"
            found = QAccessible.queryAccessibleInterface(widget)
            if isinstance(widget, QSlider):
                told = found.text(QAccessible.Text.Name)
                assert re.search(r', [-+\N{MINUS SIGN}]?[0-9][^.]*(\.[0-9])?( mm|"|\N{DEGREE SIGN})$', told), (
                    f"{called(widget)} says {told!r}"
                )
