"""The Counter page: what the lift changes, in three columns and plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QIcon, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from linkviz.job.findings import Findings
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.units import Unit, format_length
from linkviz.window.icons import icon, pixmap
from linkviz.window.pages.page import Moment, Page
from linkviz.window.theme import LIGHT, Colours, scaled

STATES = ("as built", "lifted", "corrected")
NOTHING = "\N{EN DASH}"


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
        font = scaled(self.font(), 1.75 if large else 1.0)
        self.setFont(font)
        bold = scaled(font, 1.0, bold=True)
        header.setFont(bold)
        self._bold = bold
        side = round(QFontMetrics(font).height() * (0.95 if large else 1.05))
        self.setIconSize(QSize(side, side))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        tints = {"ok": colours.corrected, "warn": colours.lifted, "hit": colours.danger}
        self._icons = {"": QIcon(), **{name: icon(name, tint) for name, tint in tints.items()}}
        for column, tint in enumerate((colours.text, colours.built, colours.lifted, colours.corrected)):
            item = self.horizontalHeaderItem(column)
            item.setForeground(QColor(tint))
            item.setFont(self._bold)
        shown, self._shown = self._shown, None
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
        ink = {
            "": self._colours.text,
            "ok": self._colours.corrected,
            "warn": self._colours.lifted,
            "hit": self._colours.danger,
        }
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
                if item.toolTip() != tip:
                    item.setToolTip(tip)
        if changed:
            self._fit_rows()

    def _fit_rows(self) -> None:
        """Give every row the lines its text needs at the present width, and the table the height of its rows."""
        metrics = {False: QFontMetrics(self.font()), True: QFontMetrics(self._bold)}
        pad = 10 if self.large else 5
        line = metrics[True].height()
        total = self.horizontalHeader().sizeHint().height() + 2
        for i in range(self.rowCount()):
            lines = 1
            for j in range(self.columnCount()):
                item = self.item(i, j)
                room = self.columnWidth(j) - 10
                if not item.icon().isNull():
                    room -= self.iconSize().width() + 6
                ruler = metrics[item.font().bold()]
                box = ruler.boundingRect(0, 0, max(room, 20), 1000, Qt.TextFlag.TextWordWrap, item.text())
                lines = max(lines, round(box.height() / ruler.height()))
            height = lines * line + pad
            if self.rowHeight(i) != height:
                self.setRowHeight(i, height)
            total += height
        if self.height() != total or self.minimumHeight() != total:
            self.setFixedHeight(total)

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


class Sentences(QWidget):
    """Plain sentences, each with its sign; the labels are kept and only their text changes."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(7)
        self._rows: list[tuple[QWidget, QLabel, QLabel]] = []
        self._signs: list[str] = []
        self._colours: Colours = LIGHT

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self._signs = [""] * len(self._rows)

    def texts(self) -> tuple[str, ...]:
        """Return the sentences that are shown."""
        return tuple(text.text() for row, _, text in self._rows if not row.isHidden())

    def show_sentences(self, sentences: tuple[tuple[str, str], ...]) -> None:
        """Show sentences, each a text and a sign."""
        while len(self._rows) < len(sentences):
            row = QWidget()
            line = QHBoxLayout(row)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(8)
            sign, text = QLabel(), QLabel()
            sign.setFixedSize(20, 20)
            text.setWordWrap(True)
            text.setTextFormat(Qt.TextFormat.PlainText)
            text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
            line.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
            line.addWidget(text, 1)
            self._column.addWidget(row)
            self._rows.append((row, sign, text))
            self._signs.append("")
        tints = {"ok": self._colours.corrected, "warn": self._colours.lifted, "hit": self._colours.danger}
        for i, (row, sign, text) in enumerate(self._rows):
            there = i < len(sentences)
            if row.isHidden() == there:
                row.setVisible(there)
            if not there:
                continue
            words, name = sentences[i]
            if text.text() != words:
                text.setText(words)
            name = name or "info"
            if self._signs[i] != name:
                self._signs[i] = name
                tint = tints.get(name, self._colours.soft)
                sign.setPixmap(pixmap(name, tint, 18, self.devicePixelRatioF()))


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

    def show_state(self, moment: Moment) -> None:
        """Show findings."""
        found = moment.frame.findings
        put(self.heading, heading_words(moment.document, moment.view.unit))
        self.columns.show_findings(found)
        self.sentences.show_sentences(tuple((s.text, s.icon) for s in found.sentences))
        put(self.cautions, "\n".join(found.cautions))

    def first_widget(self) -> QWidget:
        """Return the three columns."""
        return self.columns


def put(label: QLabel, text: str) -> None:
    """Set a label's text if it is another."""
    if label.text() != text:
        label.setText(text)


def heading_words(document: Document, unit: Unit) -> str:
    """Return the heading of the Counter page."""
    if document.setup.lift > 0:
        return f"What a lift of {format_length(document.setup.lift, unit)} changes"
    return "The axle as it was built"
