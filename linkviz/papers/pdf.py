"""Writes pages as PDF: true size, letters embedded and selectable, the same bytes for the same pages."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import Any, Final

from linkviz import __version__
from linkviz.papers.letters import BOLD, REGULAR, fonts, printable
from linkviz.papers.shapes import THICK, Circle, Clip, Contour, Page, Pen, Polyline, Shape, Text
from linkviz.sheetmetal.outline import Arc

POINTS: Final = 72.0 / 25.4
"""PDF points per mm."""


def pdf(pages: Sequence[Page], title: str, subject: str = "") -> bytes:
    """Return pages as a PDF document.

    Parameters
    ----------
    pages : sequence of Page
        At least one.
    title, subject : str
        For the document's own description.
    """
    from reportlab.pdfgen.canvas import Canvas

    fonts()
    stream = io.BytesIO()
    canvas = Canvas(stream, invariant=1, pageCompression=1, initialFontName=REGULAR)
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setCreator(f"Linkviz {__version__}")
    # viewers that heed it do not offer to shrink a page that has to come out at true size
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        canvas.scale(POINTS, POINTS)
        canvas.setLineJoin(1)
        for shape in page.shapes:
            _draw(canvas, shape)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _draw(canvas: Any, shape: Shape) -> None:
    if isinstance(shape, Text):
        _text(canvas, shape)
    elif isinstance(shape, Circle):
        _ready(canvas, shape.pen, shape.fill, shape.alpha)
        canvas.circle(*shape.centre, shape.radius, stroke=int(shape.pen is not None), fill=int(bool(shape.fill)))
    elif isinstance(shape, Polyline):
        _ready(canvas, shape.pen, shape.fill, shape.alpha)
        path = canvas.beginPath()
        for loop in (shape.points, *shape.holes):
            path.moveTo(*loop[0])
            for at in loop[1:]:
                path.lineTo(*at)
            if shape.closed:
                path.close()
        # 0: even-odd, so that holes stay open
        canvas.drawPath(path, stroke=int(shape.pen is not None), fill=int(bool(shape.fill)), fillMode=0)
    elif isinstance(shape, Contour):
        _contour(canvas, shape)
    else:
        _clip(canvas, shape)


def _contour(canvas: Any, shape: Contour) -> None:
    _ready(canvas, THICK, "", 1.0)
    dx, dy = shape.shift
    path = canvas.beginPath()
    edges = shape.outline.edges()
    path.moveTo(edges[0].a[0] + dx, edges[0].a[1] + dy)
    for edge in edges:
        if isinstance(edge, Arc):
            x, y, r = edge.centre[0] + dx, edge.centre[1] + dy, edge.radius
            path.arcTo(x - r, y - r, x + r, y + r, math.degrees(edge.start), math.degrees(edge.turn))
        else:
            path.lineTo(edge.b[0] + dx, edge.b[1] + dy)
    path.close()
    canvas.drawPath(path, stroke=1, fill=0)


def _clip(canvas: Any, clip: Clip) -> None:
    x0, y0, x1, y1 = clip.rect
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(x0, y0, x1 - x0, y1 - y0)
    canvas.clipPath(path, stroke=0, fill=0)
    for shape in clip.shapes:
        _draw(canvas, shape)
    canvas.restoreState()


def _text(canvas: Any, text: Text) -> None:
    name = BOLD if text.bold else REGULAR
    canvas.setFillColor(text.colour)
    canvas.setFillAlpha(1.0)
    canvas.setFont(name, text.size)
    write = {"left": canvas.drawString, "centre": canvas.drawCentredString, "right": canvas.drawRightString}
    words = printable(text.text)
    if not text.degrees:
        write[text.anchor](*text.at, words)
        return
    canvas.saveState()
    canvas.translate(*text.at)
    canvas.rotate(text.degrees)
    write[text.anchor](0.0, 0.0, words)
    canvas.restoreState()


def _ready(canvas: Any, pen: Pen | None, fill: str, alpha: float) -> None:
    if pen is not None:
        canvas.setStrokeColor(pen.colour)
        canvas.setLineWidth(pen.width)
        canvas.setDash(list(pen.dash) if pen.dash else [])
    if fill:
        canvas.setFillColor(fill)
        canvas.setFillAlpha(alpha)
