"""A build: a measured vehicle with what has been done to it, as a mechanism that can be solved."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from linkviz.analysis.setup import Setup
from linkviz.clearance.solid import Solid
from linkviz.frozen import Frozen
from linkviz.linkage.layout import BAR, LINKS, Layout
from linkviz.vehicle.model import BAR_STIFFNESS, TRAILING_STIFFNESS, Envelope, Vehicle


class Build(Frozen, eq=False):
    """A vehicle, a setup, and the mechanism the two make.

    Attributes
    ----------
    vehicle : Vehicle
        What was measured, at design height.
    setup : Setup
        Lift and brackets, mm.
    layout : Layout
        The mechanism with the brackets on.
    """

    vehicle: Vehicle
    setup: Setup
    layout: Layout

    @classmethod
    def of(cls, vehicle: Vehicle, setup: Setup) -> Build:
        """Put a setup on a vehicle."""
        bare = measured_layout(vehicle)
        return cls(vehicle, setup, bare.with_bar(setup.drop, setup.shift, setup.bar_longer, setup.axle_raise))

    @property
    def window(self) -> tuple[float, float]:
        """Return the travel window (rebound, jounce) from the present rest, mm; the first is negative."""
        return self.vehicle.travel.window


def measured_layout(vehicle: Vehicle) -> Layout:
    """Return the mechanism as it was measured, no parts on."""
    links = [getattr(vehicle.links, name) for name in LINKS]
    stiffness = [link.stiffness or (BAR_STIFFNESS if i == BAR else TRAILING_STIFFNESS) for i, link in enumerate(links)]
    return Layout.from_points(
        np.array(vehicle.axle.centre),
        np.array([link.frame for link in links]),
        np.array([link.axle for link in links]),
        np.array(stiffness),
    )


@lru_cache(maxsize=64)
def _solid(rear: tuple[tuple[float, float], ...], side: tuple[tuple[float, float], ...]) -> Solid:
    return Solid.from_outlines(rear, side)


def solid_of(envelope: Envelope) -> Solid:
    """Return the solid of an envelope: the points inside both its outlines."""
    return _solid(envelope.rear, envelope.side)
