"""The roll axis, by construction from the lines of the links, and the roll steer."""

from __future__ import annotations

import numpy as np

from linkviz.linkage.layout import Array, Layout
from linkviz.linkage.pose import Poses


def roll_axis(layout: Layout, poses: Poses) -> tuple[Array, Array]:
    """Return the roll axis as its height in the plane of the axle and its slope, by construction.

    An axis in the centre plane about which the axle can roll without stretching a link meets the line of that
    link. Where link i crosses the centre plane (its reaction point x_i, z_i in the textbooks; at infinity for links
    parallel to it) the axle, rolling about z = z_a + s x, stretches it by u_y (z_a + s x_i - z_i) per rad, u being
    the unit vector along the link. Three reaction points seldom lie on one line, so the axis is the line of
    least energy through them: least squares with weights k u_y^2. For equal parallel trailing links it passes
    exactly through the bar's crossing with the slope of the links (Gillespie ch. 7).

    Parameters
    ----------
    layout, poses
        The mechanism and its states.

    Returns
    -------
    height : ndarray, shape (n,)
        Above the axle centre where the axle stands, mm.
    slope : ndarray, shape (n,)
        dz/dx, mm/mm; + when the axis rises towards the front.
    """
    spot = layout.centre + np.stack([poses.x, poses.y, poses.heave], axis=-1)
    end = poses.place(layout.centre, layout.axle)
    along = end - layout.frame
    ux, uy, uz = np.moveaxis(along / np.linalg.norm(along, axis=-1, keepdims=True), -1, 0)
    rx, ry, rz = np.moveaxis(end - spot[:, None, :], -1, 0)
    weight = layout.stiffness
    per_height = uy
    per_slope = uy * rx - ux * ry
    wanted = uy * rz - uz * ry
    a = (weight * per_height**2).sum(axis=-1)
    b = (weight * per_height * per_slope).sum(axis=-1)
    c = (weight * per_slope**2).sum(axis=-1)
    p = (weight * per_height * wanted).sum(axis=-1)
    q = (weight * per_slope * wanted).sum(axis=-1)
    free = a * c - b * b
    with np.errstate(divide="ignore", invalid="ignore"):
        height: Array = (p * c - q * b) / free
        slope: Array = (q * a - p * b) / free
    return height, slope


def turning(poses: Poses, rates: Array) -> Array:
    """Return the rate of rotation of the axle per roll, body frame, shape (n, 3), rad/rad.

    Roll turns the axle about its own X axis, pitched and yawed; pitch and yaw go with it as `rates` say
    (`linkviz.linkage.measures.motion_per_roll`).
    """
    cp, sp, cy, sy = np.cos(poses.pitch), np.sin(poses.pitch), np.cos(poses.yaw), np.sin(poses.yaw)
    about: Array = np.stack([cy * cp - sy * rates[2], sy * cp + cy * rates[2], rates[3] - sp], axis=-1)
    return about


def roll_steer(poses: Poses, rates: Array) -> Array:
    """Return how far the wheels are steered per roll, shape (n,), rad/rad, to the left with the left wheel up +.

    The heading of the axle's own Y axis in plan, by roll at fixed height. With no pitch it is dpsi/dphi; a pitched
    axle rolls about its own X axis, which takes sin(pitch) off. + is roll oversteer: the body leans out of the turn,
    and the rear wheels point out of it too (Gillespie, Fundamentals of Vehicle Dynamics, ch. 7).
    """
    across = poses.rotation()[:, :, 1]
    moves = np.cross(turning(poses, rates), across)
    steer: Array = (across[:, 0] * moves[:, 1] - across[:, 1] * moves[:, 0]) / (across[:, :2] ** 2).sum(axis=-1)
    return steer
