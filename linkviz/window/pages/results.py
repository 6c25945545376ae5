"""A table of results: a row a quantity, a column a state, each cell with its sign and its words for a screen reader."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QIcon, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QSizePolicy, QTableWidget, QTableWidgetItem

from linkviz.analysis.telling import Row
from linkviz.window.icons import icon
from linkviz.window.plain import plain_tip
from linkviz.window.reading_order import show_current
from linkviz.window.theme import LIGHT, Colours, scaled

_WORDS = {"ok": "good", "warn": "look at this", "hit": "not good"}
_FIRST = 0.42
"""Part of the width the labels take."""


class Results(QTableWidget):
    """A table as tall as its rows.

    Parameters
    ----------
    name : str
        What a screen reader calls it.
    """

    def __init__(self, name: str) -> None:
        super().__init__(0, 1)
        self.setAccessibleName(name)
        self.setObjectName("columns")
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.currentCellChanged.connect(self._went)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        header = self.horizontalHeader()
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setMinimumSectionSize(20)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._bold = scaled(self.font(), 1.0, bold=True)
        header.setFont(self._bold)
        side = QFontMetrics(self.font()).height()
        self.setIconSize(QSize(side, side))
        self._colours: Colours = LIGHT
        self._rows: tuple[Row, ...] = ()
        self._names: tuple[str, ...] = ()

    def _went(self, *_: int) -> None:
        show_current(self)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        rows, self._rows = self._rows, ()
        self.show_rows(rows, self._names)

    def show_rows(self, rows: Sequence[Row], names: Sequence[str], heads: Sequence[str] = ()) -> None:
        """Show rows; `names` are the states in order, `heads` what to call them if not by their names."""
        rows, names = tuple(rows), tuple(names)
        if rows == self._rows and names == self._names:
            return
        self._rows = rows
        if names != self._names or self.columnCount() != 1 + len(names):
            self._names = names
            self.setColumnCount(1 + len(names))
            self.setHorizontalHeaderLabels(["", *(heads or names)])
            self._share_width()
        self.setRowCount(len(rows))
        tints = self._colours.signs
        for i, row in enumerate(rows):
            self._put(i, 0, row.label, "", plain_tip(row.plain), tints)
            for j, name in enumerate(names):
                cell = row.cells.get(name)
                self._put(i, 1 + j, cell.text if cell else "-", cell.icon if cell else "", plain_tip(row.plain), tints)
        self._fit()

    def _put(self, i: int, j: int, text: str, sign: str, tip: str, tints: dict[str, str]) -> None:
        item = self.item(i, j)
        if item is None:
            item = QTableWidgetItem()
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            self.setItem(i, j, item)
        tint = tints.get(sign, self._colours.text)
        if (item.text(), item.data(Qt.ItemDataRole.UserRole), item.toolTip()) == (text, (sign, tint), tip):
            return
        item.setText(text)
        item.setToolTip(tip)
        item.setData(Qt.ItemDataRole.UserRole, (sign, tint))
        item.setIcon(icon(sign, tint) if sign else QIcon())
        item.setForeground(QColor(tint))
        item.setFont(self._bold if sign in ("warn", "hit") else self.font())
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{text}, {_WORDS[sign]}" if sign else text)

    def _share_width(self) -> None:
        wide, count = self.viewport().width(), max(self.columnCount() - 1, 1)
        first = round(wide * _FIRST)
        self.setColumnWidth(0, first)
        for j in range(count):
            self.setColumnWidth(1 + j, (wide - first) // count)

    def _fit(self) -> None:
        metrics = {False: QFontMetrics(self.font()), True: QFontMetrics(self._bold)}
        total = self.horizontalHeader().sizeHint().height() + 2
        for i in range(self.rowCount()):
            tall = metrics[True].height()
            for j in range(self.columnCount()):
                item = self.item(i, j)
                room = self.columnWidth(j) - 10 - (0 if item.icon().isNull() else self.iconSize().width() + 6)
                box = metrics[item.font().bold()].boundingRect(
                    0, 0, max(room, 20), 1000, Qt.TextFlag.TextWordWrap, item.text()
                )
                tall = max(tall, box.height())
            self.setRowHeight(i, tall + 5)
            total += tall + 5
        self.setFixedHeight(total)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Fit columns and rows to the new width."""
        super().resizeEvent(event)
        self._share_width()
        self._fit()
