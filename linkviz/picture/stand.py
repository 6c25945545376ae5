"""From the body frame to the paper: where a point of the body or of the axle stands in each view.

Rear view, seen from behind: u is to the vehicle's right, so that its left side is on the left. Side view: front to
the right. In both, v is height above the ground the axle rests on: the body has risen by the lift.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Literal

import numpy as np

from linkviz.analysis.study import Study
from linkviz.frozen import Frozen
from linkviz.picture.shapes import Pt

Point3 = tuple[float, float, float]
View = Literal["rear", "side"]
Put = Callable[[float, float, float], Pt]
"""A function that puts a point on the paper."""


def risen(view: View, lift: float) -> Put:
    """Return what puts a point of a body that has risen by `lift`, mm, on the paper."""
    if view == "rear":
        return lambda x, y, z: (-y, z + lift)
    return lambda x, y, z: (x, z + lift)


class Stand(Frozen):
    """Where one state of a study stands.

    Attributes
    ----------
    lift : float
        Rise of the body, mm.
    centre : tuple of float
        Axle centre at design, mm.
    matrix : tuple of float
        Rotation of the axle, nine numbers by rows.
    at : tuple of float
        Axle centre as it stands, body frame, mm.
    """

    lift: float
    centre: Point3
    matrix: tuple[float, ...]
    at: Point3

    @classmethod
    @lru_cache(maxsize=4)
    def of(cls, study: Study) -> Stand:
        """Return where the first state of a study stands; worked out once for both views."""
        poses = study.poses[:1]
        centre = study.build.layout.centre
        at = poses.place(centre, np.zeros((1, 3)))[0, 0].tolist()
        c = centre.tolist()
        return cls(
            study.build.setup.lift,
            (c[0], c[1], c[2]),
            tuple(poses.rotation()[0].ravel().tolist()),
            (at[0], at[1], at[2]),
        )

    def on_axle(self, x: float, y: float, z: float) -> Point3:
        """Return where a point fixed to the axle stands, body frame; it is given as it was at design height."""
        m, c, a = self.matrix, self.centre, self.at
        x, y, z = x - c[0], y - c[1], z - c[2]
        return (
            m[0] * x + m[1] * y + m[2] * z + a[0],
            m[3] * x + m[4] * y + m[5] * z + a[1],
            m[6] * x + m[7] * y + m[8] * z + a[2],
        )

    def body(self, view: View) -> Put:
        """Return what puts a point of the body on the paper."""
        return risen(view, self.lift)

    def axle(self, view: View) -> Put:
        """Return what puts a point of the axle, given as it was at design height, on the paper."""
        put, on_axle = self.body(view), self.on_axle
        return lambda x, y, z: put(*on_axle(x, y, z))

    def wheel(self) -> Put:
        """Return what puts a point of a wheel's upright section on the paper of the rear view.

        A wheel leans and steers with the axle but does not pitch with it: it turns in its bearings.
        """
        put, (cx, cy, cz) = self.axle("rear"), self.centre
        (u0, v0), (u1, v1) = put(cx, cy, cz), put(cx, cy + 1000.0, cz)
        du, dv = (u1 - u0) / 1000.0, (v1 - v0) / 1000.0
        size = math.hypot(du, dv) or 1.0
        nu, nv = dv / size, -du / size
        return lambda x, y, z: (u0 + (y - cy) * du + (z - cz) * nu, v0 + (y - cy) * dv + (z - cz) * nv)


def flat(view: View, corners: Sequence[Pt], lift: float) -> tuple[Pt, ...]:
    """Put an outline of the body, (y, z) in the rear view or (x, z) in the side view, on the paper."""
    if view == "rear":
        return tuple((-y, z + lift) for y, z in corners)
    return tuple((x, z + lift) for x, z in corners)
