"""The Bracket page: the bracket in its frame bracket, what drop for which goal, how short, how long, how strong."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QCheckBox, QFileDialog, QHBoxLayout, QLabel, QPushButton, QWidget

from linkviz.analysis.bracket.design import Design, follow
from linkviz.analysis.bracket.stock_words import others, proposed
from linkviz.analysis.bracket.table import BracketTable
from linkviz.analysis.findings import CAUTIONS
from linkviz.book.rules import rules_of
from linkviz.bracket.check import Check
from linkviz.errors import FAILED, LinkvizError
from linkviz.session.session import Session
from linkviz.session.stock import SUFFIX
from linkviz.units import Unit, format_length
from linkviz.window import dialogs
from linkviz.window.icons import sign_icons
from linkviz.window.lift_limits import kept_limits
from linkviz.window.pages import bracket_words as words
from linkviz.window.pages.bracket_picture import BracketPicture
from linkviz.window.pages.bracket_work import Answer, Wanted, work
from linkviz.window.pages.own_bracket import OwnBracket
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.rules_form import RulesForm
from linkviz.window.pages.sentences import Note, Sentences, put, unbroken
from linkviz.window.pages.table import TypedTable, as_high_as_its_rows
from linkviz.window.theme import Colours, scaled
from linkviz.window.work import LatestWork

SHOWN = 5
"""Checks of strength listed at first."""


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
        self._moved: Design | None = None
        self._wanted: Wanted | None = None
        self._work = LatestWork(work, parent=self)
        self._work.done.connect(self._came)
        self._signs: dict[str, QIcon] = {}
        column = self.column
        self.heading = QLabel()
        self.heading.setFont(scaled(self.font(), 1.35, bold=True))
        self.heading.setWordWrap(True)
        column.addWidget(self.heading)
        self.picture = BracketPicture(session)
        self.picture.refused.connect(self.refused)
        column.addWidget(self.picture)
        self.bounds = Sentences()
        column.addWidget(self.bounds)
        self.goal_title = self._title("")
        column.addWidget(self.goal_title)
        self.goals = TypedTable("Goals of the drop", words.GOAL_HEADS, 50)
        self.goals.setWordWrap(True)
        self.goals.itemDoubleClicked.connect(lambda item: self._set_goal(item.row()))
        self.goals.currentCellChanged.connect(lambda *_: self._show_pick())
        column.addWidget(self.goals)
        row = QHBoxLayout()
        self.goal_note = Note()
        self.set_button = QPushButton("Set it")
        self.set_button.setToolTip("Set lift and bracket to the picked goal; Undo takes it back (double-click a goal)")
        self.set_button.setAccessibleName("Set the picked goal")
        self.set_button.clicked.connect(lambda: self._set_goal(self.goals.currentRow()))
        row.addWidget(self.goal_note, 1)
        row.addWidget(self.set_button, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(row)
        self.raised = Sentences()
        column.addWidget(self.raised)
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
        self.checks.setWordWrap(True)
        self.checks.currentCellChanged.connect(lambda *_: self._show_check())
        column.addWidget(self.checks)
        self.check_note = Note()
        self.check_note.setAccessibleName("The picked check, to follow on paper")
        self.check_note.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        column.addWidget(self.check_note)
        self.all_checks = QCheckBox("Show every check")
        self.all_checks.setToolTip("All checks of strength and layout, not only those used most and those that fail")
        self.all_checks.toggled.connect(lambda _: self._show_design())
        column.addWidget(self.all_checks)
        self.anchor_title = self._title("What the anchor distance does")
        column.addWidget(self.anchor_title)
        self.anchors = TypedTable("What the anchor distance does", words.ANCHOR_HEADS, 84)
        column.addWidget(self.anchors)
        column.addWidget(self._title("Holes for a range of lifts"))
        self.holes = Sentences()
        column.addWidget(self.holes)
        self.holes_button = QPushButton("Make these its holes")
        self.holes_button.setAccessibleName("Make the holes for the range of lifts those of the bracket")
        self.holes_button.setToolTip("Give this job's own bracket these holes, instead of its own; Undo takes it back")
        self.holes_button.clicked.connect(self.take_holes)
        row = QHBoxLayout()
        row.addWidget(self.holes_button)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self._title("What it is designed by"))
        self.rules = RulesForm(session)
        self.rules.refused.connect(self.refused)
        column.addWidget(self.rules)
        self.missing = Sentences()
        column.addWidget(self.missing)
        column.addStretch(1)
        self.cautions = Note("\n".join(CAUTIONS), 0.88)
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
        self._signs = sign_icons(colours)
        for part in (self.bounds, self.raised, self.stock, self.strength, self.holes, self.missing):
            part.show_theme(colours)
        self._show_design()

    # -- what is shown

    @property
    def design(self) -> Design | None:
        """Return the last design, None before the first."""
        return self.answer.design if self.answer else None

    @property
    def shown(self) -> Design | None:
        """Return what bounds and checks are shown of: the last design, followed to the drop while it is dragged."""
        return self._moved or self.design

    @property
    def working(self) -> bool:
        """Return whether the design of what is shown is still to come."""
        return self._work.busy

    def show_state(self, moment: Moment) -> None:
        """Show the bracket of the document at once, and ask for its design."""
        document, view = moment.document, moment.view
        self.picture.sketch.show_theme(view.theme)
        self.rules.show_rules(document.job, view.unit)
        self.own.show_bracket(document.job.bracket, view.unit)
        wanted = Wanted(document, view.unit, self.session.stock, self.session.stock.path, kept_limits(self.session))
        if self._wanted is not None and self._wanted.key == wanted.key:
            return
        self._wanted = wanted
        lift, setup_drop = document.setup.lift, document.setup.drop
        put(self.heading, f"Bracket for a lift of {format_length(lift, view.unit)}" if lift else "Bracket, no lift")
        drop = setup_drop or (self.design.setup.drop if self.design else 100.0)
        case = moment.frame.comparison.cases[moment.name]
        self.picture.show_document(document, view.unit, float(case.study.bar_angle[case.rest]), drop)
        self._dim(True, self._follow(wanted))
        if self._work.ask(wanted.key, wanted):
            self._show_whole()

    def _came(self, key: object, found: object) -> None:
        if isinstance(found, Answer):
            self.answer = found
            self._show_whole()
        else:
            put(self.goal_note, FAILED)

    def _show_whole(self) -> None:
        """Show the whole answer to what is wanted."""
        self._moved = None
        self._dim(False)
        self._show_design()

    def _follow(self, wanted: Wanted) -> bool:
        """Show bounds and checks at a drop that is being dragged, at once; return whether that could be done."""
        last, self._moved = self.answer, None
        if last is not None and last.wanted.rest == wanted.rest:
            rules = rules_of(wanted.document.job, wanted.links)
            self._moved = follow(last.design, wanted.document.setup, rules)
        if self._moved is not None:
            self._show_now(self._moved)
        return self._moved is not None

    def _dim(self, on: bool, followed: bool = False) -> None:
        """Dim what belongs to an earlier document until its own is there."""
        for part in (self.goals, self.raised, self.stock, self.use_button, self.anchors, self.holes, self.holes_button):
            part.setEnabled(not on)
        self.own.button.setEnabled(not on)
        for part in (self.bounds, self.strength, self.checks):
            part.setEnabled(followed or not on)

    def _show_design(self) -> None:
        found = self.design
        if found is None or self._wanted is None:
            return
        unit = self._wanted.unit
        put(self.goal_title, f"What the drop is chosen for, {unit}")
        faults = [self._signs.get("hit" if words.goal_fault(goal, found) else "", QIcon()) for goal in found.goals]
        self.goals.show_rows([words.goal_row(goal, found, unit) for goal in found.goals], (False,) * 7, faults)
        for i, goal in enumerate(found.goals):
            for j in range(7):
                self.goals.show_tip(i, j, words.goal_tip(goal, found, unit))
        self.goals.fit_columns(38)
        as_high_as_its_rows(self.goals)
        self._show_stock(unit)
        if found.proposed:
            self.own.show_proposed(found.bracket)
        self._show_now(self._moved or found)
        self.raised.show_sentences(tuple(words.raised(found, unit)))
        rows = [words.anchor_row(row, found.bracket.anchor, unit) for row in found.anchors]
        signs = [self._signs.get(words.anchor_sign(row), QIcon()) for row in found.anchors]
        self.anchors.show_rows(rows, (False,) * 3, signs)
        as_high_as_its_rows(self.anchors)
        for part in (self.anchor_title, self.anchors):
            part.setVisible(bool(rows))
        self.holes.show_sentences(tuple(words.holes(found, unit)))
        self.holes_button.setVisible(bool(found.holes.holes))
        self.missing.show_sentences(tuple((text, "") for text in found.missing))
        self._show_pick()

    def _show_now(self, found: Design) -> None:
        """Show what follows a drop that is being dragged: bounds, the worst check and all others."""
        if self._wanted is None:
            return
        self.bounds.show_sentences(tuple(words.bounds(found, self._wanted.unit)))
        self.strength.show_sentences(tuple(words.strength(found)))
        checks, before = self._checks(found), self.checks.texts(0)
        signs = [self._signs.get(words.check_sign(check), QIcon()) for check in checks]
        self.checks.show_rows([words.check_row(check) for check in checks], (False,) * 2, signs)
        for i, check in enumerate(checks):
            self.checks.show_tip(i, 0, f"{check.words}: {check.verdict}")
        if self.checks.texts(0) != before:
            as_high_as_its_rows(self.checks)
        self._show_check(checks)

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
        put(self.goal_note, unbroken(words.goal_tip(goal, found, self._wanted.unit)) if goal else words.GOAL_HINT)
        self.set_button.setEnabled(goal is not None and goal.setup is not None)

    def _show_check(self, checks: list[Check] | None = None) -> None:
        """Show the picked check so that it can be followed on paper."""
        if checks is None:
            checks = self._checks(self.shown) if self.shown is not None else []
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

    def take_holes(self) -> None:
        """Give the job's own bracket the holes for the range of lifts; the proposed one becomes its own so."""
        found = self.design
        if found is not None and found.holes.holes:
            drops = [hole.drop for hole in found.holes.holes]
            self.own.take("make these its holes", BracketTable.of(found.bracket.with_holes(*drops)))

    def ask_stock(self) -> None:
        """Ask for another catalogue."""
        folder = str(self.session.stock.path.parent)
        path, _ = QFileDialog.getOpenFileName(self, "Catalogue of brackets", folder, f"Catalogues (*{SUFFIX})")
        if path:
            try:
                self.session.choose_stock(path)
            except LinkvizError as error:
                dialogs.tell(error, self)
