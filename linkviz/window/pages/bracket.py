"""The Bracket page: the bracket in its frame bracket, what drop for which goal, how short, how long, how strong."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QCheckBox, QFileDialog, QHBoxLayout, QLabel, QPushButton, QWidget

from linkviz.book.rules import rules_of
from linkviz.bracket.check import Check
from linkviz.bracket.defaults import default_bracket
from linkviz.bracket.materials import STEELS
from linkviz.bracket.parts import BarEnd, FrameBracket
from linkviz.bracket.plates import MOST_TENSILE, drop_plates
from linkviz.errors import LinkvizError
from linkviz.job.bracket_design import Design, design
from linkviz.job.bracket_loads import bar_end_of, frame_bracket_of
from linkviz.job.bracket_table import BracketTable
from linkviz.job.findings import CAUTIONS
from linkviz.job.limits import LinkLimits
from linkviz.job.stock import Proposal, propose
from linkviz.job.stock_words import others, proposed
from linkviz.picture.bracket_views import BracketScene, bracket_views
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.stock import SUFFIX, Stock
from linkviz.sheetmetal.plate import Steel
from linkviz.units import Unit, format_length
from linkviz.window import dialogs
from linkviz.window.icons import icon
from linkviz.window.lift_limits import kept_limits
from linkviz.window.pages import bracket_words as words
from linkviz.window.pages.own_bracket import OwnBracket
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.sentences import Sentences, put
from linkviz.window.pages.table import TypedTable
from linkviz.window.sketch import Sketch
from linkviz.window.theme import Colours, scaled
from linkviz.window.work import LatestWork

SHOWN = 5
"""Checks of strength listed at first."""
USUAL_FRAME = FrameBracket(60.0, 4.0, 50.0, 70.0)
USUAL_EYE = BarEnd(48.0, 44.0)
"""Drawn where nothing was measured."""


@dataclass(frozen=True)
class Wanted:
    """What a design is asked for."""

    document: Document
    unit: Unit
    stock: Stock
    catalogue: Path
    links: LinkLimits

    @property
    def key(self) -> tuple[object, ...]:
        """Return what makes it another question."""
        document = self.document
        setup = replace(document.setup, valve_rise=0.0)
        job = document.job
        given = (job.bracket, job.load_cases, job.rules, self.links)
        return (id(document.vehicle), setup, *given, self.unit, self.catalogue)


@dataclass(frozen=True, eq=False)
class Answer:
    """A design, and what the stock has for the lift; `trouble` says why the catalogue cannot be read."""

    design: Design
    stock: Proposal | None = None
    name: str = ""
    trouble: str = ""


def work(wanted: Wanted) -> Answer:
    """Design, and look through the stock; off the painting thread."""
    document, unit = wanted.document, wanted.unit
    job, vehicle, setup = document.job, document.vehicle, document.setup
    rules = rules_of(job, wanted.links)
    own = job.bracket.bracket() if job.bracket is not None else None
    found = design(vehicle, setup, own, rules, unit)
    try:
        catalogue = wanted.stock.catalogue()
        return Answer(found, propose(vehicle, setup.lift, catalogue, rules, unit), catalogue.name)
    except LinkvizError as error:
        return Answer(found, trouble=str(error))


class BracketPage(Page):
    """Where the shop's own product is chosen or designed.

    Parameters
    ----------
    session : Session
        What is shown and changed.
    """

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.answer: Answer | None = None
        self._wanted: Wanted | None = None
        self._work = LatestWork(work, parent=self)
        self._work.done.connect(self._came)
        self._signs: dict[str, QIcon] = {}
        column = self.column
        self.heading = QLabel()
        self.heading.setFont(scaled(self.font(), 1.35, bold=True))
        self.heading.setWordWrap(True)
        column.addWidget(self.heading)
        self.sketch = Sketch("The bracket in its frame bracket, from the front and from the edge", 236)
        column.addWidget(self.sketch)
        self.bounds = Sentences()
        column.addWidget(self.bounds)
        self.goal_title = self._title("")
        column.addWidget(self.goal_title)
        self.goals = TypedTable("Goals of the drop", words.GOAL_HEADS, 46)
        self.goals.setWordWrap(True)
        self.goals.itemDoubleClicked.connect(lambda item: self._set_goal(item.row()))
        self.goals.currentCellChanged.connect(lambda *_: self._show_pick())
        column.addWidget(self.goals)
        row = QHBoxLayout()
        self.goal_note = QLabel()
        self.goal_note.setObjectName("soft")
        self.goal_note.setWordWrap(True)
        self.set_button = QPushButton("Set it")
        self.set_button.setToolTip("Set lift and bracket to the picked goal; Undo takes it back (double-click a goal)")
        self.set_button.setAccessibleName("Set the picked goal")
        self.set_button.clicked.connect(lambda: self._set_goal(self.goals.currentRow()))
        row.addWidget(self.goal_note, 1)
        row.addWidget(self.set_button, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(row)
        self.stock_title = self._title("From stock")
        column.addWidget(self.stock_title)
        self.stock = Sentences()
        column.addWidget(self.stock)
        row = QHBoxLayout()
        self.use_button = QPushButton("Use it")
        self.use_button.setAccessibleName("Use the part from stock")
        self.use_button.setToolTip("Make it the job's bracket and hang the bar in its hole; Undo takes it back")
        self.use_button.clicked.connect(self.use_part)
        self.stock_button = QPushButton("Another catalogue...")
        self.stock_button.setToolTip("Choose the shop's own catalogue of brackets (*.parts.toml); it is remembered")
        self.stock_button.clicked.connect(self.ask_stock)
        row.addWidget(self.use_button)
        row.addWidget(self.stock_button)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self._title("The bracket"))
        self.own = OwnBracket(session)
        self.own.refused.connect(self.refused)
        column.addWidget(self.own)
        column.addWidget(self._title("Strength, worst first"))
        self.strength = Sentences()
        column.addWidget(self.strength)
        self.checks = TypedTable("Checks of strength and layout", ("Check", "Used"), 62)
        self.checks.currentCellChanged.connect(lambda *_: self._show_pick())
        column.addWidget(self.checks)
        self.check_note = QLabel()
        self.check_note.setObjectName("soft")
        self.check_note.setWordWrap(True)
        self.check_note.setAccessibleName("The picked check, to follow on paper")
        self.check_note.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        column.addWidget(self.check_note)
        self.all_checks = QCheckBox("Show every check")
        self.all_checks.setToolTip("All checks of strength and layout, not only those used most and those that fail")
        self.all_checks.toggled.connect(lambda _: self._show_design())
        column.addWidget(self.all_checks)
        column.addWidget(self._title("Holes for a range of lifts"))
        self.holes = Sentences()
        column.addWidget(self.holes)
        self.missing = Sentences()
        column.addWidget(self.missing)
        column.addStretch(1)
        self.cautions = QLabel("\n".join(CAUTIONS))
        self.cautions.setObjectName("soft")
        self.cautions.setWordWrap(True)
        self.cautions.setFont(scaled(self.font(), 0.88))
        column.addWidget(self.cautions)

    def _title(self, text: str) -> QLabel:
        label = QLabel(text)
        label.setFont(scaled(self.font(), 1.05, bold=True))
        return label

    def first_widget(self) -> QWidget:
        """Return the table of goals."""
        return self.goals

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        tints = {"ok": colours.corrected, "warn": colours.lifted, "hit": colours.danger}
        self._signs = {name: icon(name, tint) for name, tint in tints.items()}
        for part in (self.bounds, self.stock, self.strength, self.holes, self.missing):
            part.show_theme(colours)
        self._show_design()

    # -- what is shown

    @property
    def design(self) -> Design | None:
        """Return the last design, None before the first."""
        return self.answer.design if self.answer else None

    @property
    def working(self) -> bool:
        """Return whether the design of what is shown is still to come."""
        return self._work.busy

    def show_state(self, moment: Moment) -> None:
        """Show the bracket of the document at once, and ask for its design."""
        document, view = moment.document, moment.view
        self.sketch.show_theme(view.theme)
        self.own.show_bracket(document.job.bracket, view.unit)
        wanted = Wanted(document, view.unit, self.session.stock, self.session.stock.path, kept_limits(self.session))
        if self._wanted is not None and self._wanted.key == wanted.key:
            return
        self._wanted = wanted
        lift = document.setup.lift
        put(self.heading, f"Bracket for a lift of {format_length(lift, view.unit)}" if lift else "Bracket, no lift")
        self._show_sketch(document, view.unit, moment)
        self._dim(True)
        self._work.ask(wanted.key, wanted)

    def _show_sketch(self, document: Document, unit: Unit, moment: Moment) -> None:
        vehicle, setup = document.vehicle, document.setup
        frame, bar = frame_bracket_of(vehicle), bar_end_of(vehicle)
        drop = setup.drop or (self.design.setup.drop if self.design else 100.0)
        own = document.job.bracket
        made = own.bracket() if own else replace(default_bracket(frame, bar, (drop,)), shift=setup.shift)
        steel = STEELS[made.steel]
        try:
            plates = drop_plates(made, Steel(steel.name, steel.strength * MOST_TENSILE))
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        angle = float(moment.frame.scene.live.bar_angle[0])
        scene = BracketScene(made, plates, frame or USUAL_FRAME, bar or USUAL_EYE, drop, angle, unit)
        said = "measured" if frame and bar else "usual sizes: not measured"
        self.sketch.show_drawings(
            bracket_views(scene),
            f"Drop {format_length(drop, unit)}, anchor bolt {format_length(made.anchor, unit)} below the original "
            f"bolt, plates {format_length(made.thickness, unit)} thick; frame bracket and eye {said}.",
        )

    def _came(self, key: object, found: object) -> None:
        if self._wanted is not None and key == self._wanted.key:
            self._dim(False)
        if isinstance(found, Answer):
            self.answer = found
            self._show_design()

    def _dim(self, on: bool) -> None:
        """Dim what belongs to an earlier document until its own is there."""
        for part in (self.bounds, self.goals, self.stock, self.use_button, self.strength, self.checks, self.holes):
            part.setEnabled(not on)

    def _show_design(self) -> None:
        found = self.design
        if found is None or self._wanted is None:
            return
        unit = self._wanted.unit
        self.bounds.show_sentences(tuple(words.bounds(found, unit)))
        put(self.goal_title, f"What the drop is chosen for, {unit}")
        self.goals.show_rows([words.goal_row(goal, unit) for goal in found.goals], (False,) * 7)
        for i, goal in enumerate(found.goals):
            for j in range(7):
                self.goals.item(i, j).setToolTip(words.goal_tip(goal, unit))
        _as_high_as_its_rows(self.goals)
        self._show_stock(unit)
        if found.proposed:
            self.own.show_proposed(found.bracket)
        self.strength.show_sentences(tuple(words.strength(found)))
        checks = self._checks(found)
        signs = [self._signs.get(words.check_sign(check), QIcon()) for check in checks]
        self.checks.show_rows([words.check_row(check) for check in checks], (False,) * 2, signs)
        for i, check in enumerate(checks):
            self.checks.item(i, 0).setToolTip(f"{check.words}: {check.verdict}")
        _as_high_as_its_rows(self.checks)
        self.holes.show_sentences(tuple(words.holes(found, unit)))
        self.missing.show_sentences(tuple((text, "") for text in found.missing))
        self._show_pick()

    def _show_stock(self, unit: Unit) -> None:
        answer = self.answer
        if answer is None:
            return
        put(self.stock_title, f"From stock: {answer.name}" if answer.name else "From stock")
        if answer.stock is None:
            self.stock.show_sentences(((answer.trouble, "warn"),))
        else:
            said = [proposed(answer.stock, unit), *others(answer.stock, unit)]
            self.stock.show_sentences(tuple((sentence.text, sentence.icon) for sentence in said))
        self.use_button.setEnabled(answer.stock is not None and answer.stock.best is not None)

    def _checks(self, found: Design) -> list[Check]:
        """Return the checks that are listed: the ones used most and all that fail, or every one."""
        checks = [*found.checks, *found.distances]
        if self.all_checks.isChecked():
            return checks
        return [*found.checks[:SHOWN], *(check for check in checks[SHOWN:] if not check.passes)]

    def _show_pick(self) -> None:
        found = self.design
        if found is None or self._wanted is None:
            put(self.goal_note, "Working it out ...")
            self.set_button.setEnabled(False)
            return
        row = self.goals.currentRow()
        goal = found.goals[row] if 0 <= row < len(found.goals) else None
        put(self.goal_note, words.goal_tip(goal, self._wanted.unit) if goal else words.GOAL_HINT)
        self.set_button.setEnabled(goal is not None and goal.setup is not None)
        checks = self._checks(found)
        row = self.checks.currentRow()
        put(self.check_note, words.check_words(checks[row]) if 0 <= row < len(checks) else words.CHECK_HINT)

    # -- what is done

    def _set_goal(self, row: int) -> None:
        found = self.design
        if found is None or not 0 <= row < len(found.goals):
            return
        goal = found.goals[row]
        if goal.setup is not None:
            now = self.session.document.setup
            values = {name: getattr(goal.setup, name) for name in ("drop", "shift", "bar_longer", "axle_raise")}
            if any(getattr(now, name) != value for name, value in values.items()):
                self.session.edit_setup(f"set bracket: {goal.label.lower()}", **values)

    def use_part(self) -> None:
        """Take the proposed part of the stock, and its hole."""
        best = self.answer.stock.best if self.answer and self.answer.stock else None
        if best is not None and best.hole is not None:
            part = best.part.bracket()
            changed = self.session.document.with_setup(drop=best.hole, shift=part.shift)
            changed = changed.with_job(bracket=BracketTable.of(part))
            self.session.edit(changed, f"use {best.part.number}")

    def ask_stock(self) -> None:
        """Ask for another catalogue."""
        folder = str(self.session.stock.path.parent)
        path, _ = QFileDialog.getOpenFileName(self, "Catalogue of brackets", folder, f"Catalogues (*{SUFFIX})")
        if path:
            try:
                self.session.choose_stock(path)
            except LinkvizError as error:
                dialogs.ProblemsDialog(error, self).exec()


def _as_high_as_its_rows(table: TypedTable) -> None:
    """Let a table be as high as its rows: the page scrolls, the table does not."""
    table.resizeRowsToContents()
    rows = sum(table.rowHeight(i) for i in range(table.rowCount()))
    height = table.horizontalHeader().sizeHint().height() + rows + 2 * table.frameWidth() + 2
    if table.height() != height or table.minimumHeight() != height:
        table.setFixedHeight(height)
