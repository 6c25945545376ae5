"""Drawings to look at on a page: side by side, on one scale, as large as the room allows."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.painter.paint import paint
from linkviz.picture.camera import lay_out
from linkviz.picture.shapes import Drawing
from linkviz.picture.style import paint as colours


class Sketch(QWidget):
    """A picture made of drawings.

    Parameters
    ----------
    name : str
        What a screen reader calls it.
    height : int
        The height it would like, screen points.
    """

    def __init__(self, name: str, height: int = 230) -> None:
        super().__init__()
        self._height = height
        self._theme = "light"
        self._memories: list[dict[str, int]] = []
        self.drawings: tuple[Drawing, ...] = ()
        self.setAccessibleName(name)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.MinimumExpanding)
        self.setMinimumHeight(height)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return the size it would like."""
        return QSize(400, self._height)

    def show_drawings(self, drawings: Sequence[Drawing], words: str = "") -> None:
        """Show other drawings; `words` say what is to be seen, for a screen reader."""
        if tuple(drawings) != self.drawings:
            if len(drawings) != len(self.drawings):
                self._memories = [{} for _ in drawings]
            self.drawings = tuple(drawings)
            self.setAccessibleDescription(words)
            self.update()

    def show_theme(self, name: str) -> None:
        """Take the colours of a theme ("light" or "dark")."""
        if name != self._theme:
            self._theme = name
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the drawings."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(colours(self._theme).paper))
        if self.drawings:
            panes = lay_out(self.drawings, self.width(), self.height())
            for pane, memory in zip(panes, self._memories, strict=True):
                painter.save()
                painter.translate(pane.left, pane.top)
                paint(painter, pane.drawing, pane.camera, self._theme, memory, background=False)
                painter.restore()
        painter.end()
