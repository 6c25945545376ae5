"""Parts with a handle between them that the keys move too."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QSplitter, QSplitterHandle

_STEP = 24
"""How far an arrow key moves a handle, screen points."""
_WAYS = {
    Qt.Orientation.Horizontal: {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1},
    Qt.Orientation.Vertical: {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1},
}


class Handle(QSplitterHandle):
    """A handle that Tab reaches and the arrow keys move."""

    def __init__(self, orientation: Qt.Orientation, parent: QSplitter) -> None:
        super().__init__(orientation, parent)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(parent.accessibleName())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move with the arrows across the handle; every other key belongs to the window."""
        way = _WAYS[self.orientation()].get(Qt.Key(event.key()))
        if way is None:
            event.ignore()
            return
        across = self.orientation() == Qt.Orientation.Horizontal
        at = self.x() if across else self.y()
        self.moveSplitter(self.closestLegalPosition(at + way * _STEP))


class Parts(QSplitter):
    """Parts side by side, or one above the other, none of which can be folded away.

    Parameters
    ----------
    orientation : Qt.Orientation
    name : str
        What a screen reader calls its handle.
    """

    def __init__(self, orientation: Qt.Orientation, name: str) -> None:
        super().__init__(orientation)
        self.setAccessibleName(name)
        self.setChildrenCollapsible(False)
        self.setHandleWidth(4)

    def createHandle(self) -> QSplitterHandle:  # noqa: N802
        """Return a handle the keys move."""
        return Handle(self.orientation(), self)
