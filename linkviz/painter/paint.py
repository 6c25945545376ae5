"""Paints a drawing with Qt, fast enough to do it anew for every frame."""

from __future__ import annotations

import math
from collections.abc import MutableMapping
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF, QTransform

from linkviz.frozen import Frozen
from linkviz.painter.layer import Layer, Shapes
from linkviz.painter.polygons import polygons
from linkviz.painter.text import measure, write
from linkviz.picture.camera import Camera, mesh
from linkviz.picture.marks import BADGES, HATCHES, Hatch, arrow
from linkviz.picture.placing import VEIL, Placed, place_in_pane
from linkviz.picture.shapes import Arrow, Circle, Drawing, Path
from linkviz.picture.style import paint as colours
from linkviz.picture.style import styles

_THIN = 1.45
"""Lines up to this width are drawn one screen point wide."""
_NO_PEN = QPen(Qt.PenStyle.NoPen)
_NO_BRUSH = QBrush(Qt.BrushStyle.NoBrush)


class _Tools(Frozen):
    pen: QPen
    brush: QBrush
    hatch: Hatch | None
    hatch_colour: str
    marker: float


@lru_cache(maxsize=512)
def _tools(style: str, theme: str) -> _Tools:
    look = styles(theme)[style]
    pen = _NO_PEN
    if look.line:
        # A line of one point is stroked several times as fast as a slightly wider one.
        pen = QPen(QColor(look.line), 1.0 if look.width <= _THIN else look.width)
        pen.setCosmetic(True)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if look.dash:
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            pen.setDashPattern([d / pen.widthF() for d in look.dash])
        else:
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    brush = _NO_BRUSH
    if look.fill:
        colour = QColor(look.fill)
        colour.setAlphaF(look.alpha)
        brush = QBrush(colour)
    return _Tools(pen, brush, HATCHES.get(look.hatch), look.hatch_colour, look.marker)


@lru_cache(maxsize=64)
def _plain_pen(colour: str, width: float) -> QPen:
    pen = QPen(QColor(colour), width)
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    return pen


@lru_cache(maxsize=8)
def _veil(theme: str) -> QBrush:
    colour = QColor(colours(theme).paper)
    colour.setAlphaF(VEIL)
    return QBrush(colour)


def paint(
    painter: QPainter,
    drawing: Drawing,
    camera: Camera,
    theme: str,
    memory: MutableMapping[str, int] | None = None,
    background: bool = True,
    title: bool = True,
    layer: Layer | None = None,
) -> list[Placed]:
    """Paint one drawing into a pane whose upper left corner is the painter's origin.

    Parameters
    ----------
    painter : QPainter
        An active painter.
    drawing : Drawing
        What to paint.
    camera : Camera
        Where the drawing lies in the pane.
    theme : {"light", "dark"}
        The colours.
    memory : mapping or None
        Kept by the caller from frame to frame, so that labels in motion do not jump.
    background : bool
        Whether to paint the paper first.
    title : bool
        Whether to write the drawing's title and caption in the corner.
    layer : Layer or None
        Kept by the caller from frame to frame, so that what stays need not be painted again; it covers the paper.

    Returns
    -------
    list of Placed
        The labels with their places, screen points from the drawing's origin.
    """
    painter.save()
    try:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        pane = QRectF(0.0, 0.0, camera.width, camera.height)
        painter.setClipRect(pane, Qt.ClipOperation.IntersectClip)

        def below(onto: QPainter, shapes: Shapes) -> None:
            if background or layer is not None:
                onto.fillRect(pane, QColor(colours(theme).paper))
            onto.setRenderHint(QPainter.RenderHint.Antialiasing)
            _mesh(onto, camera, theme)
            _shapes(onto, shapes, camera, theme)

        if layer is None:
            below(painter, drawing.shapes)
        else:
            _shapes(painter, layer.lay(painter, drawing.shapes, camera, theme, below), camera, theme)
        for shape in drawing.shapes:
            if isinstance(shape, Arrow):
                _arrow(painter, shape, camera, theme)
        placed, lines = place_in_pane(drawing, camera, measure, memory, title)
        for label in placed:
            _label(painter, label, camera, theme)
        for line in lines:
            write(painter, line, theme)
        return placed
    finally:
        painter.restore()


def _mesh(painter: QPainter, camera: Camera, theme: str) -> None:
    upright, level = mesh(camera)
    lines = [QLineF(x, 0.0, x, camera.height) for x in upright] + [QLineF(0.0, y, camera.width, y) for y in level]
    painter.setPen(_tools("grid", theme).pen)
    painter.drawLines(lines)


