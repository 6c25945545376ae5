"""What each state reads under the cursor of the graph: a line of values, each behind the marker of its line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.window.marks import add_marker, new_path
from linkviz.window.theme import LIGHT, Colours

_MARK, _APART = 15.0, 14.0


class Readout(QWidget):
    """The values, right-aligned; the place before them, and then the names, give way when the room is small."""

    def __init__(self) -> None:
        super().__init__()
        self._where = ""
        self._values: tuple[tuple[str, str], ...] = ()
        self._colours: Colours = LIGHT
        self.setAccessibleName("Values under the cursor of the graph")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Ask for what is usual; every length will do."""
        return QSize(340, self.fontMetrics().height() + 4)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Never keep the window from being made small."""
        return QSize(0, self.fontMetrics().height() + 4)

    @property
    def text(self) -> str:
        """Return all of it as text."""
        values = ", ".join(f"{state} {words}" for state, words in self._values)
        return f"{self._where}: {values}" if values else self._where

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.update()

    def show_values(self, where: str, values: Sequence[tuple[str, str]]) -> None:
        """Show where the cursor stands, and what each state reads there."""
        if where != self._where or tuple(values) != self._values:
            self._where, self._values = where, tuple(values)
            self.setAccessibleDescription(self.text)
            self.setToolTip(self.text)
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw what there is room for."""
        letters = QFontMetricsF(self.font())
        parts = [(state, f"{state} {words}") for state, words in self._values]
        if self._wide(parts, letters) > self.width():
            parts = [(state, words) for state, words in self._values]
        x, base = self.width() - self._wide(parts, letters), (self.height() + letters.ascent() - letters.descent()) / 2
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            room = x - _APART
            for where in (self._where, self._where.partition(",")[0]):
                if letters.horizontalAdvance(where) <= room:
                    painter.setPen(QColor(self._colours.soft))
                    painter.drawText(QPointF(0.0, base), where)
                    break
            for state, words in parts:
                tint = QColor(self._colours.states[state])
                painter.setPen(QPen(tint, 1.5))
                path = new_path()
                add_marker(path, state, QPointF(x + 5.0, self.height() / 2))
                painter.drawPath(path)
                painter.drawText(QPointF(x + _MARK, base), words)
                x += _MARK + letters.horizontalAdvance(words) + _APART
        finally:
            painter.end()

    @staticmethod
    def _wide(parts: Sequence[tuple[str, str]], letters: QFontMetricsF) -> float:
        return sum(_MARK + letters.horizontalAdvance(words) + _APART for _, words in parts) - (_APART if parts else 0.0)
