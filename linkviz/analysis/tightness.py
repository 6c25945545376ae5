"""How a gap stands against the margin that was asked for, and which of several is the tightest.

Contact comes before everything else, the deepest first; where nothing touches, what counts is the room to spare: the
gap less the margin of that same pair. A gap of 5 mm where 50 mm were asked for is tighter than 3 mm where 2 mm were.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Sign = Literal["ok", "warn", "hit"]


def sign_of(gap: float, margin: float) -> Sign:
    """Return "hit" for contact, "warn" within the margin, "ok" clear of it; gap and margin in mm."""
    return "hit" if gap <= 0 else ("warn" if gap < margin else "ok")


def rank(gap: float, margin: float) -> tuple[bool, float]:
    """Return what gaps (mm) with their margins (mm) are sorted by, the tightest first."""
    return gap > 0, gap if gap <= 0 else gap - margin


def tightest(gaps: Array, margins: Array) -> NDArray[np.intp]:
    """Return which row of gaps is the tightest in each column.

    Parameters
    ----------
    gaps : ndarray, shape (k, n)
        mm; negative is depth.
    margins : ndarray, shape (k, 1) or (k, n)
        mm.

    Returns
    -------
    ndarray of int, shape (n,)
    """
    touches = gaps.min(axis=0) <= 0
    found: NDArray[np.intp] = np.where(touches, gaps.argmin(axis=0), (gaps - margins).argmin(axis=0))
    return found
