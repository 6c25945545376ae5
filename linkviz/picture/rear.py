"""The rear view: the axle seen from behind, its left side on the left."""

from __future__ import annotations

import math
from functools import lru_cache

from linkviz.linkage.layout import BAR
from linkviz.picture import parts
from linkviz.picture.bar import bar_rear, seen_through
from linkviz.picture.ghost import ghost_links, ghost_shaft
from linkviz.picture.ground import ground
from linkviz.picture.notes import rear_notes
from linkviz.picture.overlay import envelopes, marks
from linkviz.picture.proportions import Proportions, proportions
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Circle, Drawing, Path, Pt, Shape
from linkviz.picture.stand import Put, Stand, risen
from linkviz.picture.suspension import sprung

_CORNER = tuple((math.cos(a), math.sin(a)) for a in (k * math.pi / 8 for k in range(5)))


def rear_view(scene: Scene) -> Drawing:
    """Return the rear view of a scene, mm, u to the vehicle's right and v above the ground."""
    study = scene.live
    build = study.build
    p = proportions(build.vehicle)
    stand = Stand.of(study)
    body, axle, wheel = stand.body("rear"), stand.axle("rear"), stand.wheel()
    ahead = float(build.layout.axle[BAR, 0]) > 0.0
    bar = bar_rear(scene, p, body, axle)
    shapes: list[Shape] = []
    shapes += _body(p, stand.lift)
    shapes += ground("rear", p, [wheel(p.centre[0], s * p.half, p.centre[2] - p.radius) for s in (1.0, -1.0)])
    if scene.ghost is not None:
        shapes += ghost_rear(scene, p)
    shapes += _links(scene, p, body, axle)
    if ahead:
        shapes += bar
    shapes += _beam(p, axle)
    shapes += _springs(p, body, axle)
    for side in (1.0, -1.0):
        shapes += _wheel(p, wheel, side)
    shapes += _shaft(scene, body, axle)
    shapes += envelopes(scene, "rear")
    if ahead:
        shapes += seen_through(bar)
    else:
        shapes += bar
    shapes += rear_notes(scene, p, stand)
    shapes += marks(scene, "rear", stand)
    caption = f"dashed: {scene.ghost_name}" if scene.ghost is not None and scene.ghost_name else "seen from behind"
    return Drawing("Rear view", tuple(shapes), p.rear_extent, caption)


@lru_cache(maxsize=4)
def _body(p: Proportions, lift: float) -> tuple[Shape, ...]:
    """Return the body and its frame, worked out once for a vehicle and a lift."""
    body = risen("rear", lift)
    x = p.centre[0]
    outer, inner = p.half + p.width / 2.0 - 0.02 * p.radius, p.half - 0.5 * p.width - 0.12 * p.radius
    arch = p.centre[2] + p.radius + p.jounce + 0.06 * p.radius
    floor = p.rail_high + 0.03 * p.radius
    arch = max(arch, floor + 0.15 * p.radius)
    top = arch + 3.0 * p.radius
    right = [(inner, floor), (inner + 0.04 * p.radius, arch), (outer, arch), (outer + 15.0, arch + 0.4 * p.radius)]
    right += [(outer, arch + p.radius), (0.84 * outer, top)]
    outline = [body(x, -y, z) for y, z in right] + [body(x, y, z) for y, z in reversed(right)]
    shapes: list[Shape] = [parts.polygon(parts.rounded(outline, 0.16 * p.radius), "body")]
    for s in (1.0, -1.0):
        y0, y1 = s * (p.rail_y - p.rail_half), s * (p.rail_y + p.rail_half)
        low, high = p.rail_low, p.rail_high
        shapes.append(parts.polygon([body(x, y, z) for y, z in ((y0, low), (y1, low), (y1, high), (y0, high))], "rail"))
        t = 0.22 * p.rail_half
        a, b = sorted((y0, y1))
        hollow = ((a + t, low + t), (b - t, low + t), (b - t, high - t), (a + t, high - t))
        shapes.append(parts.polygon([body(x, y, z) for y, z in hollow], "body"))
    y, low, high = p.rail_y - p.rail_half, p.rail_high - 0.17 * p.radius, p.rail_high - 0.03 * p.radius
    cross = ((y, low), (-y, low), (-y, high), (y, high))
    shapes.append(parts.polygon([body(x, y, z) for y, z in cross], "rail"))
    return tuple(shapes)


