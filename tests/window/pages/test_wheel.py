"""A mouse that scrolls a page past a slider, a list or a row of tabs changes nothing."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QAbstractSlider, QAbstractSpinBox, QApplication, QComboBox, QScrollBar, QTabBar, QWidget

from linkviz.session.view import PAGES
from linkviz.window.controls import Control
from linkviz.window.pages.tables import Group
from tests.window.conftest import MakeWindow
from tests.window.pages.test_bracket import own_two_holes


def turned(widget: QWidget, by: int = -120) -> bool:
    """Turn the wheel over a widget; return whether it kept the event for itself."""
    middle = QPointF(widget.rect().center())
    event = QWheelEvent(
        middle,
        QPointF(widget.mapToGlobal(middle)),
        QPoint(),
        QPoint(0, by),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    event.ignore()
    # past the widgets around it, which may well take what this one leaves
    widget.event(event)
    return event.isAccepted()


def state(widget: QWidget) -> object:
    if isinstance(widget, QAbstractSlider):
        return widget.value()
    return widget.text() if isinstance(widget, QAbstractSpinBox) else widget.currentIndex()


@pytest.mark.parametrize("page", PAGES)
def test_the_wheel_scrolls_the_page_and_changes_no_value(make_window: MakeWindow, page: str) -> None:
    window = make_window(page=page)
    window.session.edit_job("own", bracket=own_two_holes())
    window.frame_now()
    place = window.side.page(page)
    for group in place.findChildren(Group):
        group.head.setChecked(True)
    window.stage.rear.setFocus()
    QApplication.processEvents()
    before = window.session.document
    kinds = (QAbstractSlider, QAbstractSpinBox, QComboBox, QTabBar)
    found = [one for kind in kinds for one in place.findChildren(kind) if not isinstance(one, QScrollBar)]
    # the menus pyqtgraph brings along are windows of their own
    found = [one for one in found if one.window() is window]
    for widget in found:
        was = state(widget)
        for by in (-120, 120):
            assert not turned(widget, by), f"{type(widget).__name__} {widget.accessibleName()}"
            assert state(widget) == was
    assert window.session.document is before
    # what would turn is there to be tried
    assert found or page in ("counter", "vehicle")


def test_a_slider_that_has_the_keys_takes_the_wheel(make_window: MakeWindow) -> None:
    window = make_window(page="valve")
    slider = window.side.page("valve").findChild(Control).slider
    slider.setFocus()
    was = slider.value()
    assert turned(slider, 120)
    assert slider.value() != was
