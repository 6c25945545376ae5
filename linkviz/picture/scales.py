"""Round values along the axes of a graph, and how much of a quantity it shows."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FAR = 10.0
"""A quantity that passes through infinity is shown up to this many times its median size."""


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


def span(lines: Iterable[Array], least: float, unbounded: bool = False) -> tuple[float, float]:
    """Return the lowest and the highest value a graph shows, with some room beyond.

    Parameters
    ----------
    lines : iterable of ndarray
        What is drawn; values that are not finite do not count.
    least : float
        A range narrower than this would show rounding errors as hills.
    unbounded : bool
        Whether the quantity can be infinite: what is `FAR` larger than most of it is left out then.

    Notes
    -----
    Zero is shown unless everything keeps further from it than half the range of the values.
    """
    values = np.concatenate([np.zeros(0), *(line[np.isfinite(line)] for line in lines)])
    if not len(values):
        return (-least, least)
    if unbounded:
        size = np.abs(values)
        near = values[size <= FAR * np.median(size)]
        values = near if len(near) else values
    low, high = float(values.min()), float(values.max())
    if max(low, -high) <= 0.5 * max(high - low, least):
        low, high = min(low, 0.0), max(high, 0.0)
    room = max(0.08 * (high - low), (least - (high - low)) / 2.0)
    return (low - room, high + room)
