"""A user who does anything: clicks, drags, keys, typed words, menus, sizes, files. The same seed does the same."""

from __future__ import annotations

import random
from collections import Counter, deque
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QContextMenuEvent, QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QApplication,
    QComboBox,
    QLineEdit,
    QTableWidget,
    QToolButton,
    QWidget,
)

from linkviz.session.view import PAGES
from linkviz.window.window import MainWindow
from tests.window.attend import Attend

LEFT = Qt.MouseButton.LeftButton
NO_BUTTON = Qt.MouseButton.NoButton
NO_KEY = Qt.KeyboardModifier.NoModifier
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEYS = (
    *("Left", "Right", "Up", "Down", "Escape", "Return", "Delete", "Backspace", "Tab", "Backtab", "F6", "Plus"),
    *("Minus", "Home", "End", "PageUp", "PageDown", "Space", "Insert", "D", "F", "I", "G", "Z", "E", "2", "4", "P"),
)
MODIFIERS = (NO_KEY, NO_KEY, SHIFT, CTRL)
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
    attend : Attend
        Deals with the dialogs and menus that come up.

    Attributes
    ----------
    done : deque of str
        The last actions.
    count : Counter
        How often each was done.
    """

    def __init__(self, window: MainWindow, seed: int, attend: Attend) -> None:
        self.window, self.random, self.attend = window, random.Random(seed), attend
        self.done: deque[str] = deque(maxlen=20)
        self.count: Counter[str] = Counter()
        for name in LEAVES:
            window.actions_by_name[name].setEnabled(False)
        self._ways: tuple[tuple[int, Callable[[], None]], ...] = (
            (5, self.click),
            (5, self.drag),
            (4, self.key),
            (4, self.deed),
            (4, self.type),
            (3, self.cell),
            (4, self.slide),
            (3, self.undo),
            (2, self.menu),
            (2, self.page),
            (2, self.wheel),
            (2, self.choose),
            (1, self.context),
            (1, self.envelope),
            (1, self.size),
            (1, self.drop),
            (1, self.elsewhere),
        )

    def act(self) -> str:
        """Do one thing and return what it was."""
        ways = [way for _, way in self._ways]
        way = self.random.choices(ways, [weight for weight, _ in self._ways])[0]
        self.done.append(way.__name__)
        way()
        self.count[self.done[-1]] += 1
        if self.random.random() < 0.6:
            self.window.frame_now()
        else:
            QApplication.processEvents()
        # the program's event loop does it at once; widgets that are looked up in between would keep their Python half
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        return self.done[-1]

    # -- what it may touch

    def _widgets(self, kind: type[QWidget] = QWidget) -> list[QWidget]:
        found = self.window.findChildren(kind)
        return [widget for widget in found if widget.isVisible() and widget.isEnabled() and widget.width() > 1]

    def _one(self, kind: type[QWidget] = QWidget) -> QWidget | None:
        found = self._widgets(kind)
        return self.random.choice(found) if found else None

    def _place(self, widget: QWidget) -> QPoint:
        return QPoint(self.random.randrange(max(widget.width(), 1)), self.random.randrange(max(widget.height(), 1)))

    def _pane(self) -> QWidget:
        panes = [self.window.stage.rear, self.window.stage.side]
        if self.window.graph.isVisible() and self.random.random() < 0.15:
            return self.window.graph.plot
        return self.random.choice(panes)

    # -- what it does

    def click(self) -> None:
        """Click, once or twice, on a drawing, a button or anything else."""
        widget = self.random.choice([self._pane(), self._one(QAbstractButton), self._one()])
        if widget is None:
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

    def undo(self) -> None:
        """Take a few steps back, and some of them forward."""
        for _ in range(self.random.randrange(1, 6)):
            self.window.actions_by_name["undo"].trigger()
        for _ in range(self.random.randrange(0, 5)):
            self.window.actions_by_name["redo"].trigger()

    def menu(self) -> None:
        """Let a menu drop down; what is chosen of it is the attendant's affair."""
        held = [button.menu() for button in self._widgets(QToolButton) if button.menu() is not None]
        dropped = [action.menu() for action in self.window.menuBar().actions()]
        within = [action.menu() for menu in dropped for action in menu.actions() if action.menu() is not None]
        menu = self.random.choice([*held, *dropped, *within])
        self.done[-1] += f" {menu.title()}"
        menu.popup(self.window.mapToGlobal(QPoint(20, 20)))
        QTest.qWait(40)

    def page(self) -> None:
        """Show another page."""
        name = self.random.choice(PAGES)
        self.done[-1] += f" {name}"
        self.window.actions_by_name[f"page_{name}"].trigger()

    def context(self) -> None:
        """Ask for a menu with the right button."""
        widget = self._one()
        if widget is not None:
            at = self._place(widget)
            reason = QContextMenuEvent.Reason.Mouse
            QApplication.sendEvent(widget, QContextMenuEvent(reason, at, widget.mapToGlobal(at)))

    def envelope(self) -> None:
        """Draw an envelope: four corners in one view, four in the other."""
        window = self.window
        window.session.set_view(counter=False)
        window.stage.take_pencil(True)
        window.frame_now()
        for pane in self.random.sample([window.stage.rear, window.stage.side], 2):
            left, top = self._place(pane).toTuple()
            wide, high = self.random.randrange(15, 200), self.random.randrange(15, 200)
            for x, y in ((0, 0), (wide, 0), (wide, high), (0, high), (0, 0)):
                at = QPoint(min(left + x, pane.width() - 2), min(top + y, pane.height() - 2))
                QTest.mouseMove(pane, at)
                QTest.mouseClick(pane, LEFT, NO_KEY, at)

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

    def elsewhere(self) -> None:
        """Let another program write into the file that is open, and sometimes save right after it."""
        path = self.window.session.document.path
        if path is None or not Path(path).is_file():
            return
        with open(path, "a", encoding="utf-8") as stream:
            stream.write(f"# another program, {self.random.randrange(1000)}\n")
        if self.random.random() < 0.5:
            self.window.actions_by_name["save"].trigger()

    def drop(self) -> None:
        """Open a file without being asked."""
        self.window.files.open_path(str(self.random.choice(self.attend.files)))
