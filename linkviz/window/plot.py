"""The plot of the graph strip: a pyqtgraph plot with lines for the states, our own grid, and a cursor to drag.

Nothing of it moves by itself: ranges and ticks are set by hand when the lines change, and a moved cursor is one line.
"""

from __future__ import annotations

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QMouseEvent, QPainterPath, QPen, QResizeEvent
from PySide6.QtWidgets import QApplication, QGraphicsItem, QGraphicsPathItem, QGraphicsSimpleTextItem

from linkviz.units import MM_PER_INCH, Unit, from_mm
from linkviz.window.scales import STATES, Array, Curves, ticks
from linkviz.window.theme import LIGHT, Colours

DASH = {
    "as built": Qt.PenStyle.DashLine,
    "lifted": Qt.PenStyle.SolidLine,
    "corrected": Qt.PenStyle.DashDotLine,
}
"""How each state's line is drawn, so that colour is not the only sign."""
_LEFT, _TOP, _BOTTOM = 46, 12, 22


class Plot(pg.PlotWidget):  # type: ignore[misc]
    """Lines over wheel travel, in the units of the screen."""

    travelled = Signal(float)
    """Travel the cursor was put at, mm."""

    def __init__(self) -> None:
        pg.setConfigOptions(antialias=True, useOpenGL=False)
        before = set(QApplication.topLevelWidgets())
        super().__init__(enableMenu=False)
        # A plot makes a form and menus that belong to nobody: they must end with it.
        for stray in set(QApplication.topLevelWidgets()) - before - {self}:
            if stray.parent() is None:
                stray.setParent(self)
                stray.hide()
        self.unit: Unit = "mm"
        self.curves: Curves | None = None
        self.travel = 0.0
        self._colours: Colours = LIGHT
        self._lines: dict[str, Array] = {}
        self._low, self._high = -1.0, 1.0
        self._held = False
        self._frame: tuple[object, ...] = ()
        self.setAccessibleName("Graph over wheel travel")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMouseTracking(True)
        self.setMinimumHeight(80)
        self.setMenuEnabled(False)
        self.setMouseEnabled(False, False)
        self.hideButtons()
        self._box = self.getViewBox()
        self._box.disableAutoRange()
        self._box.setDefaultPadding(0.0)
        for name in ("bottom", "left"):
            axis = self.getAxis(name)
            axis.enableAutoSIPrefix(False)
            axis.setStyle(tickLength=0)
        self.getAxis("left").setWidth(_LEFT)
        self.getAxis("bottom").setHeight(_BOTTOM)
        names = QFontMetricsF(self.font()).horizontalAdvance("corrected") + 14.0
        self.getPlotItem().layout.setContentsMargins(0, _TOP, names, 0)
        self._grid, self._zero = QGraphicsPathItem(), QGraphicsPathItem()
        for item, depth in ((self._grid, -10), (self._zero, -9)):
            item.setZValue(depth)
            self.addItem(item, ignoreBounds=True)
        self._drawn: dict[str, pg.PlotCurveItem] = {}
        self._names: dict[str, QGraphicsSimpleTextItem] = {}
        for state in STATES:
            self._drawn[state] = pg.PlotCurveItem(connect="finite")
            self.addItem(self._drawn[state], ignoreBounds=True)
            self._names[state] = QGraphicsSimpleTextItem(state)
            self._names[state].setFont(self.font())
            self.scene().addItem(self._names[state])
        # What seldom changes is painted once and kept, pixel for pixel.
        for still in (self._grid, self._zero, self._drawn["as built"], self._drawn["lifted"]):
            still.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
        self.cursor_line = pg.InfiniteLine(angle=90, movable=False)
        self.cursor_line.addMarker("v", position=1.0, size=11.0)
        self.cursor_line.setZValue(20)
        self.addItem(self.cursor_line, ignoreBounds=True)
        self.show_theme(LIGHT)

    # -- what is shown

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.setBackground(colours.base)
        tints = {"as built": colours.built, "lifted": colours.lifted, "corrected": colours.corrected}
        for state in STATES:
            pen = QPen(QColor(tints[state]), 1.6 if state == "as built" else 2.2, DASH[state])
            pen.setCosmetic(True)
            self._drawn[state].setPen(pen)
            self._names[state].setBrush(QColor(tints[state]))
        for item, colour in ((self._grid, colours.grid), (self._zero, colours.line)):
            pen = QPen(QColor(colour), 1.0)
            pen.setCosmetic(True)
            item.setPen(pen)
        for name in ("bottom", "left"):
            axis = self.getAxis(name)
            axis.setPen(QPen(Qt.PenStyle.NoPen))
            axis.setTextPen(colours.soft)
            axis.setTickFont(self.font())
        pen = QPen(QColor(colours.text), 1.4)
        pen.setCosmetic(True)
        self.cursor_line.setPen(pen)

    def show_curves(self, curves: Curves, unit: Unit) -> None:
        """Show other lines."""
        self.curves, self.unit = curves, unit
        factor = from_mm(1.0, unit) if curves.length else 1.0
        self._lines = {
            state: factor * curves.values[state]
            for state in STATES
            if state in curves.values and bool(np.isfinite(curves.values[state]).any())
        }
        everything = np.concatenate([np.zeros(1), *(line[np.isfinite(line)] for line in self._lines.values())])
        low, high = float(everything.min()), float(everything.max())
        pad = max(0.08 * (high - low), 0.5 * factor if curves.length else 0.2)
        self._low, self._high = low - pad, high + pad
        for state in STATES:
            there = state in self._lines
            self._drawn[state].setVisible(there)
            self._names[state].setVisible(there)
            if there and not self._holds(state, curves.travel):
                self._drawn[state].setData(curves.travel, self._lines[state])
        self._lay_out()

    def _holds(self, state: str, travel: Array) -> bool:
        """Return whether the line of a state is drawn already as it should be."""
        x, y = self._drawn[state].getData()
        return x is not None and np.array_equal(x, travel) and np.array_equal(y, self._lines[state], equal_nan=True)

    def show_travel(self, travel: float) -> None:
        """Put the cursor at a travel, mm."""
        if travel != self.travel:
            self.travel = travel
            self.cursor_line.setPos(travel)

    @property
    def shown(self) -> tuple[str, ...]:
        """Return the states that are drawn."""
        return tuple(self._lines)

    def line(self, state: str) -> Array:
        """Return what is drawn of a state, in the unit of the screen."""
        return self._lines[state]

    # -- places

    def area(self) -> QRectF:
        """Return the part of the widget the lines are in; the names stand to the right of it."""
        area: QRectF = self._box.sceneBoundingRect()
        return area

    def _ends(self) -> tuple[float, float]:
        if self.curves is None or len(self.curves.travel) < 2:
            return (-1.0, 1.0)
        return (float(self.curves.travel[0]), float(self.curves.travel[-1]))

    def x_of(self, travel: float) -> float:
        """Return where a travel, mm, stands in the widget."""
        low, high = self._ends()
        area = self.area()
        return area.left() + area.width() * (travel - low) / max(high - low, 1e-9)

    def y_of(self, value: float) -> float:
        """Return where a value, in the unit of the screen, stands in the widget."""
        area = self.area()
        return area.bottom() - area.height() * (value - self._low) / (self._high - self._low)

    def travel_at(self, x: float) -> float:
        """Return the travel, mm, at a place in the widget, held inside the window."""
        low, high = self._ends()
        area = self.area()
        return min(max(low + (high - low) * (x - area.left()) / max(area.width(), 1e-9), low), high)

    def _lay_out(self) -> None:
        """Set ranges, ticks, grid and names for the lines there are and the size there is."""
        if self.curves is None:
            return
        low, high = self._ends()
        area, letters = self.area(), QFontMetricsF(self.font())
        frame = (low, high, self._low, self._high, area, self.unit, self.font())
        if frame != self._frame:
            self._frame = frame
            self._rule(low, high, area, letters)
        ends = []
        for state, line in self._lines.items():
            last = int(np.flatnonzero(np.isfinite(line))[-1])
            ends.append((self.y_of(float(line[last])), state))
        for y, state in self._apart(ends, area):
            self._names[state].setPos(area.right() + 6.0, y - letters.height() / 2)

    def _rule(self, low: float, high: float, area: QRectF, letters: QFontMetricsF) -> None:
        """Set ranges, ticks and grid."""
        self._box.setRange(xRange=(low, high), yRange=(self._low, self._high), padding=0)
        per = 1.0 if self.unit == "mm" else MM_PER_INCH
        wide = letters.horizontalAdvance("+0000")
        xs = ticks(low / per, high / per, max(3, min(10, int(area.width() / (wide * 1.6)))))
        ys = ticks(self._low, self._high, max(2, min(6, int(area.height() / (letters.height() * 1.25)))))
        self.getAxis("bottom").setTicks([[(x * per, "rest" if x == 0 else f"{x:+g}") for x in xs]])
        self.getAxis("left").setTicks([[(y, f"{y:g}") for y in ys]])
        grid, zero = QPainterPath(), QPainterPath()
        for x in xs:
            grid.moveTo(QPointF(x * per, self._low))
            grid.lineTo(QPointF(x * per, self._high))
        for y in ys:
            path = zero if y == 0 else grid
            path.moveTo(QPointF(low, y))
            path.lineTo(QPointF(high, y))
        self._grid.setPath(grid)
        self._zero.setPath(zero)

    def _apart(self, ends: list[tuple[float, str]], area: QRectF) -> list[tuple[float, str]]:
        """Move names that would lie on each other apart, all of them inside the widget."""
        least = QFontMetricsF(self.font()).height()
        ends = sorted(ends)
        places = [y for y, _ in ends]
        for i in range(1, len(places)):
            places[i] = max(places[i], places[i - 1] + least)
        if places and places[-1] > area.bottom() - 2.0:
            places[-1] = area.bottom() - 2.0
            for i in range(len(places) - 2, -1, -1):
                places[i] = min(places[i], places[i + 1] - least)
        return [(y, state) for y, (_, state) in zip(places, ends, strict=True)]

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Lay the plot out again."""
        super().resizeEvent(event)
        if getattr(self, "curves", None) is not None:
            self._lay_out()

    # -- the mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take the cursor to the mouse."""
        if event.button() == Qt.MouseButton.LeftButton and self.curves is not None:
            self._held = True
            self.travelled.emit(self.travel_at(event.position().x()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Drag the cursor, or show that it can be dragged."""
        if self._held:
            self.travelled.emit(self.travel_at(event.position().x()))
            return
        near = abs(event.position().x() - self.x_of(self.travel)) < 6.0
        self.setCursor(Qt.CursorShape.SizeHorCursor if near else Qt.CursorShape.ArrowCursor)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let the cursor go."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._held = False
