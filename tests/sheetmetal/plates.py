"""Plates for tests. Their sizes are invented."""

from __future__ import annotations

import math

import numpy as np

from linkviz.sheetmetal.clearance_holes import clearance_hole, least_edge
from linkviz.sheetmetal.neutral import Neutral
from linkviz.sheetmetal.outline import rectangle
from linkviz.sheetmetal.plate import Hole, Plate, Steel
from linkviz.sheetmetal.profile import Bend, Joggle, Profile, steepest_angle

MILD = Steel("ASTM A36", 550.0)


def bolt_hole(name: str, x: float, drop: float, bolt: str = "M12") -> Hole:
    """Return the hole of a bolt at a drop below the original bolt."""
    hole = clearance_hole(bolt)
    return Hole(name, x, -drop, hole.diameter, hole.drill, *least_edge(bolt))


def joggled(
    offset: float = 8.0,
    thickness: float = 6.0,
    inside: float = 9.0,
    drops: tuple[float, ...] = (130.0, 160.0),
    anchor: float = 45.0,
    width: float = 60.0,
    shift: float = 0.0,
    up: bool = True,
    angle: float | None = None,
) -> Plate:
    """Return a plate with a joggle below its anchor hole."""
    angle = steepest_angle(offset, inside, thickness) if angle is None else angle
    joggle = Joggle(offset, angle, inside, thickness, Neutral.by("din", inside, thickness))
    profile = joggle.profile(-30.0, anchor + 28.0, max(drops) + 30.0, up)
    blank = rectangle((-width / 2.0 + min(shift, 0.0), -profile.end), (width / 2.0 + max(shift, 0.0), 30.0), 15.0)
    holes = (bolt_hole("original bolt", 0.0, 0.0), bolt_hole("anchor bolt", 0.0, anchor))
    holes += tuple(bolt_hole(f"bar hole {k}", shift, drop) for k, drop in enumerate(drops, 1))
    return Plate("front plate", 1, MILD, profile, blank, holes)


def random_plate(random: np.random.Generator) -> Plate:
    """Return a plate with a random joggle."""
    u = random.uniform
    thickness = u(3.0, 12.0)
    offset, inside = u(3.0, 25.0), u(1.0, 2.5) * thickness
    first = u(90.0, 160.0)
    return joggled(
        offset,
        thickness,
        inside,
        (first + 60.0, first + 90.0),
        u(35.0, 60.0),
        u(50.0, 90.0),
        u(-15.0, 15.0),
        bool(random.integers(2)),
        u(0.4, 1.0) * steepest_angle(offset, inside, thickness, math.radians(60.0)),
    )


def angled(lean: float, rises: tuple[float, ...] = (38.0, 76.0)) -> Plate:
    """Return a plate of one bend with holes beyond it at several heights (rad, mm)."""
    neutral = Neutral.by("din", 4.0, 4.0)
    bends = () if not lean else (Bend(lean, 4.0, True, neutral),)
    profile = Profile(4.0, -15.0, (130.0,) if not lean else (30.0, 120.0), bends)
    blank = rectangle((-30.0, -profile.end), (30.0, 15.0), 5.0)
    holes = [bolt_hole(f"hole {k}", x, 0.0, "M8") for k, x in enumerate((-18.0, 18.0))]
    holes += [bolt_hole(f"rise {r:g} {k}", x, r, "M8") for r in rises for k, x in enumerate((-18.0, 18.0))]
    return Plate("valve plate", 1, MILD, profile, blank, tuple(holes))
