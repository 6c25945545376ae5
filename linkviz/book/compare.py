"""Two jobs side by side: what is asked, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping

from linkviz.analysis.compare import NAMES, Comparison, compare
from linkviz.analysis.findings import findings
from linkviz.analysis.setup import Setup
from linkviz.analysis.telling import Cell
from linkviz.book.model import Whole
from linkviz.frozen import Frozen, names_of
from linkviz.units import Unit, format_length

PARTS = {
    "lift": "Lift",
    "drop": "Bracket drop",
    "shift": "Bar's frame end outboard",
    "bar_longer": "Bar longer",
    "axle_raise": "Bar's axle end up",
    "valve_rise": "Valve rod up",
}
"""Values of a setup in words."""


class Line(Frozen):
    """One line of the comparison.

    Attributes
    ----------
    label : str
        What is compared.
    cells : tuple of Cell
        One for each job.
    plain : str
        What it means, or "".
    """

    label: str
    cells: tuple[Cell, Cell]
    plain: str = ""

    @property
    def differs(self) -> bool:
        """Return whether the two jobs differ in it."""
        return self.cells[0].text != self.cells[1].text


def side_by_side(one: Whole, other: Whole, unit: Unit = "mm") -> tuple[Line, ...]:
    """Lay two jobs side by side, each as it stands: with its lift and its parts.

    Parameters
    ----------
    one, other : Whole
        The jobs.
    unit : {"mm", "in"}
        Unit of the lengths in the text.

    Returns
    -------
    tuple of Line
        First who and what, then the parts that either has, then the findings of the state each job is in.
    """
    pair = (one, other)
    lines = [
        _line("Customer", *(whole.job.customer or "-" for whole in pair)),
        _line("Status", *(whole.job.status for whole in pair)),
        _line("Vehicle", *(whole.vehicle.name for whole in pair)),
    ]
    for name in names_of(Setup):
        values = [getattr(whole.setup, name) for whole in pair]
        if any(values) or name == "lift":
            lines.append(_line(PARTS.get(name, name), *(format_length(value, unit) for value in values)))
    comparisons = [compare(whole.vehicle, whole.setup) for whole in pair]
    tables = [findings(comparison, unit).rows for comparison in comparisons]
    labels = dict.fromkeys(row.label for rows in tables for row in rows)
    for label in labels:
        rows = [next((row for row in table if row.label == label), None) for table in tables]
        cells = [
            _cell(comparison, row.cells) if row else Cell("-")
            for comparison, row in zip(comparisons, rows, strict=True)
        ]
        plain = next(row.plain for row in rows if row)
        lines.append(Line(label, (cells[0], cells[1]), plain))
    return tuple(lines)


def _cell(comparison: Comparison, cells: Mapping[str, Cell]) -> Cell:
    """Return the cell of the state a job is in: the last of those that come about."""
    there = [name for name in NAMES if name in comparison.cases and name in cells]
    return cells[there[-1]] if there else Cell("-")


def _line(label: str, one: str, other: str) -> Line:
    return Line(label, (Cell(one), Cell(other)))
