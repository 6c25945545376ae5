"""Distance between straight segments in space, many at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def _dot(a: Array, b: Array) -> Array:
    product: Array = a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1] + a[..., 2] * b[..., 2]
    return product


def segment_parameters(p: Array, d: Array, a: Array, e: Array) -> tuple[Array, Array]:
    """Return where two segments come nearest to each other.

    Parameters
    ----------
    p, d : ndarray, shape (..., 3)
        Start and direction (end minus start) of the first segments, mm.
    a, e : ndarray, shape (..., 3)
        The same of the second ones; all broadcast against each other.

    Returns
    -------
    s, t : ndarray
        Parameters from 0 to 1 along the first and the second segment. Segments without length and parallel ones
        are allowed (Ericson, Real-Time Collision Detection, section 5.1.9).
    """
    r = p - a
    dd, ee, de = _dot(d, d), _dot(e, e), _dot(d, e)
    dr, er = _dot(d, r), _dot(e, r)
    tiny = 1e-18
    with np.errstate(all="ignore"):
        denominator = dd * ee - de * de
        crossing = denominator > 1e-12 * dd * ee
        s = np.where(crossing, (de * er - dr * ee) / np.where(crossing, denominator, 1.0), 0.0)
        s = np.clip(s, 0.0, 1.0)
        t = np.where(ee > tiny, (de * s + er) / np.where(ee > tiny, ee, 1.0), 0.0)
        t = np.clip(t, 0.0, 1.0)
        s = np.where(dd > tiny, (de * t - dr) / np.where(dd > tiny, dd, 1.0), 0.0)
        s = np.clip(s, 0.0, 1.0)
        t = np.where(ee > tiny, (de * s + er) / np.where(ee > tiny, ee, 1.0), 0.0)
    return s, np.clip(t, 0.0, 1.0)
