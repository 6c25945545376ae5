"""The plot of the graph strip: a pyqtgraph plot with lines for the states, our own grid, and a cursor to drag.

Nothing of it moves by itself: ranges and ticks are set by hand when the lines change, and a moved cursor is one line.
"""

from __future__ import annotations

import math

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QFontMetricsF, QKeyEvent, QMouseEvent, QPainterPath, QPen, QResizeEvent
from PySide6.QtWidgets import QGraphicsItem, QGraphicsPathItem, QGraphicsSimpleTextItem, QLabel

from linkviz.analysis.compare import NAMES
from linkviz.analysis.curves import Curves, broken
from linkviz.analysis.figures import LEAST, read_in, unit_word
from linkviz.linkage.layout import Array
from linkviz.picture.scales import span, ticks
from linkviz.units import MM_PER_INCH, Unit, finest
from linkviz.window.marks import DASH, DIM, band_path, marker_path, nudge
from linkviz.window.same import same
from linkviz.window.still_plot import StillPlot
from linkviz.window.theme import LIGHT, Colours

_LEFT, _TOP, _BOTTOM = 50, 18, 22  # at the usual size of letters, screen points


class Plot(StillPlot):
    """Lines over wheel travel or roll, in the units of the screen."""

    moved = Signal(float)
    """Where the cursor was put: travel, mm, or roll, deg."""

    def __init__(self) -> None:
        super().__init__("Graph")
        self.unit: Unit = "mm"
        self.curves: Curves | None = None
        self.at = 0.0
        """Where the cursor stands, mm or deg."""
        self._colours: Colours = LIGHT
        self._lines: dict[str, tuple[Array, Array]] = {}
        self._sources: dict[str, tuple[object, ...]] = {}
        self._marked: dict[str, tuple[object, ...]] = {state: (None, ()) for state in NAMES}
        self._bands: dict[str, tuple[Array, Array, Array]] = {}
        self._shaded: dict[str, tuple[object, ...]] = {state: () for state in NAMES}
        self._low, self._high = -1.0, 1.0
        self._held = False
        self._frame: tuple[object, ...] = ()
        self.viewport().setAccessibleName("Graph")
        self.setAccessibleDescription("Left and right arrows move the axle, with Shift ten times as far; Home: rest.")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setMinimumHeight(80)
        self._box.setDefaultPadding(0.0)
        letters = QFontMetricsF(self.font())
        self._top = max(_TOP, math.ceil(letters.height()) + 4)
        self.getAxis("left").setWidth(max(_LEFT, letters.horizontalAdvance("-0000") + 14.0))
        self.getAxis("bottom").setHeight(max(_BOTTOM, letters.height() + 8.0))
        names = letters.horizontalAdvance("corrected") + 14.0
        self.getPlotItem().layout.setContentsMargins(0, self._top, names, 0)
        self._make_items()
        self.show_theme(LIGHT)

    def _make_items(self) -> None:
        self._grid, self._zero = QGraphicsPathItem(), QGraphicsPathItem()
        for item, depth in ((self._grid, -10), (self._zero, -9)):
            item.setZValue(depth)
            self.addItem(item, ignoreBounds=True)
        self._drawn: dict[str, pg.PlotCurveItem] = {}
        self._shades: dict[str, QGraphicsPathItem] = {}
        self._names: dict[str, QGraphicsSimpleTextItem] = {}
        self._marks: dict[str, QGraphicsPathItem] = {}
        for state in NAMES:
            self._shades[state] = QGraphicsPathItem()
            self._shades[state].setZValue(-5)
            self.addItem(self._shades[state], ignoreBounds=True)
            self._drawn[state] = pg.PlotCurveItem(connect="finite")
            self.addItem(self._drawn[state], ignoreBounds=True)
            self._names[state], self._marks[state] = self._text(state), QGraphicsPathItem()
            self.scene().addItem(self._marks[state])
        self._numbers: dict[str, list[tuple[float, str]]] = {}
        self._y_unit, self._x_unit = self._text(""), self._text("")
        # What seldom changes is painted once and kept, pixel for pixel.
        for still in (self._grid, self._zero, self._drawn["as built"], self._drawn["lifted"]):
            still.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
        self.cursor_line = pg.InfiniteLine(angle=90, movable=False)
        self.cursor_line.addMarker("v", position=1.0, size=11.0)
        self.cursor_line.setZValue(20)
        self.addItem(self.cursor_line, ignoreBounds=True)
        self.message = QLabel(self)
        self.message.setWordWrap(True)
        self.message.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.message.setObjectName("message")
        self.message.hide()

    def _text(self, words: str) -> QGraphicsSimpleTextItem:
        item = QGraphicsSimpleTextItem(words)
        item.setFont(self.font())
        self.scene().addItem(item)
        return item

    # -- what is shown

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.setBackground(colours.base)
        for state, tint in colours.states.items():
            pen = QPen(QColor(tint), 1.6 if state == "as built" else 2.2, DASH[state])
            pen.setCosmetic(True)
            self._drawn[state].setPen(pen)
            self._names[state].setBrush(QColor(tint))
            self._marks[state].setPen(QPen(QColor(tint), 1.4))
            self._marks[state].setBrush(QColor(colours.base))
            shade, edge = QColor(tint), QPen(QColor(tint), 1.0, Qt.PenStyle.DotLine)
            shade.setAlphaF(0.16)
            edge.setCosmetic(True)
            self._shades[state].setBrush(shade)
            self._shades[state].setPen(edge)
        for item, colour in ((self._grid, colours.grid), (self._zero, colours.line)):
            pen = QPen(QColor(colour), 1.0)
            pen.setCosmetic(True)
            item.setPen(pen)
        for text in (self._x_unit, self._y_unit):
            text.setBrush(QColor(colours.soft))
        for name in ("bottom", "left"):
            axis = self.getAxis(name)
            axis.enableAutoSIPrefix(False)  # numbers carry their "k" here; the empty label would be set anew each time
            axis.setPen(QPen(Qt.PenStyle.NoPen))
            axis.setTextPen(colours.soft)
            axis.setTickFont(self.font())
        self._show_cursor_pen()

    def _show_cursor_pen(self) -> None:
        focused = self.hasFocus()
        pen = QPen(QColor(self._colours.accent if focused else self._colours.text), 3.0 if focused else 1.4)
        pen.setCosmetic(True)
        self.cursor_line.setPen(pen)

    def show_curves(self, curves: Curves, unit: Unit) -> None:
        """Show other lines."""
        self.curves, self.unit = curves, unit
        quantity = curves.quantity
        kept, self._lines = self._lines, {}
        for state in NAMES:
            values = curves.values.get(state)
            if values is None or not bool(np.isfinite(values).any()):
                continue
            source = (values, curves.x, quantity.key, unit)
            if state in kept and same(source, self._sources[state]):
                self._lines[state] = kept[state]
                continue
            self._sources[state] = source
            x, y = broken(curves.x, values, quantity)
            self._lines[state] = (x, read_in(y, quantity.unit, unit))
        for state in NAMES:
            there = state in self._lines
            for item in (self._drawn[state], self._names[state], self._marks[state]):
                item.setVisible(there)
                item.setOpacity(DIM if curves.stale else 1.0)
            if there and not self._holds(state):
                self._drawn[state].setData(*self._lines[state])
        self._show_bands()
        self._lay_out()

    def _holds(self, state: str) -> bool:
        """Return whether the line of a state is drawn already as it should be."""
        x, y = self._drawn[state].getData()
        there = self._lines[state]
        return x is not None and np.array_equal(x, there[0]) and np.array_equal(y, there[1], equal_nan=True)

    def show_band(self, state: str, x: Array | None, low: Array | None, high: Array | None, stale: bool) -> None:
        """Draw an interval behind the line of a state, in the quantity's own unit; None takes it away."""
        self._bands.pop(state, None)
        if x is not None and low is not None and high is not None:
            self._bands[state] = (x, low, high)
        self._shades[state].setOpacity(DIM if stale else 1.0)
        self._show_bands()
        self._lay_out()

    def _show_bands(self) -> None:
        for state, shade in self._shades.items():
            there = self.curves is not None and state in self._bands and state in self._lines
            shade.setVisible(there)
            if there and self.curves is not None:
                x, *ends = self._bands[state]
                drawn = (x, *ends, self.curves.quantity.unit, self.unit)
                if not same(drawn, self._shaded[state]):
                    self._shaded[state] = drawn
                    shade.setPath(band_path(x, *(read_in(end, self.curves.quantity.unit, self.unit) for end in ends)))

    def show_at(self, at: float) -> None:
        """Put the cursor at a travel, mm, or a roll, deg."""
        if at != self.at:
            self.at = at
            self.cursor_line.setPos(at)

    def show_message(self, words: str) -> None:
        """Say something in the plot, "" for nothing."""
        if self.message.text() != words:
            self.message.setText(words)
            self.message.setVisible(bool(words))
            self._place_message()

    @property
    def shown(self) -> tuple[str, ...]:
        """Return the states that are drawn."""
        return tuple(self._lines)

    @property
    def shaded(self) -> tuple[str, ...]:
        """Return the states whose interval is drawn."""
        return tuple(state for state, shade in self._shades.items() if shade.isVisible())

    def line(self, state: str) -> Array:
        """Return what is drawn of a state, in the unit of the screen."""
        return self._lines[state][1]

    # -- places

    def area(self) -> QRectF:
        """Return the part of the widget the lines are in; the names stand to the right of it."""
        area: QRectF = self._box.sceneBoundingRect()
        return area

    def _ends(self) -> tuple[float, float]:
        if self.curves is None or len(self.curves.x) < 2:
            return (-1.0, 1.0)
        return (float(self.curves.x[0]), float(self.curves.x[-1]))

    def x_of(self, at: float) -> float:
        """Return where a travel, mm, or roll, deg, stands in the widget."""
        low, high = self._ends()
        area = self.area()
        return area.left() + area.width() * (at - low) / max(high - low, 1e-9)

    def y_of(self, value: float) -> float:
        """Return where a value, in the unit of the screen, stands in the widget."""
        area = self.area()
        return area.bottom() - area.height() * (value - self._low) / (self._high - self._low)

    def at_x(self, x: float) -> float:
        """Return the travel, mm, or roll, deg, at a place in the widget, held inside the range."""
        low, high = self._ends()
        area = self.area()
        return min(max(low + (high - low) * (x - area.left()) / max(area.width(), 1e-9), low), high)

    def _lay_out(self) -> None:
        """Set ranges, ticks, grid, names and markers for the lines there are and the size there is."""
        if self.curves is None:
            return
        quantity = self.curves.quantity
        drawn = [y for _, y in self._lines.values()]
        for state, (_, *sides) in self._bands.items():
            drawn += [read_in(side, quantity.unit, self.unit) for side in sides if state in self._lines]
        least = float(read_in(np.array(LEAST[quantity.unit]), quantity.unit, self.unit))
        self._low, self._high = span(drawn, least, bool(quantity.infinite))
        low, high = self._ends()
        area, letters = self.area(), QFontMetricsF(self.font())
        frame: tuple[object, ...] = (low, high, self._low, self._high, area, self.unit, self.curves.axis, quantity.unit)
        frame += (self.font(), bool(self._lines))
        if frame != self._frame:
            self._frame = frame
            self._rule(low, high, area, letters)
        ends: list[tuple[float, str]] = []
        for offset, state in enumerate(NAMES):
            if state in self._lines:
                x, line = self._lines[state]
                last = float(line[np.flatnonzero(np.isfinite(line))[-1]])
                place = area.bottom() - area.height() * (last - self._low) / (self._high - self._low)
                ends.append((min(max(place, area.top()), area.bottom()), state))
                if self._marked[state][0] is not line or self._marked[state][1] != frame:
                    self._marked[state] = (line, frame)
                    around = (low, high, self._low, self._high)
                    self._marks[state].setPath(marker_path(state, x, line, offset, around, area))
        for y, state in nudge(ends, letters.height(), area.bottom()):
            self._names[state].setPos(area.right() + 6.0, y - letters.height() / 2)
        self._place_message()

    def _rule(self, low: float, high: float, area: QRectF, letters: QFontMetricsF) -> None:
        """Set ranges, ticks, grid and units."""
        if self.curves is None:
            return
        travel = self.curves.axis == "travel"
        self._box.setRange(xRange=(low, high), yRange=(self._low, self._high), padding=0)
        per = MM_PER_INCH if travel and self.unit == "in" else 1.0
        wide = letters.horizontalAdvance("+0000")
        xs = ticks(low / per, high / per, max(3, min(10, int(area.width() / (wide * 1.6)))))
        ys = ticks(self._low, self._high, max(2, min(6, int(area.height() / (letters.height() * 1.25)))))
        middle = "rest" if travel else "level"
        self._number("bottom", [(x * per, middle if x == 0 else f"{x:+g}") for x in xs])
        # the unit stands above the highest number, and where there is no line there is no number
        told = [y for y in ys if self._lines and self.y_of(y) > area.top() + 6.0]
        self._number("left", [(y, f"{y / 1000:g}k" if abs(y) >= 1e5 else f"{y:g}") for y in told])
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
        self._x_unit.setText(self.unit if travel else "deg")
        self._x_unit.setPos(area.right() + 6.0, area.bottom() + 3.0)
        self._y_unit.setText(unit_word(self.curves.quantity.unit, self.unit) if self._lines else "")
        self._y_unit.setPos(area.left() - 6.0 - self._y_unit.boundingRect().width(), 1.0)

    def _number(self, axis: str, numbers: list[tuple[float, str]]) -> None:
        """Write numbers on an axis, if they are others: an axis whose numbers are put again is painted again."""
        if self._numbers.get(axis) != numbers:
            self._numbers[axis] = numbers
            self.getAxis(axis).setTicks([numbers])

    def _place_message(self) -> None:
        area = self.area().toRect()
        if self.message.isHidden() or area.width() < 20:
            return
        if self._lines:
            wide = min(area.width() - 16, self.message.fontMetrics().horizontalAdvance(self.message.text()) + 18)
            self.message.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
            self.message.setGeometry(area.left() + 8, 0, wide, max(self._top, self.message.heightForWidth(wide)))
        else:
            self.message.setAlignment(Qt.AlignmentFlag.AlignCenter)
            self.message.setGeometry(area)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Lay the plot out again."""
        super().resizeEvent(event)
        if getattr(self, "curves", None) is not None:
            self._lay_out()

    # -- the mouse and the keys

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take the cursor to the mouse."""
        if event.button() == Qt.MouseButton.LeftButton and self.curves is not None:
            self._held = True
            self.moved.emit(self.at_x(event.position().x()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Drag the cursor, or show that it can be dragged."""
        if self._held:
            self.moved.emit(self.at_x(event.position().x()))
            return
        near = abs(event.position().x() - self.x_of(self.at)) < 6.0
        self.setCursor(Qt.CursorShape.SizeHorCursor if near else Qt.CursorShape.ArrowCursor)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let the cursor go."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._held = False

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move the cursor with the arrow keys; every other key belongs to the window."""
        way = {Qt.Key.Key_Left: -1.0, Qt.Key.Key_Right: 1.0}.get(Qt.Key(event.key()))
        if self.curves is None or (way is None and event.key() != Qt.Key.Key_Home):
            event.ignore()
            return
        large = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self.curves.axis == "roll":
            step = 1.0 if large else 0.1
        elif large:
            step = MM_PER_INCH / 2 if self.unit == "in" else 10.0
        else:
            step = finest(self.unit)
        low, high = self._ends()
        self.moved.emit(0.0 if way is None else min(max(self.at + way * step, low), high))

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Show by the cursor that the keys move it."""
        super().focusInEvent(event)
        self._show_cursor_pen()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Show that the keys are elsewhere."""
        super().focusOutEvent(event)
        self._show_cursor_pen()
