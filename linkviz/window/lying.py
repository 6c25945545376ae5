"""A part that lies over another one and follows its size, so that nothing jumps when it comes and goes."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QFrame, QWidget


class Lying(QFrame):
    """Base of what lies over something.

    Parameters
    ----------
    parent : QWidget
        What it lies on.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        parent.installEventFilter(self)

    def lie(self) -> None:
        """Take the place that goes with the present size of the parent, above all else there."""
        raise NotImplementedError

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Follow the parent's size."""
        if watched is self.parent() and event.type() == QEvent.Type.Resize and not self.isHidden():
            self.lie()
        return False
