"""Views of one plate in mm of the page, the origin of the plate at the origin: flat, bent, and from its edge."""

from __future__ import annotations

import math
from typing import Final

from linkviz.frozen import Frozen
from linkviz.papers import letters
from linkviz.papers.dimensions import FIGURE, level, running
from linkviz.papers.heading import Heading
from linkviz.papers.shapes import (
    CENTRE,
    THICK,
    THIN,
    Circle,
    Contour,
    Polyline,
    Shape,
    Text,
    cross,
    line,
    moved,
)
from linkviz.sheetmetal.outline import Node, Outline, Pt
from linkviz.sheetmetal.plate import Hole, Plate

SCALES: Final = (1.0, 0.5, 0.4, 0.2, 0.1)
"""Scales that a plate is drawn at: those of ISO 5455, and 1:2.5 between them."""
MARGIN: Final = 10.0
"""Room for a dimension beside a plate, mm."""
DIAMETER: Final = "\N{LATIN CAPITAL LETTER O WITH STROKE}"


class View(Frozen):
    """Shapes and the rectangle (x0, y0, x1, y1) they need, mm."""

    shapes: tuple[Shape, ...]
    extent: tuple[float, float, float, float]

    def at_origin(self) -> list[Shape]:
        """Return the shapes moved so that the lower left corner of what they need is the origin."""
        return moved(self.shapes, -self.extent[0], -self.extent[1])

    @property
    def width(self) -> float:
        """Return the width, mm."""
        return self.extent[2] - self.extent[0]

    @property
    def height(self) -> float:
        """Return the height, mm."""
        return self.extent[3] - self.extent[1]


def scale_words(scale: float) -> str:
    """Return a scale as drawings write it: ``1:2``."""
    return f"1:{1.0 / scale:g}"


def bare(plate: Plate, scale: float = 1.0) -> list[Shape]:
    """Return outline, holes with centre marks and bend lines of the flat pattern, nothing written."""
    blank = plate.blank if scale == 1.0 else Outline(tuple(_scaled(node, scale) for node in plate.blank.nodes))
    shapes: list[Shape] = [Contour(blank)]
    for hole in plate.holes:
        shapes += _hole(hole.at, hole.diameter / 2.0, scale)
    for bend in plate.bend_lines:
        shapes.append(line((bend.x0 * scale, bend.y * scale), (bend.x1 * scale, bend.y * scale), CENTRE))
    return shapes


def flat_view(plate: Plate, heading: Heading, scale: float, across: bool = True) -> View:
    """Return the flat pattern: holes and bend lines from the origin, names beside them.

    Parameters
    ----------
    plate : Plate
    heading : Heading
    scale : float
    across : bool
        Whether its width and the distances of holes sideways are given too.
    """
    extent = plate.blank.extent
    x0, x1 = extent[0] * scale, extent[2] * scale
    marks = [((x0, bend.y * scale), _signed(bend.y, heading)) for bend in plate.bend_lines]
    words = [((x1, bend.y * scale), f"bend {bend.number}: {bend.words}") for bend in plate.bend_lines]
    return _lettered(bare(plate, scale), extent, plate.holes, marks, words, heading, scale, across)


def bent_view(plate: Plate, heading: Heading, scale: float) -> View:
    """Return the bent plate seen from its outside: holes from the origin, names beside them."""
    points = plate.finished_outline()
    xs, ys = [x for x, _ in points], [y for _, y in points]
    shapes: list[Shape] = [Polyline(tuple((x * scale, y * scale) for x, y in points), THICK, True)]
    for nominal, flat in zip(plate.nominal, plate.holes, strict=True):
        lean = plate.profile.place(flat.y if not plate.down else -flat.y).lean
        shapes += _hole(nominal.at, nominal.diameter / 2.0, scale, math.cos(lean))
    for bend in plate.bend_lines:
        for edge in (bend.y - bend.half, bend.y + bend.half):
            y = plate.finished((0.0, edge))[1] * scale
            shapes.append(line((min(xs) * scale, y), (max(xs) * scale, y), THIN))
    return _lettered(shapes, (min(xs), min(ys), max(xs), max(ys)), plate.nominal, [], [], heading, scale, True)


def _lettered(
    shapes: list[Shape],
    extent: tuple[float, float, float, float],
    holes: tuple[Hole, ...],
    marks: list[tuple[Pt, str]],
    words: list[tuple[Pt, str]],
    heading: Heading,
    scale: float,
    across: bool,
) -> View:
    """Add heights on the left, names on the right, and what is measured across above and below."""
    x0, y0, x1, y1 = (v * scale for v in extent)
    rows = _one_per_height(holes)
    bold = [False] * (len(marks) + 2) + [True] * len(rows)
    marks = [*marks, ((x0, y1), _signed(extent[3], heading)), ((x0, y0), _signed(extent[1], heading))]
    marks += [((min(hole.x * scale, 0.0), hole.y * scale), _signed(hole.y, heading)) for hole in rows]
    words = [*((_edge_of(hole, scale), hole_words(hole, heading)) for hole in holes), *words]
    lettering = [*running(marks, x0 - 5.0, x0 - 9.0, bold), *running(words, x1 + 4.0, x1 + 9.0)]
    # names may reach beyond a plate that is drawn small
    low = min(y0, *(letters.bounds(shape)[1] for shape in lettering))
    high = max(y1, *(letters.bounds(shape)[3] for shape in lettering))
    shapes = [*shapes, *lettering]
    low, high = low - 3.0, high + 3.0
    if across:
        low = min(low - 3.0, y0 - 7.0)
        if abs(extent[0] + extent[2]) > 0.05:
            # what lies on the middle line of a plate is not told from its edge
            shapes += level((x0, y0), (0.0, y0), low, heading.exact(-extent[0]), before=True)
            low -= 6.0
        shapes += level((x0, y0), (x1, y0), low, heading.exact(extent[2] - extent[0]))
        sides = _sides(holes, heading, scale, max(high, y1 + 5.0))
        shapes += sides
        low, high = low - 3.0, max(high, y1 + 5.0) + 5.0 if sides else high
    left = x0 - 10.0 - max(letters.width(text, FIGURE, True) for _, text in marks)
    right = x1 + 10.0 + max(letters.width(text, FIGURE) for _, text in words)
    return View(tuple(shapes), (left, low, right, high))


