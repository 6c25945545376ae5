"""The side view: seen from the right, front to the right; the near wheel is a thin line so that the links show."""

from __future__ import annotations

import math
from functools import lru_cache

from linkviz.linkage.layout import BAR
from linkviz.picture import parts
from linkviz.picture.ghost import ghost_links, ghost_shaft
from linkviz.picture.ground import ground
from linkviz.picture.notes import side_notes
from linkviz.picture.overlay import envelopes, marks
from linkviz.picture.proportions import Proportions, proportions
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Circle, Drawing, Path, Shape
from linkviz.picture.stand import Put, Stand, risen
from linkviz.picture.suspension import sprung


def side_view(scene: Scene) -> Drawing:
    """Return the side view of a scene, mm, u forward and v above the ground."""
    study = scene.live
    p = proportions(study.build.vehicle)
    stand = Stand.of(study)
    body, axle = stand.body("side"), stand.axle("side")
    near = -1.0
    shapes: list[Shape] = []
    shapes += _body(p, stand.lift)
    sole = axle(p.centre[0], near * p.half, p.centre[2])
    shapes += ground("side", p, [(sole[0], sole[1] - p.radius)])
    if scene.ghost is not None:
        shapes += ghost_side(scene, p)
    shapes += _far_links(scene, p, body, axle)
    shapes += _spring(p, body, axle)
    shapes += _shaft(scene, body, axle)
    shapes += _axle(p, axle)
    shapes += envelopes(scene, "side")
    shapes += _bar(scene, p, body, axle)
    shapes += _near_links(scene, p, body, axle)
    shapes += _wheel(p, axle, near)
    shapes += side_notes(scene, p, stand)
    shapes += marks(scene, "side", stand)
    return Drawing("Side view", tuple(shapes), p.side_extent, "front to the right")


@lru_cache(maxsize=4)
def _body(p: Proportions, lift: float) -> tuple[Shape, ...]:
    """Return the body and its frame, worked out once for a vehicle and a lift."""
    body = risen("side", lift)
    r, (cx, _, cz) = p.radius, p.centre
    sill = cz + 0.10 * r
    middle, arch = cz + 0.32 * r, 1.30 * r
    start = math.asin((sill - middle) / arch)
    top = middle + arch + 2.4 * r
    far = p.front + 4000.0
    rear = cx - 2.1 * r
    outline = [body(rear, 0.0, top), body(rear - 0.2 * r, 0.0, middle + 0.4 * r), body(rear, 0.0, sill + 0.15 * r)]
    for k in range(37):
        a = math.pi - start + (2.0 * start - math.pi) * k / 36.0
        outline.append(body(cx + arch * math.cos(a), 0.0, middle + arch * math.sin(a)))
    outline += [body(far, 0.0, sill), body(far, 0.0, top)]
    low, high = p.rail_low, p.rail_high
    depth = high - low
    front = p.rail_front
    rail = [
        (rear, low),
        (p.drop_from, low),
        (p.drop_to, front),
        (far, front),
        (far, front + depth),
        (p.drop_to + 0.12 * r, front + depth),
        (p.drop_from + 0.12 * r, high),
        (rear, high),
    ]
    return (
        parts.polygon(outline, "body"),
        parts.polygon([body(x, 0.0, z) for x, z in rail], "rail"),
    )


def _rail_under(p: Proportions, x: float) -> float:
    """Return the height of the bottom of the rail at x, design height, mm."""
    t = min(1.0, max(0.0, (x - p.drop_from) / (p.drop_to - p.drop_from)))
    return p.rail_low + t * (p.rail_front - p.rail_low)


def _far_links(scene: Scene, p: Proportions, body: Put, axle: Put) -> list[Shape]:
    links = scene.live.build.vehicle.links
    shapes: list[Shape] = []
    for link in (links.upper_left, links.lower_left):
        shapes += [
            parts.capsule(body(*link.frame), axle(*link.axle), 0.8 * p.link_radius, "far"),
            Circle(body(*link.frame), 1.3 * p.link_radius, "far"),
            Circle(axle(*link.axle), 1.3 * p.link_radius, "far"),
        ]
    return shapes


def _near_links(scene: Scene, p: Proportions, body: Put, axle: Put) -> list[Shape]:
    links = scene.live.build.vehicle.links
    x, _, z = p.centre
    shapes: list[Shape] = []
    t = p.link_radius
    for link in (links.upper_right, links.lower_right):
        fx, fy, fz = link.frame
        top = _rail_under(p, fx)
        foot = fz - 1.5 * t if fz < top else fz + 1.5 * t
        hanger = ((fx - 2.6 * t, top), (fx - 1.5 * t, foot), (fx + 1.5 * t, foot), (fx + 2.6 * t, top))
        shapes.append(parts.polygon([body(a, fy, b) for a, b in hanger], "hanger"))
        ax, ay, az = link.axle
        s = 1.0 if az >= z else -1.0
        base = z + s * 0.5 * p.tube
        wide = 0.9 * p.tube
        tower = ((x - wide, base), (ax - 1.3 * t, az + s * t), (ax + 1.3 * t, az + s * t), (x + wide, base))
        shapes.append(parts.polygon([axle(a, ay, b) for a, b in tower], "seat"))
    shapes.append(Circle(axle(x, links.lower_right.axle[1], z), p.tube, "steel"))
    shapes.append(Circle(axle(x, links.lower_right.axle[1], z), 0.72 * p.tube, "detail"))
    for link in (links.upper_right, links.lower_right):
        shapes += parts.link(body(*link.frame), axle(*link.axle), t, "link")
    return shapes


