"""The Papers page: everything that leaves the shop, looked at first, then written to a folder in one go."""

from __future__ import annotations

import datetime
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QProgressDialog,
    QPushButton,
    QToolButton,
    QWidget,
)

from linkviz.errors import FAILED, LinkvizError
from linkviz.frozen import Frozen
from linkviz.papers.files import AlreadyThere, write_papers
from linkviz.papers.heading import Heading
from linkviz.papers.order import Order, order_of
from linkviz.papers.registry import NAMES, PAPERS, Paper, papers_of
from linkviz.papers.shapes import Page as Sheet
from linkviz.papers.shapes import Size
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.units import Unit
from linkviz.window import dialogs
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.sentences import Sentences, put
from linkviz.window.paths import beside
from linkviz.window.preview import Large, Preview
from linkviz.window.still import StillCombo
from linkviz.window.theme import Colours
from linkviz.window.work import LatestWork

SIZES: dict[Size, str] = {"a4": "A4", "letter": "US Letter"}
CUT = "DXF files for the cutter, one for each plate: true size, holes where they come right after bending."
CHECKED, UNCHECKED = Qt.CheckState.Checked, Qt.CheckState.Unchecked


class Wanted(Frozen):
    """What is to be looked at."""

    document: Document
    heading: Heading
    paper: str

    @property
    def key(self) -> tuple[object, ...]:
        """Return what makes it another question."""
        return (self.document.vehicle, self.document.setup, self.document.job, self.heading, self.paper)


class Seen(Frozen, eq=False):
    """What was made of a paper to be looked at, or why it was not."""

    paper: Paper
    order: Order | None
    sheets: tuple[Sheet, ...]
    why: str = ""


def heading_of(document: Document, unit: Unit, paper: Size) -> Heading:
    """Return what stands at the head of the papers of a document, with today's date."""
    job = document.job
    today = datetime.date.today().isoformat()
    return Heading(job.number, today, job.customer, document.vehicle.name, unit, paper)


def work(wanted: Wanted) -> Seen:
    """Make one paper; off the painting thread."""
    (paper,) = papers_of((wanted.paper,))
    try:
        made = order_of(wanted.document.whole, wanted.heading)
        if why := paper.missing(made):
            return Seen(paper, made, (), why)
        return Seen(paper, made, paper.pages(made) if paper.pages else ())
    except LinkvizError as error:
        return Seen(paper, None, (), str(error))


