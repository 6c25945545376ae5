"""The parts that clearance is watched for, as bodies, and where they stand at every pose."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property, lru_cache

import numpy as np

from linkviz.analysis.build import Build, solid_of
from linkviz.analysis.clearance.sizes import sizes_of
from linkviz.analysis.setup import Setup
from linkviz.clearance.bodies import Body, Frames, ball, between, box, capsule, fixed, rigid, span
from linkviz.clearance.pair import Compound
from linkviz.frozen import Frozen
from linkviz.linkage.layout import BAR, Array
from linkviz.linkage.pose import Poses
from linkviz.vehicle.model import Envelope, Vehicle
from linkviz.vehicle.part import values_of

STILL = "body"
"""Name of the frame that does not move."""
_BUMP_RADIUS = 28.0
"""Radius of a bump stop, mm."""
_NECK = 0.34
"""Radius of the pinion's neck, in radii of the housing; as it is drawn."""
_SHOULDER = 0.13
"""Roundness of a tyre's shoulder, in tyre radii; as it is drawn."""


class Piece(Frozen, eq=False):
    """A body and the name of the frame it is fixed to (see `Places`)."""

    body: Body | Compound
    frame: str


class Thing(Frozen, eq=False):
    """A part that clearance is watched for.

    Attributes
    ----------
    name : str
        As in `linkviz.vehicle.watching.PART_NAMES`, or the name of an envelope.
    pieces : tuple of Piece
    envelope : int
        Index of the envelope it is; -1 for a part.
    """

    name: str
    pieces: tuple[Piece, ...]
    envelope: int = -1

    @property
    def moves(self) -> bool:
        """Return whether any of it moves with the axle."""
        return any(piece.frame != STILL for piece in self.pieces)


@lru_cache(maxsize=64)
def things(vehicle: Vehicle, setup: Setup) -> dict[str, Thing]:
    """Return every part there is, by name; parts of the vehicle first, then its envelopes."""
    found: dict[str, tuple[Piece, ...]] = {}
    sizes, axle, shaft = sizes_of(vehicle), vehicle.axle, vehicle.driveshaft
    centre = np.array(axle.centre)
    neck: tuple[Piece, ...] = ()
    if shaft is not None:
        tip = max(sizes.yoke_length - sizes.yoke_radius, 0.0)
        yoke = capsule(np.zeros(3), np.array([tip, 0.0, 0.0]), sizes.yoke_radius)
        joint = np.array(shaft.pinion_joint) - centre
        middle = np.array([0.0, joint[1], 0.0])
        inwards = joint - tip * (joint - middle) / max(float(np.linalg.norm(joint - middle)), 1.0)
        neck = (Piece(capsule(middle, inwards, _NECK * sizes.housing_radius), "axle"),)
        found["driveshaft"] = (Piece(span(shaft.radius), "shaft"),)
        found["front yoke"] = (Piece(yoke, "shaft front"),)
        found["rear yoke"] = (Piece(yoke, "shaft rear"),)
        found["pinion yoke"] = (Piece(capsule(inwards, joint, sizes.yoke_radius), "axle"),)
    found["lateral bar"] = (Piece(span(sizes.bar_radius), "bar"),)
    if setup.drop or setup.shift:
        found["drop bracket"] = (Piece(_bracket(vehicle, setup), STILL),)
    end = axle.track / 2.0 - 0.3 * axle.tyre_width
    tube = capsule(np.array([0.0, -end, 0.0]), np.array([0.0, end, 0.0]), sizes.tube_radius)
    found["axle tube"] = (Piece(tube, "axle"),)
    found["housing"] = (Piece(ball(sizes.housing_radius), "housing"), *neck)
    for name, side in (("left tyre", 1.0), ("right tyre", -1.0)):
        found[name] = (Piece(_tyre(vehicle, side), "wheels"),)
    if vehicle.dampers is not None:
        for name in ("left damper", "right damper"):
            found[name] = (Piece(span(sizes.damper_radius), name),)
    if vehicle.bump_stops is not None:
        found["bump stops"] = tuple(Piece(_bump_stop(vehicle, side), STILL) for side in (1.0, -1.0))
    ends = [np.array(link.frame) for name, link in values_of(vehicle.links).items() if name != "lateral_bar"]
    found["link ends"] = tuple(Piece(capsule(end, end, sizes.eye_radius), STILL) for end in ends)
    result = {name: Thing(name, pieces) for name, pieces in found.items()}
    for i, envelope in enumerate(vehicle.envelopes):
        result.setdefault(envelope.name, Thing(envelope.name, (Piece(_compound(envelope), STILL),), i))
    return result


@lru_cache(maxsize=64)
def _compound(envelope: Envelope) -> Compound:
    return Compound(solid_of(envelope))


def _tyre(vehicle: Vehicle, side: float) -> Body:
    """Return a tyre in the frame "wheels", whose x axis is the axle's: a cylinder with round shoulders."""
    axle = vehicle.axle
    round_ = min(_SHOULDER * axle.tyre_radius, axle.tyre_width / 2.0)
    half, middle = axle.tyre_width / 2.0 - round_, side * axle.track / 2.0
    axis = np.array([[1.0, 0.0, 0.0]])
    ends = np.array([[middle - half, 0.0, 0.0], [middle + half, 0.0, 0.0]])
    return Body(ends, radius=round_, disc=axle.tyre_radius - round_, normals=axis, edges=axis)


