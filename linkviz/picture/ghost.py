"""What both views share of the axle a scene is compared with: its links and its shaft, thin and dashed."""

from __future__ import annotations

from linkviz.analysis.build import Build
from linkviz.linkage.layout import BAR
from linkviz.picture import parts
from linkviz.picture.proportions import Proportions
from linkviz.picture.shapes import Shape
from linkviz.picture.stand import Put


def ghost_links(build: Build, p: Proportions, body: Put, axle: Put) -> list[Shape]:
    """Return the five links, the lateral bar last."""
    shapes: list[Shape] = []
    for i in range(5):
        f, a = build.layout.ends(i)
        shapes.append(parts.capsule(body(*f), axle(*a), p.bar_radius if i == BAR else p.link_radius, "ghost"))
    return shapes


def ghost_shaft(build: Build, body: Put, axle: Put) -> list[Shape]:
    """Return the driveshaft, if there is one."""
    shaft = build.vehicle.driveshaft
    if shaft is None:
        return []
    return [parts.capsule(axle(*shaft.pinion_joint), body(*shaft.front_joint), shaft.radius, "ghost")]
