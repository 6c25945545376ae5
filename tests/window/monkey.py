"""A user who does anything: clicks, drags, keys, typed words, menus, sizes, files. The same seed does the same."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QApplication,
    QComboBox,
    QDialog,
    QFileDialog,
    QLineEdit,
    QMenu,
    QTableWidget,
    QWidget,
)

from linkviz.window.window import MainWindow

LEFT = Qt.MouseButton.LeftButton
NO_BUTTON = Qt.MouseButton.NoButton
NO_KEY = Qt.KeyboardModifier.NoModifier
KEYS = (
    *("Left", "Right", "Up", "Down", "Escape", "Return", "Delete", "Backspace", "Tab", "Backtab", "F6", "Plus"),
    *("Minus", "Home", "End", "PageUp", "PageDown", "Space", "D", "F", "I", "G"),
)
MODIFIERS = (NO_KEY, NO_KEY, Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier)
WORDS = (
    *("", "0", "nan", "-inf", "1e9", '3 1/2"', "90mm", "abc", "-5", "1e-12", "10000", "2/0", "\u00bd", "12.5"),
    *("9" * 40, "7 ft", "4in", "\u202e12", "a\x00b", "<b>x</b>", "100", "45 deg", "\N{MINUS SIGN}3"),
)
SIZES = ((1280, 720), (900, 500), (1000, 620), (1920, 1080), (1366, 768))
LEAVES = {"quit"}
"""Deeds that would end the run."""


class Monkey:
    """Random actions on a window.

    Parameters
    ----------
    window : MainWindow
    seed : int
        The same seed does the same to the same window.
    files : list of Path
        What it opens when asked for a file to open.
    folder : Path
        Where it saves.
    """

    def __init__(self, window: MainWindow, seed: int, files: list[Path], folder: Path) -> None:
        self.window, self.random, self.files, self.folder = window, random.Random(seed), files, folder
        self.done: list[str] = []
        self.folder.mkdir(parents=True, exist_ok=True)
        self._closer = QTimer(window)
        self._closer.setInterval(15)
        self._closer.timeout.connect(self._close_what_waits)
        self._closer.start()
        self._ways: tuple[tuple[int, Callable[[], None]], ...] = (
            (5, self.click),
            (5, self.drag),
            (4, self.key),
            (4, self.deed),
            (4, self.type),
            (3, self.cell),
            (4, self.slide),
            (2, self.wheel),
            (2, self.choose),
            (1, self.size),
            (1, self.drop),
        )

    def answer_files(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Answer every question for a file as a user would: with one, or with none."""

        def opened(*_: object, **__: object) -> tuple[str, str]:
            return (str(self.random.choice(self.files)) if self.random.random() < 0.8 else "", "")

        def saved(*_: object, **__: object) -> tuple[str, str]:
            endings = (".vehicle.toml", ".job.toml", ".png", ".svg", ".csv", ".dxf", "")
            name = f"saved{self.random.randrange(4)}{self.random.choice(endings)}"
            return (str(self.folder / name) if self.random.random() < 0.8 else "", "")

        def folder(*_: object, **__: object) -> str:
            return str(self.folder) if self.random.random() < 0.8 else ""

        monkeypatch.setattr(QFileDialog, "getOpenFileName", opened)
        monkeypatch.setattr(QFileDialog, "getSaveFileName", saved)
        monkeypatch.setattr(QFileDialog, "getExistingDirectory", folder)

    def act(self) -> str:
        """Do one thing and return what it was."""
        ways = [way for _, way in self._ways]
        way = self.random.choices(ways, [weight for weight, _ in self._ways])[0]
        self.done.append(way.__name__)
        way()
        if self.random.random() < 0.6:
            self.window.frame_now()
        else:
            QApplication.processEvents()
        return self.done[-1]

    # -- what it may touch

    def _close_what_waits(self) -> None:
        waiting = QApplication.activeModalWidget() or QApplication.activePopupWidget()
        if isinstance(waiting, QDialog):
            waiting.accept() if self.random.random() < 0.3 else waiting.reject()
        elif isinstance(waiting, QMenu) or (waiting is not None and waiting is not self.window):
            waiting.close()

    def _widgets(self, kind: type[QWidget] = QWidget) -> list[QWidget]:
        found = self.window.findChildren(kind)
        return [widget for widget in found if widget.isVisible() and widget.isEnabled() and widget.width() > 1]

    def _one(self, kind: type[QWidget] = QWidget) -> QWidget | None:
        found = self._widgets(kind)
        return self.random.choice(found) if found else None

    def _place(self, widget: QWidget) -> QPoint:
        return QPoint(self.random.randrange(max(widget.width(), 1)), self.random.randrange(max(widget.height(), 1)))

    def _pane(self) -> QWidget:
        return self.random.choice([self.window.stage.rear, self.window.stage.side])

    # -- what it does

    def click(self) -> None:
        """Click, once or twice, on a drawing, a button or anything else."""
        widget = self.random.choice([self._pane(), self._one(QAbstractButton), self._one()])
        if widget is None or (isinstance(widget, QAbstractButton) and "quit" in widget.objectName()):
            return
        do = QTest.mouseDClick if self.random.random() < 0.2 else QTest.mouseClick
        do(widget, LEFT, NO_KEY, self._place(widget))

    def drag(self) -> None:
        """Press, move about, perhaps press a key meanwhile, let go."""
        widget = self._pane() if self.random.random() < 0.7 else self._one()
        if widget is None:
            return
        at = self._place(widget)
        QTest.mousePress(widget, LEFT, NO_KEY, at)
        for _ in range(self.random.randrange(1, 6)):
            at = at + QPoint(self.random.randrange(-60, 61), self.random.randrange(-60, 61))
            point = QPointF(at)
            move = QMouseEvent(QEvent.Type.MouseMove, point, widget.mapToGlobal(point), NO_BUTTON, LEFT, NO_KEY)
            QApplication.sendEvent(widget, move)
            if self.random.random() < 0.15:
                self.key(widget)
        QTest.mouseRelease(widget, LEFT, NO_KEY, at)

    def key(self, widget: QWidget | None = None) -> None:
        """Press a key where the keys go, or on something else."""
        widget = widget or (QApplication.focusWidget() if self.random.random() < 0.7 else self._one())
        if widget is None:
            return
        name, modifier = self.random.choice(KEYS), self.random.choice(MODIFIERS)
        QTest.keyClick(widget, getattr(Qt.Key, f"Key_{name}"), modifier)

    def deed(self) -> None:
        """Choose something of a menu."""
        names = [name for name in self.window.actions_by_name.of if name not in LEAVES]
        name = self.random.choice(names)
        self.done[-1] += f" {name}"
        action = self.window.actions_by_name[name]
        if action.isEnabled():
            action.trigger()

    def type(self) -> None:
        """Type into a field and press Return."""
        field = self._one(QLineEdit)
        if isinstance(field, QLineEdit):
            field.setFocus()
            field.selectAll()
            field.setText(self.random.choice(WORDS))
            field.setModified(True)
            QTest.keyClick(field, Qt.Key.Key_Return)

    def cell(self) -> None:
        """Type into a cell of a table."""
        table = self._one(QTableWidget)
        if not isinstance(table, QTableWidget) or not table.rowCount() or not table.columnCount():
            return
        item = table.item(self.random.randrange(table.rowCount()), self.random.randrange(table.columnCount()))
        if item is not None and item.flags() & Qt.ItemFlag.ItemIsEditable:
            item.setText(self.random.choice(WORDS))

    def slide(self) -> None:
        """Push a slider somewhere."""
        slider = self._one(QAbstractSlider)
        if isinstance(slider, QAbstractSlider):
            slider.setValue(self.random.randint(slider.minimum(), max(slider.minimum(), slider.maximum())))

    def wheel(self) -> None:
        """Turn the wheel."""
        widget = self._pane() if self.random.random() < 0.6 else self._one()
        if widget is None:
            return
        at = QPointF(self._place(widget))
        turn = QPoint(0, self.random.choice([-240, -120, 120, 240]))
        phase = Qt.ScrollPhase.NoScrollPhase
        event = QWheelEvent(at, widget.mapToGlobal(at), QPoint(), turn, NO_BUTTON, NO_KEY, phase, False)
        QApplication.sendEvent(widget, event)

    def choose(self) -> None:
        """Choose another line of a list."""
        box = self._one(QComboBox)
        if isinstance(box, QComboBox) and box.count():
            box.setCurrentIndex(self.random.randrange(box.count()))
        view = self._one(QAbstractItemView)
        if isinstance(view, QTableWidget) and view.rowCount():
            view.setCurrentCell(self.random.randrange(view.rowCount()), 0)

    def size(self) -> None:
        """Make the window larger or smaller."""
        self.window.resize(*self.random.choice(SIZES))

    def drop(self) -> None:
        """Open a file without being asked."""
        self.window.files.open_path(str(self.random.choice(self.files)))
