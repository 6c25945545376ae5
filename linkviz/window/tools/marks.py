"""What both tools draw over a drawing: words on paper, guide lines of a snap, an outline that is refused."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from linkviz.picture.scene import to_view
from linkviz.session.outline import Corners
from linkviz.session.snapping import Snap
from linkviz.window.pane import Pane

FREE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
"""Held, they let a corner go anywhere. Many window managers keep Alt for themselves."""
STRAIGHT = Qt.KeyboardModifier.ShiftModifier


def write(pane: Pane, painter: QPainter, at: QPointF, words: str, colour: str) -> None:
    """Write a word on a piece of paper, so that it can be read over the drawing; it stays inside the pane."""
    measure = QFontMetricsF(painter.font())
    box = measure.boundingRect(words).translated(at).adjusted(-3.0, -1.0, 3.0, 1.0)
    aside = QPointF(min(0.0, pane.width() - 4.0 - box.right()), max(0.0, 2.0 - box.top()))
    painter.fillRect(box.translated(aside), QColor(pane.colours.paper))
    painter.setPen(QColor(colour))
    painter.drawText(at + aside, words)


def show_snap(pane: Pane, painter: QPainter, snap: Snap, lift: float) -> None:
    """Draw the lines along which a corner is held, a square where it lies on another corner."""
    accent = QColor(pane.colours.accent)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    at = pane.place(to_view(pane.view, snap.corner, lift))
    for start, end in snap.lines:
        a, b = (pane.place(to_view(pane.view, corner, lift)) for corner in (start, end))
        way = b - a
        far = math.hypot(way.x(), way.y()) or 1.0
        painter.setPen(QPen(accent, 1.0, Qt.PenStyle.DotLine))
        painter.drawLine(a - way * (14.0 / far), b + way * (14.0 / far))
        painter.setPen(QPen(accent, 1.4))
        painter.drawEllipse(a, 6.0, 6.0)
    painter.setPen(QPen(accent, 1.6))
    if snap.on:
        painter.drawRect(int(at.x()) - 7, int(at.y()) - 7, 14, 14)
    else:
        painter.drawLine(at - QPointF(5.0, 0.0), at + QPointF(5.0, 0.0))
        painter.drawLine(at - QPointF(0.0, 5.0), at + QPointF(0.0, 5.0))


def show_refused(
    pane: Pane, painter: QPainter, corners: Corners, lift: float, edges: Sequence[int] = (), closed: bool = True
) -> None:
    """Hatch an outline that cannot be taken, and draw the edges thick that are the reason."""
    places = [pane.place(to_view(pane.view, corner, lift)) for corner in corners]
    danger = QColor(pane.colours.danger)
    painter.setPen(QPen(danger, 1.4, Qt.PenStyle.DashLine) if closed else Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(danger, Qt.BrushStyle.BDiagPattern))
    painter.drawPolygon(QPolygonF(places), Qt.FillRule.OddEvenFill)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(danger, 3.0))
    for edge in edges:
        if edge < len(places):
            painter.drawLine(places[edge], places[(edge + 1) % len(places)])
