"""The ring around what has the keys: one kind for everything, there once the keys have been used to get about."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget
from shiboken6 import isValid

WIDTH = 2
"""Width of the ring, screen points (WCAG 2.2, 2.4.13: an outline of two)."""
GAP = 1
"""Space between what has the keys and its ring, screen points."""
_MOVES = (QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Show, QEvent.Type.Hide, QEvent.Type.ParentChange)


class FocusRing(QWidget):
    """Lies over a window around one of its widgets.

    Parameters
    ----------
    window : QWidget
        The window.
    """

    # on the class: a ring whose window is just let go of may still hear of a move when its own are gone
    _around: QWidget | None = None
    _watched: tuple[QWidget, ...] = ()

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()

    def show_around(self, widget: QWidget | None) -> None:
        """Lie around a widget of the window and follow it, or around none."""
        for watched in filter(isValid, self._watched):  # a row of a page may be gone by now
            watched.removeEventFilter(self)
        self._watched = ()
        self._around = widget
        above = widget
        while above is not None:
            above.installEventFilter(self)
            self._watched = (*self._watched, above)
            above = None if above.isWindow() else above.parentWidget()
        self._lie()

    def _lie(self) -> None:
        widget, window = self._around, self.parentWidget()
        if widget is None or window is None or not isValid(widget) or not widget.isVisible():
            self.hide()
            return
        room = WIDTH + GAP
        place = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size()).adjusted(-room, -room, room, room)
        above = widget.parentWidget()
        while above is not None and above is not window:
            if isinstance(above, QScrollArea):
                view = above.viewport()
                place &= QRect(view.mapTo(window, QPoint(0, 0)), view.size())
            above = above.parentWidget()
        self.setGeometry(place & window.rect())
        self.setVisible(not self.geometry().isEmpty())
        self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Follow what it lies around."""
        if event.type() in _MOVES:
            self._lie()
        return False

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw the ring along the inner side of the own edge."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().highlight().color(), WIDTH))
        half = WIDTH / 2.0
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(half, half, -half, -half), 3.0, 3.0)
        painter.end()


class Rings(QObject):
    """Gives what has the keys its ring, in the window and in its dialogs, until the mouse puts the keys elsewhere.

    Parameters
    ----------
    parent : QObject
        Its owner.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._by_keys = False
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow)

    def show(self) -> None:
        """Show where the keys are: they were used to get there."""
        self._by_keys = True
        now = QApplication.focusWidget()
        window = now.window() if now is not None else None
        _take_away(but=window)
        if window is not None:
            rings = rings_of(window) or [FocusRing(window)]
            rings[0].show_around(now)

    def _follow(self, old: QWidget | None, now: QWidget | None) -> None:
        if QApplication.mouseButtons() != Qt.MouseButton.NoButton:
            self._by_keys = False
        elif now is not None and now.window().testAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange):
            self._by_keys = True
        if self._by_keys:
            self.show()
        else:
            _take_away()


def rings_of(window: QWidget) -> list[FocusRing]:
    """Return the ring of a window, if it has one."""
    return [child for child in window.children() if isinstance(child, FocusRing)]


def _take_away(but: QWidget | None = None) -> None:
    """Let no window have a ring, but one."""
    for top in QApplication.topLevelWidgets():
        for ring in rings_of(top) if top is not but else ():
            ring.show_around(None)
