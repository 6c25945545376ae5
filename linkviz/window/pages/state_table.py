"""A table that compares states: a row a quantity, a column a state, each cell with its sign, said to screen readers."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QIcon, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QSizePolicy, QTableWidget, QTableWidgetItem

from linkviz.window.icons import SIGN_WORDS, sign_icons
from linkviz.window.plain import plain_tip
from linkviz.window.reading_order import show_current
from linkviz.window.theme import LIGHT, Colours, scaled

NOTHING = "\N{EN DASH}"
"""Stands where a state has no value."""
PLAIN = Qt.ItemDataRole.UserRole + 1
"""What a row means; the tool tip may say more."""
MARGIN = 7
"""What the style leaves free beside the text of a cell, both sides together, and a point to spare."""
_MOST_MEASURED = 2000
"""Texts whose lines are remembered."""


class _Look(NamedTuple):
    """What a cell shows: its text, whether in bold letters, and the room beside and below the text, screen points."""

    text: str
    bold: bool
    beside: int
    below: int


class StateTable(QTableWidget):
    """A table as tall as its rows, each as tall as its text at the present width; no column cuts a word.

    Parameters
    ----------
    name : str
        What a screen reader calls it.
    share : float
        Part of the width the labels take.
    scale : float
        Size of the letters, as a multiple of the usual one.
    pad : int
        Room between rows, screen points.
    """

    def __init__(self, name: str, share: float, scale: float = 1.0, pad: int = 5) -> None:
        super().__init__(0, 1)
        self._share, self._pad = share, pad
        self.setAccessibleName(name)
        self.setObjectName("columns")
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.currentCellChanged.connect(lambda *_: show_current(self))
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        font = scaled(self.font(), scale)
        self.setFont(font)
        self._bold = scaled(font, 1.0, bold=True)
        header = self.horizontalHeader()
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setMinimumSectionSize(20)
        header.setFont(self._bold)
        side = QFontMetrics(font).height()
        self.setIconSize(QSize(side, side))
        self._colours: Colours = LIGHT
        self._icons: dict[str, QIcon] = {}
        self._fresh = True
        self._broken: dict[tuple[str, int, bool], int] = {}
        self._words: dict[tuple[str, bool], int] = {}
        self._least: list[int] = []

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme; every cell is to be put again."""
        self._colours = colours
        self._icons = sign_icons(colours)
        self._fresh = True
        self._least = []

    def put_cell(self, i: int, j: int, text: str, sign: str, tip: str) -> bool:
        """Show a cell, only what differs of it; return whether its text is another."""
        item = self.item(i, j)
        if item is None:
            item = QTableWidgetItem()
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            self.setItem(i, j, item)
        changed = item.text() != text
        if changed:
            item.setText(text)
        if changed or self._fresh or item.data(Qt.ItemDataRole.UserRole) != sign:
            ink = {"": self._colours.text, **self._colours.signs}
            item.setData(Qt.ItemDataRole.UserRole, sign)
            item.setIcon(self._icons.get(sign, QIcon()))
            item.setForeground(QColor(ink.get(sign, self._colours.soft)))
            item.setFont(self._bold if sign in ("warn", "hit") else self.font())
            words = SIGN_WORDS.get(sign)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{text}, {words}" if words else text)
        if item.data(PLAIN) != tip:
            item.setData(PLAIN, tip)
            item.setToolTip(plain_tip(tip))
        return changed

    def room_below(self, item: QTableWidgetItem) -> int:
        """Return the room a cell wants below its text, screen points."""
        return 0

    def fit_rows(self) -> None:
        """Give every row the lines its text needs at the present width, and the table the height of its rows."""
        rulers = {False: QFontMetrics(self.font()), True: QFontMetrics(self._bold)}
        looks = [[self._look(i, j) for j in range(self.columnCount())] for i in range(self.rowCount())]
        self._make_room(looks, rulers)
        line = rulers[True].height()
        total = self.horizontalHeader().sizeHint().height() + 2
        for i, row in enumerate(looks):
            tall = line
            for j, look in enumerate(row):
                if look is not None:
                    room = max(self.columnWidth(j) - look.beside, 20)
                    tall = max(tall, self._lines(look.text, room, look.bold, rulers[look.bold]) * line + look.below)
            if self.rowHeight(i) != tall + self._pad:
                self.setRowHeight(i, tall + self._pad)
            total += tall + self._pad
        if self.height() != total or self.minimumHeight() != total:
            self.setFixedHeight(total)

    def _look(self, i: int, j: int) -> _Look | None:
        """Return what a cell shows, asked of Qt once for all that goes by it; None if there is none."""
        item = self.item(i, j)
        if item is None:
            return None
        beside = MARGIN + (0 if item.icon().isNull() else self.iconSize().width() + 6)
        return _Look(item.text(), item.font().bold(), beside, self.room_below(item))

    def _lines(self, text: str, room: int, bold: bool, ruler: QFontMetrics) -> int:
        """Return into how many lines a text is broken; measured once, a drag asks for the same ones again and again."""
        key = (text, room, bold)
        found = self._broken.get(key)
        if found is None:
            if len(self._broken) > _MOST_MEASURED:
                self._broken.clear()
            box = ruler.boundingRect(0, 0, room, 1000, Qt.TextFlag.TextWordWrap, text)
            found = self._broken[key] = round(box.height() / ruler.height())
        return found

    def _make_room(self, looks: list[list[_Look | None]], rulers: dict[bool, QFontMetrics]) -> None:
        """See to it that the longest word of every column fits; a column that was wide stays so, nothing jumps."""
        least = [0] * self.columnCount()
        for j in range(self.columnCount()):
            head = self.horizontalHeaderItem(j)
            least[j] = self._word(head.text() if head is not None else "", True, rulers[True]) + MARGIN + 4
            for look in (row[j] for row in looks):
                if look is not None:
                    least[j] = max(least[j], self._word(look.text, look.bold, rulers[look.bold]) + look.beside)
        if len(least) == len(self._least):
            least = [max(pair) for pair in zip(least, self._least, strict=True)]
        if least != self._least:
            self._least = least
            self.updateGeometry()
            self.share_width()

    def _word(self, text: str, bold: bool, ruler: QFontMetrics) -> int:
        """Return the width of the longest word of a text, screen points; measured once."""
        found = self._words.get((text, bold))
        if found is None:
            if len(self._words) > _MOST_MEASURED:
                self._words.clear()
            found = self._words[text, bold] = max(ruler.horizontalAdvance(word) for word in text.split(" "))
        return found

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Return the width in which no word is cut."""
        wide = self._least[0] + (len(self._least) - 1) * max(self._least[1:], default=0) if self._least else 0
        return QSize(wide, super().minimumSizeHint().height())

    def share_width(self) -> None:
        """Share the width among the columns; by hand, the header would do it only after the rows have been fitted."""
        wide, count = self.viewport().width(), max(self.columnCount() - 1, 1)
        first = round(wide * self._share)
        if self._least:
            first = max(min(first, wide - count * max(self._least[1:], default=0)), self._least[0])
        self.setColumnWidth(0, first)
        for j in range(count):
            left = first + round((wide - first) * j / count)
            self.setColumnWidth(1 + j, first + round((wide - first) * (j + 1) / count) - left)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Fit columns and rows to the new width."""
        super().resizeEvent(event)
        self.share_width()
        if self.rowCount():
            self.fit_rows()
