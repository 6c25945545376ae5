"""The numbers, where they belong: bar angle, sway, pinion angle, gap, and what stops the axle."""

from __future__ import annotations

import math
import textwrap

from linkviz.analysis import telling
from linkviz.analysis.findings import LEVEL, centred, to_the_side
from linkviz.analysis.tightness import sign_of
from linkviz.picture import parts
from linkviz.picture.overlay import bar_ends, lettering
from linkviz.picture.proportions import Proportions
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Arrow, Circle, Label, Shape
from linkviz.picture.stand import Point3, Stand, View
from linkviz.units import format_angle, format_length


def rear_notes(scene: Scene, p: Proportions, stand: Stand) -> list[Shape]:
    """Return what is written in the rear view."""
    return [
        *_sway(scene, p, stand),
        *_bar_angle(scene, p, stand),
        *gap_note(scene, "rear", stand),
        *pair_note(scene, "rear", stand),
        *_stopped(scene, p),
    ]


def side_notes(scene: Scene, p: Proportions, stand: Stand) -> list[Shape]:
    """Return what is written in the side view."""
    return [
        *_lift(scene, p, stand),
        *_pinion(scene, p, stand),
        *gap_note(scene, "side", stand),
        *pair_note(scene, "side", stand),
    ]


def sway_words(scene: Scene) -> str:
    """Return where the axle stands sideways of its design place, in words."""
    y = float(scene.live.poses.y[0])
    return f"axle {'centred' if centred(y, scene.unit) else to_the_side(y, scene.unit)}"


def gap_words(scene: Scene) -> tuple[str, str]:
    """Return the tightest gap in words and its icon; two empty strings with nothing to touch."""
    found = scene.live.tightest
    if found.envelope[0] < 0:
        return "", ""
    gap = float(found.gap[0])
    icon = sign_of(gap, float(found.margin[0]))
    words = telling.gap_words(gap, scene.unit)
    return words if icon == "hit" else f"gap {words}", icon


def _sway(scene: Scene, p: Proportions, stand: Stand) -> list[Shape]:
    y = float(scene.live.poses.y[0])
    cx, cy, cz = p.centre
    zero = stand.body("rear")(cx, cy, cz)[0]
    now = stand.axle("rear")(cx, cy, cz)[0]
    low, high = p.rear_extent[1] + 12.0, p.rail_high + stand.lift + 0.35 * p.radius
    foot = cz - p.housing - 0.30 * p.radius
    shapes: list[Shape] = [parts.line((zero, low), (zero, high), "centre_line")]
    text = sway_words(scene)
    style = lettering(scene, "sway_text" if abs(y) >= 6.0 else "number")
    at, side = (now, foot), "centre"
    if not centred(y, scene.unit):
        sign = 1.0 if now > zero else -1.0
        reach = 0.34 * p.radius
        top = cz - p.housing * 0.4
        band = ((zero, foot - 16.0), (now, foot - 16.0), (now, top), (zero, top))
        shapes += [
            parts.polygon(band, "sway_band"),
            parts.line((now, foot - 30.0), (now, top), "sway"),
            Arrow((zero - sign * reach, foot), (zero, foot), "sway"),
            Arrow((now + sign * reach, foot), (now, foot), "sway"),
        ]
        at, side = (now + sign * reach, foot), "right" if now < zero else "left"
    return [*shapes, Label(at, text, style, side, leader=(now, foot), above=False, name="sway")]


def _bar_angle(scene: Scene, p: Proportions, stand: Stand) -> list[Shape]:
    frame, end = bar_ends(scene, stand, "rear")
    du, dv, length = parts.along(end, frame)
    level = 0.0 if du >= 0 else math.pi
    turn = math.atan2(dv, abs(du))
    turn = turn if du >= 0 else -turn
    reach = min(0.62 * length, 2.0 * p.radius)
    sign = 1.0 if du >= 0 else -1.0
    shapes: list[Shape] = [
        parts.line(end, (end[0] + sign * (reach + 0.12 * p.radius), end[1]), "ref"),
        parts.arc(end, reach, level, level + turn, "arc"),
    ]
    on = parts.between(end, frame, min(0.86, (reach + 0.1 * p.radius) / max(length, 1.0)))
    text = f"bar {format_angle(float(scene.live.bar_angle[0]))}"
    shapes.append(
        Label((on[0], on[1] + 1.7 * p.bar_radius), text, lettering(scene, "bar_text"), "centre", leader=on, name="bar")
    )
    drop = scene.live.build.setup.drop
    if drop > LEVEL:
        anchor = "left" if sign > 0 else "right"
        put = stand.body("rear")
        fx, fy, fz = scene.live.build.vehicle.links.lateral_bar.frame
        at = put(fx, fy - sign * 2.4 * p.bar_radius, fz - drop / 2.0)
        words = f"drop {format_length(drop, scene.unit)}"
        shapes.append(
            Label(at, words, lettering(scene, "bar_text"), anchor, leader=put(fx, fy, fz - drop / 2.0), name="drop")
        )
    return shapes


