"""A quantity over wheel travel or axle roll, for each of the compared states: what a graph shows and a table lists."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np
from msgspec import field
from numpy.typing import NDArray

from linkviz.analysis.compare import Comparison, Name
from linkviz.analysis.quantities import Quantity
from linkviz.analysis.study import Study, study_all
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array

Axis = Literal["travel", "roll"]
"""What a quantity is drawn over."""


class Curves(Frozen, eq=False):
    """One quantity in every state.

    Attributes
    ----------
    quantity : Quantity
    axis : {"travel", "roll"}
        What `x` is: wheel travel from rest, mm, or roll of the axle, deg.
    x : ndarray, shape (n,)
        Where the values belong, rising.
    held : float
        What the other one stands at meanwhile: deg if `axis` is the travel, mm if it is the roll.
    values : mapping of str to ndarray, shape (n,)
        For each state the quantity in its own unit; NaN where the axle does not get, infinite for the quantity's
        own reason (`Quantity.infinite`).
    stops : mapping of str to str
        For each state whose axle does not get everywhere, what stops it.
    missing : str
        Why there are no values, "" if there are.
    stale : bool
        Whether they belong to what was there before and new ones are on their way.
    """

    quantity: Quantity
    axis: Axis
    x: Array
    held: float
    values: Mapping[Name, Array] = field(default_factory=dict)
    stops: Mapping[Name, str] = field(default_factory=dict)
    missing: str = ""
    stale: bool = False

    def at(self, x: float) -> dict[Name, float]:
        """Return what each state's line says at a place between its points; NaN and infinite as in `values`."""
        return {name: value_at(self.x, values, self.quantity, x) for name, values in self.values.items()}

    @property
    def breaks(self) -> bool:
        """Return whether a line is broken because the quantity is infinite there."""
        return any(
            bool(np.isinf(values).any()) or bool(poles(values, self.quantity).any()) for values in self.values.values()
        )


def studies_over(comparison: Comparison, names: Sequence[Name], axis: Axis, x: Array, held: float) -> dict[Name, Study]:
    """Study some of the compared states over travel or roll; the level travel window is at hand and costs nothing.

    Parameters
    ----------
    comparison : Comparison
    names : sequence of str
        Which of its states.
    axis : {"travel", "roll"}
        What is varied.
    x : ndarray, shape (n,)
        mm from rest, or deg.
    held : float
        What the other one stands at, deg or mm.
    """
    if axis == "travel" and held == 0.0 and x is comparison.travel:
        return {name: comparison.cases[name].study for name in names}
    travel, roll = (x, np.radians(held)) if axis == "travel" else (held, np.radians(x))
    requests = [(comparison.cases[name].study.build, travel, roll) for name in names]
    return dict(zip(names, study_all(requests), strict=True))


def line(study: Study, quantity: Quantity) -> Array:
    """Return a quantity at each state of a study; NaN where the axle does not get, shape (n,)."""
    values: Array = np.where(study.reached, quantity.of(study), np.nan)
    return values


def stop(study: Study) -> str:
    """Return what keeps the axle from some states of a study, nearest to the middle first; "" if nothing does."""
    middle = len(study) // 2
    words = study.stopped_by
    return next((words[i] for i in sorted(range(len(study)), key=lambda i: abs(i - middle)) if words[i]), "")


# -- values that pass through infinity


def poles(values: Array, quantity: Quantity) -> NDArray[np.bool_]:
    """Return between which neighbours a quantity passes through infinity, shape (n - 1,).

    A value that can be infinite changes its sign there, and gets larger on both sides the nearer it comes; where it
    passes through zero it gets smaller.
    """
    if not quantity.infinite or len(values) < 3:
        return np.zeros(max(len(values) - 1, 0), dtype=bool)
    with np.errstate(invalid="ignore"):
        size = np.abs(values)
        turns = values[:-1] * values[1:] < 0
        grows = np.append(False, size[1:-1] > size[:-2])
        shrinks = np.append(size[1:-1] > size[2:], False)
    grows[0], shrinks[-1] = shrinks[0], grows[-1]
    found: NDArray[np.bool_] = turns & grows & shrinks & np.isfinite(values[:-1]) & np.isfinite(values[1:])
    return found


def broken(x: Array, values: Array, quantity: Quantity) -> tuple[Array, Array]:
    """Return a line to draw: NaN wherever there is nothing to join, one put in where it passes through infinity."""
    after = np.flatnonzero(poles(values, quantity)) + 1
    places = np.insert(x, after, (x[after - 1] + x[after]) / 2)
    return places, np.insert(np.where(np.isfinite(values), values, np.nan), after, np.nan)


def value_at(x: Array, values: Array, quantity: Quantity, at: float) -> float:
    """Return the value between two points, on a straight line; infinite where the line passes through infinity.

    NaN where one of the two does not exist, and outside.
    """
    if not len(x) or not x[0] <= at <= x[-1]:
        return float("nan")
    i = min(int(np.searchsorted(x, at, side="right")) - 1, len(x) - 2) if len(x) > 1 else 0
    if at == x[i]:
        return float(values[i])
    if at == x[i + 1]:
        return float(values[i + 1])
    pair = values[i : i + 2]
    if np.isnan(pair).any():
        return float("nan")
    if np.isinf(pair).any() or poles(values, quantity)[i]:
        return float("inf")
    part = (at - x[i]) / (x[i + 1] - x[i])
    return float(pair[0] + part * (pair[1] - pair[0]))
