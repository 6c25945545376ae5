"""What the pencil has drawn so far, and how it looks."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from linkviz.frozen import Frozen
from linkviz.picture.camera import HEADING
from linkviz.picture.scene import to_view
from linkviz.session import outline
from linkviz.session.edits import ViewName
from linkviz.session.outline import Corner, Corners, Fault
from linkviz.session.snapping import Snap
from linkviz.window.pane import Pane
from linkviz.window.tools.marks import show_refused, show_snap, write


class Sketch(Frozen):
    """An envelope being drawn.

    Attributes
    ----------
    view : {"rear", "side"}
        Where the next corner goes.
    corners : tuple of corner
        Those so far, mm.
    first : (view, corners) or None
        The outline that is already closed.
    pen : Snap or None
        Where the next corner would go.
    fault : Fault or None
        Why it could not go there.
    closing : bool
        Whether the pen is on the first corner.
    words : str
        What stands beside the pen.
    lift : float
        Rise of the body, mm.
    """

    view: ViewName
    corners: Corners
    first: tuple[ViewName, Corners] | None
    pen: Snap | None
    fault: Fault | None
    closing: bool
    words: str
    lift: float


def paint_sketch(pane: Pane, painter: QPainter, sketch: Sketch) -> None:
    """Draw the corners, the next edge with its reason, and the heights that are kept."""
    colours = pane.colours
    if sketch.first is not None:
        if pane.view == sketch.first[0]:
            _outline(pane, painter, sketch.first[1], sketch.lift, True)
        else:
            _band(pane, painter, sketch.first[1], sketch.lift)
    if pane.view != sketch.view:
        return
    pen, fault, corners = sketch.pen, sketch.fault, sketch.corners
    if fault is not None:
        bad = corners if sketch.closing or pen is None else (*corners, pen.corner)
        show_refused(pane, painter, bad, sketch.lift, fault.edges, closed=False)
    if corners:
        _outline(pane, painter, corners, sketch.lift, False)
    if pen is None:
        return
    colour = colours.danger if fault is not None else colours.accent
    tip = _at(pane, corners[0] if sketch.closing else pen.corner, sketch.lift)
    if corners:
        painter.setPen(QPen(QColor(colour), 1.8, Qt.PenStyle.DashLine))
        painter.drawLine(_at(pane, corners[-1], sketch.lift), tip)
    if len(corners) > 1 and not sketch.closing and fault is None:
        shut = outline.fault_of((*corners, pen.corner)) is None
        painter.setPen(QPen(QColor(colours.soft if shut else colours.danger), 1.0, Qt.PenStyle.DotLine))
        painter.drawLine(tip, _at(pane, corners[0], sketch.lift))
    if not sketch.closing:
        show_snap(pane, painter, pen, sketch.lift)
    write(pane, painter, tip + QPointF(12.0, -10.0), sketch.words, colour)


def _at(pane: Pane, corner: Corner, lift: float) -> QPointF:
    return pane.place(to_view(pane.view, corner, lift))


def _outline(pane: Pane, painter: QPainter, corners: Corners, lift: float, closed: bool) -> None:
    places = [_at(pane, corner, lift) for corner in corners]
    painter.setPen(QPen(QColor(pane.colours.accent), 2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if closed:
        painter.drawPolygon(QPolygonF(places))
    else:
        painter.drawPolyline(QPolygonF(places))
    painter.setBrush(QColor(pane.colours.paper))
    for i, place in enumerate(places):
        size = 6.5 if i == 0 and not closed else 4.0
        painter.drawEllipse(place, size, size)


def _band(pane: Pane, painter: QPainter, corners: Corners, lift: float) -> None:
    low, high = outline.heights(corners)
    top, bottom = _at(pane, (0.0, high), lift).y(), _at(pane, (0.0, low), lift).y()
    colour = QColor(pane.colours.accent)
    fill = QColor(colour)
    fill.setAlpha(26)
    painter.fillRect(QRectF(0.0, top, pane.width(), bottom - top), fill)
    painter.setPen(QPen(colour, 1.4, Qt.PenStyle.DashLine))
    painter.drawLine(QPointF(0.0, top), QPointF(pane.width(), top))
    painter.drawLine(QPointF(0.0, bottom), QPointF(pane.width(), bottom))
    words = "height that is kept"
    wide = QFontMetricsF(painter.font()).horizontalAdvance(words)
    at = QPointF(pane.width() - wide - 10.0, max(top - 6.0, HEADING + 12.0))
    write(pane, painter, at, words, pane.colours.accent)
