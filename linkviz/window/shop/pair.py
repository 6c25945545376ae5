"""Two jobs side by side."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from linkviz.book.compare import Line
from linkviz.window.icons import SIGN_WORDS, icon
from linkviz.window.plain import plain_tip
from linkviz.window.theme import Colours, scaled


class Pair(QDialog):
    """Shows the comparison of two jobs.

    Parameters
    ----------
    lines : sequence of Line
        What `linkviz.book.compare.side_by_side` found.
    titles : tuple of str
        What the two jobs are called.
    colours : Colours
        Colours of the signs.
    """

    def __init__(
        self, lines: tuple[Line, ...], titles: tuple[str, str], colours: Colours, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Two jobs side by side")
        self.resize(860, 620)
        column = QVBoxLayout(self)
        self.only = QCheckBox("Only what differs")
        self.only.toggled.connect(self._narrow)
        column.addWidget(self.only)
        self._lines = lines
        self.table = QTableWidget(len(lines), 3)
        self.table.setAccessibleName("Two jobs side by side")
        self.table.setHorizontalHeaderLabels(["", *titles])
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setShowGrid(False)
        self.table.setAlternatingRowColors(True)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        tints = colours.signs
        for i, line in enumerate(lines):
            head = QTableWidgetItem(line.label)
            head.setToolTip(plain_tip(line.plain))
            self.table.setItem(i, 0, head)
            for j, cell in enumerate(line.cells):
                item = QTableWidgetItem(cell.text)
                item.setToolTip(plain_tip(line.plain))
                if cell.icon in tints:
                    item.setIcon(icon(cell.icon, tints[cell.icon]))
                    item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{cell.text}, {SIGN_WORDS[cell.icon]}")
                if line.differs:
                    item.setFont(scaled(self.font(), 1.0, bold=True))
                self.table.setItem(i, 1 + j, item)
        column.addWidget(self.table)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)

    def _narrow(self, on: bool) -> None:
        for i, line in enumerate(self._lines):
            self.table.setRowHidden(i, on and not line.differs)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Give long words the lines they need."""
        super().resizeEvent(event)
        self.table.resizeRowsToContents()
