"""Puts the drawings of an axle on paper: the same shapes the screen shows, in mm of the page, as vectors."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from linkviz.papers import letters
from linkviz.papers.shapes import Circle as Ring
from linkviz.papers.shapes import Clip, Pen, Polyline, Shape, Text, box, line
from linkviz.picture.camera import Camera, lay_out
from linkviz.picture.marks import BADGES, HATCHES, arrow
from linkviz.picture.placing import VEIL, Line, Placed, place_in_pane
from linkviz.picture.shapes import Arrow, Circle, Drawing, Path, Pt
from linkviz.picture.style import Style, paint, styles
from linkviz.sheetmetal.outline import Pt as Point

SCREEN: Final = 0.235
"""Size of a screen point on paper, mm: letters of 11 points come out 2.6 mm high."""
_PAPER: Final = "#ffffff"
_THEME: Final = "light"


def picture_shapes(drawings: Sequence[Drawing], width: float, height: float, point: float = SCREEN) -> list[Shape]:
    """Return drawings side by side, on one scale and one ground, their lower left corner at the origin.

    Parameters
    ----------
    drawings : sequence of Drawing
        Left to right.
    width, height : float
        Room on the page, mm.
    point : float
        Size of a screen point, mm.
    """
    shapes: list[Shape] = []
    for index, pane in enumerate(lay_out(drawings, width / point, height / point)):
        left = pane.left * point
        inside = _Pane(pane.drawing, pane.camera, left, height, point).shapes()
        shapes.append(Clip((left, 0.0, left + pane.camera.width * point, height), tuple(inside)))
        if index:
            shapes.append(line((left, 0.0), (left, height), Pen(0.15, colour="#999999")))
    shapes.append(box(0.0, 0.0, width, height, Pen(0.25)))
    return shapes


class _Pane:
    """One drawing on its way to the page."""

    def __init__(self, drawing: Drawing, camera: Camera, left: float, height: float, point: float) -> None:
        self.drawing, self.camera, self.left, self.height, self.point = drawing, camera, left, height, point

    def shapes(self) -> list[Shape]:
        found: list[Shape] = []
        for shape in self.drawing.shapes:
            if isinstance(shape, Path):
                found += self._path(shape)
            elif isinstance(shape, Circle):
                look = styles(_THEME)[shape.style]
                radius = (look.marker or shape.radius * self.camera.scale) * self.point
                centre = self._at(self.camera.to_screen(shape.centre))
                found.append(Ring(centre, radius, self._pen(look), _white(look.fill), look.alpha))
            elif isinstance(shape, Arrow):
                found += self._arrow(shape)
        labels, title = place_in_pane(self.drawing, self.camera, self._measure)
        for placed in labels:
            found += self._label(placed)
        return found + [self._line(words, (0.0, 0.0)) for words in title]

    def _at(self, screen: Pt) -> Point:
        return self.left + screen[0] * self.point, self.height - screen[1] * self.point

    def _measure(self, text: str, size: float, bold: bool) -> tuple[float, float, float]:
        return letters.width(text, size, bold), 0.93 * size, 0.25 * size

    def _pen(self, look: Style) -> Pen | None:
        if not look.line:
            return None
        return Pen(look.width * self.point, tuple(d * self.point for d in look.dash), look.line)

    def _path(self, path: Path) -> list[Shape]:
        look = styles(_THEME)[path.style]
        loops = [tuple(self._at(self.camera.to_screen(at)) for at in loop) for loop in (path.points, *path.holes)]
        fill = _white(look.fill) if path.closed else ""
        found: list[Shape] = [
            Polyline(loops[0], self._pen(look), path.closed, fill, look.alpha, tuple(h for h in loops[1:] if h))
        ]
        if look.hatch and path.closed:
            found[0:1] = [Polyline(loops[0], None, True, fill, look.alpha, tuple(loops[1:]))] if fill else []
            found += self._hatch(loops, look)
            if look.line:
                found.append(Polyline(loops[0], self._pen(look), True, "", 1.0, tuple(loops[1:])))
        return found

    def _hatch(self, loops: Sequence[tuple[Point, ...]], look: Style) -> list[Shape]:
        """Return the lines of a hatch that lie inside an outline and on the pane."""
        import math

        import shapely

        hatch = HATCHES[look.hatch]
        pane = shapely.box(self.left, 0.0, self.left + self.camera.width * self.point, self.height)
        area = shapely.Polygon(loops[0], loops[1:]).buffer(0.0).intersection(pane)
        if area.is_empty:
            return []
        x0, y0, x1, y1 = area.bounds
        gap, angle = hatch.gap * self.point, math.radians(hatch.degrees)
        ex, ey = math.cos(angle), math.sin(angle)
        corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        across = [-x * ey + y * ex for x, y in corners]
        along = [x * ex + y * ey for x, y in corners]
        lines = []
        for step in range(math.ceil(min(across) / gap), math.floor(max(across) / gap) + 1):
            off = step * gap
            lines.append([(s * ex - off * ey, s * ey + off * ex) for s in (min(along), max(along))])
        cut = shapely.MultiLineString(lines).intersection(area)
        pen = Pen(hatch.width * self.point, (), look.hatch_colour)
        parts = getattr(cut, "geoms", [cut])
        return [Polyline(tuple(part.coords), pen) for part in parts if part.geom_type == "LineString" and part.length]

    def _arrow(self, shape: Arrow) -> list[Shape]:
        look = styles(_THEME)[shape.style]
        (a, b), head = arrow(self.camera.to_screen(shape.tail), self.camera.to_screen(shape.tip))
        pen = Pen(look.width * self.point, (), look.line)
        return [
            Polyline((self._at(a), self._at(b)), pen),
            Polyline(tuple(map(self._at, head)), None, True, look.line),
        ]

    def _label(self, placed: Placed) -> list[Shape]:
        dx, dy = self.camera.x, self.camera.y
        left, top, right, bottom = placed.rect
        found: list[Shape] = []
        if placed.leader is not None:
            (a, b), (c, d) = placed.leader
            leader = styles(_THEME)["leader"]
            pen = Pen(leader.width * self.point, (), leader.line)
            found.append(Polyline((self._at((a + dx, b + dy)), self._at((c + dx, d + dy))), pen))
        if placed.veiled:
            x0, y0 = self._at((left + dx - 3.0, bottom + dy + 1.0))
            x1, y1 = self._at((right + dx + 3.0, top + dy - 1.0))
            found.append(Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), None, True, _PAPER, VEIL))
        if placed.icon is not None and placed.label.icon in BADGES:
            x, y, x1, _ = placed.icon
            side = x1 - x
            outline, strokes = BADGES[placed.label.icon]

            def at(p: Pt) -> Point:
                return self._at((x + dx + p[0] * side, y + dy + p[1] * side))

            found.append(Polyline(tuple(map(at, outline)), None, True, styles(_THEME)[placed.label.style].line))
            pen = Pen(0.13 * side * self.point, (), _PAPER)
            found += [Polyline(tuple(map(at, stroke)), pen) for stroke in strokes]
        return found + [self._line(words, (dx, dy)) for words in placed.lines]

    def _line(self, words: Line, shift: Pt) -> Text:
        look = styles(_THEME)[words.style]
        at = self._at((words.at[0] + shift[0], words.at[1] + shift[1]))
        return Text(at, words.text, words.size * self.point, look.bold, colour=look.line)


def _white(fill: str) -> str:
    """Return a fill for white paper: what is the colour of the screen's paper is left white."""
    return _PAPER if fill == paint(_THEME).paper else fill
