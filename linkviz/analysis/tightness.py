"""Which margin was asked for, how a gap stands against it, and which of several gaps is the tightest.

Two parts have one margin wherever they are spoken of: that said for the pair of them, else that of the envelope which
is one of the two, else `MARGIN`. What is said for a pair is the more special, so that it may ask for less as well.

Contact comes before everything else, the deepest first; where nothing touches, what counts is the room to spare: the
gap less the margin of that same pair. A gap of 5 mm where 50 mm were asked for is tighter than 3 mm where 2 mm were.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from linkviz.vehicle.model import Envelope, Vehicle

Array = NDArray[np.float64]
Sign = Literal["ok", "warn", "hit"]
MARGIN = 10.0
"""Margin of two parts that are no envelopes where none was said for them, mm."""


def margins(vehicle: Vehicle, pairs: Iterable[tuple[str, str | Envelope]]) -> list[float]:
    """Return the margin of each pair of parts, mm.

    Parameters
    ----------
    vehicle : Vehicle
        In whose table `pairs` margins may be said.
    pairs : iterable of (str, str or Envelope)
        Name of one part, and the other: its name, or the envelope it is.
    """
    said = {frozenset((own.one, own.other)): own.margin for own in vehicle.pairs}
    found = []
    for one, other in pairs:
        name, usual = (other, MARGIN) if isinstance(other, str) else (other.name, other.margin)
        own = said.get(frozenset((one, name)))
        found.append(usual if own is None else own)
    return found


def shaft_margins(vehicle: Vehicle) -> list[float]:
    """Return the margin between the driveshaft and each envelope, in the order of the file, mm."""
    return margins(vehicle, (("driveshaft", envelope) for envelope in vehicle.envelopes))


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
