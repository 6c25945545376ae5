"""A table of results: what was found for each state, as rows of `linkviz.analysis.telling`."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.analysis.telling import Cell, Row
from linkviz.window.pages.state_table import NOTHING, StateTable
from linkviz.window.theme import Colours


class Results(StateTable):
    """The table; which states it compares may change.

    Parameters
    ----------
    name : str
        What a screen reader calls it.
    """

    def __init__(self, name: str) -> None:
        super().__init__(name, 0.42)
        self._rows: tuple[Row, ...] = ()
        self._names: tuple[str, ...] = ()

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        self.show_rows(self._rows, self._names)

    def show_rows(self, rows: Sequence[Row], names: Sequence[str], heads: Sequence[str] = ()) -> None:
        """Show rows; `names` are the states in order, `heads` what to call them if not by their names."""
        rows, names = tuple(rows), tuple(names)
        if (rows, names) == (self._rows, self._names) and not self._fresh:
            return
        self._rows = rows
        if names != self._names:
            self._names = names
            self.setColumnCount(1 + len(names))
            self.setHorizontalHeaderLabels(["", *(heads or names)])
            self.share_width()
        self.setRowCount(len(rows))
        for i, row in enumerate(rows):
            self.put_cell(i, 0, row.label, "", row.plain)
            for j, name in enumerate(names):
                cell = row.cells.get(name, Cell(NOTHING, "none"))
                self.put_cell(i, 1 + j, cell.text, cell.icon, row.plain)
        self._fresh = False
        self.fit_rows()
