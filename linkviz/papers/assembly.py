"""How the bracket sits: frame bracket, side plate over it, bolts and bar, seen square to the plate."""

from __future__ import annotations

import math

from linkviz.papers import letters
from linkviz.papers.dimensions import FIGURE, running
from linkviz.papers.heading import Heading
from linkviz.papers.order import Kit
from linkviz.papers.plate_views import View
from linkviz.papers.shapes import BLACK, DASHED, PALE, PLAIN, THICK, Circle, Polyline, Shape, Text, box, cross, line
from linkviz.sheetmetal.clearance_holes import clearance_hole
from linkviz.sheetmetal.outline import Pt

_ABOVE = 45.0
"""How far the frame bracket is drawn above the original bolt, mm of the vehicle."""
_BAR = 130.0
"""How much of the bar is drawn, mm of the vehicle."""


def assembly(kit: Kit, heading: Heading, scale: float, drop: float, angle: float) -> View:
    """Return the bracket in its place, inboard to the left.

    Parameters
    ----------
    kit : Kit
    heading : Heading
    scale : float
        Of the drawing.
    drop : float
        Where the bar hangs, mm.
    angle : float
        Of the bar, rad, + where its frame end is the higher one.
    """
    plate, frame, bracket = kit.plates[0], kit.frame, kit.bracket
    half, lip, up = frame.width / 2.0 * scale, frame.lip * scale, _ABOVE * scale
    outline = tuple((x * scale, y * scale) for x, y in plate.finished_outline())
    eye = (bracket.shift * scale, -drop * scale)
    shapes: list[Shape] = [box(-half, -lip, half, up, PLAIN, PALE)]
    shapes += _bar(eye, kit.bar.eye_diameter / 2.0 * scale, _BAR * scale, angle)
    shapes += [Polyline(outline, THICK, True, "#ffffff", 0.55), line((-half, -lip), (half, -lip), DASHED)]
    shapes += [line((x, -lip), (x, up), DASHED) for x in (-half, half)]
    marks: list[tuple[Pt, str]] = []
    for hole in plate.nominal:
        at, r = (hole.x * scale, hole.y * scale), hole.diameter / 2.0 * scale
        filled = BLACK if hole.name != "anchor bolt" else ""
        used = hole.name in ("original bolt", "anchor bolt") or abs(hole.y + drop) < 0.01
        shapes.append(Circle(at, r, THICK if used else PLAIN, filled if used else ""))
        shapes += cross(at, r + 2.0)
        marks.append(((at[0] + r, at[1]), _said(hole.name, kit, used)))
    right = max(half, max(x for x, _ in outline))
    shapes += running(marks, right + 4.0, right + 9.0, [True] * len(marks))
    wide = max(letters.width(text, FIGURE, True) for _, text in marks)
    names = [((-half, up - 4.0), "vehicle's frame bracket"), ((-half, -lip + 2.0), "its lower end, the lip")]
    left = min(-half, min(x for x, _ in outline))
    shapes += running(names, left - 4.0, left - 9.0)
    room = 10.0 + max(letters.width(text, FIGURE) for _, text in names)
    end = (eye[0] - _BAR * scale * math.cos(angle), eye[1] - _BAR * scale * math.sin(angle))
    # below the bar, and clear of what is said of the lip
    below = min(end[1] - kit.bar.eye_diameter / 4.0 * scale - 4.0, -lip - 4.5)
    shapes.append(Text((end[0], below), "lateral bar", FIGURE))
    low = min(min(y for _, y in outline), below) - 2.0
    return View(tuple(shapes), (min(left - room, end[0]), low, right + 10.0 + wide, up + 2.0))


def _bar(eye: Pt, radius: float, length: float, angle: float) -> list[Shape]:
    """Return the bar's frame end, its far part to the left, broken off."""
    ex, ey = -math.cos(angle), -math.sin(angle)
    half = 0.45 * radius
    sides = []
    for side in (1.0, -1.0):
        start = (eye[0] + ex * radius * 0.9 - ey * half * side, eye[1] + ey * radius * 0.9 + ex * half * side)
        end = (eye[0] + ex * length - ey * half * side, eye[1] + ey * length + ex * half * side)
        sides.append((start, end))
    (a, b), (c, d) = sides
    return [Polyline((a, b, d, c), PLAIN, True, "#ffffff"), Circle(eye, radius, PLAIN, "#ffffff")]


def _said(name: str, kit: Kit, used: bool) -> str:
    original, anchor, bar = kit.bolts
    if name == "original bolt":
        return f"original bolt: {original.bolt} x {original.sold_as}, tube inside"
    if name == "anchor bolt":
        return f"DRILL {clearance_hole(anchor.bolt).drill}: {anchor.bolt} x {anchor.sold_as}, sleeve inside"
    if used:
        return f"the bar hangs here: {bar.bolt} x {bar.sold_as}"
    return f"{name}: stays empty"
