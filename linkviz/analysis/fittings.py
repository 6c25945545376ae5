"""What hangs on the axle: springs, dampers, hoses, bump stops, driveshaft and tyres, at the states of a build.

Each function takes a `Build` and `Poses` and returns numbers at those states; the vehicle must have the part.
Left comes before right in arrays of shape (n, 2).
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.study import shaft_ends
from linkviz.driveline import joints
from linkviz.linkage.layout import Array
from linkviz.linkage.pose import Poses
from linkviz.linkage.solve import solve
from linkviz.vehicle.model import Driveshaft, Point


class NotOnFile(ValueError):
    """The vehicle has no such part."""


@lru_cache(maxsize=32)
def rest_poses(build: Build) -> Poses:
    """Return the build's rest as one pose: at its lift, no travel, no roll."""
    return solve(build.layout, -build.setup.lift, 0.0)


def placed(build: Build, poses: Poses, points: Array) -> Array:
    """Return points of the axle, measured at design height, where the axle stands, shape (n, m, 3), body frame, mm."""
    return poses.place(build.layout.centre, np.asarray(points, dtype=float) - build.layout.centre)


def apart(build: Build, poses: Poses, body: Point, axle: Point) -> Array:
    """Return the distance from a point of the body to one of the axle, shape (n,), mm."""
    distance: Array = np.linalg.norm(placed(build, poses, np.array([axle]))[:, 0] - np.array(body), axis=-1)
    return distance


def pair_apart(build: Build, poses: Poses, body: Point, axle: Point) -> Array:
    """Return `apart` for a pair of which the left one was measured, shape (n, 2), mm."""
    both = np.array([(1.0, 1.0, 1.0), (1.0, -1.0, 1.0)])
    distance: Array = np.linalg.norm(placed(build, poses, both * axle) - both * body, axis=-1)
    return distance


# -- springs, dampers, hoses, bump stops


def spring_lengths(build: Build, poses: Poses) -> Array:
    """Return the distance between the seats of each coil, shape (n, 2), mm."""
    springs = build.vehicle.springs
    if springs is None:
        raise NotOnFile("springs")
    return pair_apart(build, poses, springs.body, springs.axle)


def spring_looseness(build: Build, poses: Poses, rest: int | None = None) -> Array:
    """Return how far the looser coil is from its seat, shape (n,), mm; negative while it is still pressed.

    At rest the coils bear what they bore before the lift, so that the spring with its spacer (or the longer one of
    the same rate) has grown by as much as its seats have come apart between design and the lifted rest.
    `rest` is the index of that rest in `poses`, if it is among them.
    """
    springs = build.vehicle.springs
    if springs is None:
        raise NotOnFile("springs")
    lengths = spring_lengths(build, poses)
    stand = lengths[rest] if rest is not None else spring_lengths(build, rest_poses(build))
    grown = float(stand.mean()) - math.dist(springs.body, springs.axle)
    loose: Array = lengths.max(axis=-1) - (springs.free_length + grown)
    return loose


def damper_lengths(build: Build, poses: Poses) -> Array:
    """Return the length of each damper between its eyes, shape (n, 2), mm."""
    dampers = build.vehicle.dampers
    if dampers is None:
        raise NotOnFile("dampers")
    return pair_apart(build, poses, dampers.body, dampers.axle)


def damper_room(build: Build, poses: Poses) -> tuple[Array, Array]:
    """Return how far the dampers are from pushed in and from pulled out, shape (n,) each, mm; negative is beyond."""
    dampers = build.vehicle.dampers
    if dampers is None:
        raise NotOnFile("dampers")
    lengths = damper_lengths(build, poses)
    return lengths.min(axis=-1) - dampers.shortest, dampers.longest - lengths.max(axis=-1)


def hose_slack(build: Build, poses: Poses) -> Array:
    """Return how much longer each hose is than the way between its ends, shape (n, hoses), mm; negative: too short."""
    hoses = build.vehicle.hoses
    if not hoses:
        raise NotOnFile("hoses")
    return np.stack([hose.length - apart(build, poses, hose.body, hose.axle) for hose in hoses], axis=-1)


