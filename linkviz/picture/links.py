"""Links, the lateral bar, their brackets, the shaft, springs and dampers; for both views."""

from __future__ import annotations

import math
from collections.abc import Iterable

from linkviz.picture.curves import arc, capsule, coil, strip
from linkviz.picture.shapes import Circle, Path, Pt, Shape
from linkviz.picture.stand import Stand

BAR = 4
RIGHT = (1, 3)
LEFT = (0, 2)
_ROUND = tuple((math.cos(math.pi * k / 6), math.sin(math.pi * k / 6)) for k in range(12))


def hull(points: Iterable[Pt]) -> tuple[Pt, ...]:
    """Return the convex outline around points, counter-clockwise."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)

    def half(run: Iterable[Pt]) -> list[Pt]:
        chain: list[Pt] = []
        for p in run:
            while len(chain) > 1:
                a, b = chain[-2], chain[-1]
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0:
                    break
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return tuple(half(ordered) + half(reversed(ordered)))


def plate(base: Iterable[Pt], eye: Pt, radius: float, style: str) -> Path:
    """Return a bracket: a plate from its base to a round end about an eye."""
    u, v = eye
    return Path(hull([*base, *((u + radius * c, v + radius * s) for c, s in _ROUND)]), style, True)


def link(p: Pt, q: Pt, half: float, eye: float, style: str = "link", eye_style: str = "eye") -> list[Shape]:
    """Return a link between two eyes."""
    return [
        Path(capsule(p, q, half), style, True),
        Circle(p, eye, eye_style),
        Circle(q, eye, eye_style),
        Circle(p, 0.4 * eye, eye_style),
        Circle(q, 0.4 * eye, eye_style),
    ]


def link_ends(stand: Stand, index: int) -> tuple[Pt, Pt]:
    """Return frame end and axle end of a link as drawn, (u, v) mm."""
    layout = stand.layout
    return stand.body(layout.frame[index : index + 1])[0], stand.axle(layout.axle[index : index + 1])[0]


def trailing(stand: Stand, order: tuple[int, ...], far: bool) -> list[Shape]:
    """Return trailing links with their brackets; `far` ones thin and pale."""
    s, result = stand.sizes, []
    style, eye_style, mount = ("link.far", "eye.far", "mount.far") if far else ("link", "eye", "mount")
    for index in order:
        f, a = stand.layout.frame[index], stand.layout.axle[index]
        frame, axle = link_ends(stand, index)
        side = 1.0 if f[1] > 0 else -1.0
        wide = 1.5 * s.eye
        if stand.view == "rear":
            base = stand.body([(0, side * (s.rail_y - wide), s.rail_low), (0, side * (s.rail_y + wide), s.rail_low)])
            foot = stand.axle([(0.0, a[1] - wide, 0.0), (0.0, a[1] + wide, 0.0)])
        else:
            base = stand.body([(f[0] - 1.6 * wide, 0, s.rail_low), (f[0] + 1.6 * wide, 0, s.rail_low)])
            foot = stand.axle([(-wide, 0.0, 0.0), (wide, 0.0, 0.0)])
        if f[2] < s.rail_low:
            result.append(plate(base, frame, 1.25 * s.eye, mount))
        result.append(plate(foot, axle, 1.25 * s.eye, "axle_mount.far" if far else "axle_mount"))
    for index in order:
        frame, axle = link_ends(stand, index)
        result.extend(link(frame, axle, s.link * (0.85 if far else 1.0), s.eye * (0.85 if far else 1.0), style, eye_style))
    return result


def bar_brackets(stand: Stand) -> list[Shape]:
    """Return what holds the lateral bar: the vehicle's own brackets, and the parts that move its ends."""
    s, result = stand.sizes, []
    old = stand.vehicle.links.lateral_bar
    old_frame = stand.body([old.frame])[0]
    new_frame, new_axle = link_ends(stand, BAR)
    side = 1.0 if old.frame[1] > 0 else -1.0
    wide = 1.8 * s.eye
    centre = stand.layout.centre
    own = tuple(float(a - c) for a, c in zip(old.axle, centre, strict=True))
    old_axle = stand.axle([own])[0]
    if stand.view == "rear":
        y = side * s.rail_y
        base = stand.body([(0, y - wide, s.rail_low), (0, y + wide, s.rail_low)])
        foot = stand.axle([(own[0], own[1] - 1.5 * wide, 0.0), (own[0], own[1] + 1.5 * wide, 0.0)])
    else:
        base = stand.body([(old.frame[0] - wide, 0, s.rail_low), (old.frame[0] + wide, 0, s.rail_low)])
        reach = math.copysign(0.8 * s.tube, own[0])
        foot = stand.axle([(reach, 0.0, -0.6 * s.tube), (reach, 0.0, 0.6 * s.tube)])
    result.append(plate(base, old_frame, 1.35 * s.eye, "mount"))
    result.append(plate(foot, old_axle, 1.3 * s.eye, "axle_mount"))
    for start, end in ((old_frame, new_frame), (old_axle, new_axle)):
        if math.dist(start, end) > 1.0:
            result.extend(_holed_plate(start, end, 1.5 * s.eye))
    return result


