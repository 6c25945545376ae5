"""How an axle runs through its travel window in pictures that move."""

from __future__ import annotations

import math


def swung(window: tuple[float, float], turn: float) -> float:
    """Return the travel of an axle that swings through its window.

    Parameters
    ----------
    window : (float, float)
        (rebound, jounce), mm; the first is negative.
    turn : float
        How much of a cycle has gone by, 1 for all of it; at 0 the axle rises through the middle of the window.

    Returns
    -------
    float
        Travel from rest, mm, jounce +.
    """
    low, high = window
    return (low + high) / 2.0 + (high - low) / 2.0 * math.sin(2.0 * math.pi * turn)
