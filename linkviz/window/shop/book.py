"""The job book: all jobs of the shop's folder, searched and narrowed, with a picture of the one that is picked."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QImage, QKeyEvent, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from linkviz.book.model import Whole
from linkviz.book.shelf import Entry, list_jobs, search, statuses
from linkviz.book.thumbnail import thumbnail
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.painter.image import image, png_bytes, views
from linkviz.picture.scenes import scene_of
from linkviz.session.session import Session
from linkviz.session.store import cache_dir
from linkviz.units import format_length
from linkviz.window.pages.sentences import put
from linkviz.window.paths import short_path
from linkviz.window.picture_box import PictureBox
from linkviz.window.shop.folder import choose, shop_folder
from linkviz.window.shop.rows import Rows
from linkviz.window.work import LatestWork

Answer = Literal["", "open", "new", "duplicate", "compare"]
ANY = "Any status"
SIZE = (900, 420)
"""Width and height of a picture, screen points."""


class Shelf(Frozen):
    """What was found in a folder: the jobs, or why it cannot be read."""

    folder: Path
    entries: tuple[Entry, ...] = ()
    trouble: str = ""


def read_shelf(folder: Path) -> Shelf:
    """Read the list of a folder; safe in a thread of its own."""
    try:
        return Shelf(folder, tuple(list_jobs(folder, cache_dir() / "book")))
    except LinkvizError as error:
        return Shelf(folder, trouble=str(error) if os.path.exists(folder) else "")


def _drawn(what: tuple[Path, str]) -> QImage | None:
    """Return the picture of a job in the colours of a theme; safe in a thread of its own."""
    path, theme = what

    def draw(whole: Whole) -> bytes:
        scene = scene_of(whole.vehicle, whole.setup, unit=whole.units, zoned=False)
        return png_bytes(image(views(scene), SIZE, theme))

    try:
        return QImage.fromData(thumbnail(path, cache_dir() / "pictures", draw, theme))
    except LinkvizError:
        return None


class Book(QDialog):
    """The job book.

    Parameters
    ----------
    session : Session
        For the unit, the theme and the remembered folder.
    parent : QWidget
        Its owner.

    Attributes
    ----------
    answer : str
        What was asked for when it closed.
    paths : tuple of Path
        The jobs that were picked.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Job book")
        self.resize(1220, 640)
        self._session = session
        self._shelf = Shelf(shop_folder(session.store))
        self.answer: Answer = ""
        self.paths: tuple[Path, ...] = ()
        self.rows = Rows(session.view.unit)
        self._lay_out()
        self._work = LatestWork(read_shelf, pause_ms=0, parent=self)
        self._work.done.connect(self._came)
        self._drawing = LatestWork(_drawn, pause_ms=60, parent=self)
        self._drawing.done.connect(self._picture_came)
        self.reload()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        head = QHBoxLayout()
        self.finder = QLineEdit()
        self.finder.setAccessibleName("Search the jobs")
        self.finder.setPlaceholderText("Search number, customer, vehicle, notes, status")
        self.finder.setClearButtonEnabled(True)
        self.finder.textChanged.connect(self._narrow)
        self.status = QComboBox()
        self.status.setAccessibleName("Show jobs of this status")
        self.status.addItem(ANY)
        self.status.currentIndexChanged.connect(self._narrow)
        self.count = QLabel()
        self.count.setObjectName("soft")
        head.addWidget(self.finder, 1)
        head.addWidget(self.status)
        head.addWidget(self.count)
        column.addLayout(head)
        middle = QHBoxLayout()
        self.table = QTableView()
        self.table.setAccessibleName("Jobs")
        self.table.setModel(self.rows)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.table.setSortingEnabled(True)
        self.table.setShowGrid(False)
        self.table.setAlternatingRowColors(True)
        self.table.setWordWrap(False)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(26)
        header = self.table.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        for i, width in enumerate((84, 120, 140, 168, 66, 84, 92)):
            self.table.setColumnWidth(i, width)
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        header.setSortIndicator(0, Qt.SortOrder.DescendingOrder)
        self.table.doubleClicked.connect(lambda _: self._end("open"))
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._picked())
        self.empty = QLabel()
        self.empty.setWordWrap(True)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setMargin(40)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.table)
        self.stack.addWidget(self.empty)
        middle.addWidget(self.stack, 1)
        beside = QVBoxLayout()
        self.picture = PictureBox(SIZE)
        self.picture.setAccessibleName("Picture of the job")
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        holder = QWidget()
        holder.setFixedWidth(320)
        beside.setContentsMargins(6, 0, 0, 0)
        beside.addWidget(self.picture)
        beside.addWidget(self.words, 1)
        holder.setLayout(beside)
        middle.addWidget(holder)
        column.addLayout(middle, 1)
        column.addLayout(self._buttons())
        QShortcut("Ctrl+F", self, self.finder.setFocus)
        self.finder.setFocus()

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.folder = QPushButton()
        self.folder.setToolTip("Choose the folder the jobs lie in")
        self.folder.clicked.connect(self._ask_folder)
        row.addWidget(self.folder)
        row.addStretch(1)
        self.buttons: dict[Answer, QPushButton] = {}
        texts: dict[Answer, tuple[str, str]] = {
            "compare": ("&Compare the two", "Lay two picked jobs side by side (pick the second with Ctrl)"),
            "duplicate": ("&Duplicate", "Begin a new job from the picked one"),
            "new": ("&New job...", "Begin a job from one of the shop's vehicles"),
            "open": ("&Open", "Open the picked job (Enter)"),
        }
        for answer, (text, tip) in texts.items():
            button = QPushButton(text)
            button.setToolTip(tip)
            button.setAccessibleName(text.replace("&", "").rstrip("."))
            button.clicked.connect(lambda _=False, answer=answer: self._end(answer))
            row.addWidget(button)
            self.buttons[answer] = button
        self.buttons["open"].setDefault(True)
        close = QPushButton("Close")
        close.clicked.connect(self.reject)
        row.addWidget(close)
        return row

    # -- the list

    def reload(self) -> None:
        """Read the folder; until that is done nothing is there to pick."""
        self.rows.show(())
        self._picked()
        self.folder.setText(f"Folder: {short_path(self._shelf.folder)}")
        self.folder.setAccessibleName(f"Folder of the jobs: {self._shelf.folder}")
        self.count.setText("Reading the folder...")
        # a new list each time: the key is the wish, not the folder
        self._work.ask(object(), self._shelf.folder)

    def _came(self, _: object, shelf: Shelf | None) -> None:
        if shelf is None or shelf.folder != self._shelf.folder:
            return
        self._shelf = shelf
        chosen = self.status.currentText()
        self.status.blockSignals(True)
        self.status.clear()
        self.status.addItems([ANY, *statuses(shelf.entries)])
        self.status.setCurrentIndex(max(self.status.findText(chosen), 0))
        self.status.blockSignals(False)
        self._narrow()

    def _narrow(self) -> None:
        status = self.status.currentText() if self.status.currentIndex() > 0 else ""
        kept = [entry.name for entry in self.picked()]
        found = search(self._shelf.entries, self.finder.text(), status)
        self.rows.show(found)
        there = len(self._shelf.entries)
        self.count.setText(f"{len(found)} of {there}" if len(found) < there else f"{there} job{'s' * (there != 1)}")
        put(self.empty, self._advice(bool(found)))
        self.stack.setCurrentIndex(0 if found else 1)
        if found:
            row = max(self.rows.row_of(kept[0]) if kept else 0, 0)
            self.table.selectRow(row)
        self._picked()

    def _advice(self, found: bool) -> str:
        if found:
            return ""
        if self._shelf.trouble:
            return self._shelf.trouble
        if self._shelf.entries:
            return "No job has all these words. Take a word out, or choose another status."
        return (
            "No jobs here yet.\n\nBegin one with New job: pick a vehicle, write the customer's name, and it is kept in "
            "this folder. If your jobs lie elsewhere, choose their folder below."
        )

    def picked(self) -> list[Entry]:
        """Return the picked entries."""
        return [self.rows.entry(index.row()) for index in self.table.selectionModel().selectedRows()]

    def _picked(self) -> None:
        entries = self.picked()
        self.buttons["open"].setEnabled(len(entries) == 1)
        self.buttons["duplicate"].setEnabled(len(entries) == 1 and not entries[0].damage)
        self.buttons["compare"].setEnabled(len(entries) == 2 and not any(e.damage for e in entries))
        if len(entries) != 1:
            self.picture.show_image(None)
            self.words.setText(f"{len(entries)} jobs are picked." if entries else "")
            return
        entry = entries[0]
        self.words.setText(self._said(entry))
        if entry.damage:
            self.picture.show_image(None)
            return
        theme = self._session.view.theme
        self._drawing.ask((entry.name, entry.changed, theme), (self._shelf.folder / entry.name, theme))

    def _picture_came(self, key: tuple[str, float, str], picture: QImage | None) -> None:
        entries = self.picked()
        if len(entries) == 1 and entries[0].name == key[0]:
            self.picture.show_image(picture)

    def _said(self, entry: Entry) -> str:
        if entry.damage:
            return f"{entry.name} is damaged.\n{entry.damage}\n\nOpen it to see what can still be read."
        unit = self._session.view.unit
        lines = [
            " ".join(filter(None, (entry.number, entry.title))) or entry.name,
            ", ".join(filter(None, (entry.customer, entry.contact))),
            f"{entry.vehicle}\nlift {format_length(entry.lift, unit)}, bracket {format_length(entry.drop, unit)}",
            f"{entry.status}" + (f", begun {entry.opened}" if entry.opened else ""),
            "",
            entry.notes if len(entry.notes) < 400 else entry.notes[:400] + "...",
        ]
        return "\n".join(line for i, line in enumerate(lines) if line or i == 4).strip()

    # -- answers

    def _ask_folder(self) -> None:
        start = self._shelf.folder if self._shelf.folder.exists() else Path.home()
        chosen = QFileDialog.getExistingDirectory(self, "Folder of the jobs", str(start))
        if chosen:
            choose(self._session.store, Path(chosen))
            self._shelf = Shelf(Path(chosen))
            self.reload()

    def _end(self, answer: Answer) -> None:
        if answer != "new" and not self.buttons[answer].isEnabled():
            return
        self.answer = answer
        self.paths = tuple(self._shelf.folder / entry.name for entry in self.picked())
        self.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Go from the search line into the list with the arrow keys."""
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.finder.hasFocus() and self.rows.rowCount():
            step = 1 if event.key() == Qt.Key.Key_Down else -1
            at = self.table.currentIndex().row() + step
            index = self.rows.index(min(max(at, 0), self.rows.rowCount() - 1), 0)
            flags = QItemSelectionModel.SelectionFlag
            self.table.selectionModel().setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
            self.table.scrollTo(index)
            return
        super().keyPressEvent(event)

    def done(self, result: int) -> None:
        """End what runs before it closes."""
        self._work.wait()
        self._drawing.wait()
        super().done(result)
