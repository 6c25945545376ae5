"""Where there is little room: parts one above the other and scrolled, never cut off.

The least window is 640 x 360 screen points: a screen of 1280 x 720 at 200 %.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QByteArray, QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QDialog, QFrame, QScrollArea, QVBoxLayout, QWidget

from linkviz.window.handles import Parts

LEAST = QSize(640, 360)
"""Least size of the window, screen points."""
LARGE = 21
"""Height of the program's letters, as the system sets it, from which those of the drawings are large too."""
_HIGH = 250
"""Height of the drawings, and of a page, where they are scrolled, screen points."""
_EDGE = 24
"""Room a dialog leaves at the edges of the screen, screen points."""


class Across(QScrollArea):
    """Two parts side by side with a handle between; where there is no room for both, one above the other, scrolled.

    Parameters
    ----------
    left, right : QWidget
        The parts.
    width : int
        Width of the right one to begin with, screen points.
    ample : callable
        Returns the width the left one would like to have, screen points; it has it where there is room.
    """

    def __init__(self, left: QWidget, right: QWidget, width: int, ample: Callable[[], int]) -> None:
        super().__init__()
        self._ample = ample
        self._left, self._right = left, right
        self._kept = QByteArray()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.splitter = Parts(Qt.Orientation.Horizontal, "Width of the page")
        self.splitter.addWidget(left)
        self.splitter.addWidget(right)
        self.splitter.setStretchFactor(0, 1)
        self.splitter.setStretchFactor(1, 0)
        self.splitter.setSizes([1280 - width, width])
        self.setWidget(self.splitter)
        self.splitter.installEventFilter(self)

    @property
    def stacked(self) -> bool:
        """Return whether one part stands above the other."""
        return self.splitter.orientation() == Qt.Orientation.Vertical

    def arrange(self) -> None:
        """Put the parts where there is room for them."""
        room = self.maximumViewportSize()
        parts = [part for part in (self._left, self._right) if not part.isHidden()]
        needed = sum(part.minimumSizeHint().width() for part in parts) + self.splitter.handleWidth()
        stacked = len(parts) > 1 and room.width() < needed
        more = max(0, self._ample() - self._left.minimumSizeHint().width())
        ample = self._ample() if len(parts) > 1 and more and room.width() >= needed + more else 0
        if self._left.minimumWidth() != ample:
            self._left.setMinimumWidth(ample)
        if stacked != self.stacked:
            if stacked:
                self._kept = self.splitter.saveState()
            self.splitter.setOrientation(Qt.Orientation.Vertical if stacked else Qt.Orientation.Horizontal)
            if not stacked:
                self.splitter.restoreState(self._kept)
        least = self._left.minimumSizeHint().height() + _HIGH + max(_HIGH, room.height() - 8) if stacked else 0
        if self.splitter.minimumHeight() != least:
            self.splitter.setMinimumHeight(least)

    def reveal(self) -> None:
        """Bring the right part into sight where it is below the left one."""
        if self.stacked and self.isVisible():
            self.verticalScrollBar().setValue(self._right.y())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Put the parts where there is room for them now."""
        super().resizeEvent(event)
        self.arrange()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Look again when a part comes, goes, or needs more room."""
        if watched is self.splitter and event.type() == QEvent.Type.LayoutRequest:
            self.arrange()
        return super().eventFilter(watched, event)

    def places(self) -> QByteArray:
        """Return where the handle is, side by side."""
        return self._kept if self.stacked else self.splitter.saveState()

    def restore(self, state: QByteArray) -> None:
        """Put the handle where it was, side by side."""
        self._kept = state
        if not self.stacked:
            self.splitter.restoreState(state)
            self.arrange()


def bring_into_reach(dialog: QDialog) -> None:
    """Make a dialog fit its screen; one that needs more room than there is can be scrolled."""
    screen = dialog.screen().availableSize() - QSize(_EDGE, 2 * _EDGE)
    column = dialog.layout()
    least = dialog.minimumSizeHint().expandedTo(dialog.minimumSize())
    if column is not None and (least.width() > screen.width() or least.height() > screen.height()):
        inner = QWidget()
        inner.setMinimumSize(dialog.minimumSize())
        inner.setLayout(column)
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidgetResizable(True)
        area.setWidget(inner)
        dialog.setMinimumSize(0, 0)
        outer = QVBoxLayout(dialog)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(area)
    dialog.resize(dialog.size().boundedTo(screen))
