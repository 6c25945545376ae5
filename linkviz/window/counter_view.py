"""The counter view: under the drawings a few rows, a few big sentences, and a line of large keys; nothing else."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from linkviz.analysis.counter import spoken
from linkviz.conventions import MM_PER_INCH
from linkviz.frozen import Frozen, values_of
from linkviz.session.document import Document
from linkviz.session.live import Frame
from linkviz.session.session import Session
from linkviz.session.stock import Stock
from linkviz.session.view import View
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle
from linkviz.window.pages.counter import Columns
from linkviz.window.pages.sentences import Sentences, put
from linkviz.window.same import same
from linkviz.window.theme import Colours, scaled
from linkviz.window.work import LatestWork

if TYPE_CHECKING:
    from linkviz.analysis.bracket.fitting_parts import Fitting
    from linkviz.book.model import Job
    from linkviz.window.actions import Actions

LIFTS = (2, 3, 4, 6)
"""Lifts that have a key of their own, in."""
KEYS = (*(f"lift{lift}" for lift in LIFTS), "parts")
"""Deeds that are there in the counter view only: their keys are plain digits and letters."""
LOW = 620
"""In a window lower than this the sentences give way to the drawings, screen points."""


class Wanted(Frozen, eq=False):
    """For which lifts (mm) parts are looked for."""

    vehicle: Vehicle
    stock: Stock
    path: Path
    unit: Unit
    lifts: tuple[float, ...]
    job: Job

    def same(self, other: Wanted | None) -> bool:
        """Return whether answers to the other hold here."""
        return (
            other is not None
            and (self.vehicle is other.vehicle and self.path == other.path)
            and (self.unit == other.unit)
            and (self.job.rules, self.job.load_cases) == (other.job.rules, other.job.load_cases)
        )


def _fittings(wanted: Wanted) -> dict[float, Fitting]:
    from linkviz.analysis.bracket.fitting_parts import fitting_parts
    from linkviz.book.rules import rules_of

    catalogue, rules = wanted.stock.there(), rules_of(wanted.job)
    return {lift: fitting_parts(wanted.vehicle, lift, catalogue, wanted.unit, rules) for lift in wanted.lifts}


class CounterKeys(QObject):
    """What the keys of the counter view do: a lift, with the parts that belong to it or without.

    Parameters
    ----------
    session : Session
        What they change.

    Notes
    -----
    The parts of every lift that has a key are looked for, off the painting thread, as soon as the view is entered.
    """

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.fitting: Fitting | None = None
        self._known: dict[float, Fitting] = {}
        self._known_for: Wanted | None = None
        self._wish: float | None = None
        self._asked: Wanted | None = None
        self.work = LatestWork(_fittings, pause_ms=0, parent=self)
        self.work.done.connect(self._came)

    def deeds(self) -> dict[str, Callable[..., object]]:
        """Return what each key does."""
        lifts = {f"lift{lift}": lambda _=False, lift=lift: self.lift(lift * MM_PER_INCH) for lift in LIFTS}
        return {**lifts, "parts": self.parts}

    def lift(self, lift: float) -> None:
        """Lift the vehicle, mm; the parts on it become those that belong to the new lift."""
        self._wish = None
        if self._session.document.setup.corrected:
            self._put_on(lift)
        else:
            self._session.edit_setup("ride height", lift=lift)

    def parts(self, on: bool) -> None:
        """Put on the parts that belong to the lift, or take all off."""
        document = self._session.document
        self._wish = None
        if on:
            self._put_on(document.setup.lift)
        else:
            self._session.edit_setup("parts off", **values_of(document.setup.without_parts()))

    def prepare(self) -> None:
        """Look for the parts of the lifts that have keys, and of the present one."""
        lifts = {lift * MM_PER_INCH for lift in LIFTS} | {self._session.document.setup.lift}
        wanted = self._wanted(*sorted(lifts))
        if not wanted.same(self._known_for):
            self._ask(wanted)

    def _wanted(self, *lifts: float) -> Wanted:
        session = self._session
        document = session.document
        return Wanted(document.vehicle, session.stock, session.stock.path, session.view.unit, lifts, document.job)

    def _put_on(self, lift: float) -> None:
        wanted = self._wanted(lift)
        if wanted.same(self._known_for) and lift in self._known:
            self._take(self._known[lift])
            return
        self._wish = lift
        there = self._asked
        if not (self.work.busy and there is not None and wanted.same(there) and lift in there.lifts):
            self._ask(wanted)

    def _ask(self, wanted: Wanted) -> None:
        self._asked = wanted
        self.work.ask(wanted, wanted)

    def _came(self, wanted: Wanted, found: dict[float, Fitting] | None) -> None:
        if found is None:
            return
        if not wanted.same(self._known_for):
            self._known = {}
        self._known_for = wanted
        self._known |= found
        if self._wish is None:
            return
        wish, self._wish = self._wish, None
        if self._wanted().same(wanted) and wish in found:
            self._take(found[wish])
        else:
            self._put_on(wish)

    def _take(self, fitting: Fitting) -> None:
        self.fitting = fitting
        self._session.edit_setup("parts on", **values_of(fitting.setup))

    def words(self) -> str:
        """Return which parts are on, or "" if they are not those that were put on here."""
        there = self.fitting
        return there.words if there is not None and there.setup == self._session.document.setup else ""


class CounterView(QFrame):
    """Rows, sentences and keys in large type.

    Parameters
    ----------
    actions : Actions
        The deeds behind the keys.
    """

    def __init__(self, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("card")
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 6, 24, 8)
        column.setSpacing(6)
        self.columns = Columns(large=True)
        column.addWidget(self.columns)
        self.sentences = Sentences(1.4)
        column.addWidget(self.sentences)
        line = QHBoxLayout()
        line.setSpacing(8)
        self.title = QLabel()
        self.title.setWordWrap(True)
        self.title.setFont(scaled(self.font(), 1.2, bold=True))
        line.addWidget(self.title, 1)
        self.buttons: dict[str, QToolButton] = {}
        for name in (*KEYS, "play", "counter"):
            button = QToolButton()
            button.setFont(scaled(self.font(), 1.25))
            if name == "counter":
                button.setText("Leave (Esc)")
                button.setToolTip("Back to the whole window (F11 or Esc)")
                button.clicked.connect(actions[name].trigger)
            else:
                button.setDefaultAction(actions[name])
            button.setAccessibleName(button.text().replace("&", ""))
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
            button.setMinimumSize(QSize(56, 36))
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            line.addWidget(button)
            self.buttons[name] = button
        column.addLayout(line)
        self._told: tuple[object, ...] = ()

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.columns.show_theme(colours)
        self.sentences.show_theme(colours)
        self._told = ()

    def show_state(self, frame: Frame, document: Document, view: View, parts: str) -> None:
        """Show a moment; `parts` says which parts are on."""
        key = (frame.findings, view.unit, parts)
        if same(key, self._told):
            return
        self._told = key
        found = spoken(frame.findings, frame.comparison, view.unit)
        self.columns.show_findings(found)
        self.sentences.show_sentences(tuple((s.text, s.icon) for s in found.sentences))
        lift = document.setup.lift
        lifted = f"lifted {format_length(lift, view.unit)}" if lift else "as built"
        put(self.title, ", ".join(filter(None, (document.vehicle.name, lifted, parts))))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Leave the sentences out where the window is low."""
        super().resizeEvent(event)
        window: QWidget = self.window()
        self.sentences.setVisible(window.height() >= LOW)


def show_keys(actions: Actions, document: Document, view: View) -> None:
    """Show on the counter view's deeds what is on; outside of it their keys are off."""
    for lift in LIFTS:
        action = actions[f"lift{lift}"]
        action.setEnabled(view.counter)
        action.setChecked(abs(document.setup.lift - lift * MM_PER_INCH) < 0.5)
    actions["parts"].setEnabled(view.counter and document.setup.lift > 0)
    actions["parts"].setChecked(document.setup.corrected)
