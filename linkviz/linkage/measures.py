"""What people read off a pose: angles, roll centre, forces."""

from __future__ import annotations

import numpy as np

from linkviz.linkage.energy import Problem, curvature, newton_step
from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.pose import Poses


def bar_angle(layout: Layout, poses: Poses) -> Array:
    """Return the inclination of the lateral bar in rear view, shape (n,), rad.

    0 is level; + when the frame end stands above the axle end.
    """
    along = layout.frame[BAR] - poses.place(layout.centre, layout.axle[BAR : BAR + 1])[:, 0]
    angle: Array = np.arctan2(along[:, 2], np.abs(along[:, 1]))
    return angle


def pinion_angle(poses: Poses, design: float) -> Array:
    """Return the pinion angle, shape (n,), rad, nose up +; `design` is its value at design height, rad."""
    return design - poses.pitch


def link_force(layout: Layout, poses: Poses) -> Array:
    """Return the force in each link from its bushings, shape (n, 5), N, tension +.

    It is what the links do to each other when they bind: near zero in pure heave, large when the axle is crossed up.
    """
    return layout.stiffness * poses.stretch


def motion_per_roll(layout: Layout, poses: Poses) -> Array:
    """Return how (x, y, pitch, yaw) go with roll at fixed height, shape (4, n), mm/rad and rad/rad.

    At the least of the energy its gradient g over q vanishes for every roll, so H dq/dphi = -dg/dphi
    (implicit function theorem) with the derived second derivatives; no differences are taken.
    """
    q = np.stack([poses.x, poses.y, poses.pitch, poses.yaw])
    _, hessian, mixed = curvature(Problem.of(layout, poses.heave, poses.roll), q)
    step, _ = newton_step(mixed, hessian)
    return step


def roll_centre(layout: Layout, poses: Poses, tyre_radius: float, rates: Array | None = None) -> Array:
    """Return the height of the roll centre above the ground in the plane of the axle, shape (n,), mm.

    The axle turns about the point that does not go sideways as it rolls: at height z above the axle centre a point
    of the axle moves by dy - z dphi, so z = dy/dphi at fixed heave, and the axle centre stands a tyre radius above
    the ground (Gillespie, Fundamentals of Vehicle Dynamics, ch. 7, gives the same height by construction).

    Parameters
    ----------
    layout, poses
        The mechanism and its states.
    tyre_radius : float
        Loaded radius of the tyres, mm.
    rates : ndarray, shape (4, n), optional
        `motion_per_roll`, if it is at hand.
    """
    rates = motion_per_roll(layout, poses) if rates is None else rates
    height: Array = tyre_radius + rates[1]
    return height
