"""A table of typed values: shows rows of text, sends what was typed, touches only cells that changed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QIcon, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from linkviz.window.plain import plain_tip
from linkviz.window.reading_order import show_current

RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
USUAL = 15
"""Height of the letters that widths in screen points are given for."""
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class TypedTable(QTableWidget):
    """A table whose cells may be typed into.

    Parameters
    ----------
    name : str
        Accessible name.
    heads : sequence of str
        Headings of the columns; the first one takes the room that is left.
    width : int
        Width of the other columns, screen points.
    """

    typed = Signal(int, int, str)
    picked = Signal(int)

    def __init__(self, name: str, heads: Sequence[str], width: int = 66) -> None:
        super().__init__(0, len(heads))
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels(list(heads))
        self.verticalHeader().hide()
        letters = self.fontMetrics().height()
        self.verticalHeader().setDefaultSectionSize(max(23, letters + 8))
        self.verticalHeader().setMinimumSectionSize(20)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setMinimumSectionSize(30)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in range(1, len(heads)):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, max(width, width * letters // USUAL))
            self.horizontalHeaderItem(column).setTextAlignment(RIGHT)
        self.horizontalHeaderItem(0).setTextAlignment(LEFT)
        self._quiet = False
        self.itemChanged.connect(self._changed)
        self.currentCellChanged.connect(self._picked)

    def show_rows(self, rows: Sequence[Sequence[str]], typed: Sequence[bool], icons: Sequence[QIcon] = ()) -> None:
        """Show rows of text; `typed` says which columns may be typed into."""
        self._quiet = True
        if self.rowCount() != len(rows):
            self.setRowCount(len(rows))
        for i, row in enumerate(rows):
            for j, text in enumerate(row):
                item = self.item(i, j)
                if item is None:
                    item = QTableWidgetItem()
                    item.setTextAlignment(LEFT if j == 0 else RIGHT)
                    flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
                    item.setFlags(flags | Qt.ItemFlag.ItemIsEditable if typed[j] else flags)
                    self.setItem(i, j, item)
                if item.text() != text:
                    item.setText(text)
            if icons and self.item(i, 0).data(Qt.ItemDataRole.UserRole) != icons[i].cacheKey():
                self.item(i, 0).setData(Qt.ItemDataRole.UserRole, icons[i].cacheKey())
                self.item(i, 0).setIcon(icons[i])
        self._quiet = False

    def show_tip(self, row: int, column: int, tip: str) -> None:
        """Say more about a cell; nothing was typed by it."""
        self._quiet = True
        item, tip = self.item(row, column), plain_tip(tip)
        if item.toolTip() != tip:
            item.setToolTip(tip)
        self._quiet = False

    def show_heads(self, heads: Sequence[str]) -> None:
        """Show other headings."""
        for column, text in enumerate(heads):
            item = self.horizontalHeaderItem(column)
            if item.text() != text:
                item.setText(text)

    def fit_columns(self, least: int = 30) -> None:
        """Make the columns after the first just wide enough for what they show, so that the first has room."""
        ruler = self.fontMetrics()
        for column in range(1, self.columnCount()):
            texts = [self.horizontalHeaderItem(column).text(), *self.texts(column)]
            width = max(least, 9 + max(ruler.horizontalAdvance(line) for text in texts for line in text.split("\n")))
            if self.columnWidth(column) != width:
                self.setColumnWidth(column, width)

    def texts(self, column: int) -> list[str]:
        """Return what a column shows."""
        return [self.item(row, column).text() for row in range(self.rowCount())]

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Break the words of the rows anew where they are broken."""
        super().resizeEvent(event)
        if self.wordWrap() and event.size().width() != event.oldSize().width() and self.rowCount():
            as_high_as_its_rows(self)

    def pick(self, row: int) -> None:
        """Show which row is picked, -1 for none, without saying so."""
        if row == self.currentRow() and (row < 0) == (not self.selectedItems()):
            return
        self._quiet = True
        if row < 0:
            self.setCurrentCell(-1, -1)
            self.clearSelection()
        else:
            self.setCurrentCell(row, max(self.currentColumn(), 0))
        self._quiet = False

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Begin at the first row, so that the keys have somewhere to go from."""
        super().focusInEvent(event)
        if self.currentRow() < 0 and self.rowCount() and event.reason() != Qt.FocusReason.MouseFocusReason:
            self.setCurrentCell(0, min(1, self.columnCount() - 1))

    def _changed(self, item: QTableWidgetItem) -> None:
        if not self._quiet:
            self.typed.emit(item.row(), item.column(), item.text())

    def _picked(self, row: int, column: int, last_row: int, last_column: int) -> None:
        show_current(self)
        if not self._quiet and row >= 0 and row != last_row:
            self.picked.emit(row)


def as_high_as_its_rows(table: TypedTable) -> None:
    """Let a table be as high as its rows: the page scrolls, the table does not."""
    table.resizeRowsToContents()
    rows = sum(table.rowHeight(i) for i in range(table.rowCount()))
    height = table.horizontalHeader().sizeHint().height() + rows + 2 * table.frameWidth() + 2
    if table.height() != height or table.minimumHeight() != height:
        table.setFixedHeight(height)