def bump_gaps(build: Build, poses: Poses) -> Array:
    """Return the height between each bump stop and its pad, shape (n, 2), mm; negative while it is squeezed."""
    stops = build.vehicle.bump_stops
    if stops is None:
        raise NotOnFile("bump stops")
    x, y, z = stops.axle
    pads = placed(build, poses, np.array([(x, y, z), (x, -y, z)]))
    gaps: Array = stops.body[2] - stops.free_height - pads[..., 2]
    return gaps


# -- driveshaft


def _shaft(build: Build) -> Driveshaft:
    if build.vehicle.driveshaft is None:
        raise NotOnFile("driveshaft")
    return build.vehicle.driveshaft


def slip(build: Build, poses: Poses) -> Array:
    """Return how much longer the driveshaft is than at design height, joint to joint in space, shape (n,), mm."""
    shaft = _shaft(build)
    front, pinion = shaft_ends(build, poses)
    change: Array = np.linalg.norm(pinion - front, axis=-1) - math.dist(shaft.front_joint, shaft.pinion_joint)
    return change


def slip_room(build: Build, poses: Poses) -> Array:
    """Return how far the slip joint is from the nearer of its ends, shape (n,), mm; negative is beyond."""
    room = _shaft(build).slip
    if room is None:
        raise NotOnFile("slip")
    change = slip(build, poses)
    return np.minimum(room.extend - change, room.compress + change)


def pinion_joint_angle(build: Build, poses: Poses) -> Array:
    """Return the working angle of the joint at the pinion, in space, shape (n,), rad."""
    front, pinion = shaft_ends(build, poses)
    axis = joints.sloping(math.radians(build.vehicle.axle.pinion_angle_deg))
    return joints.angle_between(pinion - front, np.einsum("nij,j->ni", poses.rotation(), axis))


def front_joint_angle(build: Build, poses: Poses) -> Array:
    """Return the working angle of the front joint, in space, shape (n,), rad.

    The shaft that drives it lies along the vehicle, sloping by ``driveshaft.output_angle_deg``.
    """
    slope = _shaft(build).output_angle_deg
    if slope is None:
        raise NotOnFile("output angle")
    front, pinion = shaft_ends(build, poses)
    return joints.angle_between(pinion - front, joints.sloping(math.radians(slope)))


# -- tyres


def contact_patches(build: Build, poses: Poses) -> Array:
    """Return how the middle of each tyre's patch has moved from design, shape (n, 2, 3), mm, body frame.

    The patch is the lowest point of the rigid wheel, a loaded radius below its centre along the axle's own Z.
    """
    axle = build.vehicle.axle
    half = axle.track / 2
    points = np.array([(0.0, s * half, -axle.tyre_radius) for s in (1.0, -1.0)]) + np.array(axle.centre)
    moved: Array = placed(build, poses, points) - points
    return moved


def tyre_edges(build: Build, poses: Poses) -> tuple[Array, Array]:
    """Return how far the tyres reach from the body's centre plane: innermost and outermost, shape (n, 2) each, mm.

    A tyre is a cylinder of its loaded radius and its width about the axle's Y; a circle about that axis reaches
    sideways by its radius times the part of the body's Y that lies in its plane.
    """
    axle, turned = build.vehicle.axle, poses.rotation()[:, 1]
    swing = axle.tyre_radius * np.hypot(turned[:, 0], turned[:, 2])
    sides = []
    for side in (1.0, -1.0):
        hub = side * (build.layout.centre[1] + poses.y)
        edges = [hub + turned[:, 1] * (axle.track + edge * axle.tyre_width) / 2 for edge in (-1.0, 1.0)]
        sides.append((np.minimum(*edges) - swing, np.maximum(*edges) + swing))
    inner, outer = (np.stack(edges, axis=-1) for edges in zip(*sides, strict=True))
    return inner, outer
