"""What was measured on a vehicle and how far it may be off, as inputs of a propagation and as builds drawn from it.

Every measured point of the mechanism is off by up to u in each of its coordinates. A tape read to +- u tells limits and
nothing more, so that every place between them is as likely as any other: a rectangular distribution (JCGM 101, 6.4.2),
its standard uncertainty u / sqrt(3). The axes go through the axle centre, so of that only the height is measured.
Not drawn: outlines (drawn by eye, with a margin of their own), the tube's radius, the pinion angle at design (a change
of angle does not depend on it), stiffness, lift, and what is made to size: brackets and the lengthening of the bar.
"""

from __future__ import annotations

import numpy as np

from linkviz.analysis.build import measured_layout
from linkviz.analysis.doubt.propagate import Input
from linkviz.frozen import Frozen
from linkviz.linkage.batch import Batch
from linkviz.linkage.layout import LINKS, Array
from linkviz.vehicle.model import Point, Vehicle

LINK_ENDS = tuple(f"links.{name}.{end}" for name in LINKS for end in ("frame", "axle"))
CENTRE = "axle.centre"
JOINTS = ("driveshaft.front_joint", "driveshaft.pinion_joint")


class Coordinate(Frozen):
    """One measured number: the point it belongs to (keyed as in a vehicle file), which axis (0 to 2), how far off."""

    point: str
    axis: int
    value: float
    u: float


def coordinates(vehicle: Vehicle) -> tuple[Coordinate, ...]:
    """Return every measured number of the mechanism and the shaft, mm."""
    own = dict(vehicle.measuring.points)
    found = [
        Coordinate(point, axis, place[axis], own.get(point, vehicle.measuring.u))
        for point, place in _places(vehicle).items()
        for axis in ((2,) if point == CENTRE else (0, 1, 2))
    ]
    return tuple(found)


def _places(vehicle: Vehicle) -> dict[str, Point]:
    places: dict[str, Point] = {CENTRE: vehicle.axle.centre}
    for name in LINKS:
        link = getattr(vehicle.links, name)
        places |= {f"links.{name}.frame": link.frame, f"links.{name}.axle": link.axle}
    shaft = vehicle.driveshaft
    if shaft is not None:
        places |= dict(zip(JOINTS, (shaft.front_joint, shaft.pinion_joint), strict=True))
    return places


def inputs(vehicle: Vehicle) -> tuple[Input, ...]:
    """Return the same as inputs of a propagation, in the same order."""
    return tuple(Input(f"{c.point}.{'xyz'[c.axis]}", c.value, c.u) for c in coordinates(vehicle))


class Drawn(Frozen, eq=False):
    """Vehicles as they may be, one a trial.

    Attributes
    ----------
    batch : Batch
        Their mechanisms, no parts on. A link is as long as its points are apart at design height, so that its length
        goes with the points.
    front, pinion : ndarray, shape (trials, 3), or None
        Joints of the driveshaft at design, body frame, mm.
    """

    batch: Batch
    front: Array | None
    pinion: Array | None

    def __len__(self) -> int:
        """Return the number of trials."""
        return len(self.batch)

    def __getitem__(self, which: slice) -> Drawn:
        """Return some of the trials."""
        front = None if self.front is None else self.front[which]
        return Drawn(self.batch[which], front, None if self.pinion is None else self.pinion[which])


def drawn(vehicle: Vehicle, rows: Array) -> Drawn:
    """Return the vehicles that draws of `inputs(vehicle)`, shape (trials, inputs), stand for."""
    trials = len(rows)
    points = {point: np.tile(np.array(place, dtype=float), (trials, 1)) for point, place in _places(vehicle).items()}
    for column, c in zip(rows.T, coordinates(vehicle), strict=True):
        points[c.point][:, c.axis] = column
    frame, axle = (np.stack([points[end] for end in LINK_ENDS[i::2]], axis=1) for i in (0, 1))
    batch = Batch.from_points(measured_layout(vehicle), points[CENTRE], frame, axle)
    front, pinion = (points.get(joint) for joint in JOINTS)
    return Drawn(batch, front, pinion)