def _shapes(painter: QPainter, shapes: Shapes, camera: Camera, theme: str) -> None:
    """Paint paths and circles; the painter's origin is the pane's upper left corner."""
    base = painter.transform()
    painter.setTransform(QTransform(camera.scale, 0.0, 0.0, -camera.scale, camera.x, camera.y) * base)
    outlines = polygons(shapes)
    last = ""
    last_closed = True
    tools = _tools("steel", theme)
    scale = camera.scale
    set_pen, set_brush = painter.setPen, painter.setBrush
    for shape in shapes:
        kind = type(shape)
        if kind is Path:
            closed = shape.closed  # type: ignore[union-attr]
        elif kind is Circle:
            closed = True
        else:
            continue
        style = shape.style
        if style != last or closed != last_closed:
            tools = _tools(style, theme)
            set_pen(tools.pen)
            set_brush(tools.brush if closed else _NO_BRUSH)
            last, last_closed = style, closed
        if kind is Circle:
            u, v = shape.centre  # type: ignore[union-attr]
            r = tools.marker / scale if tools.marker else shape.radius  # type: ignore[union-attr]
            painter.drawEllipse(QPointF(u, v), r, r)
            continue
        points = next(outlines)
        if closed and (tools.hatch is not None or shape.holes):  # type: ignore[union-attr]
            _cut(painter, shape, points, tools)  # type: ignore[arg-type]
        elif closed:
            painter.drawPolygon(points)
        else:
            painter.drawPolyline(points)
    painter.setTransform(base)


def _cut(painter: QPainter, shape: Path, points: QPolygonF, tools: _Tools) -> None:
    """Paint a filled shape with its holes, and its hatch over the fill."""
    outline = QPainterPath()
    outline.setFillRule(Qt.FillRule.OddEvenFill)
    outline.addPolygon(points)
    outline.closeSubpath()
    for hole in shape.holes:
        outline.addPolygon(QPolygonF([QPointF(u, v) for u, v in hole]))
        outline.closeSubpath()
    if tools.hatch is None:
        painter.drawPath(outline)
        return
    painter.fillPath(outline, tools.brush)
    # The tile is in device pixels: the brush undoes the plane's scale and keeps the drawing's origin.
    world = painter.deviceTransform()
    device = painter.device()
    brush = QBrush(_tile(tools.hatch, tools.hatch_colour, device.devicePixelRatio() if device else 1.0))
    undo, fine = world.inverted()
    if fine:
        brush.setTransform(QTransform.fromTranslate(round(world.dx()), round(world.dy())) * undo)
        painter.fillPath(outline, brush)
    painter.setPen(tools.pen)
    painter.setBrush(_NO_BRUSH)
    painter.drawPath(outline)
    painter.setBrush(tools.brush)


@lru_cache(maxsize=32)
def _tile(hatch: Hatch, colour: str, ratio: float) -> QPixmap:
    """Return one tile of a hatch, in device pixels."""
    side = round(hatch.gap * math.sqrt(2.0) * ratio)
    tile = QPixmap(side, side)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    try:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(colour), hatch.width * ratio))
        rising = hatch.degrees < 90.0
        start, end = (side + 1.0, -1.0) if rising else (-1.0, side + 1.0)
        for shift in (-side, 0, side):
            painter.drawLine(QPointF(shift - 1.0, start), QPointF(shift + side + 1.0, end))
    finally:
        painter.end()
    return tile


def _arrow(painter: QPainter, shape: Arrow, camera: Camera, theme: str) -> None:
    tools = _tools(shape.style, theme)
    (a, b), head = arrow(camera.to_screen(shape.tail), camera.to_screen(shape.tip))
    painter.setPen(tools.pen)
    painter.drawLine(QPointF(*a), QPointF(*b))
    painter.setPen(_NO_PEN)
    painter.setBrush(QBrush(tools.pen.color()))
    painter.drawPolygon([QPointF(*p) for p in head])


def _label(painter: QPainter, placed: Placed, camera: Camera, theme: str) -> None:
    x, y = camera.x, camera.y
    left, top, right, bottom = placed.rect
    if placed.leader is not None:
        (a, b), (c, d) = placed.leader
        painter.setPen(_tools("leader", theme).pen)
        painter.drawLine(QPointF(a + x, b + y), QPointF(c + x, d + y))
    label = placed.label
    if placed.veiled:
        painter.setPen(_NO_PEN)
        painter.setBrush(_veil(theme))
        painter.drawRoundedRect(QRectF(left + x - 3, top + y - 1, right - left + 6, bottom - top + 2), 3, 3)
    if placed.icon is not None:
        box = QRectF(placed.icon[0] + x, placed.icon[1] + y, placed.icon[2] - placed.icon[0], 0.0)
        badge(painter, label.icon, box, styles(theme)[label.style].line, colours(theme).paper)
    for line in placed.lines:
        write(painter, line, theme, x, y)


def badge(painter: QPainter, name: str, box: QRectF, colour: str, inner: str) -> None:
    """Paint one of the badges "ok", "warn", "hit" in a square as wide as the box; any other name is nothing."""
    if name not in BADGES:
        return
    outline, strokes = BADGES[name]
    side = box.width()

    def at(p: tuple[float, float]) -> QPointF:
        return QPointF(box.left() + p[0] * side, box.top() + p[1] * side)

    painter.setPen(_NO_PEN)
    painter.setBrush(QColor(colour))
    painter.drawPolygon([at(p) for p in outline])
    painter.setBrush(_NO_BRUSH)
    painter.setPen(_plain_pen(inner, round(0.13 * side, 1)))
    for stroke in strokes:
        painter.drawPolyline([at(p) for p in stroke])