def _links(scene: Scene, p: Proportions, body: Put, axle: Put) -> list[Shape]:
    links = scene.live.build.vehicle.links
    shapes: list[Shape] = []
    for link in (links.upper_left, links.upper_right, links.lower_left, links.lower_right):
        f, a = body(*link.frame), axle(*link.axle)
        shapes += [
            parts.capsule(f, a, p.link_radius, "far"),
            Circle(f, 1.3 * p.link_radius, "far"),
            Circle(a, 1.4 * p.link_radius, "far"),
        ]
    return shapes


def _beam(p: Proportions, axle: Put) -> list[Shape]:
    x, _, z = p.centre
    end = p.half - 0.30 * p.width
    left, right = axle(x, end, z), axle(x, -end, z)
    shapes: list[Shape] = []
    for y in (p.spring_axle[1], -p.spring_axle[1]):
        shapes.append(parts.capsule(axle(x, y, z - 1.15 * p.tube), axle(x, y, z), 0.06 * p.radius, "steel"))
    shapes += [parts.tube(left, right, p.tube, p.tube, "steel"), parts.shade(left, right, p.tube)]
    hy, r = p.housing_y, p.housing
    middle = axle(x, hy, z)
    for s in (1.0, -1.0):
        shapes.append(
            parts.tube(axle(x, hy + s * 0.4 * r, z), axle(x, hy + s * 1.75 * r, z), 0.88 * r, 1.02 * p.tube, "steel")
        )
    shapes += [
        Circle(middle, r, "steel"),
        Circle(middle, 0.93 * r, "detail"),
        Circle(middle, 0.70 * r, "steel"),
        Circle(axle(x, hy, z - 0.10 * r), 0.46 * r, "detail"),
    ]
    for c, n in parts.ring(0.82 * r, 10):
        shapes.append(Circle(axle(x, hy + c, z + n), 0.045 * r, "bolt"))
    return shapes


def _springs(p: Proportions, body: Put, axle: Put) -> list[Shape]:
    shapes: list[Shape] = []
    for s in (1.0, -1.0):
        shapes += sprung(p, body, axle, s, p.damper_axle[0] < p.spring_axle[0])
    return shapes


def tyre_outline(p: Proportions, put: Put, side: float, shrink: float = 0.0) -> tuple[Pt, ...]:
    """Return the section of a whole tyre, rounded at its shoulders; `side` is 1 for the left one."""
    x, _, z = p.centre
    half, r, corner = p.width / 2.0 - shrink, p.radius - shrink, 0.13 * p.radius
    points = []
    for sy, sz in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
        turn = _CORNER if sy * sz > 0 else _CORNER[::-1]
        for c, n in turn:
            points.append(put(x, side * p.half + sy * (half - corner + corner * c), z + sz * (r - corner + corner * n)))
    return tuple(points)