def _holed_plate(start: Pt, end: Pt, half: float) -> list[Shape]:
    """Return a bracket plate that carries the bar's eye from one hole to another."""
    result: list[Shape] = [Path(capsule(start, end, half), "bracket", True), Circle(start, 0.4 * half, "bracket.hole")]
    count = int(math.dist(start, end) // (1.3 * half))
    for k in range(1, count):
        f = k / count
        spot = (start[0] + f * (end[0] - start[0]), start[1] + f * (end[1] - start[1]))
        result.append(Circle(spot, 0.22 * half, "bracket.hole"))
    return result


def bar(stand: Stand) -> list[Shape]:
    """Return the lateral bar between its eyes."""
    s = stand.sizes
    frame, axle = link_ends(stand, BAR)
    return [
        Path(capsule(frame, axle, s.bar), "bar", True),
        Circle(frame, s.eye, "bar.eye"),
        Circle(axle, s.eye, "bar.eye"),
        Circle(frame, 0.38 * s.eye, "bar.eye"),
        Circle(axle, 0.38 * s.eye, "bar.eye"),
    ]


def bar_ahead(stand: Stand) -> bool:
    """Return whether the bar runs ahead of the axle: in the rear view it is then behind the axle."""
    return bool(stand.layout.axle[BAR][0] > 0.0)


def bar_angle_mark(stand: Stand) -> list[Shape]:
    """Return the level line through the bar's axle end and the arc from it to the bar."""
    frame, axle = link_ends(stand, BAR)
    du, dv = frame[0] - axle[0], frame[1] - axle[1]
    length = math.hypot(du, dv)
    if length < 1.0:
        return []
    toward = 1.0 if du >= 0 else -1.0
    result: list[Shape] = [Path((axle, (axle[0] + toward * 0.72 * length, axle[1])), "level")]
    angle = math.atan2(dv, abs(du))
    if abs(angle) > math.radians(0.5):
        start, end = (0.0, angle) if toward > 0 else (math.pi, math.pi - angle)
        result.append(Path(arc(axle, 0.62 * length, start, end, 6), "angle"))
    return result


def shaft(stand: Stand) -> tuple[Pt, Pt, float] | None:
    """Return front joint and pinion joint of the shaft as drawn and its radius, or None without a shaft."""
    part = stand.vehicle.driveshaft
    if part is None:
        return None
    relative = [tuple(p - c for p, c in zip(part.pinion_joint, stand.layout.centre, strict=True))]
    return stand.body([part.front_joint])[0], stand.axle(relative)[0], part.radius


def shaft_shapes(stand: Stand) -> list[Shape]:
    """Return the driveshaft: a tube between two joints."""
    found = shaft(stand)
    if found is None:
        return []
    front, pinion, radius = found
    length = math.dist(front, pinion)
    result: list[Shape] = []
    if stand.view == "side" and length > 8.0 * radius:
        du, dv = (pinion[0] - front[0]) / length, (pinion[1] - front[1]) / length
        inset = 1.7 * radius

        def along(start: Pt, way: float) -> Pt:
            return (start[0] + du * way, start[1] + dv * way)

        for joint, way in ((front, 1.0), (pinion, -1.0)):
            result.append(Path(strip(joint, along(joint, way * inset), 0.55 * radius), "shaft.yoke", True))
            result.append(Circle(joint, 0.72 * radius, "shaft.yoke"))
            result.append(Circle(joint, 0.28 * radius, "eye"))
        a, b = along(front, inset), along(pinion, -inset)
        result.append(Path(strip(a, b, radius), "shaft", True))
        shine = 0.42 * radius
        result.append(
            Path(strip((a[0] - dv * shine, a[1] + du * shine), (b[0] - dv * shine, b[1] + du * shine), 0.2 * radius), "steel.light", True)
        )
    else:
        result.append(Path(capsule(front, pinion, radius), "shaft", True))
        result.append(Circle(front, radius, "shaft.end"))
    return result


def springs(stand: Stand, sides: tuple[float, ...]) -> list[Shape]:
    """Return coils, their seats and the dampers on the given sides (+1 left, -1 right)."""
    s, result = stand.sizes, []
    for side in sides:
        low = stand.axle([(0.0, side * s.spring_y, s.seat)])[0]
        high = stand.body([(s.spring_x, side * s.spring_y, s.rail_low)])[0]
        dx, dy, dz = s.damper_low
        ex, ey, ez = s.damper_high
        result.extend(damper(stand.axle([(dx, side * dy, dz)])[0], stand.body([(ex, side * ey, ez)])[0], s.spring_radius))
        front, back = coil(low, high, 0.82 * s.spring_radius, 5)
        result.extend(Path(stroke, "spring.back") for stroke in back)
        result.extend(Path(stroke, "spring") for stroke in front)
    return result


def damper(low: Pt, high: Pt, size: float) -> list[Shape]:
    """Return a damper: tube below, rod and dust tube above."""
    length = math.dist(low, high) or 1.0
    du, dv = (high[0] - low[0]) / length, (high[1] - low[1]) / length

    def at(way: float) -> Pt:
        return (low[0] + du * way, low[1] + dv * way)

    body = min(2.6 * size, 0.62 * length)
    cover = min(2.4 * size, 0.5 * length)
    return [
        Path((low, high), "damper.rod"),
        Path(strip(at(0.3 * size), at(body), 0.3 * size), "damper", True),
        Path(strip(at(length - cover), at(length - 0.3 * size), 0.38 * size), "damper", True),
        Circle(low, 0.24 * size, "damper"),
        Circle(high, 0.24 * size, "damper"),
    ]
