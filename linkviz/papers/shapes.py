"""What a page is made of: plain shapes in mm from its lower left corner, x right, y up. Every writer consumes it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

from linkviz.frozen import Frozen
from linkviz.sheetmetal.outline import Outline, Pt

Size = Literal["a4", "letter"]
SIZES: Final[dict[Size, tuple[float, float]]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of paper, mm (ISO 216; ANSI/ASME Y14.1)."""
BLACK: Final = "#000000"
GREY: Final = "#5a5a5a"
PALE: Final = "#ececec"


class Pen(Frozen):
    """A line: its width and dashes in mm, its colour."""

    width: float = 0.25
    dash: tuple[float, ...] = ()
    colour: str = BLACK


THIN: Final = Pen(0.18)
PLAIN: Final = Pen(0.25)
THICK: Final = Pen(0.5)
CENTRE: Final = Pen(0.18, (6.0, 1.2, 1.2, 1.2))
DASHED: Final = Pen(0.25, (2.5, 1.2))


class Polyline(Frozen):
    """Straight lines through points; closed ones may be filled and have holes."""

    points: tuple[Pt, ...]
    pen: Pen | None = PLAIN
    closed: bool = False
    fill: str = ""
    alpha: float = 1.0
    holes: tuple[tuple[Pt, ...], ...] = ()


class Contour(Frozen):
    """A closed outline of true lines and arcs, moved by `shift`, drawn thick."""

    outline: Outline
    shift: Pt = (0.0, 0.0)


class Circle(Frozen):
    """A circle."""

    centre: Pt
    radius: float
    pen: Pen | None = PLAIN
    fill: str = ""
    alpha: float = 1.0


class Text(Frozen):
    """One line of text.

    Attributes
    ----------
    at : (float, float)
        On its base line.
    size : float
        Of the letters (em), mm.
    anchor : {"left", "centre", "right"}
        Which part of the text is at the point.
    degrees : float
        Turned counter-clockwise about the point.
    """

    at: Pt
    text: str
    size: float = 3.2
    bold: bool = False
    anchor: Literal["left", "centre", "right"] = "left"
    degrees: float = 0.0
    colour: str = BLACK


class Clip(Frozen):
    """Shapes of which only what lies inside a rectangle (x0, y0, x1, y1) is seen."""

    rect: tuple[float, float, float, float]
    shapes: tuple[Shape, ...]


Shape = Polyline | Contour | Circle | Text | Clip


class Page(Frozen):
    """One page."""

    width: float
    height: float
    shapes: tuple[Shape, ...]


def line(a: Pt, b: Pt, pen: Pen = PLAIN) -> Polyline:
    """Return a straight line."""
    return Polyline((a, b), pen)


def box(x0: float, y0: float, x1: float, y1: float, pen: Pen | None = PLAIN, fill: str = "") -> Polyline:
    """Return a rectangle."""
    return Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), pen, True, fill)


def cross(at: Pt, arm: float, pen: Pen = THIN) -> list[Polyline]:
    """Return a centre mark."""
    x, y = at
    return [line((x - arm, y), (x + arm, y), pen), line((x, y - arm), (x, y + arm), pen)]


def arrow_head(tip: Pt, tail: Pt, length: float = 2.6) -> Polyline:
    """Return a filled arrow head at `tip`, pointing away from `tail`."""
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    far = (dx * dx + dy * dy) ** 0.5 or 1.0
    ex, ey = dx / far, dy / far
    back = (tip[0] - ex * length, tip[1] - ey * length)
    half = length / 5.0
    ends = ((back[0] - ey * half, back[1] + ex * half), (back[0] + ey * half, back[1] - ex * half))
    return Polyline((tip, *ends), None, True, BLACK)


def moved(shapes: Sequence[Shape], dx: float, dy: float) -> list[Shape]:
    """Return shapes moved."""

    def at(p: Pt) -> Pt:
        return p[0] + dx, p[1] + dy

    found: list[Shape] = []
    for s in shapes:
        if isinstance(s, Polyline):
            holes = tuple(tuple(map(at, hole)) for hole in s.holes)
            found.append(Polyline(tuple(map(at, s.points)), s.pen, s.closed, s.fill, s.alpha, holes))
        elif isinstance(s, Contour):
            found.append(Contour(s.outline, at(s.shift)))
        elif isinstance(s, Circle):
            found.append(Circle(at(s.centre), s.radius, s.pen, s.fill, s.alpha))
        elif isinstance(s, Text):
            found.append(Text(at(s.at), s.text, s.size, s.bold, s.anchor, s.degrees, s.colour))
        else:
            x0, y0, x1, y1 = s.rect
            found.append(Clip((x0 + dx, y0 + dy, x1 + dx, y1 + dy), tuple(moved(s.shapes, dx, dy))))
    return found
