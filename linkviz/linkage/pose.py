"""Poses of the axle: where it stands and how the links are loaded there."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from linkviz.frozen import Frozen, names_of
from linkviz.linkage.layout import Array

Rows = tuple[tuple[Array, Array, Array], tuple[Array, Array, Array], tuple[Array, Array, Array]]


def rotation_rows(roll: Array, pitch: Array, yaw: Array) -> Rows:
    """Return the rows of Rz(yaw) Ry(pitch) Rx(roll), each entry of the shape of the angles, rad."""
    cr, sr = np.cos(roll), np.sin(roll)
    cp, sp = np.cos(pitch), np.sin(pitch)
    cy, sy = np.cos(yaw), np.sin(yaw)
    return (
        (cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr),
        (sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr),
        (-sp, cp * sr, cp * cr),
    )


def rotation(roll: Array, pitch: Array, yaw: Array) -> Array:
    """Return Rz(yaw) Ry(pitch) Rx(roll), shape (..., 3, 3) for angles of shape (...), rad."""
    return np.stack([np.stack(row, axis=-1) for row in rotation_rows(roll, pitch, yaw)], axis=-2)


class Poses(Frozen, eq=False, dict=True):
    """States of one layout; every attribute has shape (n,) unless said.

    Attributes
    ----------
    heave, roll : ndarray
        The inputs: mm (up +) and rad (left wheel up +).
    x, y : ndarray
        Axle centre relative to design, mm (forward +, left +).
    pitch, yaw : ndarray
        Rad; pitch + turns the pinion nose down, yaw + steers the axle to the left.
    stretch : ndarray, shape (n, 5)
        Present length minus free length of each link, mm.
    reached : ndarray of bool
        Whether the mechanism gets there on the branch it was built on.
    stopped_by : tuple of str
        For each state "" or the words for what stops it.
    """

    heave: Array
    roll: Array
    x: Array
    y: Array
    pitch: Array
    yaw: Array
    stretch: Array
    reached: NDArray[np.bool_]
    stopped_by: tuple[str, ...]

    def __len__(self) -> int:
        """Return the number of states."""
        return len(self.heave)

    def __getitem__(self, which: slice) -> Poses:
        """Return some of the states."""
        cut = [getattr(self, name)[which] for name in names_of(type(self))]
        return Poses(*cut)

    def rotation(self) -> Array:
        """Return Rz(yaw) Ry(pitch) Rx(roll), shape (n, 3, 3); worked out once, not to be changed."""
        return self._rotation

    @cached_property
    def _rotation(self) -> Array:
        return rotation(self.roll, self.pitch, self.yaw)

    def place(self, centre: Array, points: Array) -> Array:
        """Put points fixed to the axle into the body frame.

        Parameters
        ----------
        centre : ndarray, shape (3,)
            Axle centre at design, mm.
        points : ndarray, shape (m, 3)
            Points relative to the axle centre at design, mm.

        Returns
        -------
        ndarray, shape (n, m, 3)
            The points in the body frame, mm.
        """
        shift = centre + np.stack([self.x, self.y, self.heave], axis=-1)
        placed: Array = np.einsum("nij,mj->nmi", self.rotation(), points) + shift[:, None, :]
        return placed
