"""A drop bracket in its frame bracket, seen from the front and from the edge, with its dimensions.

The outlines come from the plates that the shop cuts (`linkviz.bracket.plates`); the original bolt stands at the origin
and the drop points down. In the edge view the bolts run across.
"""

from __future__ import annotations

import math

from linkviz.bracket.bolts import SIZES
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket
from linkviz.frozen import Frozen
from linkviz.picture.shapes import Circle, Drawing, Label, Path, Pt, Shape
from linkviz.sheetmetal.plate import Plate
from linkviz.units import Unit, format_length

ROOM = 16.0
"""Kept free around the parts, mm."""


class BracketScene(Frozen):
    """What is drawn.

    Attributes
    ----------
    bracket : DropBracket
    plates : tuple of Plate
        Of `linkviz.bracket.plates.drop_plates`.
    frame : FrameBracket
        Measured, or assumed.
    bar : BarEnd
        Measured, or assumed.
    used : float
        Drop of the hole the bar hangs in, mm.
    bar_angle : float
        Of the bar at rest with the bracket on, rad, frame end above the axle end +.
    unit : {"mm", "in"}
    """

    bracket: DropBracket
    plates: tuple[Plate, ...]
    frame: FrameBracket
    bar: BarEnd
    used: float
    bar_angle: float
    unit: Unit = "mm"


def bracket_views(scene: BracketScene) -> tuple[Drawing, Drawing]:
    """Return the front view (the bar leads away to the left, to the axle) and the edge view."""
    return _front(scene), _edge(scene)


def _front(scene: BracketScene) -> Drawing:
    bracket, frame, plate = scene.bracket, scene.frame, scene.plates[0]
    half = frame.width / 2.0
    top = max(bracket.end_top, SIZES[frame.bolt].diameter) + 14.0
    outline = tuple(plate.finished_outline())
    low = min(v for _, v in outline)
    right = max(max(u for u, _ in outline), half)
    left = min(min(u for u, _ in outline), -half)
    at: Pt = (bracket.shift, -scene.used)
    shapes: list[Shape] = [_frame_plate(-half, half, -frame.lip, top)]
    eye = scene.bar.eye_diameter / 2.0
    reach = abs(left) + 40.0
    shapes += _bar(at, eye, reach, scene.bar_angle)
    shapes.append(Path(outline, "bracket_plate", closed=True))
    if bracket.fit == "inside":
        shapes.append(Path(_box(-half, -frame.lip, half, top), "hidden", closed=True))
    shapes.append(Circle(at, eye, "hidden"))
    shapes.append(Path(((0.0, top), (0.0, low - 8.0)), "centre_line"))
    dimension = right + 10.0
    for hole in plate.nominal:
        shapes.append(Circle(hole.at, hole.diameter / 2.0, "hole"))
        shapes.append(Path(((hole.x + hole.diameter / 2.0 + 2.0, hole.y), (dimension, hole.y)), "leader"))
        here = abs(-hole.y - scene.used) < 0.05
        word = hole.name.removeprefix("bar ")
        text = word if hole.y == 0.0 else f"{format_length(-hole.y, scene.unit)} {word}"
        style = "bar_text" if here and hole.y else "small"
        shapes.append(Label((dimension + 2.0, hole.y), text, style, name=f"hole {hole.name}"))
    if bracket.joggle is not None:
        for line in plate.bend_lines:
            v = plate.finished((0.0, line.y))[1]
            shapes.append(Path(((line.x0, v), (line.x1, v)), "ref"))
    shapes.append(Label((left + 4.0, top + 2.0), "frame bracket", "small", "right", name="frame bracket"))
    extent = (left - 46.0, low - ROOM, dimension + 128.0, top + 6.0)
    return Drawing("Front", tuple(shapes), extent, "inboard to the left")