def _spring(p: Proportions, body: Put, axle: Put) -> list[Shape]:
    x, y, z = p.damper_axle
    arm = parts.capsule(axle(p.centre[0], -y, p.centre[2]), axle(x, -y, z), 0.05 * p.radius, "seat")
    return [arm, *sprung(p, body, axle, -1.0, p.damper_axle[1] > p.spring_axle[1])]


def _shaft(scene: Scene, body: Put, axle: Put) -> list[Shape]:
    shaft = scene.live.build.vehicle.driveshaft
    if shaft is None:
        return []
    front, nose = body(*shaft.front_joint), axle(*shaft.pinion_joint)
    r = shaft.radius
    length = max(parts.along(nose, front)[2], 4.0 * r)
    a, b = parts.between(nose, front, 1.7 * r / length), parts.between(front, nose, 1.7 * r / length)
    fx, fy, fz = shaft.front_joint
    out = body(fx + 6.0 * r, fy, fz)
    return [
        parts.tube(front, out, 0.8 * r, 0.95 * r, "steel"),
        parts.tube(nose, a, 0.55 * r, r, "shaft"),
        parts.tube(front, b, 0.55 * r, r, "shaft"),
        parts.tube(a, b, r, r, "shaft"),
        parts.shade(a, b, r),
        *(Circle(joint, 0.85 * r, "steel") for joint in (nose, front)),
        *(Circle(joint, 0.38 * r, "eye") for joint in (nose, front)),
    ]


def _axle(p: Proportions, axle: Put) -> list[Shape]:
    x, _, z = p.centre
    y, r = p.housing_y, p.housing
    nx, _, nz = p.nose
    middle, tip = axle(x, y, z), axle(nx, y, nz)
    _, _, d = parts.along(middle, tip)
    cover = parts.beside(middle, tip, -0.72 * r, 0.0)
    shapes: list[Shape] = [
        parts.tube(parts.between(middle, tip, 0.1), parts.between(middle, tip, 0.72), 0.86 * r, 0.34 * r, "steel"),
        parts.tube(parts.between(middle, tip, 0.70), parts.between(middle, tip, 1.0), 0.26 * r, 0.22 * r, "steel"),
        parts.tube(
            parts.between(middle, tip, 1.0 - 0.10 * r / max(d, 0.1 * r)),
            parts.between(middle, tip, 1.0),
            0.36 * r,
            0.36 * r,
            "seat",
        ),
        Circle(middle, r, "steel"),
        parts.tube(cover, parts.beside(middle, tip, -0.58 * r, 0.0), 0.80 * r, 0.88 * r, "seat"),
        Circle(middle, 0.80 * r, "detail"),
    ]
    return shapes


def _wheel(p: Proportions, axle: Put, side: float) -> list[Shape]:
    x, _, z = p.centre
    hub = axle(x, side * p.half, z)
    band = Path(
        tuple((hub[0] + a, hub[1] + b) for a, b in parts.ring(p.radius, 64)),
        "tyre_side",
        closed=True,
        holes=(tuple((hub[0] + a, hub[1] + b) for a, b in parts.ring(0.58 * p.radius, 48)),),
    )
    return [
        band,
        Circle(hub, 0.93 * p.radius, "wheel_side"),
        Circle(hub, 0.52 * p.radius, "wheel_side"),
    ]


def _bar(scene: Scene, p: Proportions, body: Put, axle: Put) -> list[Shape]:
    build = scene.live.build
    layout, link = build.layout, build.vehicle.links.lateral_bar
    (fx, fy, fz), end = layout.ends(BAR)
    a = axle(*end)
    t = p.bar_radius
    ox, oy, oz = link.frame
    top = _rail_under(p, ox)
    hanger = ((ox - 2.6 * t, top), (ox - 1.6 * t, oz - 1.6 * t), (ox + 1.6 * t, oz - 1.6 * t), (ox + 2.6 * t, top))
    shapes: list[Shape] = [parts.polygon([body(x, oy, z) for x, z in hanger], "hanger")]
    if abs(oz - fz) > 0.5:
        plate = [(ox - 1.5 * t, oz + 1.5 * t), (fx - 1.5 * t, fz - 1.6 * t)]
        plate += [(fx + 1.5 * t, fz - 1.6 * t), (ox + 1.5 * t, oz + 1.5 * t)]
        shapes += [
            parts.polygon([body(x, fy, z) for x, z in plate], "bracket"),
            Circle(body(ox, oy, oz), 0.55 * t, "bar_eye"),
        ]
    f = body(fx, fy, fz)
    shapes.append(parts.capsule(f, a, t, "bar"))
    for eye in (a, f):
        shapes += [Circle(eye, 1.5 * t, "bar"), Circle(eye, 0.6 * t, "bar_eye")]
    return shapes


def ghost_side(scene: Scene, p: Proportions) -> list[Shape]:
    """Return the axle a scene is compared with, as a whole, thin and dashed."""
    study = scene.ghost
    if study is None:
        return []
    build = study.build
    stand = Stand.of(study)
    body, axle = stand.body("side"), stand.axle("side")
    x, _, z = p.centre
    middle, tip = axle(x, p.housing_y, z), axle(p.nose[0], p.housing_y, p.nose[2])
    shapes: list[Shape] = [
        Circle(axle(x, -p.half, z), p.radius, "ghost"),
        Circle(middle, p.housing, "ghost"),
        parts.tube(parts.between(middle, tip, 0.5), tip, 0.5 * p.housing, 0.25 * p.housing, "ghost"),
    ]
    return shapes + ghost_links(build, p, body, axle) + ghost_shaft(build, body, axle)
