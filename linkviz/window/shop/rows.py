"""The rows of the job book: a model over the list, sorted by a click on a heading."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from linkviz.book.shelf import Entry
from linkviz.units import Unit, format_length
from linkviz.window.plain import plain_tip

Index = QModelIndex | QPersistentModelIndex
_ASCENDING = Qt.SortOrder.AscendingOrder


def _day(entry: Entry) -> str:
    try:
        return time.strftime("%Y-%m-%d", time.localtime(entry.changed)) if entry.changed else ""
    except (ValueError, OverflowError, OSError):
        return ""  # a time that no clock shows


class Rows(QAbstractTableModel):
    """The jobs as rows.

    Parameters
    ----------
    unit : {"mm", "in"}
        Unit of the lengths.
    """

    def __init__(self, unit: Unit) -> None:
        super().__init__()
        self._entries: list[Entry] = []
        self._sorted = (0, Qt.SortOrder.DescendingOrder)
        self.columns: tuple[tuple[str, Callable[[Entry], str], Callable[[Entry], object]], ...] = (
            ("Number", lambda e: e.number or "-", lambda e: e.number),
            ("Customer", lambda e: e.customer or ("damaged" if e.damage else "-"), lambda e: e.customer.casefold()),
            ("What is asked", lambda e: e.title or e.name, lambda e: e.title.casefold()),
            ("Vehicle", lambda e: e.vehicle, lambda e: e.vehicle.casefold()),
            ("Lift", lambda e: "" if e.damage else format_length(e.lift, unit), lambda e: e.lift),
            ("Status", lambda e: e.status or "damaged", lambda e: e.status.casefold()),
            ("Saved", _day, lambda e: e.changed),
        )

    def show(self, entries: Sequence[Entry]) -> None:
        """Show other entries."""
        self.beginResetModel()
        self._entries = list(entries)
        self._order()
        self.endResetModel()

    def entry(self, row: int) -> Entry:
        """Return the entry of a row."""
        return self._entries[row]

    def row_of(self, name: str) -> int:
        """Return the row of a file, or -1."""
        return next((i for i, entry in enumerate(self._entries) if entry.name == name), -1)

    def _order(self) -> None:
        column, order = self._sorted
        key = self.columns[column][2]
        self._entries.sort(key=key, reverse=order != _ASCENDING)  # type: ignore[arg-type]

    def sort(self, column: int, order: Qt.SortOrder = _ASCENDING) -> None:
        """Sort by a column."""
        self.layoutAboutToBeChanged.emit()
        self._sorted = (max(column, 0), order)
        places = self.persistentIndexList()
        there = [self._entries[place.row()] for place in places]
        self._order()
        # what is picked stays picked, wherever it goes
        row = {id(entry): i for i, entry in enumerate(self._entries)}
        self.changePersistentIndexList(
            places,
            [self.index(row[id(entry)], place.column()) for entry, place in zip(there, places, strict=True)],
        )
        self.layoutChanged.emit()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008, N802
        """Return how many jobs are shown."""
        return 0 if parent.isValid() else len(self._entries)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008, N802
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the text of a cell."""
        if not index.isValid():
            return None
        entry = self._entries[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self.columns[index.column()][1](entry)
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(entry.damage or self.columns[index.column()][1](entry))
        return None

    def headerData(  # noqa: N802
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a heading."""
        if orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section][0]
        return None
