"""The trailing links over lift: three small curves on one axis, each with its limit and where it passes it."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.analysis.limits import HIGHEST, LinkLimits, RunOut
from linkviz.frozen import Frozen
from linkviz.picture.scales import ticks
from linkviz.units import Unit, format_length, from_mm, length_number
from linkviz.window.theme import LIGHT, Colours, scaled

_TOP, _APART, _STEP = 2.0, 8.0, {"mm": 50.0, "in": 50.8}


class Strip(Frozen):
    """One of the curves: its key in `RunOut.curves`, words, whether it is a length, and its limit (deg or mm)."""

    key: str
    title: str
    length: bool
    limit: Callable[[LinkLimits], float]


STRIPS = (
    Strip("link_angle", "Steepest trailing link, deg", False, lambda limits: limits.link_angle_deg),
    Strip("pinion_change", "Pinion turned, nose up +, deg", False, lambda limits: limits.pinion_change_deg),
    Strip("wheelbase_change", "Wheelbase longer +", True, lambda limits: limits.wheelbase_change),
)


class LiftChart(QWidget):
    """The curves."""

    def __init__(self) -> None:
        super().__init__()
        self.found: RunOut | None = None
        self.lift = 0.0
        self.unit: Unit = "mm"
        self._colours: Colours = LIGHT
        self._letters = scaled(self.font(), 0.9)
        ruler = QFontMetricsF(self._letters)
        self._line = ruler.height()
        self._widest = ruler.horizontalAdvance("250 mm")
        self._left, self._right = ruler.horizontalAdvance("-100") + 14.0, self._widest / 2 + 4.0
        self.setAccessibleName("Trailing links over lift")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(360, 330)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return a size at which all of it is read easily."""
        return QSize(440, 420)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.update()

    def show_run(self, found: RunOut, lift: float, unit: Unit) -> None:
        """Show other curves, and where the present lift is, mm."""
        self.found, self.lift, self.unit = found, lift, unit
        first = found.said(unit)
        self.setAccessibleDescription(first)
        self.update()

    def place(self, strip: int, lift: float, value: float) -> QPointF:
        """Return where a value of a curve stands, screen points."""
        frame = self._frame(strip)
        low, high = self._span(strip)
        x = frame.left() + frame.width() * lift / HIGHEST
        return QPointF(x, frame.bottom() - frame.height() * (value - low) / (high - low))

    def _frame(self, strip: int) -> QRectF:
        above = self._line + 12.0  # its title, and half of its highest number
        tall = (self.height() - _TOP - self._line - 8.0) / len(STRIPS)
        return QRectF(self._left, _TOP + strip * tall + above, self.width() - self._left - self._right, tall - above)

    def _values(self, strip: int) -> np.ndarray:
        assert self.found is not None
        one = STRIPS[strip]
        values = np.where(self.found.reached, self.found.curves[one.key], np.nan)
        return values if one.length else np.degrees(values)

    def _span(self, strip: int) -> tuple[float, float]:
        assert self.found is not None
        limit = STRIPS[strip].limit(self.found.limits)
        values = self._values(strip)
        low, high = float(np.nanmin(values)), float(np.nanmax(values))
        # a curve that runs off far beyond its limit would flatten what matters
        low, high = max(low, -2.0 * limit), min(high, 2.0 * limit)
        low = min(low, -1.15 * limit if float(values[len(values) // 2]) < 0 else 0.0)
        return low, max(high, 1.15 * limit if low >= 0 or high > limit else 0.1 * limit)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw the three strips."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self.rect(), QColor(self._colours.paper))
            if self.found is None:
                return
            painter.setFont(self._letters)
            for strip in range(len(STRIPS)):
                self._strip(painter, strip)
            self._lifts(painter)
        finally:
            painter.end()

    def _strip(self, painter: QPainter, strip: int) -> None:
        assert self.found is not None
        one, colours, frame = STRIPS[strip], self._colours, self._frame(strip)
        low, high = self._span(strip)
        painter.setPen(QColor(colours.text))
        title = f"{one.title}, {self.unit}" if one.length else one.title
        place = QRectF(6, frame.top() - self._line - 3.0, self.width() - 6.0, self._line)
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft, title)
        factor = 1.0 if not one.length else from_mm(1.0, self.unit)
        for value in ticks(low * factor, high * factor, 4):
            at = self.place(strip, 0.0, value / factor)
            painter.setPen(QPen(QColor(colours.grid), 1.0))
            painter.drawLine(at, QPointF(frame.right(), at.y()))
            painter.setPen(QColor(colours.soft))
            side = QRectF(0, at.y() - self._line / 2, self._left - 6, self._line)
            painter.drawText(side, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, f"{value:g}")
        limit = one.limit(self.found.limits)
        painter.setPen(QPen(QColor(colours.lifted), 1.4, Qt.PenStyle.DashLine))
        for value in (limit, -limit):
            if low <= value <= high:
                painter.drawLine(self.place(strip, 0.0, value), self.place(strip, HIGHEST, value))
        painter.save()
        painter.setClipRect(frame)
        painter.setPen(QPen(QColor(colours.accent), 2.2))
        there = [
            self.place(strip, lift, value)
            for lift, value in zip(self.found.lift, self._values(strip), strict=True)
            if np.isfinite(value)
        ]
        painter.drawPolyline(QPolygonF(there))
        painter.restore()
        self._crossing(painter, strip)

    def _crossing(self, painter: QPainter, strip: int) -> None:
        assert self.found is not None
        crossing = next((c for c in self.found.crossings if c.key == STRIPS[strip].key), None)
        if crossing is None:
            return
        value = float(np.interp(crossing.lift, self.found.lift, self._values(strip)))
        at = self.place(strip, crossing.lift, value)
        colours = self._colours
        painter.setPen(QPen(QColor(colours.lifted), 2.0))
        painter.setBrush(QColor(colours.paper))
        painter.drawEllipse(at, 4.5, 4.5)
        words = format_length(crossing.lift, self.unit)
        wide = painter.fontMetrics().horizontalAdvance(words)
        above = value >= 0
        box = QRectF(at.x() - wide - 12, at.y() - (self._line + 3.0 if above else -3.0), wide + 6, self._line)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _lifts(self, painter: QPainter) -> None:
        colours, last = self._colours, self._frame(len(STRIPS) - 1)
        painter.setPen(QColor(colours.soft))
        step = _STEP[self.unit]
        step *= math.ceil((self._widest + _APART) / (last.width() * step / HIGHEST))
        for i in range(int(HIGHEST // step) + 1):
            at = self.place(len(STRIPS) - 1, i * step, 0.0)
            box = QRectF(at.x() - self._widest / 2 - 3.0, last.bottom() + 4, self._widest + 6.0, self._line)
            words = "lift" if i == 0 else length_number(i * step, self.unit) + (" mm" if self.unit == "mm" else '"')
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
        x = self.place(0, min(self.lift, HIGHEST), 0.0).x()
        painter.setPen(QPen(QColor(colours.text), 1.2))
        painter.drawLine(QPointF(x, self._frame(0).top()), QPointF(x, last.bottom()))
