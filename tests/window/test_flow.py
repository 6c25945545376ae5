"""A row that goes on below where there is no more room: the tabs of the pages at any size of letters."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QPushButton, QWidget

from linkviz.window.flow import Flow


def test_what_does_not_fit_stands_in_the_next_row(qtbot: Any) -> None:
    host = QWidget()
    qtbot.addWidget(host)
    flow = Flow(host)
    buttons = [QPushButton(text) for text in ("one", "two", "three", "four")]
    for button in buttons:
        flow.addWidget(button)
    wide = flow.sizeHint().width()
    host.resize(wide, 200)
    host.show()
    qtbot.waitExposed(host)
    assert len({button.y() for button in buttons}) == 1
    assert flow.heightForWidth(wide) == buttons[0].height()
    host.resize(wide - 10, 200)
    qtbot.waitUntil(lambda: buttons[-1].y() > buttons[0].y())
    assert flow.heightForWidth(wide - 10) == 2 * buttons[0].height()
    assert buttons[-1].x() == buttons[0].x()


def test_no_tab_is_cut_off(make_window: Any) -> None:
    window = make_window()
    for tab in window.side.tabs.values():
        assert tab.width() >= tab.sizeHint().width()
        assert tab.geometry().right() <= window.side.width()
