"""Second routes, of textbooks and of the motion itself, to what the program reads off a pose."""

from __future__ import annotations

import numpy as np

from linkviz.linkage.energy import Problem, curvature, newton_step
from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.pose import Poses
from linkviz.linkage.roll_axis import turning


def motion_per_heave(layout: Layout, poses: Poses) -> Array:
    """Return how (x, y, pitch, yaw) go with heave at fixed roll, shape (4, n), mm/mm and rad/mm.

    As `linkviz.linkage.measures.motion_per_roll`. The length of a link goes with heave as its unit vector's z, which
    gives the mixed second derivatives from the first: d(dL/dq)/dh = (dw_z/dq - dL/dq u_z) / L with w the vector along
    the link.
    """
    q = np.stack([poses.x, poses.y, poses.pitch, poses.yaw])
    force = (layout.stiffness * poses.stretch).T
    first, hessian, _ = curvature(Problem.of(layout, poses.heave, poses.roll), q)
    turned = np.einsum("nij,mj->min", poses.rotation(), layout.axle)
    ends = turned[:, 2] + (layout.centre[2] - layout.frame[:, 2])[:, None] + poses.heave
    length = layout.length[:, None] + poses.stretch.T
    up = ends / length
    none = np.zeros_like(up)
    rise = (none, none, -np.sin(poses.yaw) * turned[:, 1] - np.cos(poses.yaw) * turned[:, 0], none)
    stiffness = layout.stiffness[:, None]
    mixed = tuple(
        (stiffness * first[j] * up + force * (rise[j] - first[j] * up) / length).sum(axis=0) for j in range(4)
    )
    step, _ = newton_step(mixed, hessian)
    return step


def bar_crossing(layout: Layout, poses: Poses) -> tuple[Array, Array]:
    """Return where the line of the lateral bar crosses the body's centre plane: x and z, shape (n,), mm, body frame.

    The textbook's roll centre in the plane of the bar (Gillespie, Fundamentals of Vehicle Dynamics, ch. 7; Milliken,
    Race Car Vehicle Dynamics, ch. 17). A bar that runs along the centre plane never crosses it: nan.
    """
    end = poses.place(layout.centre, layout.axle[BAR : BAR + 1])[:, 0]
    along = layout.frame[BAR] - end
    with np.errstate(divide="ignore", invalid="ignore"):
        part = np.where(np.abs(along[:, 1]) > 1e-6, -end[:, 1] / along[:, 1], np.nan)
    return end[:, 0] + part * along[:, 0], end[:, 2] + part * along[:, 2]


def roll_axis_of_motion(poses: Poses, rates: Array) -> tuple[Array, Array]:
    """Return the roll axis as `linkviz.linkage.roll_axis.roll_axis`, from how the axle moves: its rotation's slope."""
    about = turning(poses, rates)
    height: Array = rates[1] / about[:, 0]
    slope: Array = about[:, 2] / about[:, 0]
    return height, slope
