"""A small graph of a few lines on a page: nothing in it moves, lines are told apart by dash and colour and named."""

from __future__ import annotations

from collections.abc import Sequence

import pyqtgraph as pg
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.window.still_plot import StillPlot
from linkviz.window.theme import LIGHT, Colours, scaled


class Line(Frozen, eq=False):
    """A line of the graph.

    Attributes
    ----------
    name : str
        In the legend.
    x, y : ndarray, shape (n,)
    tint : str
        ``#rrggbb``.
    dash : Qt.PenStyle
    """

    name: str
    x: Array
    y: Array
    tint: str
    dash: Qt.PenStyle = Qt.PenStyle.SolidLine


class LinesPlot(StillPlot):
    """Lines over an axis.

    Parameters
    ----------
    name : str
        What a screen reader calls it.
    across, up : str
        Words at the axes, with units.
    ends : (float, float, float, float)
        Least and greatest of x and of y.
    """

    def __init__(self, name: str, across: str, up: str, ends: tuple[float, float, float, float]) -> None:
        super().__init__(name)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFixedHeight(190)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._words = (across, up)
        self._colours: Colours = LIGHT
        self.lines: tuple[Line, ...] = ()
        self._box.setRange(xRange=ends[:2], yRange=ends[2:], padding=0)
        self.showGrid(x=True, y=True, alpha=0.25)
        self._drawn: list[pg.PlotCurveItem] = []
        self.show_theme(LIGHT)

    def wheelEvent(self, event: object) -> None:  # noqa: N802
        """Leave the wheel to the page, which scrolls."""
        event.ignore()

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.setBackground(colours.base)
        small: QFont = scaled(self.font(), 0.9)
        for side, words in zip(("bottom", "left"), self._words, strict=True):
            axis = self.getAxis(side)
            axis.setPen(QPen(QColor(colours.line)))
            axis.setTextPen(colours.soft)
            axis.setTickFont(small)
            axis.setLabel(words, color=colours.soft)

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show lines; the first lies lowest."""
        self.lines = tuple(lines)
        while len(self._drawn) < len(lines):
            item = pg.PlotCurveItem(connect="finite")
            self.addItem(item, ignoreBounds=True)
            self._drawn.append(item)
        for item, line in zip(self._drawn, self.lines, strict=False):
            pen = QPen(QColor(line.tint), 2.0, line.dash)
            pen.setCosmetic(True)
            item.setPen(pen)
            item.setData(line.x, line.y)
        for i, item in enumerate(self._drawn):
            item.setVisible(i < len(lines))


class Legend(QWidget):
    """The names of lines in a row, each with a piece of its line."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: tuple[Line, ...] = ()
        self.setFixedHeight(QFontMetrics(self.font()).height() + 4)
        self.setAccessibleName("Lines of the graphs")

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show the names of lines."""
        self.lines = tuple(lines)
        self.setAccessibleDescription(", ".join(line.name for line in lines))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw the pieces and the names."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        letters, middle, x = painter.fontMetrics(), self.height() / 2.0, 2.0
        for line in self.lines:
            painter.setPen(QPen(QColor(line.tint), 2.0, line.dash))
            painter.drawLine(QPointF(x, middle), QPointF(x + 26.0, middle))
            painter.setPen(self.palette().text().color())
            painter.drawText(QPointF(x + 31.0, middle + letters.ascent() / 2.0 - 1.0), line.name)
            x += 31.0 + letters.horizontalAdvance(line.name) + 14.0
        painter.end()
