"""The axle beam with its tyres as kits of parts, relative to the axle centre; for both views."""

from __future__ import annotations

import math
from functools import lru_cache

from linkviz.picture.curves import arc, box, smooth
from linkviz.picture.kit import Kit
from linkviz.picture.sizes import Sizes

Spot = tuple[float, float, float]


def _rear(points: object, offset: float = 0.0) -> list[Spot]:
    """Stand points of the rear view's plane, (y, z), at x = `offset` of the axle."""
    return [(offset, y, z) for y, z in points]  # type: ignore[attr-defined]


def _tyre_outline(middle: float, width: float, radius: float) -> list[Spot]:
    """Return the silhouette of a standing tyre: flat tread, rounded shoulders, slightly bulging walls."""
    h, t = width / 2.0, 0.82 * width / 2.0
    s = 0.16 * width
    quarter = [
        (t - s, radius),
        (t, radius - 0.12 * s),
        (t + 0.35 * (h - t), radius - 0.55 * s),
        (h - 0.12 * (h - t), radius - 1.5 * s),
        (h, radius - 2.6 * s),
        (h - 0.3 * (h - t), 0.62 * radius),
        (h - 0.75 * (h - t), 0.56 * radius),
    ]
    right = [*quarter, *((y, -z) for y, z in reversed(quarter))]
    whole = [*right, *((-y, -z) for y, z in right)]
    return _rear([(middle + y, z) for y, z in whole])


@lru_cache(maxsize=16)
def rear_wheels(sizes: Sizes, track: float, width: float, radius: float) -> Kit:
    """Return both tyres in section with their wheels, for the rear view."""
    kit = Kit()
    for side in (1.0, -1.0):
        y = side * track / 2.0
        kit.path(_tyre_outline(y, width, radius), "tyre")
        rim, wall = sizes.rim, 0.055 * radius
        half = width / 2.0 - 1.3 * wall
        for up in (1.0, -1.0):
            # the air inside the carcass, above and below the rim
            top, low = radius - 1.35 * wall, rim
            cavity = [
                (-0.62 * half, low),
                (-0.98 * half, low + 0.25 * (top - low)),
                (-0.96 * half, top - 0.25 * (top - low)),
                (-0.7 * half, top),
                (0.7 * half, top),
                (0.96 * half, top - 0.25 * (top - low)),
                (0.98 * half, low + 0.25 * (top - low)),
                (0.62 * half, low),
            ]
            kit.path(_rear([(y + a, up * b) for a, b in smooth(cavity, rounds=1)]), "tyre.cavity")
            for k in (-0.5, -0.17, 0.17, 0.5):
                kit.path(
                    _rear([(y + k * width * 0.8, up * radius), (y + k * width * 0.8, up * (radius - 0.7 * wall))]),
                    "tyre.groove",
                    closed=False,
                )
        # rim barrel, seen through: flanges, well, disc at the outer third
        flange, well = 0.36 * width, 0.3 * width
        barrel = [
            (-flange, rim + 0.035 * radius),
            (-flange + 0.05 * width, rim),
            (-well, rim),
            (-well + 0.06 * width, rim - 0.07 * radius),
            (well - 0.06 * width, rim - 0.07 * radius),
            (well, rim),
            (flange - 0.05 * width, rim),
            (flange, rim + 0.035 * radius),
        ]
        outline = [*barrel, *((a, -b) for a, b in reversed(barrel))]
        kit.path(_rear([(y + a, b) for a, b in outline]), "wheel")
        disc = y + side * 0.08 * width
        face = box((disc - 0.03 * width, -rim + 0.07 * radius), (disc + 0.03 * width, rim - 0.07 * radius))
        kit.path(_rear(face), "wheel.disc")
        hub = box((disc - 0.1 * width, -0.2 * radius), (disc + 0.1 * width, 0.2 * radius), 0.02 * radius)
        kit.path(_rear(hub), "wheel.disc")
    return kit


