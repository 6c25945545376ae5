"""A closed outline of true lines and arcs: its area, middle, extent, and how far a point is from it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen

Pt = tuple[float, float]
_QUARTER = math.tan(math.pi / 8.0)


class Line(Frozen):
    """A straight edge from `a` to `b`, mm."""

    a: Pt
    b: Pt


class Arc(Frozen):
    """A round edge.

    Attributes
    ----------
    centre : (float, float)
        mm.
    radius : float
        mm.
    start : float
        Direction of its first point from the centre, rad.
    turn : float
        Angle from its first to its last point, rad, counter-clockwise +.
    """

    centre: Pt
    radius: float
    start: float
    turn: float

    def at(self, share: float) -> Pt:
        """Return the point at a share (0 to 1) of the way along the arc."""
        angle = self.start + share * self.turn
        return self.centre[0] + self.radius * math.cos(angle), self.centre[1] + self.radius * math.sin(angle)

    @property
    def a(self) -> Pt:
        """Return the first point."""
        return self.at(0.0)

    @property
    def b(self) -> Pt:
        """Return the last point."""
        return self.at(1.0)


Edge = Line | Arc


class Node(Frozen):
    """A corner of an outline and the edge that leaves it.

    Attributes
    ----------
    x, y : float
        mm.
    bulge : float
        tan(turn / 4) of the edge to the next node, counter-clockwise +; 0 is straight (DXF reference, LWPOLYLINE,
        group code 42).
    """

    x: float
    y: float
    bulge: float = 0.0


class Outline(Frozen):
    """A closed outline, counter-clockwise; the last node joins the first."""

    nodes: tuple[Node, ...]

    def edges(self) -> list[Edge]:
        """Return the edges in order."""
        found: list[Edge] = []
        for one, two in zip(self.nodes, (*self.nodes[1:], self.nodes[0]), strict=True):
            found.append(_edge(one, two))
        return found

    @property
    def area(self) -> float:
        """Return the area inside, mm^2: the polygon of the chords and the segments on the arcs."""
        return self._moments()[0]

    @property
    def centre(self) -> Pt:
        """Return the middle of the area, mm.

        A segment of an arc of radius r and turn a has its middle 4 r sin(a/2)^3 / (3 (a - sin a)) from the centre of
        the arc.
        """
        area, x, y = self._moments()
        return x / area, y / area

    def _moments(self) -> tuple[float, float, float]:
        area = x = y = 0.0
        for edge in self.edges():
            (ax, ay), (bx, by) = edge.a, edge.b
            cross = (ax * by - bx * ay) / 2.0
            area += cross
            x += cross * (ax + bx) / 3.0
            y += cross * (ay + by) / 3.0
            if isinstance(edge, Arc):
                turn, r = abs(edge.turn), edge.radius
                part = math.copysign(0.5 * r * r * (turn - math.sin(turn)), edge.turn)
                away = 4.0 * r * math.sin(turn / 2.0) ** 3 / (3.0 * (turn - math.sin(turn)))
                middle = edge.start + edge.turn / 2.0
                area += part
                x += part * (edge.centre[0] + away * math.cos(middle))
                y += part * (edge.centre[1] + away * math.sin(middle))
        return area, x, y

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Return (x_min, y_min, x_max, y_max), mm, arcs included."""
        points = [(n.x, n.y) for n in self.nodes]
        for edge in self.edges():
            if isinstance(edge, Arc):
                for quarter in range(4):
                    share = _share(edge, quarter * math.pi / 2.0)
                    if share is not None:
                        points.append(edge.at(share))
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return min(xs), min(ys), max(xs), max(ys)

    def distance(self, at: Pt) -> float:
        """Return the shortest distance from a point to the outline, mm."""
        return min(_distance(edge, at) for edge in self.edges())

    def points(self, step: float = math.radians(3.0)) -> list[Pt]:
        """Return a polygon of the outline; arcs are cut into pieces of at most `step`, rad."""
        found: list[Pt] = []
        for edge in self.edges():
            found.append(edge.a)
            if isinstance(edge, Arc):
                count = max(1, math.ceil(abs(edge.turn) / step))
                found += [edge.at(k / count) for k in range(1, count)]
        return found

    def mapped(self, move: Callable[[float, float], Pt]) -> Outline:
        """Return the outline with its nodes moved; arcs keep their turn, so only use moves that keep arcs whole."""
        return Outline(tuple(Node(*move(n.x, n.y), n.bulge) for n in self.nodes))

    def mirrored(self) -> Outline:
        """Return the mirror image, left and right exchanged, counter-clockwise again."""
        turned = []
        for before, node in zip((self.nodes[-1], *self.nodes[:-1]), self.nodes, strict=True):
            turned.append(Node(-node.x, node.y, before.bulge))
        return Outline(tuple(reversed(turned)))


