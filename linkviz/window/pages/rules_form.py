"""What the bracket is designed by: load cases that are typed, and the rules of the job."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from linkviz.analysis.bracket.table import LoadCaseTable, RulesTable
from linkviz.book.model import Job
from linkviz.bracket.loads import CASES
from linkviz.errors import LinkvizError
from linkviz.session import tables
from linkviz.session.session import Session
from linkviz.units import Unit
from linkviz.vehicle.described import Path, fields_of
from linkviz.vehicle.part import values_of
from linkviz.window.pages.forms import PartForm
from linkviz.window.pages.sentences import Note
from linkviz.window.pages.table import TypedTable, as_high_as_its_rows

HEADS: Final = ("Load case", "Lateral,\ng", "Travel,\nup +", "Roll,\n\N{DEGREE SIGN}", "Fore-aft\nshare")
NEW: Final = "another case"
USUAL_CASES: Final = tuple(LoadCaseTable.of(case) for case in CASES)
NOTE: Final = "Kept with the job. The limits of the trailing links are the shop's own: How far can it be lifted? (L)."


class RulesForm(QWidget):
    """Load cases and rules, usual ones until something is typed.

    Parameters
    ----------
    session : Session
        What is changed.
    """

    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._unit: Unit = "mm"
        self._shown: tuple[object, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.cases = TypedTable("Load cases; double-click a value to change it", HEADS, 58)
        self.cases.setWordWrap(True)
        self.cases.typed.connect(self._typed)
        self.cases.currentCellChanged.connect(lambda *_: self._show_buttons())
        column.addWidget(self.cases)
        row = QHBoxLayout()
        self.add_button = self._button(row, "Add a case", "One more load case, to be typed over; Undo takes it back")
        self.add_button.clicked.connect(self.add)
        self.remove_button = self._button(row, "Remove it", "Take the picked load case away; Undo brings it back")
        self.remove_button.setAccessibleName("Remove the picked load case")
        self.remove_button.clicked.connect(self.remove)
        self.usual_button = self._button(
            row, "Usual rules", "Go back to the usual cases and rules; Undo brings these back"
        )
        self.usual_button.clicked.connect(self.make_usual)
        row.addStretch(1)
        column.addLayout(row)
        self.form = PartForm(("rules",), RulesTable, "Rules", self._change, removable=False)
        self.form.refused.connect(self.refused)
        column.addWidget(self.form)
        self.note = Note(NOTE)
        column.addWidget(self.note)

    def _button(self, row: QHBoxLayout, text: str, tip: str) -> QPushButton:
        button = QPushButton(text)
        button.setToolTip(tip)
        row.addWidget(button)
        return button

    # -- showing

    def show_rules(self, job: Job, unit: Unit) -> None:
        """Show the rules of a job."""
        if (job.load_cases, job.rules, unit) == self._shown:
            return
        self._shown = (job.load_cases, job.rules, unit)
        self._unit = unit
        self.cases.show_rows([_texts(case, unit) for case in self._cases()], (True,) * len(HEADS))
        for row in range(self.cases.rowCount()):
            for column, field in enumerate(fields_of(LoadCaseTable)):
                self.cases.show_tip(row, column, field.tip)
        as_high_as_its_rows(self.cases)
        self.form.show_part(job.rules or RulesTable(), unit)
        self.usual_button.setEnabled(bool(job.load_cases) or job.rules is not None)
        self._show_buttons()

    def _show_buttons(self) -> None:
        self.remove_button.setEnabled(self.cases.rowCount() > 1 and self.cases.currentRow() >= 0)

    def _cases(self) -> tuple[LoadCaseTable, ...]:
        return self._session.document.job.load_cases or USUAL_CASES

    # -- typing

    def _typed(self, row: int, column: int, text: str) -> None:
        cases = list(self._cases())
        if row >= len(cases):
            return  # the cases became others while this was typed
        field = fields_of(LoadCaseTable)[column]
        try:
            value = tables.read(field, text, self._unit)
            cases[row] = tables.made(LoadCaseTable, {**values_of(cases[row]), field.name: value})
            self._edit(f"set load case, {field.label.lower()}", load_cases=tuple(cases))
        except LinkvizError as error:
            self._refuse(error)
            self._shown = ()
        self.show_rules(self._session.document.job, self._unit)

    def add(self) -> None:
        """Add a load case, to be typed over."""
        cases = self._cases()
        names = {case.name for case in cases}
        name = next(n for n in (NEW, *(f"{NEW}, {i}" for i in range(2, len(cases) + 3))) if n not in names)
        self._try("add a load case", load_cases=(*cases, LoadCaseTable(name=name, lateral_g=1.0)))

    def remove(self) -> None:
        """Take the picked load case away."""
        cases, row = self._cases(), self.cases.currentRow()
        if len(cases) > 1 and 0 <= row < len(cases):
            self._try(f"remove load case {cases[row].name}", load_cases=cases[:row] + cases[row + 1 :])

    def make_usual(self) -> None:
        """Go back to the usual load cases and rules."""
        self._try("go back to the usual rules", load_cases=(), rules=None)

    def _change(self, path: Path, value: Any, text: str) -> bool:
        rules = self._session.document.job.rules or RulesTable()
        try:
            return self._try(text, rules=tables.made(RulesTable, {**values_of(rules), str(path[-1]): value}))
        except LinkvizError as error:
            self._refuse(error)
            return False

    def _try(self, text: str, **changes: object) -> bool:
        try:
            self._edit(text, **changes)
        except LinkvizError as error:
            self._refuse(error)
            return False
        return True

    def _edit(self, text: str, **changes: object) -> None:
        """Make it a step; what is usual is not written down."""
        if changes.get("load_cases") == USUAL_CASES:
            changes["load_cases"] = ()
        if changes.get("rules") == RulesTable():
            changes["rules"] = None
        self._session.edit_job(text, **changes)

    def _refuse(self, error: LinkvizError) -> None:
        self.refused.emit(str(error))


def _texts(case: LoadCaseTable, unit: Unit) -> Sequence[str]:
    return [tables.shown(field, getattr(case, field.name), unit) for field in fields_of(LoadCaseTable)]