@lru_cache(maxsize=16)
def rear_beam(sizes: Sizes, track: float, width: float, radius: float) -> Kit:
    """Return tube, drums, spring seats and differential housing, for the rear view."""
    kit = Kit()
    tube, housing = sizes.tube, sizes.housing
    end = track / 2.0 - 0.34 * width
    for side in (1.0, -1.0):
        drum = box((side * end - 0.12 * width, -0.44 * radius), (side * end + 0.12 * width, 0.44 * radius), 0.03 * radius)
        kit.path(_rear(drum), "steel")
        kit.path(
            _rear([(side * (end - 0.0) - 0.05 * width, -0.42 * radius), (side * end - 0.05 * width, 0.42 * radius)]),
            "steel.edge",
            closed=False,
        )
    kit.path(_rear(box((-end, -tube), (end, tube))), "steel")
    kit.path(_rear(box((-end + 2, 0.1 * tube), (end - 2, 0.55 * tube))), "steel.light")
    for side in (1.0, -1.0):
        y = side * sizes.spring_y
        half = 1.2 * sizes.spring_radius
        kit.path(_rear(box((y - half, tube - 3.0), (y + half, sizes.seat), 3.0)), "steel")
    # banjo housing: bell mouths into the tubes and a round cover with bolts
    bell = [
        (-1.95 * housing, tube),
        (-1.35 * housing, 1.12 * tube),
        (-0.98 * housing, 0.62 * housing),
        (-0.62 * housing, 0.98 * housing),
        (0.0, 1.12 * housing),
        (0.62 * housing, 0.98 * housing),
        (0.98 * housing, 0.62 * housing),
        (1.35 * housing, 1.12 * tube),
        (1.95 * housing, tube),
    ]
    whole = [*bell, *((a, -b) for a, b in reversed(bell))]
    kit.path(_rear(smooth(whole)), "steel")
    kit.circle((0.0, 0.0, 0.0), 0.86 * housing, "steel")
    kit.circle((0.0, 0.0, 0.0), 0.7 * housing, "steel.dish")
    for k in range(10):
        a = math.pi * (k + 0.5) / 5.0
        kit.circle((0.0, 0.78 * housing * math.cos(a), 0.78 * housing * math.sin(a)), 0.045 * housing, "bolt")
    kit.path(_rear([(0.7 * housing * b, 0.7 * housing * a) for a, b in _cover()]), "steel.edge", closed=False)
    return kit


def _cover() -> list[tuple[float, float]]:
    return [(math.sin(t), 0.45 * math.cos(t)) for t in (math.pi * (k / 6.0 - 0.5) for k in range(7))]


@lru_cache(maxsize=16)
def rear_ghost(sizes: Sizes, track: float, width: float, radius: float) -> Kit:
    """Return the axle as a ghost in the rear view: tyres, rims, tube and housing in outline."""
    kit = Kit()
    for side in (1.0, -1.0):
        kit.path(_tyre_outline(side * track / 2.0, width, radius), "ghost")
    end = track / 2.0 - 0.5 * width
    tube, housing = sizes.tube, sizes.housing
    lean = math.asin(min(tube / housing, 0.9))
    top = arc((0.0, 0.0), housing, lean, math.pi - lean, 16)
    kit.path(_rear([(end, tube), *top, (-end, tube)]), "ghost", closed=False)
    kit.path(_rear([(a, -b) for a, b in ((end, tube), *top, (-end, tube))]), "ghost", closed=False)
    return kit


@lru_cache(maxsize=16)
def side_nose(sizes: Sizes, nose: tuple[float, float], slope: float) -> Kit:
    """Return housing, nose and flange for the side view.

    Parameters
    ----------
    sizes : Sizes
        Decorative dimensions.
    nose : (float, float)
        Pinion joint relative to the axle centre, (x, z) mm.
    slope : float
        Direction of the pinion at design, rad, nose up +.
    """
    kit = Kit()
    housing, tube = sizes.housing, sizes.tube
    length = math.hypot(*nose)
    c, s = math.cos(slope), math.sin(slope)

    def at(along: float, across: float) -> Spot:
        return (nose[0] + (along - length) * c - across * s, 0.0, nose[1] + (along - length) * s + across * c)

    neck = [
        at(0.25 * length, 0.92 * housing),
        at(0.5 * length, 0.66 * housing),
        at(length - 0.5 * housing, 0.42 * housing),
        at(length - 0.3 * housing, 0.36 * housing),
        at(length - 0.3 * housing, -0.36 * housing),
        at(length - 0.5 * housing, -0.42 * housing),
        at(0.5 * length, -0.66 * housing),
        at(0.25 * length, -0.92 * housing),
    ]
    kit.path(neck, "steel")
    kit.path([at(length - w * housing, h * housing) for w, h in ((0.3, 0.48), (0.2, 0.48), (0.2, -0.48), (0.3, -0.48))], "steel")
    back = [(-0.96 * housing, 0.0, -0.3 * housing), (-1.1 * housing, 0.0, 0.0), (-0.96 * housing, 0.0, 0.3 * housing)]
    kit.path([(-0.6 * housing, 0.0, -0.8 * housing), *back, (-0.6 * housing, 0.0, 0.8 * housing)], "steel")
    kit.circle((0.0, 0.0, 0.0), housing, "steel")
    kit.circle((0.0, 0.0, 0.0), 1.5 * tube, "steel.edge")
    kit.circle((0.0, 0.0, 0.0), tube, "steel.dish")
    return kit
