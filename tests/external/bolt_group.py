"""The elastic bolt group of the textbooks, to hold the bracket's own statics against."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def bolt_group(places: ArrayLike, force: ArrayLike, at: ArrayLike, areas: ArrayLike | None = None) -> Array:
    """Share a force in the plane of a bolt group among its bolts.

    Parameters
    ----------
    places : array_like, shape (n, 2)
        Where the bolts are, mm.
    force : array_like, shape (2,)
        On the group, N.
    at : array_like, shape (2,)
        A point on the line of the force, mm.
    areas : array_like, shape (n,), optional
        Of the bolts, mm2; all alike if left out.

    Returns
    -------
    ndarray, shape (n, 2)
        What each bolt carries, N; the rows sum to the force.

    Raises
    ------
    ValueError
        If the bolts lie all in one place and the force has a lever arm about it.

    Notes
    -----
    Direct share by area; the moment about the centroid by distance: F_i = F A_i / sum A + M A_i r_i / sum (A r^2),
    square to r_i.

    References
    ----------
    Shigley's Mechanical Engineering Design, 8-12, shear joints with eccentric loading, example 8-7.
    """
    xy, f, p = np.asarray(places, float), np.asarray(force, float), np.asarray(at, float)
    a = np.ones(len(xy)) if areas is None else np.asarray(areas, float)
    share = a / a.sum()
    arm = xy - share @ xy
    lever = p - share @ xy
    moment = float(lever[0] * f[1] - lever[1] * f[0])
    polar = float(a @ (arm**2).sum(axis=1))
    if polar <= 0 and moment:
        raise ValueError("bolts in one place cannot hold a moment")
    turn = np.zeros_like(xy) if polar <= 0 else moment / polar * a[:, None] * np.column_stack([-arm[:, 1], arm[:, 0]])
    shared: Array = share[:, None] * f + turn
    return shared
