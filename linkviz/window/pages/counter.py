"""The Counter page: what the lift changes, in three columns and plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QRect, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.findings import Findings
from linkviz.session.document import Document
from linkviz.session.doubt import Doubt
from linkviz.session.session import Session
from linkviz.units import Unit, format_length
from linkviz.window.pages.certainty import Certainty
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.sentences import Note, Sentences, put
from linkviz.window.pages.state_table import MARGIN, NOTHING, PLAIN, StateTable
from linkviz.window.plain import plain_tip
from linkviz.window.same import same
from linkviz.window.theme import Colours, scaled

STATES = ("as built", "lifted", "corrected")
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
            QRect(0, 0, max(whole.width() - MARGIN - icon_room, 20), 1000), Qt.TextFlag.TextWordWrap, index.data()
        )
        middle = upper.rect.center().y() + box.height() // 2
        place = QRect(whole.left() + 4 + icon_room, middle, whole.width() - 4 - icon_room, below)
        painter.save()
        painter.setFont(self.letters(option.font))
        painter.setPen(index.data(SMALL_INK))
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, small)
        painter.restore()


class Columns(StateTable):
    """The table of three states.

    Parameters
    ----------
    large : bool
        Whether in the large letters of the counter view.
    """

    def __init__(self, large: bool = False) -> None:
        name = "What changes: as built, lifted, corrected" + (", large" if large else "")
        super().__init__(name, *((0.34, 1.75, 10) if large else (0.28,)))
        self.large = large
        self.setColumnCount(1 + len(STATES))
        self.setHorizontalHeaderLabels(["", *STATES])
        self._shown: Findings | None = None
        self._doubted: tuple[object, ...] = ()
        self.setItemDelegate(SmallLine(self))

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
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
        self._shown = found
        changed = self._fresh or self.rowCount() != len(found.rows)
        if self.rowCount() != len(found.rows):
            self.setRowCount(len(found.rows))
        for i, row in enumerate(found.rows):
            changed |= self.put_cell(i, 0, row.label, "", row.plain)
            for j, state in enumerate(STATES):
                cell = row.cells.get(state)
                told = (cell.text, cell.icon, row.plain) if cell else (NOTHING, "none", "")
                changed |= self.put_cell(i, 1 + j, *told)
        self._fresh = False
        self._doubted = ()
        if changed:
            self.fit_rows()

    def show_doubt(self, doubt: Doubt, unit: Unit) -> None:
        """Write under each figure how far it may be off, and what that means into its tool tip."""
        seen = (doubt.found, doubt.stale, unit, self._shown)
        if self._shown is None or same(seen, self._doubted):
            return
        self._doubted = seen
        found = {}
        if doubt.found is not None:
            from linkviz.analysis.doubt.certainty import ranges

            found = dict(ranges(doubt.found, unit))
        ink = QColor(self._colours.line if doubt.stale else self._colours.soft)
        came_or_went = False
        for i, row in enumerate(self._shown.rows):
            for j, state in enumerate(STATES):
                item = self.item(i, 1 + j)
                off = found.get(row.key, {}).get(state) if row.cells.get(state) else None
                short, plain = (off.short, off.plain) if off else ("", "")
                if doubt.stale and off:
                    short, plain = f"({short})", f"Before the last change: {plain}"
                was = item.data(SMALL) or ""
                if was != short:
                    came_or_went |= not was or not short
                    item.setData(SMALL, short)
                if item.data(SMALL_INK) != ink:
                    item.setData(SMALL_INK, ink)
                tip = plain_tip(f"{item.data(PLAIN) or ''} {plain}".strip())
                if item.toolTip() != tip:
                    item.setToolTip(tip)
        if came_or_went:
            self.fit_rows()

    def room_below(self, item: QTableWidgetItem) -> int:
        """Return the height of the small line, where there is one."""
        return SmallLine.height(item.font()) if item.data(SMALL) else 0


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
        self.cautions = Note("", 0.88)
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

    def show_progress(self, share: float) -> None:
        """Move the bar of the measuring error."""
        self.certainty.show_progress(share)

    def first_widget(self) -> QWidget:
        """Return the three columns."""
        return self.columns


def heading_words(document: Document, unit: Unit) -> str:
    """Return the heading of the Counter page."""
    if document.setup.lift > 0:
        return f"What a lift of {format_length(document.setup.lift, unit)} changes"
    return "The axle as it was built"
