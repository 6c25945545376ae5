"""Nothing is cut off at 200 %: on 1920 x 1080 and 1280 x 720 that leaves 960 x 540 and 640 x 360 screen points."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QRect, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetrics, QFontMetricsF, QPainter
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QDialog,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QTableWidget,
    QVBoxLayout,
    QWidget,
)

from linkviz.session.view import PAGES
from linkviz.window import lift_chart, small_room
from linkviz.window.lift_limits import LiftLimits
from linkviz.window.pages import map_view
from linkviz.window.small_room import LEAST, bring_into_reach
from linkviz.window.theme import scaled
from linkviz.window.window import MainWindow
from tests.window.conftest import MakeWindow
from tests.window.test_keyboard import told_dialogs
from tests.window.walking import called, in_a_group, in_sight, operable, walked

SLACK = 1
"""Rounding of letters, screen points."""


def cut(root: QWidget) -> list[str]:
    """Return the labels, buttons and typed values that have less room than their words."""
    found = []
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root) or not isinstance(widget, QLabel | QAbstractButton | QLineEdit):
            continue
        words = widget.text()
        if not words or widget.width() == 0:
            continue
        if isinstance(widget, QLineEdit):
            wide = widget.fontMetrics().horizontalAdvance(words) if widget.objectName() == "value" else 0
            good = wide + 6 <= widget.width()
        elif isinstance(widget, QLabel) and widget.wordWrap():
            good = widget.heightForWidth(widget.width()) <= widget.height() + SLACK
        else:
            hint = widget.minimumSizeHint() if isinstance(widget, QLabel) else widget.sizeHint()
            good = hint.width() <= widget.width() + SLACK and hint.height() <= widget.height() + SLACK + 2
        if not good:
            found.append(f"{called(widget)} {words[:40]!r} in {widget.size().toTuple()}")
    return found


def cut_cells(root: QWidget) -> list[str]:
    """Return the cells and headings of tables that have less room than their words."""
    found = []
    for table in root.findChildren(QTableWidget):
        head = table.horizontalHeader()
        for j in range(table.columnCount()) if table.isVisibleTo(root) else ():
            title = table.horizontalHeaderItem(j)
            if title is not None and title.text():
                letters = QFontMetrics(title.font() if title.data(Qt.ItemDataRole.FontRole) else head.font())
                if max(letters.horizontalAdvance(line) for line in title.text().split("\n")) > head.sectionSize(j):
                    found.append(f"{called(table)}, heading {title.text()!r}")
            for i in range(table.rowCount()):
                item = table.item(i, j)
                if item is None:
                    continue
                letters = QFontMetrics(item.font() if item.data(Qt.ItemDataRole.FontRole) else table.font())
                room = table.columnWidth(j) - (0 if item.icon().isNull() else table.iconSize().width()) - 2
                box = QRect(0, 0, room if table.wordWrap() else 9999, 9999)
                needed = letters.boundingRect(box, Qt.TextFlag.TextWordWrap, item.text())
                if needed.width() > room or needed.height() > table.rowHeight(i) + SLACK:
                    found.append(f"{called(table)}, {item.text()!r} in {room} x {table.rowHeight(i)}")
    return found


def show(window: MainWindow, page: str, qtbot: Any) -> None:
    window.session.set_view(page=page, envelope=0 if page == "clearance" else -1)
    window.frame_now()
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
    window.frame_now()
    qtbot.wait(60)
    window.frame_now()


@pytest.mark.parametrize("size", [(1280, 720), (960, 540), (640, 360)])
def test_no_words_are_cut_and_every_page_is_as_wide_as_its_room(
    make_window: MakeWindow, size: tuple[int, int], qtbot: Any
) -> None:
    window = make_window(size=size)
    assert window.size() == QSize(*size)
    assert window.frame is not None and not window.frame.scene.large
    for unit in ("mm", "in"):
        window.session.set_view(unit=unit)
        for page in PAGES:
            show(window, page, qtbot)
            shown = window.side.page(page)
            assert shown.widget().width() <= shown.viewport().width(), page
            for part in (shown, window.controls, window.graph):
                assert not cut(part), f"{page} at {size}, {unit}"


@pytest.mark.parametrize("page", PAGES)
def test_all_is_reached_by_the_keys_in_the_least_window(make_window: MakeWindow, page: str, qtbot: Any) -> None:
    window = make_window(size=(LEAST.width(), LEAST.height()))
    show(window, page, qtbot)
    window.activateWindow()
    window.stage.side.setFocus()
    for _ in range(4):
        window.next_pane()
    assert QApplication.focusWidget() is window.stage.rear
    met = walked(window.stage.rear)  # looks at each whether it is in sight
    extension = window.toolbar.findChild(QWidget, "qt_toolbar_ext_button")
    assert extension is not None and extension in met
    for widget in operable(window):
        assert widget in met or in_a_group(widget), f"{called(widget)} is not reached"


def test_where_parts_stand_above_each_other_a_page_asked_for_comes_into_sight(
    make_window: MakeWindow, qtbot: Any
) -> None:
    window = make_window(size=(640, 360))
    show(window, "counter", qtbot)
    across = window.centralWidget()
    assert isinstance(across, small_room.Across) and across.stacked
    across.verticalScrollBar().setValue(0)
    show(window, "lift", qtbot)
    assert in_sight(window.side).height() >= 200
    window.resize(1280, 720)
    window.frame_now()
    assert not across.stacked
    assert across.splitter.sizes()[1] >= 300


def test_where_the_handle_is_side_by_side_is_kept_through_a_small_window(make_window: MakeWindow) -> None:
    window = make_window(size=(1280, 720))
    across = window.centralWidget()
    assert isinstance(across, small_room.Across)
    across.splitter.setSizes([1280 - 504, 500])
    before, kept = across.splitter.sizes(), window.places()["across"]
    window.resize(640, 360)
    window.frame_now()
    assert across.stacked
    assert window.places()["across"] == kept
    window.resize(1280, 720)
    window.frame_now()
    assert across.splitter.sizes() == before


@pytest.fixture
def large_letters(qapp: Any) -> Iterator[None]:
    usual = QFont(QApplication.font())
    QApplication.setFont(scaled(usual, 2.0))
    yield
    QApplication.setFont(usual)


def test_letters_of_twice_the_size_are_not_cut(large_letters: None, make_window: MakeWindow, qtbot: Any) -> None:
    window = make_window(size=(1280, 720))
    assert window.frame is not None and window.frame.scene.large
    for page in PAGES:
        show(window, page, qtbot)
        shown = window.side.page(page)
        assert shown.widget().width() <= shown.viewport().width(), page
        assert not cut(shown), page
        assert not cut_cells(shown), page
        assert not cut(window.controls)


@pytest.mark.parametrize("factor", [1.0, 1.5])
def test_cells_are_not_cut_in_letters_of_any_size(
    make_window: MakeWindow, qtbot: Any, factor: float, request: pytest.FixtureRequest
) -> None:
    usual = QFont(QApplication.font())
    request.addfinalizer(lambda: QApplication.setFont(usual))
    QApplication.setFont(scaled(usual, factor))
    window = make_window(size=(1280, 720))
    for unit in ("mm", "in"):
        window.session.set_view(unit=unit)
        for page in ("counter", "lift", "bracket", "valve"):
            show(window, page, qtbot)
            shown: Any = window.side.page(page)
            qtbot.waitUntil(lambda shown=shown: not getattr(shown, "working", False), timeout=20000)
            assert not cut_cells(shown), f"{page}, {unit}"
    window.resize(1100, 720)
    window.frame_now()
    assert not cut_cells(window.side.page("bracket"))


def test_every_dialog_fits_a_screen_of_that_size(
    window: MainWindow, tmp_path: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Screen:
        def availableSize(self) -> QSize:
            return QSize(640, 360)

    for name, dialog in told_dialogs(window, tmp_path / "jobs").items():
        monkeypatch.setattr(dialog, "screen", Screen, raising=False)
        bring_into_reach(dialog)
        dialog.show()
        qtbot.wait(10)
        assert dialog.width() <= 640 and dialog.height() <= 360, name
        dialog.close()


def test_what_a_low_dialog_holds_is_scrolled_to_by_the_keys(window: MainWindow, qtbot: Any) -> None:
    dialog = QDialog(window)
    column = QVBoxLayout(dialog)
    buttons = [QPushButton(f"Number {i}") for i in range(60)]
    for button in buttons:
        column.addWidget(button)
    bring_into_reach(dialog)
    assert dialog.height() <= dialog.screen().availableSize().height()
    dialog.show()
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    area = dialog.findChildren(QScrollArea)[0]
    here = buttons[0]
    here.setFocus()
    for button in buttons[1:]:
        qtbot.keyClick(here, Qt.Key.Key_Tab)
        assert button.hasFocus()
        place = QRect(button.mapTo(area, QPoint(0, 0)), button.size())
        assert area.rect().contains(place)
        here = button


def written(widget: QWidget, module: Any, monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, QRectF, QRectF]]:
    """Paint a widget; return each text, the room it has and the room it takes, screen points."""
    found: list[tuple[str, QRectF, QRectF]] = []

    class Painter(QPainter):
        def drawText(self, place: Any, *what: Any) -> None:
            letters, text = QFontMetricsF(self.font()), what[-1]
            wide = letters.horizontalAdvance(text)
            if isinstance(place, QRectF):
                at = QRectF(place.topLeft(), QSizeF(wide, letters.height()))
                found.append((text, place & QRectF(widget.rect()), at))
            else:
                at = QRectF(place.x(), place.y() - letters.ascent(), wide, letters.height())
                found.append((text, QRectF(widget.rect()), at))
            super().drawText(place, *what)

    monkeypatch.setattr(module, "QPainter", Painter)
    widget.grab()
    return found


def test_graphs_of_their_own_have_room_for_large_letters(
    large_letters: None, make_window: MakeWindow, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = make_window(size=(1280, 720), page="clearance")
    limits = LiftLimits(window.session, window.colours, window)
    limits.show()
    qtbot.waitUntil(lambda: limits.chart.found is not None)
    page: Any = window.side.page("clearance")
    page.sheets.setCurrentWidget(page.map)
    window.frame_now()
    qtbot.waitUntil(lambda: page.map.view.map is not None, timeout=20000)
    for widget, module in ((limits.chart, lift_chart), (page.map.view, map_view)):
        told = written(widget, module, monkeypatch)
        assert len(told) > 5
        for text, room, taken in told:
            assert taken.width() <= room.width() + SLACK and taken.height() <= room.height() + SLACK, text
            assert QRectF(widget.rect()).adjusted(-1, -1, 1, 1).contains(taken), text
    limits.close()
    limits.wait()
