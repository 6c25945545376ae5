"""What nobody measures but a drawing needs: rails, springs, dampers and housings, in proportion to what was measured.

These parts are drawn to be recognised; sizes that clearance counts with (`linkviz.analysis.clearance.sizes`) are drawn
as they are, and so are springs and dampers that were measured.
"""

from __future__ import annotations

from functools import lru_cache

from linkviz.analysis.clearance.sizes import sizes_of
from linkviz.frozen import Frozen
from linkviz.picture.stand import Point3
from linkviz.vehicle.model import Vehicle

LIFT_ROOM = 200.0
"""Lift for which a drawing has room, mm."""


class Proportions(Frozen):
    """Sizes and places at design height, body frame, mm.

    Attributes
    ----------
    radius, width, half : float
        Tyre radius and width, half the track.
    tube, housing : float
        Radii of the axle tube and of the differential housing.
    nose : tuple of float
        Joint at the pinion; housing_y is the plane of the housing.
    bar_radius, link_radius : float
        Half widths of the lateral bar and of the trailing links.
    rail_y, rail_half : float
        Middle and half width of a frame rail.
    rail_low, rail_high : float
        Bottom and top of the rails over the axle.
    drop_from, drop_to, rail_front : float
        Where the rails come down ahead of the axle (x) and their bottom there (z).
    spring_axle, spring_body, spring_radius : tuple of float, tuple of float, float
        Seats of the left coil spring, and its outside.
    damper_axle, damper_body, damper_radius : tuple of float, tuple of float, float
        Eyes of the left damper, and half the width of its tube.
    """

    radius: float
    width: float
    half: float
    centre: Point3
    tube: float
    housing: float
    housing_y: float
    nose: Point3
    bar_radius: float
    link_radius: float
    rail_y: float
    rail_half: float
    rail_low: float
    rail_high: float
    drop_from: float
    drop_to: float
    rail_front: float
    spring_axle: Point3
    spring_body: Point3
    spring_radius: float
    damper_axle: Point3
    damper_body: Point3
    damper_radius: float
    front: float
    jounce: float
    rebound: float

    @property
    def rear_extent(self) -> tuple[float, float, float, float]:
        """Return the part of the rear view that is always shown."""
        side = self.half + self.width / 2.0 + 80.0
        return (-side, *self._low(), side, self._high())

    @property
    def side_extent(self) -> tuple[float, float, float, float]:
        """Return the part of the side view that is always shown."""
        back = self.centre[0] - 1.12 * self.radius - 25.0
        return (back, *self._low(), self.front + 90.0, self._high())

    def _low(self) -> tuple[float]:
        return (-self.rebound - 45.0,)

    def _high(self) -> float:
        return self.rail_high + LIFT_ROOM + 40.0


@lru_cache(maxsize=16)
def proportions(vehicle: Vehicle) -> Proportions:
    """Return how the parts of a vehicle are drawn."""
    axle, links, shaft = vehicle.axle, vehicle.links, vehicle.driveshaft
    r, half, centre = axle.tyre_radius, axle.track / 2.0, axle.centre
    inner = half - axle.tyre_width / 2.0
    lower = (links.lower_left, links.lower_right)
    upper = (links.upper_left, links.upper_right)
    high = max(link.frame[2] for link in (*upper, links.lateral_bar))
    rail_low = max(centre[2] + 0.60 * r, high + 0.10 * r)
    rail_y = min(sum(abs(link.frame[1]) for link in lower) / 2.0, inner - 0.16 * r)
    low_x = sum(link.frame[0] for link in lower) / 2.0
    low_z = sum(link.frame[2] for link in lower) / 2.0
    up_x = sum(link.frame[0] for link in upper) / 2.0
    nose = shaft.pinion_joint if shaft else (centre[0] + 0.62 * r, centre[1], centre[2] + 0.03 * r)
    front = shaft.front_joint[0] if shaft else max(low_x, up_x) + 0.9 * r
    sizes = sizes_of(vehicle)
    tube = sizes.tube_radius
    drop_from = up_x + 0.10 * r
    spring_x, spring_y = centre[0] + 0.02 * r, min(0.97 * rail_y, inner - 0.24 * r)
    damper_x, damper_y = centre[0] - 0.24 * r, inner - 0.10 * r
    springs, dampers = vehicle.springs, vehicle.dampers
    return Proportions(
        radius=r,
        width=axle.tyre_width,
        half=half,
        centre=centre,
        tube=tube,
        housing=sizes.housing_radius,
        housing_y=nose[1],
        nose=nose,
        bar_radius=sizes.bar_radius,
        link_radius=0.062 * r,
        rail_y=rail_y,
        rail_half=0.085 * r,
        rail_low=rail_low,
        rail_high=rail_low + 0.27 * r,
        drop_from=drop_from,
        drop_to=max(low_x + 0.05 * r, drop_from + 0.25 * r),
        rail_front=min(low_z + 0.16 * r, rail_low),
        spring_axle=springs.axle if springs else (spring_x, spring_y, centre[2] + 1.25 * tube),
        spring_body=springs.body if springs else (spring_x, spring_y, rail_low),
        spring_radius=0.155 * r,
        damper_axle=dampers.axle if dampers else (damper_x, damper_y, centre[2] - 0.5 * tube),
        damper_body=dampers.body if dampers else (damper_x - 0.16 * r, damper_y - 0.22 * r, rail_low + 0.12 * r),
        damper_radius=sizes.damper_radius,
        front=front,
        jounce=vehicle.travel.jounce,
        rebound=vehicle.travel.rebound,
    )
