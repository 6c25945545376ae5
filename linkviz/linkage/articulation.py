"""How far the axle can be crossed up before a link is loaded beyond a limit."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from linkviz.linkage.layout import Array, Layout
from linkviz.linkage.measures import link_force
from linkviz.linkage.solve import solve

FORCE_LIMIT = 10_000.0
"""Usual limit of a link force for free articulation, N: about where ordinary rubber bushings are worked hard."""
MOST_ROLL = float(np.radians(20.0))
"""No axle is crossed up further against its body, rad."""
_COARSE = 16
_HALVINGS = 7


def free_articulation(layout: Layout, heave: Array, limit: float = FORCE_LIMIT, most: float = MOST_ROLL) -> Array:
    """Return the roll at which the first link force passes a limit, the smaller of both ways, at each height.

    Parameters
    ----------
    layout : Layout
        The mechanism.
    heave : ndarray, shape (n,)
        Heights, mm.
    limit : float
        Force in a link, either way, N, > 0.
    most : float
        No roll beyond this is looked at, rad.

    Returns
    -------
    ndarray, shape (n,)
        rad, to about 0.01 deg; 0 where a limit is passed without any roll, inf where no force passes it up to
        `most`. A roll the mechanism does not reach counts as passed.

    Raises
    ------
    ValueError
        If the limit is not positive.
    """
    if not limit > 0:
        raise ValueError("the limit of the force must be above 0 N")
    heave = np.atleast_1d(np.asarray(heave, dtype=float))
    steps = np.linspace(0.0, most, _COARSE + 1)
    return np.minimum(*(_one_way(layout, heave, limit, sign * steps) for sign in (1.0, -1.0)))


def _one_way(layout: Layout, heave: Array, limit: float, steps: Array) -> Array:
    passed = _passed(layout, np.repeat(heave, len(steps)), np.tile(steps, len(heave)), limit)
    passed = passed.reshape(len(heave), len(steps))
    first = passed.argmax(axis=1)
    found = np.where(first > 0, np.inf, np.where(passed[:, 0], 0.0, np.inf))
    between = np.flatnonzero(first > 0)
    low, high = steps[first[between] - 1], steps[first[between]]
    for _ in range(_HALVINGS if len(between) else 0):
        middle = (low + high) / 2
        beyond = _passed(layout, heave[between], middle, limit)
        low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
    found[between] = np.abs(low + high) / 2
    return found


def _passed(layout: Layout, heave: Array, roll: Array, limit: float) -> NDArray[np.bool_]:
    poses = solve(layout, heave, roll)
    beyond: NDArray[np.bool_] = (np.abs(link_force(layout, poses)).max(axis=1) > limit) | ~poses.reached
    return beyond
