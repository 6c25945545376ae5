"""The choice of a quantity: a list under headings in which one can type a part of the name."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QCompleter, QSizePolicy

from linkviz.analysis.quantities import QUANTITIES
from linkviz.window.still import StillCombo

_SOUGHT = Qt.ItemDataRole.UserRole + 1


class _Completer(QCompleter):
    """Finds a quantity by any part of its name, its heading or what it means, and shows its name."""

    def pathFromIndex(self, index: QModelIndex | QPersistentModelIndex) -> str:  # noqa: N802
        """Return what stands in the line when an entry is taken."""
        return str(index.data(Qt.ItemDataRole.DisplayRole))


class QuantityChoice(StillCombo):
    """All quantities under their headings."""

    chosen = Signal(str)
    """Key of the quantity that was picked."""

    def __init__(self) -> None:
        super().__init__()
        self._key = ""
        self.setAccessibleName("Quantity of the graph")
        self.setToolTip("Pick what the graph shows; type a part of its name to find it")
        model = QStandardItemModel(self)
        group = ""
        for quantity in QUANTITIES:
            if quantity.group != group:
                group = quantity.group
                head = QStandardItem(group)
                head.setFlags(Qt.ItemFlag.NoItemFlags)
                font = head.font()
                font.setBold(True)
                head.setFont(font)
                head.setData("", _SOUGHT)
                model.appendRow(head)
            item = QStandardItem(quantity.label)
            item.setData(quantity.key, Qt.ItemDataRole.UserRole)
            item.setData(f"{quantity.label} {group}", _SOUGHT)
            item.setToolTip(quantity.plain)
            model.appendRow(item)
        self.setEditable(True)
        self.setInsertPolicy(StillCombo.InsertPolicy.NoInsert)
        self.setModel(model)
        self.setMaxVisibleItems(18)
        self.setSizeAdjustPolicy(StillCombo.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(8)
        self.setMaximumWidth(280)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.view().setMinimumWidth(260)
        finder = _Completer(model, self)
        finder.setCompletionRole(_SOUGHT)
        finder.setFilterMode(Qt.MatchFlag.MatchContains)
        finder.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        finder.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        self.setCompleter(finder)
        self.activated.connect(self._take)
        self.lineEdit().editingFinished.connect(self._settle)
        self.lineEdit().setAccessibleName("Quantity of the graph")

    def show_key(self, key: str) -> None:
        """Show a quantity."""
        if key != self._key:
            self._key = key
            self.setCurrentIndex(self.findData(key))
            self.lineEdit().setCursorPosition(0)

    def _take(self, index: int) -> None:
        key = self.itemData(index)
        if key and key != self._key:
            self._key = key
            self.chosen.emit(key)

    def _settle(self) -> None:
        """Take the quantity the typed text finds first, or go back to the one that is shown."""
        text = self.lineEdit().text().strip().lower()
        rows = [i for i in range(self.count()) if self.itemData(i)]
        exact = [i for i in rows if self.itemText(i).lower() == text]
        found = exact or [i for i in rows if text and text in str(self.itemData(i, _SOUGHT)).lower()]
        self._take(found[0] if found else self.findData(self._key))
        self.setCurrentIndex(self.findData(self._key))
        self.lineEdit().setText(self.currentText())
        self.lineEdit().setCursorPosition(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Leave the typed text with Esc; Enter is taken, not passed on."""
        if event.key() == Qt.Key.Key_Escape and self.lineEdit().text() != self.itemText(self.findData(self._key)):
            self.lineEdit().setText(self.itemText(self.findData(self._key)))
            self.lineEdit().selectAll()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Select the text, so that typing begins a search."""
        super().focusInEvent(event)
        self.lineEdit().selectAll()
