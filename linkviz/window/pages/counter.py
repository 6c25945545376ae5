"""The Counter page: what the lift changes, in three columns and plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QIcon, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.findings import Findings
from linkviz.session.document import Document
from linkviz.session.doubt import Doubt
from linkviz.session.session import Session
from linkviz.units import Unit, format_length
from linkviz.window.icons import sign_icons
from linkviz.window.pages.certainty import Certainty
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.sentences import Sentences, put
from linkviz.window.plain import plain_tip
from linkviz.window.reading_order import show_current
from linkviz.window.theme import LIGHT, Colours, scaled

STATES = ("as built", "lifted", "corrected")
MOST_MEASURED = 2000
"""Texts whose lines are remembered."""
NOTHING = "\N{EN DASH}"
PLAIN = Qt.ItemDataRole.UserRole + 1
SMALL = Qt.ItemDataRole.UserRole + 2
SMALL_INK = Qt.ItemDataRole.UserRole + 3


class SmallLine(QStyledItemDelegate):
    """Draws a cell with a line of small letters below its text."""

    @staticmethod
    def letters(font: QFont) -> QFont:
        """Return the small letters that go with a font."""
        return scaled(font, 0.85)

    @classmethod
    def height(cls, font: QFont) -> int:
        """Return the height of the small line, screen points."""
        return QFontMetrics(cls.letters(font)).height()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex) -> None:
        """Draw the cell, and the small line where the text ends."""
        small = index.data(SMALL)
        if not small:
            super().paint(painter, option, index)
            return
        below = self.height(option.font)
        whole = QRect(option.rect)
        upper = QStyleOptionViewItem(option)
        upper.rect = whole.adjusted(0, 0, 0, -below)
        super().paint(painter, upper, index)
        icon_room = 0 if index.data(Qt.ItemDataRole.DecorationRole).isNull() else option.decorationSize.width() + 6
        box = upper.fontMetrics.boundingRect(
            QRect(0, 0, max(whole.width() - 10 - icon_room, 20), 1000), Qt.TextFlag.TextWordWrap, index.data()
        )
        middle = upper.rect.center().y() + box.height() // 2
        place = QRect(whole.left() + 4 + icon_room, middle, whole.width() - 4 - icon_room, below)
        painter.save()
        painter.setFont(self.letters(option.font))
        painter.setPen(index.data(SMALL_INK))
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, small)
        painter.restore()


class Columns(QTableWidget):
    """The table of three states.

    Parameters
    ----------
    large : bool
        Whether in the large letters of the counter view.
    """

    def __init__(self, large: bool = False) -> None:
        super().__init__(0, 1 + len(STATES))
        self.large = large
        self.setObjectName("columns")
        self.setAccessibleName("What changes: as built, lifted, corrected" + (", large" if large else ""))
        self.setHorizontalHeaderLabels(["", *STATES])
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
        header = self.horizontalHeader()
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setMinimumSectionSize(20)
        self._colours: Colours = LIGHT
        self._icons: dict[str, QIcon] = {"": QIcon()}
        self._shown: Findings | None = None
        self._broken: dict[tuple[str, int, bool], int] = {}
        self._doubted: tuple[object, ...] = ()
        font = scaled(self.font(), 1.75 if large else 1.0)
        self.setFont(font)
        bold = scaled(font, 1.0, bold=True)
        header.setFont(bold)
        self._bold = bold
        self.setItemDelegate(SmallLine(self))
        side = round(QFontMetrics(font).height() * (0.95 if large else 1.05))
        self.setIconSize(QSize(side, side))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def _went(self, *_: int) -> None:
        show_current(self)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self._icons = {"": QIcon(), **sign_icons(colours)}
        for column, tint in enumerate((colours.text, colours.built, colours.lifted, colours.corrected)):
            item = self.horizontalHeaderItem(column)
            item.setForeground(QColor(tint))
            item.setFont(self._bold)
        shown, self._shown = self._shown, None
        self._doubted = ()
        if shown is not None:
            self.show_findings(shown)

    def show_findings(self, found: Findings) -> None:
        """Show other findings; only cells that changed are touched."""
        if found is self._shown:
            return
        everything = self._shown is None or self.rowCount() != len(found.rows)
        self._shown = found
        if everything:
            self.setRowCount(len(found.rows))
        ink = {"": self._colours.text, **self._colours.signs}
        changed = everything
        for i, row in enumerate(found.rows):
            cells = [(row.label, "", row.plain)]
            for state in STATES:
                cell = row.cells.get(state)
                cells.append((cell.text, cell.icon, row.plain) if cell else (NOTHING, "none", ""))
            for j, (text, sign, tip) in enumerate(cells):
                item = self.item(i, j)
                if item is None:
                    item = QTableWidgetItem()
                    item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                    self.setItem(i, j, item)
                if item.text() != text:
                    item.setText(text)
                    changed = True
                if everything or item.data(Qt.ItemDataRole.UserRole) != sign:
                    item.setData(Qt.ItemDataRole.UserRole, sign)
                    item.setIcon(self._icons.get(sign, QIcon()))
                    item.setForeground(QColor(ink.get(sign, self._colours.soft)))
                    item.setFont(self._bold if sign in ("warn", "hit") else self.font())
                    words = {"ok": "good", "warn": "look at this", "hit": "touches"}.get(sign, "")
                    item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{text}, {words}" if words else text)
                if item.data(PLAIN) != tip:
                    item.setData(PLAIN, tip)
                    item.setToolTip(plain_tip(tip))
        self._doubted = ()
        if changed:
            self._fit_rows()

    def show_doubt(self, doubt: Doubt, unit: Unit) -> None:
        """Write under each figure how far it may be off, and what that means into its tool tip."""
        seen = (doubt.found, doubt.stale, unit, self._shown)
        if self._shown is None or (
            len(seen) == len(self._doubted) and all(a is b for a, b in zip(seen, self._doubted, strict=True))
        ):
            return
        self._doubted = seen
        found = {}
        if doubt.found is not None:
            from linkviz.analysis.doubt.certainty import ranges

            found = dict(ranges(doubt.found, unit))
        ink = QColor(self._colours.line if doubt.stale else self._colours.soft)
        for i, row in enumerate(self._shown.rows):
            for j, state in enumerate(STATES):
                item = self.item(i, 1 + j)
                off = found.get(row.key, {}).get(state) if row.cells.get(state) else None
                short, plain = (off.short, off.plain) if off else ("", "")
                if doubt.stale and off:
                    short, plain = f"({short})", f"Before the last change: {plain}"
                if item.data(SMALL) != short:
                    item.setData(SMALL, short)
                if item.data(SMALL_INK) != ink:
                    item.setData(SMALL_INK, ink)
                tip = plain_tip(f"{item.data(PLAIN) or ''} {plain}".strip())
                if item.toolTip() != tip:
                    item.setToolTip(tip)
        self._fit_rows()

    def _fit_rows(self) -> None:
        """Give every row the lines its text needs at the present width, and the table the height of its rows."""
        metrics = {False: QFontMetrics(self.font()), True: QFontMetrics(self._bold)}
        pad = 10 if self.large else 5
        line = metrics[True].height()
        total = self.horizontalHeader().sizeHint().height() + 2
        for i in range(self.rowCount()):
            tall = line
            for j in range(self.columnCount()):
                item = self.item(i, j)
                room = self.columnWidth(j) - 10
                if not item.icon().isNull():
                    room -= self.iconSize().width() + 6
                bold = item.font().bold()
                room_for = self._lines(item.text(), max(room, 20), bold, metrics[bold]) * line
                if item.data(SMALL):
                    room_for += SmallLine.height(item.font())
                tall = max(tall, room_for)
            height = tall + pad
            if self.rowHeight(i) != height:
                self.setRowHeight(i, height)
            total += height
        if self.height() != total or self.minimumHeight() != total:
            self.setFixedHeight(total)

    def _lines(self, text: str, room: int, bold: bool, ruler: QFontMetrics) -> int:
        """Return into how many lines a text is broken; measured once, a drag asks for the same ones again and again."""
        key = (text, room, bold)
        found = self._broken.get(key)
        if found is None:
            if len(self._broken) > MOST_MEASURED:
                self._broken.clear()
            box = ruler.boundingRect(0, 0, room, 1000, Qt.TextFlag.TextWordWrap, text)
            found = self._broken[key] = round(box.height() / ruler.height())
        return found

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Fit the rows to the new width."""
        super().resizeEvent(event)
        # by hand: the header would stretch its columns only after the rows have been fitted
        wide = self.viewport().width()
        first = round(wide * (0.34 if self.large else 0.28))
        self.setColumnWidth(0, first)
        for i in range(len(STATES)):
            left = first + round((wide - first) * i / len(STATES))
            self.setColumnWidth(1 + i, first + round((wide - first) * (i + 1) / len(STATES)) - left)
        if self.rowCount():
            self._fit_rows()


