"""The plot of the graph strip, painted by hand: three lines, a grid, and a cursor that can be dragged.

A plotting library would do it too; it costs 0.2 s of the start and three times as long for a frame.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.units import MM_PER_INCH, Unit, from_mm
from linkviz.window.theme import LIGHT, Colours

Array = NDArray[np.float64]

STATES = ("as built", "lifted", "corrected")
"""The three states, in the order they are drawn."""
DASH = {
    "as built": Qt.PenStyle.DashLine,
    "lifted": Qt.PenStyle.SolidLine,
    "corrected": Qt.PenStyle.DashDotLine,
}
"""How each state's line is drawn, so that colour is not the only sign."""
_LEFT, _TOP, _BOTTOM = 46.0, 12.0, 20.0


@dataclass(frozen=True, eq=False)
class Curves:
    """What one graph shows.

    Attributes
    ----------
    travel : ndarray
        Wheel travel from rest, mm.
    values : mapping
        For each state drawn, the quantity over travel, mm or deg; NaN where it is not reached.
    length : bool
        Whether the quantity is a length.
    """

    travel: Array
    values: Mapping[str, Array]
    length: bool


def nice_step(span: float, count: int = 5) -> float:
    """Return a step of 1, 2, 2.5 or 5 times a power of ten that parts `span` into about `count`."""
    rough = max(span, 1e-9) / count
    power = 10.0 ** np.floor(np.log10(rough))
    for factor in (1.0, 2.0, 2.5, 5.0):
        if rough <= factor * power * (1.0 + 1e-9):
            return float(factor * power)
    return float(10.0 * power)


def ticks(low: float, high: float, count: int) -> list[float]:
    """Return round values between two ends."""
    step = nice_step(high - low, count)
    first = int(np.ceil(low / step - 1e-9))
    return [round(step * i, 9) + 0.0 for i in range(first, int(np.floor(high / step + 1e-9)) + 1)]


class Plot(QWidget):
    """Lines over wheel travel, in the units of the screen."""

    travelled = Signal(float)
    """Travel the cursor was put at, mm."""

    def __init__(self) -> None:
        super().__init__()
        self.unit: Unit = "mm"
        self.curves: Curves | None = None
        self.travel = 0.0
        self._colours: Colours = LIGHT
        self._lines: dict[str, Array] = {}
        self._low, self._high = -1.0, 1.0
        self._held = False
        self.setAccessibleName("Graph over wheel travel")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMouseTracking(True)
        self.setMinimumHeight(80)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.update()

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
        self.update()

    def show_travel(self, travel: float) -> None:
        """Put the cursor at a travel, mm."""
        if travel != self.travel:
            self.travel = travel
            self.update()

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
        names = QFontMetricsF(self.font()).horizontalAdvance("corrected") + 14.0
        return QRectF(_LEFT, _TOP, max(self.width() - _LEFT - names, 20.0), max(self.height() - _TOP - _BOTTOM, 20.0))

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
        return min(max(low + (high - low) * (x - area.left()) / area.width(), low), high)

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

    # -- painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw grid, lines, names and cursor."""
        painter = QPainter(self)
        try:
            painter.fillRect(self.rect(), QColor(self._colours.base))
            if self.curves is not None:
                area = self.area()
                self._paint_grid(painter, area)
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                self._paint_lines(painter, area)
                self._paint_cursor(painter, area)
        finally:
            painter.end()

    def _paint_grid(self, painter: QPainter, area: QRectF) -> None:
        colours = self._colours
        letters = QFontMetricsF(self.font())
        grid, axis, text = QPen(QColor(colours.grid)), QPen(QColor(colours.line), 1.0), QPen(QColor(colours.soft))
        per = 1.0 if self.unit == "mm" else MM_PER_INCH
        low, high = self._ends()
        wide = letters.horizontalAdvance("+0000")
        for value in ticks(low / per, high / per, max(3, min(10, int(area.width() / (wide * 1.6))))):
            x = round(self.x_of(value * per)) + 0.5
            painter.setPen(grid)
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
            painter.setPen(text)
            words = "rest" if value == 0 else f"{value:+g}"
            box = QRectF(x - 40.0, area.bottom() + 2.0, 80.0, _BOTTOM - 2.0)
            painter.drawText(box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, words)
        for value in ticks(self._low, self._high, max(2, min(6, int(area.height() / (letters.height() * 1.25))))):
            y = round(self.y_of(value)) + 0.5
            painter.setPen(axis if value == 0 else grid)
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(text)
            box = QRectF(0.0, y - 10.0, _LEFT - 6.0, 20.0)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, f"{value:g}")

    def _paint_lines(self, painter: QPainter, area: QRectF) -> None:
        assert self.curves is not None
        colours = self._colours
        tints = {"as built": colours.built, "lifted": colours.lifted, "corrected": colours.corrected}
        ends: list[tuple[float, str]] = []
        low, high = self._ends()
        xs = area.left() + area.width() * (self.curves.travel - low) / max(high - low, 1e-9)
        for state, line in self._lines.items():
            ys = area.bottom() - area.height() * (line - self._low) / (self._high - self._low)
            painter.setPen(QPen(QColor(tints[state]), 1.6 if state == "as built" else 2.2, DASH[state]))
            there = np.isfinite(ys)
            points = [QPointF(x, y) for x, y in zip(xs[there].tolist(), ys[there].tolist(), strict=True)]
            painter.drawPolyline(QPolygonF(points))
            ends.append((points[-1].y(), state))
        for y, state in self._apart(ends, area):
            painter.setPen(QColor(tints[state]))
            box = QRectF(area.right() + 6.0, y - 10.0, self.width() - area.right() - 6.0, 20.0)
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, state)

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

    def _paint_cursor(self, painter: QPainter, area: QRectF) -> None:
        x = self.x_of(self.travel)
        colour = QColor(self._colours.text)
        painter.setPen(QPen(colour, 1.4))
        painter.drawLine(QPointF(x, area.top() - 2.0), QPointF(x, area.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        top = area.top() - 9.0
        painter.drawPolygon(QPolygonF([QPointF(x - 6.0, top), QPointF(x + 6.0, top), QPointF(x, top + 9.0)]))
