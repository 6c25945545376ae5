"""The other state, dashed: a whole axle with its bar, shaft and links."""

from __future__ import annotations

from linkviz.picture import axle, links
from linkviz.picture.curves import capsule, strip
from linkviz.picture.shapes import Circle, Path, Shape
from linkviz.picture.stand import Stand


def ghost(stand: Stand) -> list[Shape]:
    """Return the ghost of one state in its view; every shape is dashed."""
    s, part = stand.sizes, stand.vehicle.axle
    result: list[Shape] = []
    if stand.view == "rear":
        kit = axle.rear_ghost(s, part.track, part.tyre_width, part.tyre_radius)
        result.extend(kit.shapes(stand.axle))
    else:
        result.append(Circle(stand.centre, part.tyre_radius, "ghost"))
        result.append(Circle(stand.centre, s.rim, "ghost"))
        result.append(Circle(stand.centre, s.housing, "ghost"))
        for index in links.RIGHT:
            result.append(Path(capsule(*links.link_ends(stand, index), s.link), "ghost", True))
    shaft = links.shaft(stand)
    if shaft is not None:
        front, pinion, radius = shaft
        shape = strip(front, pinion, radius) if stand.view == "side" else capsule(front, pinion, radius)
        result.append(Path(shape, "ghost", True))
    frame, end = links.link_ends(stand, links.BAR)
    result.append(Path(capsule(frame, end, s.bar), "ghost.bar", True))
    result.append(Circle(frame, s.eye, "ghost.bar"))
    result.append(Circle(end, s.eye, "ghost.bar"))
    return result


def caption(name: str) -> str:
    """Return the words that name the ghost."""
    return f"dashed: {name}" if name else "dashed: for comparison"