class CounterPage(Page):
    """The page for the customer: heading, three columns, sentences, cautions."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        column = self.column
        column.setContentsMargins(10, 8, 10, 8)
        self.heading = QLabel()
        self.heading.setFont(scaled(self.font(), 1.35, bold=True))
        self.heading.setWordWrap(True)
        column.addWidget(self.heading)
        card = QFrame()
        card.setObjectName("card")
        inside = QVBoxLayout(card)
        inside.setContentsMargins(4, 4, 4, 6)
        inside.setSpacing(0)
        self.columns = Columns()
        inside.addWidget(self.columns)
        column.addWidget(card)
        self.sentences = Sentences()
        column.addWidget(self.sentences)
        self.certainty = Certainty(session)
        self.certainty.asked.connect(self.asked)
        column.addWidget(self.certainty)
        closer = QHBoxLayout()
        self.closer: dict[str, QPushButton] = {}
        for deed, words in (("limits", "How far can it be lifted?"), ("equations", "Show the equations")):
            button = QPushButton(words)
            button.setAccessibleName(words)
            button.clicked.connect(lambda _=False, deed=deed: self.asked.emit(deed))
            closer.addWidget(button)
            self.closer[deed] = button
        self.closer["limits"].setToolTip("The trailing links over lift, against limits of your own (L)")
        self.closer["equations"].setToolTip("How the figures come about, with the numbers of this vehicle (Q)")
        closer.addStretch(1)
        column.addLayout(closer)
        column.addStretch(1)
        self.cautions = QLabel()
        self.cautions.setObjectName("soft")
        self.cautions.setWordWrap(True)
        self.cautions.setFont(scaled(self.font(), 0.88))
        column.addWidget(self.cautions)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        self.columns.show_theme(colours)
        self.sentences.show_theme(colours)
        self.certainty.show_theme(colours)

    def show_state(self, moment: Moment) -> None:
        """Show findings."""
        found = moment.frame.findings
        put(self.heading, heading_words(moment.document, moment.view.unit))
        self.columns.show_findings(found)
        self.columns.show_doubt(moment.doubt, moment.view.unit)
        self.certainty.show_doubt(moment.doubt, moment.view)
        said = found.sentences
        self.sentences.show_sentences(tuple((s.text, s.icon) for s in said), tuple(s.stale for s in said))
        put(self.cautions, "\n".join(found.cautions))

    def first_widget(self) -> QWidget:
        """Return the three columns."""
        return self.columns


def heading_words(document: Document, unit: Unit) -> str:
    """Return the heading of the Counter page."""
    if document.setup.lift > 0:
        return f"What a lift of {format_length(document.setup.lift, unit)} changes"
    return "The axle as it was built"
