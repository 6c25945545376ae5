"""Pages of the papers through QPainter: for the preview on the screen, from the same shapes the PDF is written from."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPainter, QPainterPath, QPen

from linkviz.papers import letters
from linkviz.papers.shapes import THICK, Circle, Clip, Contour, Page, Pen, Polyline, Shape, Text
from linkviz.sheetmetal.outline import Arc

_EM = 100
"""Size at which letters are asked for; they are scaled from there, screen points."""


def paint_page(painter: QPainter, page: Page, scale: float) -> None:
    """Paint a page with its upper left corner at the painter's origin.

    Parameters
    ----------
    painter : QPainter
    page : Page
    scale : float
        Screen points per mm.
    """
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    writer = _Writer(painter, page.height, scale)
    for shape in page.shapes:
        writer.draw(shape)


@lru_cache(maxsize=1)
def _families() -> dict[bool, str]:
    """Return the families of the papers' letters, by weight, as Qt calls them."""
    found = {}
    for name, path in letters.font_files().items():
        family = QFontDatabase.applicationFontFamilies(QFontDatabase.addApplicationFont(str(path)))
        found[name == letters.BOLD] = family[0] if family else "sans-serif"
    return found


class _Writer:
    def __init__(self, painter: QPainter, height: float, scale: float) -> None:
        self.painter, self.height, self.scale = painter, height, scale

    def draw(self, shape: Shape) -> None:
        painter = self.painter
        if isinstance(shape, Text):
            self._text(shape)
        elif isinstance(shape, Circle):
            self._ready(shape.pen, shape.fill, shape.alpha)
            painter.drawEllipse(self._at(*shape.centre), shape.radius * self.scale, shape.radius * self.scale)
        elif isinstance(shape, Polyline):
            self._ready(shape.pen, shape.fill, shape.alpha)
            painter.drawPath(self._polyline(shape))
        elif isinstance(shape, Contour):
            self._ready(THICK, "", 1.0)
            painter.drawPath(self._contour(shape))
        else:
            self._clip(shape)

    def _at(self, x: float, y: float) -> QPointF:
        return QPointF(x * self.scale, (self.height - y) * self.scale)

    def _polyline(self, shape: Polyline) -> QPainterPath:
        path = QPainterPath()
        path.setFillRule(Qt.FillRule.OddEvenFill)
        for loop in (shape.points, *shape.holes):
            path.moveTo(self._at(*loop[0]))
            for at in loop[1:]:
                path.lineTo(self._at(*at))
            if shape.closed:
                path.closeSubpath()
        return path

    def _contour(self, shape: Contour) -> QPainterPath:
        dx, dy = shape.shift
        path = QPainterPath()
        edges = shape.outline.edges()
        path.moveTo(self._at(edges[0].a[0] + dx, edges[0].a[1] + dy))
        for edge in edges:
            if isinstance(edge, Arc):
                r = edge.radius
                corner = self._at(edge.centre[0] + dx - r, edge.centre[1] + dy + r)
                around = QRectF(corner.x(), corner.y(), 2.0 * r * self.scale, 2.0 * r * self.scale)
                path.arcTo(around, math.degrees(edge.start), math.degrees(edge.turn))
            else:
                path.lineTo(self._at(edge.b[0] + dx, edge.b[1] + dy))
        path.closeSubpath()
        return path

    def _clip(self, clip: Clip) -> None:
        x0, y0, x1, y1 = clip.rect
        self.painter.save()
        self.painter.setClipRect(QRectF(self._at(x0, y1), self._at(x1, y0)), Qt.ClipOperation.IntersectClip)
        for shape in clip.shapes:
            self.draw(shape)
        self.painter.restore()

    def _text(self, text: Text) -> None:
        font = QFont(_families()[text.bold])
        font.setPixelSize(_EM)
        font.setBold(text.bold)
        font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
        words = letters.printable(text.text)
        wide = letters.width(text.text, float(_EM), text.bold)
        left = {"left": 0.0, "centre": -wide / 2.0, "right": -wide}[text.anchor]
        painter = self.painter
        painter.save()
        painter.translate(self._at(*text.at))
        painter.rotate(-text.degrees)
        factor = text.size * self.scale / _EM
        painter.scale(factor, factor)
        painter.setPen(QColor(text.colour))
        painter.setFont(font)
        painter.drawText(QPointF(left, 0.0), words)
        painter.restore()

    def _ready(self, pen: Pen | None, fill: str, alpha: float) -> None:
        painter = self.painter
        if pen is None:
            painter.setPen(Qt.PenStyle.NoPen)
        else:
            wide = pen.width * self.scale
            line = QPen(QColor(pen.colour), wide)
            line.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            line.setCapStyle(Qt.PenCapStyle.FlatCap)
            if pen.dash and wide > 0:
                line.setDashPattern([d / pen.width for d in pen.dash])
            painter.setPen(line)
        if not fill:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            return
        colour = QColor(fill)
        colour.setAlphaF(alpha)
        painter.setBrush(colour)
