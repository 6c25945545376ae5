"""The point of a small simplex that is nearest to the origin, for many simplices at once.

The subsets of up to four corners are tried with the sub-determinants of E. G. Gilbert, D. W. Johnson and S. S. Keerthi
(A fast procedure for computing the distance between complex objects in three-dimensional space, IEEE Journal of
Robotics and Automation 4, 1988). Corners may coincide.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from linkviz.clearance.segments import Array

SUBSETS: tuple[tuple[int, ...], ...] = tuple(c for size in (1, 2, 3, 4) for c in combinations(range(4), size))
_AT_ORIGIN = 1e-7
"""How near to the origin the weights of a tetrahedron about it must lead, mm."""
_ORDER = {subset: i for i, subset in enumerate(SUBSETS)}


def nearest(corners: Array, careful: NDArray[np.bool_] | None = None) -> tuple[Array, NDArray[np.bool_]]:
    """Return the weights of the corners whose sum is nearest to the origin.

    Parameters
    ----------
    corners : ndarray, shape (4, 3, n)
        Corners of n simplices; a corner that is not wanted repeats another one, mm.
    careful : ndarray of bool, shape (n,), optional
        For which simplices every subset is to be looked at, with less rounding.

    Returns
    -------
    weights : ndarray, shape (4, n)
        Not negative, sum 1; 0 for corners that do not matter.
    inside : ndarray of bool, shape (n,)
        Whether the origin lies inside the four corners.
    """
    n = corners.shape[2]
    w = corners
    # d[i][k] = w_i . (w_i - w_k), from the differences themselves: they are small near the end
    d = [[_zero(n)] * 4 for _ in range(4)]
    for i, k in combinations(range(4), 2):
        x, y, z = w[i, 0] - w[k, 0], w[i, 1] - w[k, 1], w[i, 2] - w[k, 2]
        d[i][k] = w[i, 0] * x + w[i, 1] * y + w[i, 2] * z
        d[k][i] = -(w[k, 0] * x + w[k, 1] * y + w[k, 2] * z)
    # part[S][j]: sub-determinant of corner j in subset S
    part: dict[tuple[int, ...], dict[int, Array]] = {(i,): {i: np.ones(n)} for i in range(4)}
    for subset in SUBSETS[4:]:
        part[subset] = {}
        for j in subset:
            rest = tuple(i for i in subset if i != j)
            m = rest[0]
            total = part[rest][m] * d[m][j]
            for i in rest[1:]:
                total = total + part[rest][i] * (d[i][j] - d[i][m])
            part[subset][j] = total
    # the subset whose own determinants are all positive, while adding any other corner would not help
    chosen = np.full(n, -1, dtype=np.int8)
    for subset in SUBSETS:
        good = chosen < 0
        for j in subset:
            if len(subset) > 1:
                good &= part[subset][j] > 0
        for k in range(4):
            if k not in subset:
                good &= part[tuple(sorted((*subset, k)))][k] <= 0
        chosen[good] = _ORDER[subset]
    weights = np.zeros((4, n))
    for subset in SUBSETS:
        rows = np.flatnonzero(chosen == _ORDER[subset])
        if len(rows):
            parts = [part[subset][j][rows] for j in subset]
            total = sum(parts[1:], parts[0])
            for j, value in zip(subset, parts, strict=True):
                weights[j, rows] = value / total
    full = np.flatnonzero(chosen == _ORDER[SUBSETS[-1]])
    if len(full):
        # a tetrahedron all but flat may seem to hold the origin by rounding alone: then its weights do not lead there
        at = (weights[:, None, full] * corners[:, :, full]).sum(axis=0)
        chosen[full[(at**2).sum(axis=0) > _AT_ORIGIN**2]] = -1
    left = chosen < 0
    if careful is not None:
        left |= careful & (chosen != _ORDER[SUBSETS[-1]])
    rows = np.flatnonzero(left)
    if len(rows):
        weights[:, rows] = _carefully(corners[:, :, rows])
    return weights, chosen == _ORDER[SUBSETS[-1]]


def _zero(n: int) -> Array:
    return np.zeros(n)


def _carefully(corners: Array) -> Array:
    """Return the best weights of all subsets short of all four corners.

    Triangles are worked out from their shortest side, made square: one thin as a hair loses nothing then.
    """
    n = corners.shape[2]
    best, weights = np.full(n, np.inf), np.zeros((4, n))

    def look(share: Array) -> None:
        nonlocal best, weights
        at = (share[:, None] * corners).sum(axis=0)
        square = np.where((share >= 0).all(axis=0), (at**2).sum(axis=0), np.inf)
        less = square < best
        best, weights = np.where(less, square, best), np.where(less, share, weights)

    for i in range(4):
        share = np.zeros((4, n))
        share[i] = 1.0
        look(share)
    for i, j in SUBSETS[4:10]:
        share = np.zeros((4, n))
        side = corners[j] - corners[i]
        share[j] = -_dot(corners[i], side) / np.maximum(_dot(side, side), 1e-300)
        share[i] = 1.0 - share[j]
        look(share)
    for subset in SUBSETS[10:14]:
        for i, j, k in (subset, (subset[1], subset[2], subset[0]), (subset[0], subset[2], subset[1])):
            short, long = corners[j] - corners[i], corners[k] - corners[i]
            size = np.maximum(_dot(short, short), 1e-300)
            lean = _dot(short, long) / size
            square = long - lean * short
            share = np.zeros((4, n))
            share[k] = -_dot(corners[i], square) / np.maximum(_dot(square, square), 1e-300)
            share[j] = -_dot(corners[i], short) / size - share[k] * lean
            share[i] = 1.0 - share[j] - share[k]
            look(share)
    return weights


def _dot(one: Array, other: Array) -> Array:
    product: Array = one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
    return product