def _wheel(p: Proportions, axle: Put, side: float) -> list[Shape]:
    x, _, z = p.centre
    w, r, mid = p.width, p.radius, side * p.half
    rim, bead = 0.56 * r, 0.40 * w

    def at(out: float, up: float) -> Pt:
        return axle(x, mid + side * out, z + up)

    def mirror(profile: list[Pt], style: str) -> list[Shape]:
        return [parts.polygon([at(o, s * n) for o, n in profile], style) for s in (1.0, -1.0)]

    shapes: list[Shape] = [Path(tyre_outline(p, axle, side), "tyre", closed=True)]
    # The casing cut open at top and bottom: tread, walls, beads.
    wall, crown, shoulder = 0.075 * w, 0.085 * r, 0.13 * r
    outer = [(o * (w / 2 - shoulder + shoulder * c), r - shoulder + shoulder * n) for o, c, n in _turns()]
    casing = [(-bead, rim), (-w / 2, rim + 0.16 * r), *outer, (w / 2, rim + 0.16 * r), (bead, rim)]
    casing += [(bead - wall, rim), (w / 2 - 1.1 * wall, rim + 0.17 * r), (w / 2 - 1.8 * wall, r - crown)]
    casing += [(-w / 2 + 1.8 * wall, r - crown), (-w / 2 + 1.1 * wall, rim + 0.17 * r), (-bead + wall, rim)]
    shapes += mirror(casing, "rubber")
    # Wheel: barrel, disc, hub; the brake drum stands inboard of the disc.
    t = 0.035 * r
    shapes += mirror([(-0.34 * w, 0.0), (0.10 * w, 0.0), (0.10 * w, 0.40 * r), (-0.34 * w, 0.40 * r)], "seat")
    barrel = [(-bead, rim + 0.05 * r), (-bead, rim - t), (-0.30 * w, rim - 2.4 * t), (bead, rim - 2.4 * t)]
    barrel += [(bead, rim + 0.05 * r), (bead - t, rim + 0.05 * r), (bead - t, rim - t), (-0.28 * w, rim - t)]
    barrel += [(-bead + t, rim), (-bead + t, rim + 0.05 * r)]
    shapes += mirror(barrel, "steel")
    disc = [(0.22 * w, rim - 2.4 * t), (0.30 * w, 0.30 * r), (0.14 * w, 0.22 * r), (0.14 * w, 0.0)]
    disc += [(0.24 * w, 0.0), (0.24 * w, 0.17 * r), (0.38 * w, 0.30 * r), (0.32 * w, rim - 2.4 * t)]
    shapes += mirror(disc, "steel")
    cap = ((0.14 * w, 0.10), (0.40 * w, 0.085), (0.40 * w, -0.085), (0.14 * w, -0.10))
    shapes.append(parts.polygon([at(o, n * r) for o, n in cap], "seat"))
    return shapes


def _turns() -> list[tuple[float, float, float]]:
    left = [(-1.0, c, n) for c, n in _CORNER]
    right = [(1.0, c, n) for c, n in reversed(_CORNER)]
    return left + right


def _shaft(scene: Scene, body: Put, axle: Put) -> list[Shape]:
    shaft = scene.live.build.vehicle.driveshaft
    if shaft is None:
        return []
    front, nose = body(*shaft.front_joint), axle(*shaft.pinion_joint)
    return [
        parts.capsule(nose, front, shaft.radius, "shaft_hidden"),
        Circle(nose, shaft.radius, "shaft_hidden"),
        Circle(front, shaft.radius, "shaft_hidden"),
    ]


def ghost_rear(scene: Scene, p: Proportions) -> list[Shape]:
    """Return the axle a scene is compared with, as a whole, thin and dashed."""
    study = scene.ghost
    if study is None:
        return []
    build = study.build
    stand = Stand.of(study)
    body, axle = stand.body("rear"), stand.axle("rear")
    x, _, z = p.centre
    end = p.half - p.width / 2.0
    tube = parts.tube(axle(x, end, z), axle(x, -end, z), p.tube, p.tube, "ghost")
    shapes: list[Shape] = [tube, Circle(axle(x, p.housing_y, z), p.housing, "ghost")]
    shapes += [Path(tyre_outline(p, stand.wheel(), s), "ghost", closed=True) for s in (1.0, -1.0)]
    shapes += ghost_links(build, p, body, axle)
    f, a = build.layout.ends(BAR)
    shapes += [Circle(body(*f), 1.5 * p.bar_radius, "ghost"), Circle(axle(*a), 1.5 * p.bar_radius, "ghost")]
    return shapes + ghost_shaft(build, body, axle)
