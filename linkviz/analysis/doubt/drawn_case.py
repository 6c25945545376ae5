"""One state (as built, lifted, corrected) of many drawn vehicles at once: what is read off them over the travel."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from linkviz.analysis.build import Build, solid_of
from linkviz.analysis.compare import Case, clearance_states
from linkviz.analysis.doubt.least import Measured
from linkviz.analysis.doubt.measured import Drawn
from linkviz.analysis.study import study, tube_gaps
from linkviz.clearance.gap import gap
from linkviz.driveline import joints
from linkviz.frozen import Frozen
from linkviz.linkage.batch import Batch, BatchPoses, bar_angle, sideways_per_roll, solve_batch
from linkviz.linkage.energy import Bools
from linkviz.linkage.layout import Array


class Read(Frozen, eq=False):
    """What curves are read off: b drawn vehicles at the n travels of the window, level.

    `ends` are both joints of the driveshaft, shape (b, n, 3), and what they were apart at design, shape (b, 1), mm.
    """

    build: Build
    batch: Batch
    poses: BatchPoses
    rest: int
    ends: tuple[Array, Array, Array] | None


def _joints(read: Read) -> tuple[Array, Array, Array]:
    if read.ends is None:
        raise ValueError("the vehicle has no driveshaft")
    return read.ends


def _slip(read: Read) -> Array:
    front, pinion, apart = _joints(read)
    change: Array = np.linalg.norm(pinion - front, axis=-1) - apart
    return change


def _front_joint(read: Read) -> Array:
    front, pinion, _ = _joints(read)
    shaft = read.build.vehicle.driveshaft
    slope = shaft.output_angle_deg if shaft is not None else None
    if slope is None:
        raise ValueError("the vehicle has no output angle")
    return np.degrees(joints.angle_between(pinion - front, joints.sloping(np.radians(slope))))


def _pinion_joint(read: Read) -> Array:
    front, pinion, _ = _joints(read)
    axis = joints.sloping(np.radians(read.build.vehicle.axle.pinion_angle_deg))
    return np.degrees(joints.angle_between(pinion - front, np.einsum("bnij,j->bni", read.poses.rotation(), axis)))


def _bind(read: Read) -> Array:
    largest: Array = np.abs(read.poses.stretch * read.batch.middle.stiffness).max(axis=-1)
    return largest


def _roll_centre(read: Read) -> Array:
    # the axle centre stands a loaded radius above the ground: where its height is off, so is the radius
    off = read.batch.centre[:, 2, None] - read.build.layout.centre[2]
    height: Array = read.build.vehicle.axle.tyre_radius + off + sideways_per_roll(read.batch, read.poses)
    return height


CURVES: dict[str, Callable[[Read], Array]] = {
    "sway": lambda r: r.poses.y - r.poses.y[:, r.rest, None],
    "offset": lambda r: r.poses.y,
    "wheelbase_change": lambda r: -r.poses.x,
    "yaw": lambda r: np.degrees(r.poses.yaw),
    "pinion_angle": lambda r: r.build.vehicle.axle.pinion_angle_deg - np.degrees(r.poses.pitch),
    "bar_angle": lambda r: np.degrees(bar_angle(r.batch, r.poses)),
    "roll_centre": _roll_centre,
    "bind": _bind,
    "front_joint_angle": _front_joint,
    "pinion_joint_angle": _pinion_joint,
    "slip": _slip,
}
"""How each curve is read off, keyed as in `linkviz.analysis.quantities`, in its unit; from `Read` to shape (b, n)."""


class DrawnCase:
    """One state of drawn vehicles.

    Parameters
    ----------
    case : Case
        The same state of the vehicle as measured; its study tells the build and the travels.
    keys : tuple of str
        Which of `CURVES` to read off.
    """

    def __init__(self, case: Case, keys: tuple[str, ...]) -> None:
        self.build = case.study.build
        self.rest = case.rest
        self.keys = keys
        self._travel = case.study.travel
        vehicle = self.build.vehicle
        level = (self._travel, np.zeros_like(self._travel))
        travel, self._roll = clearance_states(self.build) if case.worst is not None else level
        self._heave = travel - self.build.setup.lift
        self._tightest: Measured | None = None
        if case.worst is not None and vehicle.driveshaft is not None:
            solid = solid_of(vehicle.envelopes[case.worst.envelope])
            radius = self._radius = vehicle.driveshaft.radius
            self._tightest = Measured.at(
                study(self.build, travel, self._roll), lambda front, pinion: gap(solid, front, pinion, radius).distance
            )

    def look(self, some: Drawn) -> tuple[dict[str, Array], Bools]:
        """Solve some drawn vehicles in this state.

        Returns
        -------
        values : dict of str to ndarray
            For each key its curve, shape (b, n). With something to touch "gap", the curve of the smallest gap at no
            roll, and "worst_gap", shape (b,), the least gap over the window and `linkviz.analysis.compare.ROLLS` to
            the envelope where the vehicle as measured is tightest, mm.
        reached : ndarray of bool, shape (b,)
            Whether the axle gets to every travel of the window, level.
        """
        setup = self.build.setup
        batch = some.batch.with_bar(setup.drop, setup.shift, setup.bar_longer, setup.axle_raise)
        poses = solve_batch(batch, self._heave, self._roll)
        level = slice(0, len(self._travel))
        ends = None
        if some.front is not None and some.pinion is not None:
            pinion = poses.place(batch.centre, some.pinion - batch.centre)
            front = np.broadcast_to(some.front[:, None], pinion.shape)
            ends = (front, pinion, np.linalg.norm(some.pinion - some.front, axis=-1)[:, None])
        at_level = None if ends is None else (ends[0][:, level], ends[1][:, level], ends[2])
        read = Read(self.build, batch, poses.at(level), self.rest, at_level)
        values = {key: CURVES[key](read) for key in self.keys}
        if self._tightest is not None and ends is not None and at_level is not None:
            front, pinion = (end.reshape(-1, 3) for end in at_level[:2])
            gaps = tube_gaps(self.build.vehicle.envelopes, front, pinion, self._radius)
            smallest = np.min([found.distance for found in gaps], axis=0)
            values["gap"] = smallest.reshape(len(some), -1)
            values["worst_gap"] = self._tightest.least(ends[0], ends[1])
        reached: Bools = np.logical_and.reduce(read.poses.reached, axis=1)
        return values, reached