class PapersPage(Page):
    """The papers of what is open.

    Parameters
    ----------
    session : Session
        What is shown and changed.
    """

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._wanted: Wanted | None = None
        self.seen: Seen | None = None
        self.at = 0
        self._unit: Unit = "mm"
        self._work = LatestWork(work, parent=self)
        self._work.done.connect(self._came)
        column = self.column
        row = QHBoxLayout()
        label = QLabel("Print on")
        self.paper_size = StillCombo()
        self.paper_size.setAccessibleName("Paper to print on")
        for size, text in SIZES.items():
            self.paper_size.addItem(text, size)
        label.setBuddy(self.paper_size)
        self.paper_size.currentIndexChanged.connect(lambda _: self._ask())
        self.write_button = QPushButton("Write the ticked ones...")
        self.write_button.setAccessibleName("Write the ticked papers to a folder")
        self.write_button.setToolTip("Choose a folder; nothing that is there is written over without asking")
        self.write_button.clicked.connect(self.ask_write)
        row.addWidget(label)
        row.addWidget(self.paper_size)
        row.addStretch(1)
        row.addWidget(self.write_button)
        column.addLayout(row)
        self.list = QListWidget()
        self.list.setAccessibleName("Papers")
        self.list.setAlternatingRowColors(True)
        self.list.setSpacing(1)
        for paper in PAPERS:
            item = QListWidgetItem(f"{paper.title}: {paper.text}")
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(CHECKED)
            item.setToolTip(f"{paper.title}: {paper.text}. The space bar ticks it")
            self.list.addItem(item)
        self.list.setCurrentRow(NAMES.index("drawing"))
        self.list.currentRowChanged.connect(lambda _: self._ask())
        rows = sum(self.list.sizeHintForRow(i) for i in range(self.list.count()))
        rows += 2 * self.list.spacing() * self.list.count()
        self.list.setFixedHeight(rows + 2 * self.list.frameWidth() + 2)
        column.addWidget(self.list)
        self.notes = Sentences()
        column.addWidget(self.notes)
        row = QHBoxLayout()
        self.back = self._step("\N{SINGLE LEFT-POINTING ANGLE QUOTATION MARK}", -1, "Page before")
        self.on = self._step("\N{SINGLE RIGHT-POINTING ANGLE QUOTATION MARK}", 1, "Next page")
        self.place = QLabel()
        self.place.setAlignment(Qt.AlignmentFlag.AlignCenter)
        row.addWidget(self.back)
        row.addWidget(self.place, 1)
        row.addWidget(self.on)
        column.addLayout(row)
        self.preview = Preview()
        self.preview.enlarge.connect(self._enlarge)
        column.addWidget(self.preview, 1)

    def _step(self, text: str, by: int, name: str) -> QToolButton:
        button = QToolButton()
        button.setText(text)
        button.setAccessibleName(name)
        button.setToolTip(name)
        button.clicked.connect(lambda: self._turn(by))
        return button

    def first_widget(self) -> QWidget:
        """Return the list of papers."""
        return self.list

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        self.notes.show_theme(colours)
        self.preview.show_theme(colours)

    # -- what is shown

    def show_state(self, moment: Moment) -> None:
        """Show the papers of what the session holds."""
        if moment.view.unit != self._unit or self._wanted is None:
            self._unit = moment.view.unit
            quiet = self.paper_size.blockSignals(True)
            self.paper_size.setCurrentIndex(list(SIZES).index("letter" if self._unit == "in" else "a4"))
            self.paper_size.blockSignals(quiet)
        self._ask(moment.document)

    @property
    def paper(self) -> Paper:
        """Return the picked paper."""
        return PAPERS[max(self.list.currentRow(), 0)]

    def _ask(self, document: Document | None = None) -> None:
        document = document or self.session.shown
        wanted = Wanted(document, heading_of(document, self._unit, self.paper_size.currentData()), self.paper.name)
        if self._wanted is not None and wanted.key == self._wanted.key:
            return
        if self._wanted is None or self._wanted.paper != wanted.paper:
            self.at = 0
        self._wanted = wanted
        if self._work.ask(wanted.key, wanted):
            self._show_sheet()
        else:
            put(self.place, "making it ...")
            for button in (self.back, self.on):  # what is still shown is of before
                button.setEnabled(False)

    def _came(self, key: object, seen: object) -> None:
        if self._wanted is None or key != self._wanted.key:
            return
        self.seen = seen = seen if isinstance(seen, Seen) else Seen(self.paper, None, (), FAILED.rstrip("."))
        made = seen.order
        notes = [(text, "hit") for text in made.over] + [(text, "") for text in made.remarks] if made else []
        notes += [(f"Taken, not measured: {text}", "warn") for text in made.assumed] if made else []
        self.notes.show_sentences(tuple(notes))
        self._show_sheet()

    def _show_sheet(self) -> None:
        seen = self.seen
        if seen is None:
            return
        count = len(seen.sheets)
        self.at = min(max(self.at, 0), max(count - 1, 0))
        if count:
            put(self.place, f"{seen.paper.title}, page {self.at + 1} of {count}")
            self.preview.show_page(seen.sheets[self.at], self.place.text())
        else:
            put(self.place, seen.paper.title)
            self.preview.show_page(None, f"Not made: {seen.why}." if seen.why else CUT)
        self.back.setEnabled(self.at > 0)
        self.on.setEnabled(self.at < count - 1)

    def _turn(self, by: int) -> None:
        self.at += by
        self._show_sheet()

    def _enlarge(self) -> None:
        if self.preview.page is not None:
            dialogs.run(Large(self.preview.page, self.preview.words, self))

    # -- writing

    def ticked(self) -> tuple[Paper, ...]:
        """Return the papers that are to be written."""
        return tuple(p for i, p in enumerate(PAPERS) if self.list.item(i).checkState() == CHECKED)

    def ask_write(self) -> None:
        """Ask for a folder and write the ticked papers to it."""
        papers = self.ticked()
        if not papers:
            self.refused.emit("No paper is ticked. Tick those to write.")
            return
        folder = QFileDialog.getExistingDirectory(self, "Folder for the papers", str(beside(self.session)))
        if folder:
            self.write(papers, Path(folder))

    def write(self, papers: tuple[Paper, ...], folder: Path, overwrite: bool = False) -> None:
        """Write papers to a folder, with progress; ask before anything is written over."""
        document = self.session.document
        bar = QProgressDialog("Working it out", "Stop", 0, len(papers) + 1, self)
        bar.setWindowModality(Qt.WindowModality.WindowModal)
        bar.setMinimumDuration(300)

        def progress(title: str) -> bool:
            bar.setLabelText(title or "Writing")
            bar.setValue(bar.value() + 1)
            QApplication.processEvents()
            return not bar.wasCanceled()

        try:
            made = order_of(document.whole, heading_of(document, self._unit, self.paper_size.currentData()))
            written = write_papers(made, papers, folder, overwrite, progress)
            left = [paper for paper in papers if paper.missing(made)]
        except AlreadyThere as there:
            bar.reset()
            self._ask_over(papers, folder, [path.name for path in there.paths])
            return
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        finally:
            bar.reset()
            bar.deleteLater()
        if not written:
            why = f": {left[0].missing(made)}" if left else ""
            self.refused.emit(f"Nothing was written{why}.")
            return
        if document.is_job:
            self.session.papers_made([paper.title for paper in papers if paper not in left])
        more = f" Left out: {', '.join(paper.title for paper in left)}." if left else ""
        self.said.emit(f"Wrote {len(written)} files to {folder}.{more}")

    def _ask_over(self, papers: tuple[Paper, ...], folder: Path, names: list[str]) -> None:
        answer = dialogs.ask_overwrite(self, folder, names)
        if answer == "over":
            self.write(papers, folder, overwrite=True)
        elif answer == "other":
            self.ask_write()