def rectangle(low: Pt, high: Pt, corner: float = 0.0) -> Outline:
    """Return a rectangle with round corners.

    Parameters
    ----------
    low, high : (float, float)
        Opposite corners, mm.
    corner : float
        Radius of the corners, mm.

    Raises
    ------
    LinkvizError
        If it has no width or height, or its corners are too round.
    """
    (x0, y0), (x1, y1) = low, high
    if x1 <= x0 or y1 <= y0:
        raise LinkvizError(f"A plate {x1 - x0:.1f} x {y1 - y0:.1f} mm has no area. Give it a width and a length.")
    if corner < 0 or corner > min(x1 - x0, y1 - y0) / 2.0 + 1e-9:
        raise LinkvizError(
            f"Corners of radius {corner:.1f} mm do not fit on a plate {x1 - x0:.1f} x {y1 - y0:.1f} mm. "
            "Make them at most half the shorter side."
        )
    if not corner:
        return Outline((Node(x0, y0), Node(x1, y0), Node(x1, y1), Node(x0, y1)))
    r, q = corner, _QUARTER
    corners = (
        (Node(x1 - r, y0, q), Node(x1, y0 + r)),
        (Node(x1, y1 - r, q), Node(x1 - r, y1)),
        (Node(x0 + r, y1, q), Node(x0, y1 - r)),
        (Node(x0, y0 + r, q), Node(x0 + r, y0)),
    )
    return Outline(_merged([node for pair in corners for node in pair]))


def _merged(nodes: Sequence[Node]) -> tuple[Node, ...]:
    """Drop straight edges of no length, which appear where corners are as round as the side is long."""
    kept = []
    for one, two in zip(nodes, (*nodes[1:], nodes[0]), strict=True):
        if one.bulge or math.dist((one.x, one.y), (two.x, two.y)) > 1e-9:
            kept.append(one)
    return tuple(kept)


def _edge(one: Node, two: Node) -> Edge:
    a, b = (one.x, one.y), (two.x, two.y)
    if not one.bulge:
        return Line(a, b)
    turn = 4.0 * math.atan(one.bulge)
    chord = math.dist(a, b)
    radius = chord / (2.0 * math.sin(abs(turn) / 2.0))
    # from the middle of the chord to the centre, to the left of the way for a counter-clockwise arc
    away = chord / 2.0 / math.tan(turn / 2.0)
    ex, ey = (b[0] - a[0]) / chord, (b[1] - a[1]) / chord
    centre = ((a[0] + b[0]) / 2.0 - ey * away, (a[1] + b[1]) / 2.0 + ex * away)
    return Arc(centre, radius, math.atan2(a[1] - centre[1], a[0] - centre[0]), turn)


def _share(arc: Arc, direction: float) -> float | None:
    """Return where along an arc a direction from its centre lies, or None if it is not on it."""
    behind = math.remainder(direction - arc.start, 2.0 * math.pi) * math.copysign(1.0, arc.turn)
    if behind < -1e-12:
        behind += 2.0 * math.pi
    return behind / abs(arc.turn) if behind <= abs(arc.turn) + 1e-12 else None


def _distance(edge: Edge, at: Pt) -> float:
    if isinstance(edge, Arc):
        share = _share(edge, math.atan2(at[1] - edge.centre[1], at[0] - edge.centre[0]))
        if share is not None:
            return abs(math.dist(at, edge.centre) - edge.radius)
        return min(math.dist(at, edge.a), math.dist(at, edge.b))
    (ax, ay), (bx, by) = edge.a, edge.b
    dx, dy = bx - ax, by - ay
    share = ((at[0] - ax) * dx + (at[1] - ay) * dy) / (dx * dx + dy * dy)
    share = min(max(share, 0.0), 1.0)
    return math.dist(at, (ax + share * dx, ay + share * dy))
