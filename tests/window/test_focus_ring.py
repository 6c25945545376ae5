"""What has the keys is seen: an outline of two points all around, 3 : 1 against what was there (WCAG 2.2, 2.4.13)."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QDialog, QPushButton, QVBoxLayout, QWidget
from shiboken6 import delete

from linkviz.session.view import PAGES
from linkviz.window import focus_ring
from linkviz.window.focus_ring import FocusRing, rings_of
from linkviz.window.reading_order import in_reading_order, show_focus
from linkviz.window.window import MainWindow
from tests.contrast import contrast
from tests.window.walking import called, in_sight


def ring(window: QWidget) -> FocusRing:
    return rings_of(window)[0]


def around(place: QRect) -> list[QPoint]:
    """Return places along the middle of the ring, ten on each side, the rounded corners left out."""
    at = focus_ring.WIDTH // 2
    left, top, right, bottom = place.left() + at, place.top() + at, place.right() - at, place.bottom() - at
    parts = [0.2 + 0.06 * i for i in range(11)]
    across = [round(left + (right - left) * part) for part in parts]
    down = [round(top + (bottom - top) * part) for part in parts]
    return [QPoint(x, y) for x in across for y in (top, bottom)] + [QPoint(x, y) for x in (left, right) for y in down]


def colours(picture: QImage, places: list[QPoint]) -> list[str]:
    return [picture.pixelColor(place).name() for place in places]


def without(window: MainWindow) -> QImage:
    ring(window).hide()
    return window.grab().toImage()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_what_has_the_keys_has_an_outline_that_stands_out(window: MainWindow, theme: str, qtbot: Any) -> None:
    seen: set[tuple[str, str]] = set()
    for page in PAGES:
        window.session.set_view(theme=theme, page=page, envelope=0 if page == "clearance" else -1)
        window.frame_now()
        for widget in in_reading_order(window):
            kind = (type(widget).__name__, widget.parentWidget().objectName())
            if kind in seen or not widget.isEnabled():
                continue
            widget.setFocus(Qt.FocusReason.TabFocusReason)
            window.rings.show()
            window.frame_now()
            show_focus(window)
            QApplication.processEvents()
            if not widget.isEnabled():
                continue  # pages of papers came meanwhile, and it stands at the first of them
            seen.add(kind)
            place = ring(window).geometry()
            inside = in_sight(widget).adjusted(2, 2, -2, -2)
            assert ring(window).isVisible() and place.contains(inside), called(widget)
            places = around(place)
            after = colours(window.grab().toImage(), places)
            before = colours(without(window), places)
            told = [contrast(a, b) for a, b in zip(before, after, strict=True)]
            # it may cross the edge of a neighbour, which is nearly as dark
            assert sum(ratio >= 3.0 for ratio in told) >= 0.9 * len(told), f"{called(widget)}: {sorted(told)[:6]}"
    assert len(seen) >= 20


def test_the_ring_comes_with_the_keys_and_goes_with_the_mouse(window: MainWindow, qtbot: Any) -> None:
    window.activateWindow()
    lift = window.controls.lift
    qtbot.mouseClick(lift.box, Qt.MouseButton.LeftButton)
    assert not rings_of(window)
    qtbot.keyClick(lift.box, Qt.Key.Key_Tab)
    assert ring(window).isVisible()
    drop = window.controls.drop.slider
    assert ring(window).geometry().contains(QRect(drop.mapTo(window, QPoint(0, 0)), drop.size()))
    qtbot.mouseClick(window.stage.side, Qt.MouseButton.LeftButton)
    window.stage.side.setFocus()
    assert QApplication.focusWidget() is window.stage.side
    window.next_pane()
    assert ring(window).isVisible()


def test_the_ring_moves_with_what_it_is_around_and_goes_with_it(window: MainWindow, qtbot: Any) -> None:
    window.session.set_view(page="vehicle")
    window.frame_now()
    page = window.side.page("vehicle")
    page.name.setFocus()
    window.rings.show()
    before = ring(window).geometry()
    page.verticalScrollBar().setValue(10)
    QApplication.processEvents()
    assert ring(window).geometry().top() <= before.top() - 5
    page.verticalScrollBar().setValue(page.verticalScrollBar().maximum())
    QApplication.processEvents()
    assert not ring(window).isVisible()
    page.verticalScrollBar().setValue(0)
    QApplication.processEvents()
    assert ring(window).isVisible()
    window.session.set_view(page="lift")
    window.frame_now()
    now = QApplication.focusWidget()
    assert not ring(window).isVisible() or (now is not None and now.isVisible())


def test_a_dialog_has_a_ring_of_its_own_and_it_goes_with_the_dialog(window: MainWindow, qtbot: Any) -> None:
    dialog = QDialog(window)
    column = QVBoxLayout(dialog)
    for words in ("One", "Two"):
        column.addWidget(QPushButton(words))
    dialog.show()
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    first = dialog.findChildren(QPushButton)[0]
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Tab)
    assert ring(dialog).isVisible()
    dialog.close()
    dialog.deleteLater()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.stage.rear.setFocus()
    qtbot.keyClick(window.stage.rear, Qt.Key.Key_Tab)
    assert ring(window).isVisible()


def test_the_ring_goes_on_when_what_it_lay_around_is_gone(window: MainWindow, qtbot: Any) -> None:
    button = QPushButton("Gone soon", window)
    button.show()
    button.setFocus()
    window.rings.show()
    delete(button)
    window.rings.show()
    window.stage.rear.setFocus()
    window.rings.show()
    assert ring(window).isVisible()


def test_a_ring_that_has_lost_its_own_values_lies_around_nothing_until_it_is_asked(window: MainWindow) -> None:
    window.stage.rear.setFocus()
    window.rings.show()
    vars(ring(window)).clear()  # the collector does so with a window that is just let go of
    window.stage.rear.resize(window.stage.rear.size() * 0.9)
    ring(window).show_around(None)
    assert not ring(window).isVisible()
