"""The trailing links in side view and in plan: angles, instant centre, anti-squat."""

from __future__ import annotations

import numpy as np

from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.pose import Poses

PARALLEL = 1e-6
"""Link lines that meet at less than this are called parallel, rad."""
_MOST_ANTI_SQUAT = 1e5
"""The instant centre stands straight above the tyre patch, near enough, %."""


def link_angles(layout: Layout, poses: Poses) -> tuple[Array, Array]:
    """Return the angles of the four trailing links in side view and in plan, shape (n, 4) each, rad.

    Side view: 0 is level, + when the frame end stands above the axle end. Plan: 0 is along the vehicle, + when the
    frame end is nearer the centre plane than the axle end (the links run together towards the front).
    """
    end = poses.place(layout.centre, layout.axle[:BAR])
    along = layout.frame[:BAR] - end
    ahead = np.abs(along[..., 0])
    outboard = np.where(layout.axle[:BAR, 1] + layout.centre[1] >= 0, 1.0, -1.0)
    side: Array = np.arctan2(along[..., 2], ahead)
    plan: Array = np.arctan2(-outboard * along[..., 1], ahead)
    return side, plan


def _crossing(layout: Layout, poses: Poses) -> tuple[Array, Array, Array]:
    """Return where the mean lower and upper link lines cross in side view, (X, Z, W) with x = X / W, z = Z / W.

    x and z are relative to the axle centre where it stands, mm. W is the sine of the angle between the lines.
    """
    spot = np.stack([layout.centre[0] + poses.x, layout.centre[2] + poses.heave], axis=-1)[:, None, :]
    end = poses.place(layout.centre, layout.axle[:BAR])[..., [0, 2]] - spot
    frame = layout.frame[:BAR, [0, 2]] - spot
    lines = []
    for one, other in ((0, 1), (2, 3)):
        a = (end[:, one] + end[:, other]) / 2
        d = (frame[:, one] + frame[:, other]) / 2 - a
        d = d / np.linalg.norm(d, axis=-1, keepdims=True)
        lines.append((-d[:, 1], d[:, 0], a[:, 0] * d[:, 1] - a[:, 1] * d[:, 0]))
    (a1, b1, c1), (a2, b2, c2) = lines
    return b1 * c2 - b2 * c1, c1 * a2 - c2 * a1, a1 * b2 - a2 * b1


def instant_centre(layout: Layout, poses: Poses, tyre_radius: float) -> tuple[Array, Array]:
    """Return the side-view instant centre of the axle: where the lines of the lower and upper links cross.

    (Gillespie, Fundamentals of Vehicle Dynamics, ch. 7; Milliken, Race Car Vehicle Dynamics, ch. 17.)

    Returns
    -------
    ahead : ndarray, shape (n,)
        Ahead (+) of the axle centre where it stands, mm; inf where the links are parallel.
    height : ndarray, shape (n,)
        Above the ground under the axle, mm; inf where the links are parallel.
    """
    x, z, w = _crossing(layout, poses)
    parallel = np.abs(w) < PARALLEL
    safe = np.where(parallel, 1.0, w)
    return np.where(parallel, np.inf, x / safe), np.where(parallel, np.inf, z / safe + tyre_radius)


def anti_squat(layout: Layout, poses: Poses, tyre_radius: float, wheelbase: float, cg_height: float) -> Array:
    """Return the anti-squat of a live axle whose links take the driving torque, shape (n,), %.

    100 (e/d) / (h/L): e the height of the instant centre above the ground, d its distance ahead of the tyre patch,
    h the height of the centre of gravity, L the wheelbase (Gillespie, ch. 7: 100 % where e/d = h/L). Parallel links
    have e/d equal to their slope. The wheelbase is that of the state, and the body with its centre of gravity
    stands above the ground by as much as the axle is below its design place.

    Parameters
    ----------
    layout, poses
        The mechanism and its states.
    tyre_radius, wheelbase, cg_height : float
        mm, all at design height.

    Returns
    -------
    ndarray
        + when driving lifts the rear; inf where the instant centre stands straight above the tyre patch.
    """
    x, z, w = _crossing(layout, poses)
    with np.errstate(divide="ignore", invalid="ignore"):
        rise = (z + tyre_radius * w) / x
        value: Array = 100.0 * rise * (wheelbase - poses.x) / (cg_height - poses.heave)
    return np.where(np.abs(value) < _MOST_ANTI_SQUAT, value, np.inf)
