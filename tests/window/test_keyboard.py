"""Every control is reached by the keys in the order in which it is read, has a name, and lets the keys go on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QDialog, QSlider, QWidget

from linkviz.book.compare import side_by_side
from linkviz.book.model import Job
from linkviz.book.recover import recovered
from linkviz.errors import FileRefused, Problem
from linkviz.session.document import Document
from linkviz.session.outline_exchange import Found
from linkviz.session.view import PAGES
from linkviz.vehicle.write import vehicle_text
from linkviz.window import dialogs
from linkviz.window.equations import Equations
from linkviz.window.guide import Guide
from linkviz.window.import_outlines import ImportDialog, TakeDialog
from linkviz.window.lift_limits import LiftLimits
from linkviz.window.shop.book import Book
from linkviz.window.shop.details import Details
from linkviz.window.shop.new_job import NewJob
from linkviz.window.shop.pair import Pair
from linkviz.window.theme import LIGHT
from linkviz.window.value_box import ValueBox
from linkviz.window.window import MainWindow
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
