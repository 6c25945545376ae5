"""A job's details: number, customer, status, notes, what was printed, setups kept for comparison."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QInputDialog,
    QLabel,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.setup import Setup
from linkviz.book.model import STATUSES, Job, SetupTable, State
from linkviz.errors import LinkvizError
from linkviz.letters import many_lines, one_line
from linkviz.units import Unit, format_length
from linkviz.vehicle.part import values_of
from linkviz.vehicle.texts import LONGEST_LINE
from linkviz.window.pages.sentences import Note, put

LINES = (
    ("number", "&Number", "Number of the job, such as 2026-014"),
    ("customer", "&Customer", "Who asked"),
    ("contact", "Con&tact", "Telephone or mail"),
    ("name", "&What is asked", "What is asked for, in a few words"),
)
"""Field, label and tip of each line of text."""


def state_words(state: State, unit: Unit) -> str:
    """Return a kept setup in words."""
    lift = f"lift {format_length(state.lift, unit)}" if state.lift else "as built"
    return f"{state.name}: {lift}, bracket {format_length(state.drop, unit)}"


class Details(QDialog):
    """Edits a copy of a job's details; nothing changes before OK.

    Parameters
    ----------
    job : Job
        The details to begin with.
    setup : Setup
        What is on the vehicle now, mm.
    unit : {"mm", "in"}
        Unit of the lengths.
    words : sequence of str
        Words for the status that are offered.
    take : callable
        Called at OK with what `changes` returns and the setup. What it refuses, as a `LinkvizError`, is said here, and
        what was typed is still there.

    Attributes
    ----------
    setup : Setup
        As at the beginning, or a kept one that was taken back.
    """

    def __init__(
        self,
        job: Job,
        setup: Setup,
        unit: Unit,
        words: tuple[str, ...] = STATUSES,
        take: Callable[[dict[str, object], Setup], object] = lambda changes, setup: None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Job details")
        self.resize(620, 560)
        self._job = job
        self.setup = setup
        self._unit = unit
        self._take = take
        self._states = list(job.states)
        column = QVBoxLayout(self)
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.lines: dict[str, QLineEdit] = {}
        for key, label, tip in LINES:
            line = QLineEdit(getattr(job, key))
            line.setMaxLength(LONGEST_LINE)
            line.setToolTip(tip)
            line.setAccessibleName(label.replace("&", ""))
            form.addRow(label, line)
            self.lines[key] = line
        self.status = QComboBox()
        self.status.setEditable(True)
        self.status.lineEdit().setMaxLength(LONGEST_LINE)
        self.status.setAccessibleName("Status")
        self.status.setToolTip("How far the job is; pick a word or write one of your own")
        self.status.addItems(list(dict.fromkeys((*words, job.status))))
        self.status.setCurrentText(job.status)
        form.addRow("&Status", self.status)
        self.notes = QPlainTextEdit(job.notes)
        self.notes.setAccessibleName("Notes")
        self.notes.setTabChangesFocus(True)
        self.notes.setPlaceholderText("What was said on the telephone, what to look at, what is still missing")
        form.addRow("N&otes", self.notes)
        column.addLayout(form, 1)
        column.addWidget(QLabel("Setups kept for comparison"))
        row = QHBoxLayout()
        self.states = QListWidget()
        self.states.setAccessibleName("Setups kept for comparison")
        self.states.setMaximumHeight(92)
        row.addWidget(self.states, 1)
        side = QVBoxLayout()
        for text, tip, do in (
            ("&Keep the present one", "Keep the lift and the parts that are on now under a name", self._keep),
            ("&Go back to it", "Put the picked setup on the vehicle again", self._back),
            ("&Forget it", "Take the picked setup off the list", self._forget),
        ):
            button = QPushButton(text)
            button.setToolTip(tip)
            button.setAccessibleName(text.replace("&", ""))
            button.setAutoDefault(False)
            button.clicked.connect(do)
            side.addWidget(button)
        side.addStretch(1)
        row.addLayout(side)
        column.addLayout(row)
        self.history = Note(_history(job))
        column.addWidget(self.history)
        self.trouble = QLabel()
        self.trouble.setObjectName("problem")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        column.addWidget(self.trouble)
        kinds = QDialogButtonBox.StandardButton
        buttons = QDialogButtonBox(kinds.Ok | kinds.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)
        self._show_states()
        (self.lines["customer"] if job.number else self.lines["number"]).setFocus()

    def changes(self) -> dict[str, object]:
        """Return the fields of the job that were changed."""
        values: dict[str, object] = {key: one_line(line.text()) for key, line in self.lines.items()}
        values["status"] = one_line(self.status.currentText()) or self._job.status
        values["notes"] = many_lines(self.notes.toPlainText())
        values["states"] = tuple(self._states)
        return {key: value for key, value in values.items() if value != getattr(self._job, key)}

    def accept(self) -> None:
        """Hand the changes over; close if they are taken."""
        try:
            self._take(self.changes(), self.setup)
        except LinkvizError as error:
            put(self.trouble, str(error))
            self.trouble.show()
        else:
            super().accept()

    # -- kept setups

    def _show_states(self, at: int = -1) -> None:
        self.states.clear()
        self.states.addItems([state_words(state, self._unit) for state in self._states])
        if self._states:
            self.states.setCurrentRow(at if at >= 0 else len(self._states) - 1)

    def _keep(self) -> None:
        wanted = f"{format_length(self.setup.lift, self._unit)} with {format_length(self.setup.drop, self._unit)}"
        name, good = QInputDialog.getText(self, "Keep this setup", "Name:", QLineEdit.EchoMode.Normal, wanted)
        if good and one_line(name):
            self.keep(one_line(name)[:LONGEST_LINE])

    def keep(self, name: str) -> None:
        """Keep the present setup under a name; the same name again takes the place of the old one."""
        state = State(name=name, **values_of(SetupTable.of(self.setup)))
        self._states = [there for there in self._states if there.name != name]
        self._states.append(state)
        self._show_states()

    def _back(self) -> None:
        at = self.states.currentRow()
        if at >= 0:
            before, self.setup = self.setup, self._states[at].setup()
            self.accept()
            if not self.result():
                self.setup = before

    def _forget(self) -> None:
        at = self.states.currentRow()
        if at >= 0:
            del self._states[at]
            self._show_states(min(at, len(self._states) - 1))


def _history(job: Job) -> str:
    if not job.printed:
        return "No papers were made of this job yet."
    return "Papers made: " + "; ".join(
        f"{entry.when.replace('T', ' ')[:16]} {', '.join(entry.papers)}" for entry in job.printed[-4:]
    )