def _bump_stop(vehicle: Vehicle, side: float) -> Body:
    stops = vehicle.bump_stops
    if stops is None:
        raise ValueError("the vehicle has no bump stops")
    x, y, z = stops.body
    top, foot = z - _BUMP_RADIUS, min(z - _BUMP_RADIUS, z - stops.free_height + _BUMP_RADIUS)
    return capsule(np.array([x, side * y, top]), np.array([x, side * y, foot]), _BUMP_RADIUS)


def _bracket(vehicle: Vehicle, setup: Setup) -> Body:
    """Return the drop bracket as a plain box, from the old bolt of the bar down to the new one."""
    sizes = sizes_of(vehicle)
    x, y, z = vehicle.links.lateral_bar.frame
    out = y + (setup.shift if y >= 0 else -setup.shift)
    low, high = sorted((z, z - setup.drop))
    left, right = sorted((y, out))
    half_length, half_width, lip = sizes.bracket_length / 2.0, sizes.bracket_width / 2.0, sizes.bracket_lip
    return box(
        (x - half_length, left - half_width, low - lip),
        (x + half_length, right + half_width, high + lip),
    )


class Places:
    """Frames of one build at n poses, each made when it is first asked for.

    Parameters
    ----------
    build : Build
    poses : Poses
    """

    def __init__(self, build: Build, poses: Poses) -> None:
        self._build, self._poses = build, poses
        self._made: dict[str, Frames] = {}

    def __len__(self) -> int:
        """Return the number of states."""
        return len(self._poses)

    def __getitem__(self, name: str) -> Frames:
        """Return a frame: "body", "axle", "wheels", "housing", "shaft", "shaft front", "shaft rear", "bar", dampers."""
        if name not in self._made:
            self._made[name] = _FRAMES[name](self)
        return self._made[name]

    @cached_property
    def _turn(self) -> Array:
        return self._poses.rotation()

    @cached_property
    def _centre(self) -> Array:
        poses = self._poses
        centre: Array = self._build.layout.centre + np.stack([poses.x, poses.y, poses.heave], axis=-1)
        return centre

    def put(self, point: Array) -> Array:
        """Put a point of the axle, relative to the axle centre at design, into the body frame, shape (n, 3)."""
        placed: Array = self._centre + self._turn @ point
        return placed

    def axle(self) -> Frames:
        """Return the frame of the axle, about its centre."""
        return rigid(self._turn, self._centre)

    def wheels(self) -> Frames:
        """Return the axle's frame turned about z, so that its x axis runs to the left along the axle."""
        quarter = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
        return rigid(self._turn @ quarter, self._centre)

    def housing(self) -> Frames:
        """Return the frame of the differential housing: the axle's middle, in the plane of the pinion."""
        shaft = self._build.vehicle.driveshaft
        across = shaft.pinion_joint[1] - self._build.layout.centre[1] if shaft is not None else 0.0
        return Frames(None, np.ascontiguousarray(self.put(np.array([0.0, across, 0.0])).T))

    def shaft(self, unit: bool = False, back: bool = False) -> Frames:
        """Return the frame of the shaft's axis: from joint to joint, or a unit of it; `back` begins at the pinion."""
        shaft = self._build.vehicle.driveshaft
        if shaft is None:
            raise ValueError("the vehicle has no driveshaft")
        pinion = self.put(np.array(shaft.pinion_joint) - self._build.layout.centre)
        front = np.broadcast_to(np.array(shaft.front_joint), pinion.shape)
        p, q = (pinion, front) if back else (front, pinion)
        if not unit:
            return between(p, q)
        way = q - p
        return between(p, p + way / np.maximum(np.linalg.norm(way, axis=1), 1e-9)[:, None])

    def bar(self) -> Frames:
        """Return the frame of the lateral bar, from its frame end to its axle end."""
        layout = self._build.layout
        axle = self.put(layout.axle[BAR])
        return between(np.broadcast_to(layout.frame[BAR], axle.shape), axle)

    def damper(self, side: float) -> Frames:
        """Return the frame of a damper, from its upper eye to its lower one."""
        dampers = self._build.vehicle.dampers
        if dampers is None:
            raise ValueError("the vehicle has no dampers")
        mirror = np.array([1.0, side, 1.0])
        foot = self.put(np.array(dampers.axle) * mirror - self._build.layout.centre)
        return between(np.broadcast_to(np.array(dampers.body) * mirror, foot.shape), foot)


_FRAMES: dict[str, Callable[[Places], Frames]] = {
    STILL: lambda places: fixed(len(places)),
    "axle": Places.axle,
    "wheels": Places.wheels,
    "housing": Places.housing,
    "shaft": Places.shaft,
    "shaft front": lambda places: places.shaft(unit=True),
    "shaft rear": lambda places: places.shaft(unit=True, back=True),
    "bar": Places.bar,
    "left damper": lambda places: places.damper(1.0),
    "right damper": lambda places: places.damper(-1.0),
}
