"""Places of what the vehicle file does not hold: springs, dampers, wheels, rails. Plausible, drawn only for the eye.

All of it follows from the measured points, so that the drawing stays in proportion and never claims a measurement.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from linkviz.vehicle.model import Vehicle

LIFT_ROOM = 200.0
"""Lift the picture leaves room for, mm."""

Extent = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Sizes:
    """Decorative dimensions of one vehicle, mm, body frame at design height.

    Attributes
    ----------
    tube, housing : float
        Radius of the axle tube and of the differential's housing.
    rim : float
        Radius of the wheel's rim.
    rail_y, rail_low, rail_high, rail_half : float
        The frame rails: distance from the centre plane, heights of both edges, half width.
    spring_y, spring_x, spring_radius : float
        Where the coils stand and how wide they are.
    seat : float
        Height of the coils' lower seat above the axle centre.
    damper_low, damper_high : (float, float, float)
        Ends of the left damper: on the axle relative to its centre, and on the body.
    link, bar, eye : float
        Half width of a trailing link, of the lateral bar, and radius of an eye.
    rear, side : (float, float, float, float)
        What the two views have to show whatever the state, (u, v) mm.
    """

    tube: float
    housing: float
    rim: float
    rail_y: float
    rail_low: float
    rail_high: float
    rail_half: float
    spring_y: float
    spring_x: float
    spring_radius: float
    seat: float
    damper_low: tuple[float, float, float]
    damper_high: tuple[float, float, float]
    link: float
    bar: float
    eye: float
    rear: Extent
    side: Extent


def sizes(vehicle: Vehicle) -> Sizes:
    """Return the decorative dimensions of a vehicle."""
    cached = _recent.get(id(vehicle))
    if cached is not None and cached[0] is vehicle:
        return cached[1]
    if len(_recent) > 16:
        _recent.clear()
    result = _sizes(vehicle.model_copy(update={"name": "", "note": ""}))
    _recent[id(vehicle)] = (vehicle, result)
    return result


_recent: dict[int, tuple[Vehicle, Sizes]] = {}


@lru_cache(maxsize=16)
def _sizes(vehicle: Vehicle) -> Sizes:
    axle, links, travel = vehicle.axle, vehicle.links, vehicle.travel
    x, y, z = axle.centre
    radius = axle.tyre_radius
    tube = 0.115 * radius
    housing = 0.33 * radius
    inner = axle.track / 2.0 - axle.tyre_width / 2.0
    spring_radius = 0.15 * radius
    ends = [abs(links.lateral_bar.frame[1]), abs(links.lower_left.frame[1]), abs(links.lower_right.frame[1])]
    rail_y = min(max(ends[0], 0.5 * inner), inner - 1.25 * spring_radius)
    seat = tube + 6.0
    highest = max(link.frame[2] for link in (links.upper_left, links.upper_right, links.lateral_bar))
    rail_low = max(
        z + seat + travel.jounce + 1.1 * spring_radius, z + housing + travel.jounce + 15.0, highest + 0.12 * radius
    )
    rail_high = rail_low + 0.3 * radius
    # The damper stands on the side of the axle where the lateral bar is not.
    back = -1.0 if links.lateral_bar.axle[0] - x > 0 else 1.0
    damper_low = (back * 0.27 * radius, min(rail_y + 0.5 * spring_radius, inner - 30.0), -0.12 * radius)
    damper_high = (x + back * 0.36 * radius, rail_y - 0.9 * spring_radius, rail_low + 0.1 * radius)
    bottom = min(-travel.rebound - 45.0, -0.3 * radius)
    top = rail_high + LIFT_ROOM + 0.12 * radius
    half = axle.track / 2.0 + axle.tyre_width / 2.0 + 0.16 * radius
    rears = [u for e in vehicle.envelopes for u, _ in e.rear]
    sides = [u for e in vehicle.envelopes for u, _ in e.side]
    heights = [v for e in vehicle.envelopes for _, v in (*e.rear, *e.side)]
    xs = [p[0] for name in type(links).model_fields for p in (getattr(links, name).frame, getattr(links, name).axle)]
    if vehicle.driveshaft is not None:
        xs.append(vehicle.driveshaft.front_joint[0])
    top = max([top, *(v + LIFT_ROOM + 40.0 for v in heights)])
    rear = (min([-half, *(-u - 60.0 for u in rears)]), bottom, max([half, *(60.0 - u for u in rears)]), top)
    left = min([x - 1.14 * radius, *(u - 60.0 for u in [*xs, *sides])])
    right = max([x + 1.2 * radius, *(u + 100.0 for u in [*xs, *sides])])
    return Sizes(
        tube=tube,
        housing=housing,
        rim=0.58 * radius,
        rail_y=rail_y,
        rail_low=rail_low,
        rail_high=rail_high,
        rail_half=0.1 * radius,
        spring_y=rail_y,
        spring_x=x,
        spring_radius=spring_radius,
        seat=seat,
        damper_low=damper_low,
        damper_high=damper_high,
        link=0.055 * radius,
        bar=0.052 * radius,
        eye=0.082 * radius,
        rear=(rear[0] + 0.0, rear[1], rear[2], rear[3]),
        side=(left, bottom, right, top),
    )
