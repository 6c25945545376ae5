"""The numbers on the drawing, each where it belongs, in plain words."""

from __future__ import annotations

import math
import textwrap

from linkviz.picture import links, tank
from linkviz.picture.curves import arc
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Arrow, Circle, Label, Path, Pt, Shape
from linkviz.picture.stand import Stand
from linkviz.units import Unit, format_angle, format_length

SMALL = 0.5
"""Less than this shows as nothing, mm."""


def sideways(mm: float, unit: Unit) -> str:
    """Return a sideways place in words, left +."""
    text = format_length(abs(mm), unit)
    if not text.strip('0 m"'):
        return "centred"
    return f"{text} to the {'left' if mm > 0 else 'right'}"


def bar_label(stand: Stand) -> Label:
    """Return the bar's angle, at the bar."""
    frame, axle = links.link_ends(stand, links.BAR)
    f = 0.58
    spot = (axle[0] + f * (frame[0] - axle[0]), axle[1] + f * (frame[1] - axle[1]))
    text = f"bar {format_angle(float(stand.study.bar_angle[0]))}"
    return Label(spot, text, "text.bar", "centre", spot, name="bar")


def sway(stand: Stand, scene: Scene) -> list[Shape]:
    """Return the arrow from the centre plane to the axle's centre, and its label."""
    study, s = stand.study, stand.sizes
    y = float(study.poses.y[0])
    design = -float(stand.layout.centre[1])
    # Along the axle's own vertical, so that the arrow's tip is under its centre.
    u, v = stand.centre
    level = v - 1.12 * s.housing - 0.13 * s.housing - 18.0
    moved = abs(y) >= SMALL
    result: list[Shape] = [
        Path(((u, v), (u, level - 10.0)), "sway.mark" if moved else "level"),
        Circle((u, v), 6.0, "bolt"),
    ]
    asked = abs(float(study.travel[0])) > SMALL or abs(float(study.roll[0])) > 1e-3
    more = ""
    if asked:
        more = "centred at rest" if abs(study.offset) < SMALL else f"at rest {sideways(float(study.offset), scene.unit)}"
    text = f"axle {sideways(y, scene.unit)}"
    if moved:
        result.append(Arrow((design, level), (u, level), "sway"))
    elif not asked:
        more = "at rest"
    if moved and not asked:
        more = "at rest"
    style = "text.sway" if moved else "text"
    result.append(Label((u, level), text, style, "centre", (u, level), above=False, more=more, name="sway"))
    return result


def gap_label(stand: Stand, scene: Scene) -> list[Shape]:
    """Return the smallest gap in words, at its place."""
    found = tank.gap_ends(stand)
    if found is None:
        return []
    a, b, status = found
    spot = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
    return [
        Label(spot, tank.gap_words(stand, scene), f"text.{status}", "left", spot, icon=status, above=False, name="gap")
    ]


def pinion(stand: Stand) -> list[Shape]:
    """Return the pinion's axis, the level line, the arc between them and the label, for the side view."""
    found = links.shaft(stand)
    nose: Pt = found[1] if found else (stand.centre[0] + 2.0 * stand.sizes.housing, stand.centre[1])
    angle = float(stand.study.pinion_angle[0])
    reach = 0.72 * float(stand.vehicle.axle.tyre_radius)
    radius = 0.85 * reach
    tip = (nose[0] + reach * math.cos(angle), nose[1] + reach * math.sin(angle))
    result: list[Shape] = [
        Path((nose, (nose[0] + reach, nose[1])), "level"),
        Path((stand.centre, nose, tip), "plane"),
    ]
    if abs(angle) > math.radians(0.4):
        result.append(Path(arc(nose, radius, 0.0, angle, 6), "angle"))
    text = format_angle(abs(angle))
    way = "" if not text.strip("0.\N{DEGREE SIGN}") else " nose up" if angle > 0 else " nose down"
    spot = (nose[0] + 0.25 * radius, nose[1])
    result.append(Label(spot, f"pinion {text}{way}", "text.pinion", "left", spot, above=False, name="pinion"))
    return result


def stop(stand: Stand, extent: tuple[float, float, float, float]) -> list[Shape]:
    """Return what stops the axle, where it does not get to the state asked for."""
    study = stand.study
    if bool(study.reached[0]):
        return []
    words = textwrap.fill(study.stopped_by[0] or "the axle cannot get there", 46)
    at = ((extent[0] + extent[2]) / 2.0, extent[3] - 0.07 * (extent[3] - extent[1]))
    return [Label(at, "The axle stops here", "text.warn", "centre", None, "warn", False, words, "stop")]


def points(stand: Stand, scene: Scene) -> list[Shape]:
    """Return the hard points as small targets with their names, and the picked one."""
    if not (scene.show_points or scene.point):
        return []
    result: list[Shape] = []
    labels: list[Shape] = []
    for key, at in hard_points(stand):
        picked = key == scene.point
        if not (picked or scene.show_points):
            continue
        style = "target.picked" if picked else "target"
        size = 20.0 if picked else 12.0
        result.append(Circle(at, size, style))
        for du, dv in ((1.0, 0.0), (0.0, 1.0)):
            r = 1.5 * size
            result.append(Path(((at[0] - du * r, at[1] - dv * r), (at[0] + du * r, at[1] + dv * r)), style))
        if picked or not _other_side(stand, key):
            labels.append(Label(at, short_name(key), "text.point", "left", at, name=key))
    return result + labels


def hard_points(stand: Stand) -> list[tuple[str, Pt]]:
    """Return every measured point with its name and where it is drawn, (u, v) mm.

    Points of the body stand where they were measured (not where a bracket carries the bar); points of the axle move
    with it.
    """
    vehicle, centre = stand.vehicle, stand.layout.centre
    body: list[tuple[str, tuple[float, float, float]]] = []
    axle: list[tuple[str, tuple[float, float, float]]] = [("axle.centre", (0.0, 0.0, 0.0))]

    def relative(p: tuple[float, float, float]) -> tuple[float, float, float]:
        return (p[0] - float(centre[0]), p[1] - float(centre[1]), p[2] - float(centre[2]))

    for name in ("lower_left", "lower_right", "upper_left", "upper_right", "lateral_bar"):
        part = getattr(vehicle.links, name)
        body.append((f"links.{name}.frame", part.frame))
        axle.append((f"links.{name}.axle", relative(part.axle)))
    if vehicle.driveshaft is not None:
        body.append(("driveshaft.front_joint", vehicle.driveshaft.front_joint))
        axle.append(("driveshaft.pinion_joint", relative(vehicle.driveshaft.pinion_joint)))
    drawn = list(zip((k for k, _ in body), stand.body([p for _, p in body]), strict=True))
    drawn += zip((k for k, _ in axle), stand.axle([p for _, p in axle]), strict=True)
    return drawn


def short_name(key: str) -> str:
    """Return a point's name short enough for the drawing, such as ``lower left, frame``."""
    if key.startswith("links."):
        _, name, end = key.split(".")
        return f"{name.replace('_', ' ')}, {end}"
    return {"driveshaft.front_joint": "front joint", "driveshaft.pinion_joint": "pinion joint"}.get(key, "axle centre")


def _other_side(stand: Stand, key: str) -> bool:
    """Return whether a point lies behind its mirror image in this view, so that its name would be said twice."""
    return stand.view == "side" and ("_left." in key)
