"""What is open, in the tool bar: painted, since a label would lay the window out again at every frame of a drag."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.window.theme import scaled

_APART, _END = 8.0, 8.0


class TitleLine(QWidget):
    """A name in bold letters and what is done to it, at the right end; in a small room the name is cut or alone."""

    def __init__(self) -> None:
        super().__init__()
        self._name = self._rest = ""
        self._bold = scaled(self.font(), 1.0, bold=True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Ask for the height of a line; every length will do."""
        return QSize(0, self.fontMetrics().height() + 4)

    def text(self) -> str:
        """Return all of it as text."""
        return f"{self._name} {self._rest}".strip()

    def show_title(self, name: str, rest: str) -> None:
        """Show another name, or something else done to it."""
        if (name, rest) != (self._name, self._rest):
            self._name, self._rest = name, rest
            self.setAccessibleName(self.text())
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw what there is room for."""
        plain, bold = QFontMetricsF(self.font()), QFontMetricsF(self._bold)
        end, rest = self.width() - _END, self._rest
        start = end - plain.horizontalAdvance(rest)
        if start < bold.horizontalAdvance("MMM"):  # no room for both: the page at the side says what is done to it
            start, rest = end + _APART, ""
        name = bold.elidedText(self._name, Qt.TextElideMode.ElideRight, max(start - _APART - _END, 0.0))
        base = (self.height() + plain.ascent() - plain.descent()) / 2
        painter = QPainter(self)
        try:
            painter.setPen(self.palette().windowText().color())
            painter.drawText(QPointF(start, base), rest)
            painter.setFont(self._bold)
            painter.drawText(QPointF(start - _APART - bold.horizontalAdvance(name), base), name)
        finally:
            painter.end()
