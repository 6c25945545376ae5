"""The lateral bar in the rear view, with what holds it at either end."""

from __future__ import annotations

from linkviz.linkage.layout import BAR
from linkviz.picture import parts
from linkviz.picture.proportions import Proportions
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Circle, Path, Shape
from linkviz.picture.stand import Put


def bar_rear(scene: Scene, p: Proportions, body: Put, axle: Put) -> list[Shape]:
    """Return the lateral bar in the rear view: its brackets as built, the parts put on, the rod and its eyes."""
    build = scene.live.build
    layout, link = build.layout, build.vehicle.links.lateral_bar
    (fx, fy, fz), (ax, ay, az) = layout.ends(BAR)
    r, t = p.radius, p.bar_radius
    s = 1.0 if fy >= 0 else -1.0
    # Bracket of the frame: from the rail down to where the bolt was as built.
    ox, oy, oz = link.frame
    rail_in, rail_out = s * (p.rail_y - p.rail_half), s * (p.rail_y + p.rail_half)
    hanger = [(rail_in, p.rail_low), (oy - s * 1.9 * t, oz), (oy - s * 1.2 * t, oz - 1.9 * t)]
    hanger += [(oy + s * 1.2 * t, oz - 1.9 * t), (oy + s * 1.9 * t, oz), (rail_out, p.rail_low)]
    shapes: list[Shape] = [parts.polygon([body(ox, y, z) for y, z in hanger], "hanger")]
    # Bracket of the axle: from the tube up to the bar.
    ly, lz = link.axle[1:]
    foot = p.centre[2] + 0.6 * p.tube
    tower = [(ay - 3.0 * t, foot), (ay - 1.8 * t, az), (ay - t, az + 1.8 * t), (ay + t, az + 1.8 * t)]
    tower += [(ay + 1.8 * t, az), (ay + 3.0 * t, foot)]
    shapes.append(parts.polygon([axle(ax, y, z) for y, z in tower], "bracket" if az - lz > 0.5 else "seat"))
    if abs(ay - ly) + abs(az - lz) > 0.5:
        shapes.append(Circle(axle(*link.axle), 0.5 * t, "eye"))
    if abs(oz - fz) + abs(oy - fy) > 0.5:
        # Drop bracket: a plate that holds the old bolt and the new one.
        plate = [(oy - s * 1.7 * t, oz + 1.6 * t), (fy - s * 1.7 * t, fz), (fy - s * t, fz - 1.7 * t)]
        plate += [(fy + s * t, fz - 1.7 * t), (fy + s * 1.7 * t, fz), (oy + s * 1.7 * t, oz + 1.6 * t)]
        shapes += [
            parts.polygon([body(fx, y, z) for y, z in plate], "bracket"),
            Circle(body(*link.frame), 0.55 * t, "bar_eye"),
        ]
    else:
        shapes.append(Circle(body(*link.frame), 0.5 * t, "eye"))
    frame, end = body(fx, fy, fz), axle(ax, ay, az)
    shapes.append(parts.capsule(frame, end, t, "bar"))
    for eye in (frame, end):
        shapes += [Circle(eye, 1.5 * t, "bar"), Circle(eye, 0.013 * r + 0.6 * t, "bar_eye")]
    return shapes


def seen_through(bar: list[Shape]) -> list[Shape]:
    """Return the bar once more, dashed, over the parts that stand in front of it."""
    result: list[Shape] = []
    for shape in bar:
        if isinstance(shape, Path) and shape.style == "bar":
            result.append(Path(shape.points, "bar_hidden", closed=True))
        elif isinstance(shape, Circle) and shape.style == "bar_eye":
            result.append(shape)
    return result
