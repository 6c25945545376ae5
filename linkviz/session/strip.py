"""What the graph strip shows: the chosen quantity alone, and of it only the lines whose inputs changed."""

from __future__ import annotations

import numpy as np

from linkviz.analysis.compare import Case, Comparison, Name, compare
from linkviz.analysis.curves import Axis, Curves, line, stop, studies_over
from linkviz.analysis.quantities import BY_KEY, Quantity
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import Study
from linkviz.errors import FAILED
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.session.view import ROLL_RANGE_DEG, View
from linkviz.vehicle.model import Vehicle

ROLLS: Array = np.linspace(*ROLL_RANGE_DEG, 41)
"""Rolls at which a line over roll is computed, deg."""


class Request(Frozen):
    """A quantity that takes too long for the thread that paints."""

    vehicle: Vehicle
    setup: Setup
    key: str
    axis: Axis
    held: float


def slow_curves(request: Request) -> Curves:
    """Compute the curves of a slow quantity; safe in a thread of its own."""
    return Strip().compute(compare(request.vehicle, request.setup), BY_KEY[request.key], request.axis, request.held)


class Strip:
    """Curves of one quantity after another; what has not changed is kept."""

    def __init__(self) -> None:
        self.request: Request | None = None
        """What is to be worked out elsewhere by `slow_curves` and brought to `take`; None if nothing is."""
        self._studies: dict[Name, tuple[Case, Axis, float, Study]] = {}
        self._lines: dict[Name, tuple[Study, Quantity, Array, str]] = {}
        self._last: Curves | None = None
        self._slow: tuple[Request, Curves] | None = None
        self._dimmed: Curves | None = None

    def curves(self, comparison: Comparison, view: View) -> Curves:
        """Return what is to be shown; the same object as long as nothing of it changed."""
        self.request = None
        quantity, axis = BY_KEY.get(view.graph, BY_KEY["sway"]), view.graph_axis
        held = view.roll_deg if axis == "travel" else view.travel
        if quantity.not_over_roll:
            held = 0.0
        if not quantity.slow or quantity.missing(comparison.vehicle) or (axis == "roll" and quantity.not_over_roll):
            return self.compute(comparison, quantity, axis, held)
        request = Request(comparison.vehicle, comparison.setup, quantity.key, axis, held)
        if self._slow is not None and self._slow[0] == request:
            return self._slow[1]
        self.request = request
        return self._earlier(comparison, quantity, axis, held)

    def take(self, request: Request, found: Curves | None) -> None:
        """Take an answer of `slow_curves`; None if it failed."""
        if found is None:
            found = Curves(BY_KEY[request.key], request.axis, ROLLS, request.held, missing=FAILED)
        self._slow = (request, found)
        self._dimmed = None

    def _earlier(self, comparison: Comparison, quantity: Quantity, axis: Axis, held: float) -> Curves:
        """Return the last answer about this quantity of this vehicle, or nothing yet, marked as not of now."""
        last = self._dimmed
        if last is not None and last.quantity is quantity and last.axis == axis:
            return last
        if self._slow is not None and self._slow[1].quantity is quantity and self._slow[1].axis == axis:
            last = self._slow[1].replace(stale=True)
        else:
            last = Curves(quantity, axis, comparison.travel if axis == "travel" else ROLLS, held, stale=True)
        self._dimmed = last
        return last

    def compute(self, comparison: Comparison, quantity: Quantity, axis: Axis, held: float) -> Curves:
        """Return the curves of a quantity over travel (held: roll, deg) or roll (held: travel, mm)."""
        x = comparison.travel if axis == "travel" else ROLLS
        missing = quantity.missing(comparison.vehicle) or (quantity.not_over_roll if axis == "roll" else "")
        lines: dict[Name, tuple[Study, Quantity, Array, str]] = {}
        if not missing:
            for name, study in self._studied(comparison, axis, x, held).items():
                kept = self._lines.get(name)
                if kept is None or kept[0] is not study or kept[1] is not quantity:
                    kept = (study, quantity, line(study, quantity), stop(study))
                lines[name] = kept
        last = self._last
        same = last is not None and (last.quantity, last.axis, last.held, last.missing) == (
            quantity, axis, held, missing
        )  # fmt: skip
        if last is not None and same and last.x is x and lines == self._lines:
            return last
        self._lines = lines
        self._last = Curves(
            quantity,
            axis,
            x,
            held,
            {name: values for name, (_, _, values, _) in lines.items()},
            {name: words for name, (_, _, _, words) in lines.items() if words},
            missing,
        )
        return self._last

    def _studied(self, comparison: Comparison, axis: Axis, x: Array, held: float) -> dict[Name, Study]:
        if axis == "travel" and held == 0.0:
            self._studies = {}
            return studies_over(comparison, tuple(comparison.cases), axis, x, held)
        kept = {
            name: there
            for name, case in comparison.cases.items()
            if (there := self._studies.get(name)) is not None and there[0] is case and there[1:3] == (axis, held)
        }
        new = [name for name in comparison.cases if name not in kept]
        for name, study in (studies_over(comparison, new, axis, x, held) if new else {}).items():
            kept[name] = (comparison.cases[name], axis, held, study)
        self._studies = kept
        return {name: kept[name][3] for name in comparison.cases}