def _edge(scene: BracketScene) -> Drawing:
    bracket, frame, bar, plate = scene.bracket, scene.frame, scene.bar, scene.plates[0]
    t = bracket.thickness
    middle = bracket.inside_top(frame) / 2.0 + t / 2.0
    wall = frame.inside_width / 2.0
    top = max(bracket.end_top, SIZES[frame.bolt].diameter) + 14.0
    # the profile is drawn with its far end to the right where it bends up, which is away from the other plate
    one = tuple((middle + u, v) for u, v in plate.edge_view())
    other = tuple((-u, v) for u, v in one)
    low = min(v for _, v in one)
    wide = max(max(abs(u) for u, _ in one), wall + frame.thickness)
    shapes: list[Shape] = [
        _frame_plate(wall, wall + frame.thickness, -frame.lip, top),
        _frame_plate(-wall - frame.thickness, -wall, -frame.lip, top),
    ]
    inside, half_tube, tube = (
        bracket.inside_top(frame) / 2.0,
        bracket.tube_length(frame) / 2.0,
        bracket.tube_outer / 2.0,
    )
    shapes.append(Path(_box(-half_tube, -tube, half_tube, tube), "steel", closed=True))
    shapes.append(Path(_box(-half_tube, tube - bracket.tube_wall, half_tube, tube), "detail", closed=True))
    shapes.append(Path(_box(-half_tube, -tube, half_tube, bracket.tube_wall - tube), "detail", closed=True))
    half_eye, radius = bar.eye_width / 2.0, bar.eye_diameter / 2.0
    shapes.append(Path(_box(-half_eye, -scene.used - radius, half_eye, -scene.used + radius), "bar", closed=True))
    shapes += [Path(one, "bracket_plate", closed=True), Path(other, "bracket_plate", closed=True)]
    for v, size in (
        (0.0, SIZES[bracket.bolt]),
        (-bracket.anchor, SIZES[bracket.anchor_bolt]),
        (-scene.used, SIZES[bracket.bar_bolt]),
    ):
        r = size.diameter / 2.0
        over = wide + 6.0
        shapes.append(Path(_box(-over, v - r, over, v + r), "bolt", closed=True))
        shapes.append(Path(((-over - 6.0, v), (over + 6.0, v)), "centre_line"))
    y = top + 10.0
    shapes += _across(-inside, inside, y, format_length(2.0 * inside, scene.unit))
    below = bracket.inside_bottom(frame) / 2.0
    shapes += _across(-below, below, low - 12.0, format_length(2.0 * below, scene.unit), above=False)
    caption = f"plates {format_length(t, scene.unit)}"
    bend = bracket.joggle
    if bend is not None:
        angle = f"{math.degrees(bend.angle):.0f}\N{DEGREE SIGN}"
        caption += f", joggle {format_length(abs(bend.offset), scene.unit)} at {angle}"
    return Drawing("Edge", tuple(shapes), (-wide - 30.0, low - 30.0, wide + 40.0, y + 14.0), caption)


def _box(u0: float, v0: float, u1: float, v1: float) -> tuple[Pt, ...]:
    return ((u0, v0), (u1, v0), (u1, v1), (u0, v1))


def _frame_plate(u0: float, u1: float, v0: float, top: float) -> Path:
    """Return a plate of the frame bracket, broken off at the top."""
    wave = [(u0 + (u1 - u0) * k / 8.0, top + 2.5 * math.sin(k * math.pi / 2.0)) for k in range(9)]
    return Path(((u0, v0), (u1, v0), *reversed(wave)), "rail", closed=True)


def _bar(at: Pt, radius: float, reach: float, angle: float) -> list[Shape]:
    """Return the end of the bar: its eye, and the bar leading away to the axle on the left."""
    half = 0.42 * radius
    away = (-math.cos(angle), -math.sin(angle))
    across = (-away[1], away[0])
    end = (at[0] + reach * away[0], at[1] + reach * away[1])
    corners = tuple(
        (p[0] + s * half * across[0], p[1] + s * half * across[1]) for p, s in ((at, 1), (end, 1), (end, -1), (at, -1))
    )
    return [Path(corners, "bar", closed=True), Circle(at, radius, "bar")]


def _across(u0: float, u1: float, v: float, text: str, above: bool = True) -> list[Shape]:
    """Return a level dimension."""
    tick = 3.0
    return [
        Path(((u0, v), (u1, v)), "leader"),
        Path(((u0, v - tick), (u0, v + tick)), "leader"),
        Path(((u1, v - tick), (u1, v + tick)), "leader"),
        Label(((u0 + u1) / 2.0, v), text, "small", "centre", above=above, name=f"across {v:.0f}"),
    ]
