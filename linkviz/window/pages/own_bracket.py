"""The bracket of the job: proposed by the program until the shop makes it its own, then typed."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from linkviz.analysis.bracket.table import BracketTable
from linkviz.bracket.parts import DropBracket
from linkviz.errors import LinkvizError
from linkviz.session import tables
from linkviz.session.session import Session
from linkviz.units import Unit
from linkviz.vehicle.described import Path
from linkviz.vehicle.part import values_of
from linkviz.window.pages.forms import PartForm
from linkviz.window.pages.sentences import Note, put

PROPOSED = "Proposed from what was measured. Make it this job's own to set its plates, bolts and holes."
OWN = "This job's own bracket; what is typed is checked at once. Removed, the program proposes one again."


class OwnBracket(QWidget):
    """Says whose the bracket is, and holds its form once it is the job's own.

    Parameters
    ----------
    session : Session
        What is changed.
    """

    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._proposed: DropBracket | None = None
        self._seen: tuple[object, ...] = ()
        self.form: PartForm | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.note = Note()
        self._column.addWidget(self.note)
        self.button = QPushButton("Make it this job's own")
        self.button.setToolTip("Keep the bracket that is shown with the job, to be changed; Undo takes it back")
        self.button.clicked.connect(self.make_own)
        self._column.addWidget(self.button)

    def show_bracket(self, own: BracketTable | None, unit: Unit) -> None:
        """Show the job's own bracket, or that it has none; only what differs is touched."""
        if self._seen == (own, unit):
            return
        self._seen = (own, unit)
        put(self.note, OWN if own is not None else PROPOSED)
        self.button.setVisible(own is None)
        if own is not None and self.form is None:
            self.form = PartForm(("bracket",), BracketTable, "Bracket", self._change)
            self.form.refused.connect(self.refused)
            self._column.addWidget(self.form)
        if self.form is not None:
            self.form.setVisible(own is not None)
            if own is not None:
                self.form.show_part(own, unit)

    def show_proposed(self, bracket: DropBracket) -> None:
        """Take what the program proposes."""
        self._proposed = bracket

    def make_own(self) -> None:
        """Make the proposed bracket the job's own."""
        if self._proposed is not None:
            self.take("make the bracket the job's own", BracketTable.of(self._proposed))

    def take(self, text: str, bracket: BracketTable | None) -> bool:
        """Make a bracket, or none, the job's own; return whether it could be."""
        try:
            self._session.edit_job(text, bracket=bracket)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        return True

    def _change(self, path: Path, value: Any, text: str) -> bool:
        own = self._session.document.job.bracket
        if path == ("bracket",):
            return self.take("remove the job's own bracket", None)
        if own is None:
            return False
        try:
            return self.take(text, _put(own, path[1:], value))
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False


def _put(own: BracketTable, path: Path, value: Any) -> BracketTable:
    """Return the bracket with another value at a place."""
    first, rest = str(path[0]), path[1:]
    if rest:
        inner = getattr(own, first)
        value = tables.made(type(inner), {**values_of(inner), str(rest[0]): value})
    made: BracketTable = tables.made(BracketTable, {**values_of(own), first: value})
    return made
