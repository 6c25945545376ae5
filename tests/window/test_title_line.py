from __future__ import annotations

import pytest

pytest.importorskip("PySide6.QtWidgets")

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QHBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from linkviz.window.title_line import TitleLine


class Counted(QObject):
    """Counts how often a widget is to be laid out again."""

    def __init__(self) -> None:
        super().__init__()
        self.asked = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.asked += event.type() == QEvent.Type.LayoutRequest
        return False


def test_another_title_is_painted_and_nothing_laid_out_again(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    line = TitleLine()
    QHBoxLayout(window).addWidget(line)
    window.resize(500, 60)
    window.show()
    line.show_title("Wagon", "lifted 100 mm")
    qtbot.wait(20)
    before, counted = line.grab().toImage(), Counted()
    window.installEventFilter(counted)
    line.show_title("Wagon", "lifted 101.5 mm, bracket 95 mm")
    qtbot.wait(20)
    assert counted.asked == 0
    assert line.grab().toImage() != before
    assert line.text() == line.accessibleName() == "Wagon lifted 101.5 mm, bracket 95 mm"


def ink(line: TitleLine, left: int, right: int) -> bool:
    """Return whether anything is written between two columns."""
    picture = line.grab().toImage()
    paper = picture.pixel(0, 0)
    return any(picture.pixel(x, y) != paper for x in range(left, right) for y in range(picture.height()))


def test_in_a_small_room_the_name_stands_alone_and_inside(qtbot: QtBot) -> None:
    line = TitleLine()
    qtbot.addWidget(line)
    line.show_title("A name that is rather long for a tool bar", "lifted 101.5 mm, bracket 95 mm")
    for wide in (700, 330, 120):
        line.resize(wide, 30)
        assert ink(line, 2, wide - 6) and not ink(line, 0, 1) and not ink(line, wide - 5, wide)
    line.resize(120, 30)
    small = line.grab().toImage()
    line.show_title("A name that is rather long for a tool bar", "as built, with nothing more said about it")
    assert line.grab().toImage() == small