def gap_note(scene: Scene, view: View, stand: Stand) -> list[Shape]:
    """Return the tightest gap, drawn and said at its place."""
    text, icon = gap_words(scene)
    if not text:
        return []
    found = scene.live.tightest
    ends = (found.on_shaft[0].tolist(), found.on_solid[0].tolist())
    return _shortest(scene, view, stand, ends, text, icon, "gap")


def pair_note(scene: Scene, view: View, stand: Stand) -> list[Shape]:
    """Return the shortest line between the two parts that come nearest, if they are others than the driveshaft's."""
    between = scene.between
    if between is None:
        return []
    return _shortest(scene, view, stand, (between.one, between.other), between.words, between.sign, "pair")


def _shortest(
    scene: Scene, view: View, stand: Stand, ends: tuple[Point3, Point3], text: str, icon: str, name: str
) -> list[Shape]:
    put = stand.body(view)
    a, b = (put(*end) for end in ends)
    middle = parts.between(a, b, 0.5)
    style = lettering(scene, f"{icon}_text")
    return [
        parts.line(a, b, f"gap_line_{icon}"),
        Circle(a, 6.0, "gap_end"),
        Circle(b, 6.0, "gap_end"),
        Label(middle, text, style, "left", leader=middle, icon=icon, above=False, name=name),
    ]


def _pinion(scene: Scene, p: Proportions, stand: Stand) -> list[Shape]:
    angle = float(scene.live.pinion_angle[0])
    nose = stand.axle("side")(*p.nose)
    c, n, reach = math.cos(angle), math.sin(angle), 0.95 * p.radius
    back = (nose[0] - 0.75 * p.radius * c, nose[1] - 0.75 * p.radius * n)
    shapes: list[Shape] = [
        parts.line(nose, (nose[0] + 1.12 * reach, nose[1]), "ref"),
        parts.line(back, (nose[0] + 1.12 * reach * c, nose[1] + 1.12 * reach * n), "axis"),
        parts.arc(nose, reach, 0.0, angle, "pinion_arc"),
    ]
    way = "" if abs(math.degrees(angle)) < 0.05 else (" nose up" if angle > 0 else " nose down")
    text = f"pinion {format_angle(abs(angle))}{way}"
    at = (nose[0] + 0.55 * reach, min(nose[1], nose[1] + reach * n) - 0.10 * p.radius)
    shapes.append(Label(at, text, lettering(scene, "number"), "left", leader=nose, above=False, name="pinion"))
    return shapes


def _stopped(scene: Scene, p: Proportions) -> list[Shape]:
    words = scene.live.stopped_by[0]
    if scene.live.reached[0] and not words:
        return []
    at = (0.0, p.rear_extent[3] - 0.30 * p.radius)
    why = textwrap.fill(words, 46)
    style = lettering(scene, "warn_text")
    return [Label(at, "the axle stops here", style, "centre", icon="warn", above=False, more=why, name="stop")]


def _lift(scene: Scene, p: Proportions, stand: Stand) -> list[Shape]:
    lift = stand.lift
    if lift < LEVEL:
        return []
    u = p.front - 0.25 * p.radius
    level = p.rail_front + p.rail_high - p.rail_low
    style = lettering(scene, "number")
    return [
        parts.line((u - 0.22 * p.radius, level), (u + 0.22 * p.radius, level), "lift_level"),
        Arrow((u, level), (u, level + lift), "lift"),
        Label(
            (u, level + lift),
            f"body up {format_length(lift, scene.unit)}",
            style,
            "centre",
            leader=(u, level + lift),
            name="lift",
        ),
    ]
