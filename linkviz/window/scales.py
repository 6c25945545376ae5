"""What a graph shows, and round values along its axes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

STATES = ("as built", "lifted", "corrected")
"""The three states, in the order they are drawn."""


@dataclass(frozen=True, eq=False)
class Curves:
    """What one graph shows.

    Attributes
    ----------
    travel : ndarray
        Wheel travel from rest, mm.
    values : mapping
        For each state drawn, the quantity over travel, mm or deg; NaN where it is not reached.
    length : bool
        Whether the quantity is a length.
    """

    travel: Array
    values: Mapping[str, Array]
    length: bool


def nice_step(span: float, count: int = 5) -> float:
    """Return a step of 1, 2, 2.5 or 5 times a power of ten that parts `span` into about `count`."""
    rough = max(span, 1e-9) / count
    power = 10.0 ** np.floor(np.log10(rough))
    for factor in (1.0, 2.0, 2.5, 5.0):
        if rough <= factor * power * (1.0 + 1e-9):
            return float(factor * power)
    return float(10.0 * power)


def ticks(low: float, high: float, count: int) -> list[float]:
    """Return round values between two ends."""
    step = nice_step(high - low, count)
    first = int(np.ceil(low / step - 1e-9))
    return [round(step * i, 9) + 0.0 for i in range(first, int(np.floor(high / step + 1e-9)) + 1)]
