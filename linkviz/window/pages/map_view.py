"""The contact map as a picture: travel across, roll up, lighter where there is more room; contact is hatched.

Lightness alone tells how near, so that it reads in grey and to any eye; lines and hatches say the rest, and the legend
says what they are. A click or a drag puts the axle there, the arrow keys move it.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.analysis.clearance.contact_map import ContactMap
from linkviz.linkage.layout import Array
from linkviz.units import MM_PER_INCH, Unit, length_number
from linkviz.window.theme import LIGHT, Colours

FAR = 60.0
"""Gap from which on the map is as light as it gets, mm."""
STEPS: dict[Unit, tuple[float, ...]] = {
    "mm": (5.0, 10.0, 20.0, 40.0),
    "in": tuple(MM_PER_INCH * inches for inches in (0.25, 0.5, 1.0, 1.5)),
}
"""Gaps at which thin lines run, mm, by the unit of the screen."""
_LEFT, _TOP, _BOTTOM, _RIGHT = 40, 8, 34, 10
"""Room around the picture at the usual size of letters, screen points."""
_TRAVEL_STEP, _ROLL_STEP = 1.0, 0.1
_STOPS = {
    "light": ((0.0, (58, 74, 98)), (0.35, (122, 146, 170)), (1.0, (241, 240, 233))),
    "dark": ((0.0, (196, 214, 230)), (0.35, (104, 130, 152)), (1.0, (30, 39, 45))),
}
"""From no room to `FAR`: strongest against the paper where it is tight, in either theme."""


class MapView(QWidget):
    """The picture of a contact map, with the place where the axle stands."""

    put = Signal(float, float)
    """Where the axle was put: travel from rest, mm, and roll, deg."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Contact map")
        self.setAccessibleDescription(
            "Smallest gap over wheel travel and axle roll. Arrow keys move the axle, with Shift ten times as far."
        )
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setMinimumHeight(190)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        letters = QFontMetricsF(self.font())
        self._left = max(_LEFT, math.ceil(letters.horizontalAdvance("-00\N{DEGREE SIGN}")) + 8)
        self._bottom = max(_BOTTOM, math.ceil(2.0 * letters.height() + letters.descent()))
        self.map: ContactMap | None = None
        self.at = (0.0, 0.0)
        """Where the axle stands: travel, mm, and roll, deg."""
        self.stale = False
        self._unit: Unit = "mm"
        self._colours: Colours = LIGHT
        self._image = QImage()
        self._lines: dict[float, list[Array]] = {}
        self._touched: list[list[Array]] = []
        self._near: list[list[Array]] = []

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return a size that suits the page."""
        return QSize(400, 280)

    # -- what is shown

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        if self.map is not None:
            self._image = _image(self.map, self.dark)
        self.update()

    def show_map(self, found: ContactMap | None, unit: Unit, stale: bool) -> None:
        """Show a map; `stale` says that the next one is being worked out."""
        if found is self.map and (unit, stale) == (self._unit, self.stale):
            return
        if found is not None and found is not self.map:
            self._image = _image(found, self.dark)
        if found is not None and (found is not self.map or unit != self._unit):
            self._trace(found, unit)
        self.map, self._unit, self.stale = found, unit, stale
        self.update()

    def show_place(self, travel: float, roll_deg: float) -> None:
        """Show where the axle stands."""
        if (travel, roll_deg) != self.at:
            self.at = (travel, roll_deg)
            self.update()

    @property
    def dark(self) -> bool:
        """Return whether the theme is a dark one: then it is lighter where it is tight."""
        return QColor(self._colours.paper).lightness() < 128

    def _trace(self, found: ContactMap, unit: Unit) -> None:
        from contourpy import FillType, LineType, contour_generator

        gap = np.where(np.isfinite(found.gap), found.gap, 1e4)
        roll = np.degrees(found.roll)
        lines: Any = contour_generator(roll, found.travel, gap, line_type=LineType.Separate)
        self._lines = {level: list(lines.lines(level)) for level in (0.0, *STEPS[unit])}
        fill: Any = contour_generator(roll, found.travel, gap, fill_type=FillType.OuterOffset)
        self._touched = _rings(fill.filled(-1e6, 0.0))
        near: Any = contour_generator(roll, found.travel, found.near.astype(float), fill_type=FillType.OuterOffset)
        self._near = _rings(near.filled(0.5, 2.0))

    # -- places

    def _room(self) -> QRectF:
        wide, high = self.width() - self._left - _RIGHT, self.height() - _TOP - self._bottom
        return QRectF(self._left, _TOP, max(wide, 10), max(high, 10))

    def _spot(self, travel: float, roll_deg: float) -> QPointF:
        room, found = self._room(), self.map
        if found is None:
            return room.center()
        t0, t1 = found.travel[0], found.travel[-1]
        r0, r1 = math.degrees(found.roll[0]), math.degrees(found.roll[-1])
        u = room.left() + room.width() * (travel - t0) / max(t1 - t0, 1e-9)
        v = room.bottom() - room.height() * (roll_deg - r0) / max(r1 - r0, 1e-9)
        return QPointF(u, v)

    def _place(self, spot: QPointF) -> tuple[float, float]:
        room, found = self._room(), self.map
        if found is None:
            return self.at
        a = min(max((spot.x() - room.left()) / room.width(), 0.0), 1.0)
        b = min(max((room.bottom() - spot.y()) / room.height(), 0.0), 1.0)
        roll = np.degrees(found.roll)
        return (
            round(float(found.travel[0] + a * (found.travel[-1] - found.travel[0])), 1),
            round(float(roll[0] + b * (roll[-1] - roll[0])), 1),
        )

    # -- hand and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Put the axle where the map is clicked."""
        if event.button() == Qt.MouseButton.LeftButton and self.map is not None:
            self.put.emit(*self._place(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Drag the axle over the map."""
        if event.buttons() & Qt.MouseButton.LeftButton and self.map is not None:
            self.put.emit(*self._place(event.position()))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move the axle by small steps."""
        far = 10.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0
        step = {
            Qt.Key.Key_Left: (-_TRAVEL_STEP, 0.0),
            Qt.Key.Key_Right: (_TRAVEL_STEP, 0.0),
            Qt.Key.Key_Up: (0.0, _ROLL_STEP),
            Qt.Key.Key_Down: (0.0, -_ROLL_STEP),
        }.get(Qt.Key(event.key()))
        if step is not None:
            self.put.emit(round(self.at[0] + far * step[0], 2), round(self.at[1] + far * step[1], 2))
        elif event.key() == Qt.Key.Key_Home:
            self.put.emit(0.0, 0.0)
        else:
            super().keyPressEvent(event)

    # -- painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the map, its lines and hatches, the axes and the place of the axle."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours, room = self._colours, self._room()
        painter.fillRect(room, QColor(colours.paper))
        if self.map is not None:
            painter.setOpacity(0.55 if self.stale else 1.0)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(room, self._image)
            painter.setClipRect(room)
            self._paint_regions(painter)
            for level in STEPS[self._unit]:
                self._paint_lines(painter, level, QPen(QColor(colours.soft), 0.8))
            self._paint_lines(painter, 0.0, QPen(QColor(colours.paper), 5.0))
            self._paint_lines(painter, 0.0, QPen(QColor(colours.danger), 2.2))
            painter.setClipping(False)
            painter.setOpacity(1.0)
        painter.setPen(QPen(QColor(colours.line), 1.0))
        painter.drawRect(room)
        if self.map is not None:
            self._paint_axes(painter, room)
            self._paint_place(painter, room)
        if self.hasFocus():
            painter.setPen(QPen(QColor(colours.accent), 1.6))
            painter.drawRect(room.adjusted(-2, -2, 2, 2))

    def _paint_regions(self, painter: QPainter) -> None:
        # paper under the line and in the hatch: where it is tight, red and orange alone are not seen
        near, paper = QColor(self._colours.lifted), QColor(self._colours.paper)
        edge = self._path(self._near)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for pen in (QPen(paper, 3.4), QPen(near, 1.8, Qt.PenStyle.DashLine)):
            painter.setPen(pen)
            painter.drawPath(edge)
        path = self._path(self._touched)
        danger = QColor(self._colours.danger)
        shade = QColor(danger)
        shade.setAlphaF(0.35)
        painter.fillPath(path, shade)
        painter.fillPath(path, QBrush(paper, Qt.BrushStyle.BDiagPattern))

    def _paint_lines(self, painter: QPainter, level: float, pen: QPen) -> None:
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for line in self._lines.get(level, []):
            path = QPainterPath(self._spot(line[0, 1], line[0, 0]))
            for roll, travel in line[1:]:
                path.lineTo(self._spot(travel, roll))
            painter.drawPath(path)

    def _path(self, shapes: list[list[Array]]) -> QPainterPath:
        path = QPainterPath()
        path.setFillRule(Qt.FillRule.OddEvenFill)
        for rings in shapes:
            for ring in rings:
                path.moveTo(self._spot(ring[0, 1], ring[0, 0]))
                for roll, travel in ring[1:]:
                    path.lineTo(self._spot(travel, roll))
                path.closeSubpath()
        return path

    def _paint_axes(self, painter: QPainter, room: QRectF) -> None:
        found = self.map
        if found is None:
            return
        painter.setPen(QColor(self._colours.soft))
        ruler = QFontMetricsF(self.font())
        for travel in (float(found.travel[0]), 0.0, float(found.travel[-1])):
            text = length_number(travel, self._unit)
            x = self._spot(travel, 0.0).x() - ruler.horizontalAdvance(text) / 2.0
            x = min(max(x, room.left()), room.right() - ruler.horizontalAdvance(text))
            painter.drawText(QPointF(x, room.bottom() + ruler.ascent() + 2), text)
        words = f"wheel travel from rest, {self._unit}"
        middle = room.center().x() - ruler.horizontalAdvance(words) / 2.0
        painter.drawText(QPointF(middle, room.bottom() + 2.0 * ruler.height() - 1), words)
        for roll in (math.degrees(found.roll[0]), 0.0, math.degrees(found.roll[-1])):
            text = f"{roll:+.0f}\N{DEGREE SIGN}" if roll else "0\N{DEGREE SIGN}"
            y = self._spot(0.0, roll).y() + ruler.ascent() / 2.0
            y = min(max(y, room.top() + ruler.ascent()), room.bottom())
            painter.drawText(QPointF(room.left() - ruler.horizontalAdvance(text) - 5, y), text)
        painter.setPen(QPen(QColor(self._colours.line), 0.8))
        painter.drawLine(self._spot(0.0, math.degrees(found.roll[0])), self._spot(0.0, math.degrees(found.roll[-1])))
        painter.drawLine(self._spot(found.travel[0], 0.0), self._spot(found.travel[-1], 0.0))

    def _paint_place(self, painter: QPainter, room: QRectF) -> None:
        spot = self._spot(*self.at)
        spot = QPointF(min(max(spot.x(), room.left()), room.right()), min(max(spot.y(), room.top()), room.bottom()))
        for colour, width in ((self._colours.paper, 5.0), (self._colours.text, 2.0)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawLine(spot + QPointF(-9, 0), spot + QPointF(9, 0))
            painter.drawLine(spot + QPointF(0, -9), spot + QPointF(0, 9))


def _rings(filled: Any) -> list[list[Array]]:
    return [[points[a:b] for a, b in pairwise(offsets)] for points, offsets in zip(*filled, strict=True)]


def _image(found: ContactMap, dark: bool) -> QImage:
    """Return the map as a picture, travel to the right and roll up, one point for each state."""
    share = np.clip(np.where(np.isfinite(found.gap), found.gap, FAR) / FAR, 0.0, 1.0).T[::-1]
    stops = _STOPS["dark" if dark else "light"]
    places = [place for place, _ in stops]
    picture = np.full((*share.shape, 4), 255, dtype=np.uint8)
    for index, channel in enumerate((2, 1, 0)):  # blue, green, red, as QImage has them
        picture[..., index] = np.interp(share, places, [colour[channel] for _, colour in stops])
    data = np.ascontiguousarray(picture)
    image = QImage(data.data, data.shape[1], data.shape[0], 4 * data.shape[1], QImage.Format.Format_RGB32)
    return image.copy()


def gap_at(found: ContactMap, travel: float, roll_deg: float) -> tuple[float, int, bool]:
    """Return (gap, index of the pair, whether it may be deeper) at the state nearest to a place."""
    i = int(np.abs(found.travel - travel).argmin())
    j = int(np.abs(np.degrees(found.roll) - roll_deg).argmin())
    return float(found.gap[i, j]), int(found.pair[i, j]), bool(found.deep[i, j])


def steps_words(unit: Unit) -> str:
    """Return at which gaps the thin lines run, in words."""
    return f"{', '.join(length_number(step, unit) for step in STEPS[unit])} {unit}"