def edge_view(plate: Plate, heading: Heading, scale: float) -> View:
    """Return the plate from its edge: thickness, set-off of the joggle, centre lines of the holes."""
    outline = [(x * scale, y * scale) for x, y in plate.edge_view()]
    x0, x1 = min(x for x, _ in outline), max(x for x, _ in outline)
    y0, y1 = min(y for _, y in outline), max(y for _, y in outline)
    shapes: list[Shape] = [Polyline(tuple(outline), THICK, True)]
    half = plate.thickness * scale / 2.0
    for flat in plate.holes:
        s = -flat.y if plate.down else flat.y
        place, sign = plate.profile.place(s), -1.0 if plate.down else 1.0
        middle = (place.off * scale, sign * place.along * scale)
        away = (half + 3.0) * math.cos(place.lean), -sign * (half + 3.0) * math.sin(place.lean)
        shapes.append(
            line((middle[0] - away[0], middle[1] - away[1]), (middle[0] + away[0], middle[1] + away[1]), CENTRE)
        )
    shapes += level((-half, y1), (half, y1), y1 + 5.0, heading.exact(plate.thickness))
    right = x1 + 22.0
    end = plate.profile.place(plate.profile.end)
    if abs(end.lean) < 1e-9 and abs(end.off) > 1e-9:
        low, far = (-half, y1), (end.off * scale - half, y0)
        shapes += level(low, far, y0 - 7.0, heading.exact(abs(end.off)))
        right = max(right, max(low[0], far[0]) + 24.0)
    for bend in plate.bend_lines:
        place = plate.profile.place(-bend.y if plate.down else bend.y)
        at = (place.off * scale + half, (-place.along if plate.down else place.along) * scale)
        text = f"R{heading.exact(bend.inside)}"
        shapes.append(Text((at[0] + 4.0, at[1] + (1.6 if bend.number == 1 else -3.6)), text, FIGURE))
        right = max(right, at[0] + 5.0 + letters.width(text, FIGURE))
    return View(tuple(shapes), (x0 - 6.0, y0 - MARGIN, right, y1 + MARGIN))


def hole_words(hole: Hole, heading: Heading) -> str:
    """Return a hole in words: its name, its diameter, and its drill where that says more."""
    size = f"{DIAMETER}{heading.exact(hole.diameter)}"
    same = not hole.drill or hole.drill == f"{hole.diameter:g} {heading.unit}"
    return f"{hole.name} {size}" + ("" if same else f" (drill {hole.drill})")


def _hole(at: Pt, radius: float, scale: float, squeeze: float = 1.0) -> list[Shape]:
    x, y, r = at[0] * scale, at[1] * scale, radius * scale
    ring: Shape = Circle((x, y), r)
    if squeeze < 1.0 - 1e-9:
        turns = [2.0 * math.pi * k / 48 for k in range(48)]
        ring = Polyline(tuple((x + r * math.cos(a), y + squeeze * r * math.sin(a)) for a in turns), closed=True)
    return [ring, *cross((x, y), r + 2.0)]


def _edge_of(hole: Hole, scale: float) -> Pt:
    return (hole.x + hole.diameter / 2.0) * scale, hole.y * scale


def _one_per_height(holes: tuple[Hole, ...]) -> list[Hole]:
    """Return one hole for each height, the leftmost."""
    found: dict[float, Hole] = {}
    for hole in sorted(holes, key=lambda h: h.x):
        found.setdefault(round(hole.y, 6), hole)
    return list(found.values())


def _sides(holes: tuple[Hole, ...], heading: Heading, scale: float, y: float) -> list[Shape]:
    """Return how far sideways holes lie that do not lie on the middle line, above the plate."""
    tops: dict[float, float] = {}
    for hole in holes:
        x = round(hole.x, 6)
        tops[x] = max(tops.get(x, hole.y), hole.y)
    ends = {x: (x * scale, top * scale) for x, top in sorted(tops.items())}
    xs = [x for x in ends if abs(x) > 1e-6]
    if len(xs) == 2 and abs(xs[0] + xs[1]) < 1e-6:
        return level(ends[xs[0]], ends[xs[1]], y, heading.exact(xs[1] - xs[0]))
    origin = ends.get(0.0, (0.0, max(tops.values()) * scale))
    return [s for x in xs for s in level(origin, ends[x], y, heading.exact(abs(x)))]


def _signed(mm: float, heading: Heading) -> str:
    """Return a height from the origin: 0 is the origin, below it without a sign, above it with +."""
    text = heading.exact(abs(mm))
    return "0" if abs(mm) < 1e-9 else f"+{text}" if mm > 0 else text


def _scaled(node: Node, scale: float) -> Node:
    return Node(node.x * scale, node.y * scale, node.bulge)
