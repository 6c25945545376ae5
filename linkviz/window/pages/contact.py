"""The map and the pairs of the Clearance page: where over travel and roll it is tight, and which parts are watched."""

from __future__ import annotations

import math

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import Answers
from linkviz.analysis.clearance.contact_map import ContactMap, contact_map
from linkviz.analysis.clearance.pairs import Pair, possible_pairs, watched_pairs, with_pair
from linkviz.analysis.clearance.words import clearance_sentences, guessed_short, guessed_words, pair_row
from linkviz.analysis.findings import place_words
from linkviz.analysis.setup import Setup
from linkviz.analysis.telling import depth_words, room_words
from linkviz.errors import FAILED, LinkvizError
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.view import View
from linkviz.units import Unit, format_length, parse_length
from linkviz.vehicle.model import Vehicle
from linkviz.window.icons import sign_icons
from linkviz.window.pages.map_view import MapView, gap_at, steps_words
from linkviz.window.pages.sentences import Note, Sentences, put
from linkviz.window.pages.table import TypedTable
from linkviz.window.plain import plain_tip
from linkviz.window.still import StillCombo
from linkviz.window.theme import Colours
from linkviz.window.work import LatestWork

AT_ONCE_MS = 0
"""The map follows a slider: it begins as soon as the one before is done."""


def map_work(document: Document) -> ContactMap:
    """Compute the map; safe in a thread of its own."""
    return contact_map(Build.of(document.vehicle, document.setup))


class MapPanel(QWidget):
    """The contact map with its legend; worked out anew while anything is dragged.

    Parameters
    ----------
    session : Session
        Whose axle is put where the map is clicked.
    """

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._document: Document | None = None
        self._for: tuple[Vehicle, Setup] | None = None
        self._failed: tuple[Vehicle, Setup] | None = None
        self.work = LatestWork(map_work, AT_ONCE_MS, self)
        self.work.done.connect(self._came)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        self.here = QLabel()
        self.here.setWordWrap(True)
        self.here.setMinimumHeight(2 * self.fontMetrics().height() + 2)
        self.here.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.here)
        self.view = MapView()
        self.view.setToolTip("Click or drag: the axle goes there. Arrow keys move it; Home: rest.")
        self.view.put.connect(lambda travel, roll: session.set_view(travel=travel, roll_deg=roll, playing=False))
        column.addWidget(self.view, 1)
        self.legend = Note()
        self.legend.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        column.addWidget(self.legend)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.view.show_theme(colours)

    def show_state(self, document: Document, view: View) -> None:
        """Show the map of a document, the last one dimmed until it is there."""
        self._document = document
        key = (document.vehicle, document.setup)
        self.work.ask(key, document)
        found = self.view.map
        self.view.show_map(found, view.unit, self._for != key)
        self.view.show_place(view.travel, view.roll_deg)
        put(self.here, FAILED if key == self._failed else _here(found, view))
        tight = "Brighter" if self.view.dark else "Darker"
        put(
            self.legend,
            f"Up and down: axle roll, left wheel up +. {tight}: less room. Hatched, thick line: contact. Dashed line: "
            f"inside a margin. Thin lines: gaps of {steps_words(view.unit)}.",
        )

    def _came(self, key: tuple[Vehicle, Setup], found: ContactMap | None) -> None:
        if self._document is None:
            return
        if found is None:
            self._failed = key
        else:
            self._for = key
            self.view.show_map(found, self._session.view.unit, False)
        self.show_state(self._document, self._session.view)


def _here(found: ContactMap | None, view: View) -> str:
    """Return what the map says where the axle stands."""
    if found is None:
        return "Working out the map ..."
    if not found.pairs:
        return "No pair of parts is watched."
    gap, pair, deep = gap_at(found, view.travel, view.roll_deg)
    where = place_words(view.travel, math.radians(view.roll_deg), view.unit)
    words = found.pairs[pair].words if pair >= 0 else ""
    if gap <= 0:
        return f"Here, {where}: {words}, contact{depth_words(gap, view.unit, deep)}."
    return f"Here, {where}: smallest gap {room_words(gap, view.unit)}, {words}."


class PairsPanel(QWidget):
    """Every watched pair with its margin, smallest gap and place, and what clearance comes down to.

    Parameters
    ----------
    session : Session
        Whose vehicle takes the choice.
    """

    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._signs: dict[str, QIcon] = {}
        self._seen: tuple[object, ...] = ()
        self._rows: tuple[Pair, ...] = ()
        self._places: tuple[tuple[float, float], ...] = ()
        self._others: tuple[Pair, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        self.sentences = Sentences()
        column.addWidget(self.sentences)
        self.table = TypedTable("Watched pairs", ("Pair", "Margin", "Gap"), 70)
        self.table.setMinimumHeight(150)
        self.table.setToolTip("Click a pair: the axle goes where it comes nearest. Type a margin; empty for the usual")
        self.table.typed.connect(self._typed)
        self.table.picked.connect(self._go)
        column.addWidget(self.table, 1)
        row = QHBoxLayout()
        self.more = StillCombo()
        self.more.setAccessibleName("Watch another pair")
        self.more.setToolTip("Pairs that are not watched; choose one to watch it")
        self.more.activated.connect(self._watch)
        self.less = QPushButton("Stop watching")
        self.less.setAccessibleName("Stop watching the picked pair")
        self.less.setToolTip("Leave the picked pair out; Undo brings it back")
        self.less.clicked.connect(self._leave)
        self.sweep = QPushButton("Show sweep")
        self.sweep.setCheckable(True)
        self.sweep.setAccessibleName("Show what the first part of the picked pair sweeps")
        self.sweep.setToolTip("Draw what the first part of the picked pair sweeps over the whole travel, in both views")
        self.sweep.clicked.connect(self._sweep)
        row.addWidget(self.more, 1)
        row.addWidget(self.sweep)
        row.addWidget(self.less)
        column.addLayout(row)
        self.guessed = Note()
        self.guessed.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        column.addWidget(self.guessed)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._signs = sign_icons(colours)
        self.sentences.show_theme(colours)
        self._seen = ()

    def show_state(self, document: Document, view: View, answers: Answers | None, stale: bool) -> None:
        """Show the pairs; `stale` answers are those of a moment ago."""
        if self.sweep.isChecked() != bool(view.swept):
            self.sweep.setChecked(bool(view.swept))
        seen = (document.vehicle, document.setup, view.unit, answers, stale)
        if seen == self._seen:
            return
        self._seen = seen
        build = Build.of(document.vehicle, document.setup)
        self.sentences.setEnabled(not stale)
        if answers is not None:
            said = clearance_sentences(build, answers, view.unit)
            self.sentences.show_sentences(tuple((s.text, s.icon) for s in said))
            put(self.guessed, guessed_short(build))
            self.guessed.setToolTip(plain_tip(guessed_words(build)))
        watched = watched_pairs(document.vehicle, document.setup)
        self._show_table(watched, view.unit, answers)
        self._others = tuple(pair for pair in possible_pairs(document.vehicle, document.setup) if pair not in watched)
        words = ["Watch another pair ...", *(pair.words for pair in self._others)]
        self.more.offer(words)
        self.more.setCurrentIndex(0)

    def _show_table(self, watched: tuple[Pair, ...], unit: Unit, answers: Answers | None) -> None:
        known = {(one.pair.one, one.pair.other): one for one in answers.worst} if answers is not None else {}
        order = {names: i for i, names in enumerate(known)}
        watched = tuple(sorted(watched, key=lambda pair: order.get((pair.one, pair.other), len(order))))
        rows, icons, places = [], [], []
        for pair in watched:
            worst = known.get((pair.one, pair.other))
            margin = format_length(pair.margin, unit)
            gap = pair_row(worst, unit)[2].replace("touches, ", "") if worst is not None else "..."
            rows.append((pair.words, margin, gap))
            icons.append(self._signs.get(worst.sign, QIcon()) if worst is not None else QIcon())
            places.append((worst.travel, worst.roll) if worst is not None else (0.0, 0.0))
        picked = self.table.currentRow()
        held = (self._rows[picked].one, self._rows[picked].other) if 0 <= picked < len(self._rows) else None
        self._rows, self._places = watched, tuple(places)
        self.table.show_rows(rows, (False, True, False), icons if self._signs else ())
        # the pair that is picked stays so wherever its row goes
        self.table.pick(next((i for i, pair in enumerate(watched) if (pair.one, pair.other) == held), -1))
        for i, pair in enumerate(watched):
            worst = known.get((pair.one, pair.other))
            where = f", nearest {place_words(worst.travel, worst.roll, unit)}" if worst is not None else ""
            for j in range(3):
                self.table.show_tip(i, j, pair.words + where)
        self.table.fit_columns(60)

    def _go(self, row: int) -> None:
        if row < len(self._places):
            travel, roll = self._places[row]
            swept = self._rows[row].one if self.sweep.isChecked() else ""
            self._session.set_view(travel=travel, roll_deg=math.degrees(roll), playing=False, swept=swept)

    def _sweep(self, on: bool) -> None:
        row = self.table.currentRow()
        if on and not 0 <= row < len(self._rows):
            self.sweep.setChecked(False)
            self.refused.emit("Pick the pair in the table first: what its first part sweeps is drawn.")
            return
        self._session.set_view(swept=self._rows[row].one if on else "")

    def _typed(self, row: int, column: int, text: str) -> None:
        if row >= len(self._rows) or column != 1:
            return
        pair = self._rows[row]
        try:
            margin = parse_length(text, self._session.view.unit) if text.strip() else None
        except LinkvizError as error:
            self.refused.emit(str(error))
            self._again()
        else:
            self._choose(pair, True, margin, f"margin of {pair.words}")

    def _watch(self, index: int) -> None:
        if 0 < index <= len(self._others):
            pair = self._others[index - 1]
            self._choose(pair, True, None, f"watch {pair.words}")

    def _leave(self) -> None:
        row = self.table.currentRow()
        if not 0 <= row < len(self._rows):
            self.refused.emit("Pick the pair to leave out in the table first.")
            return
        self._choose(self._rows[row], False, None, f"stop watching {self._rows[row].words}")

    def _choose(self, pair: Pair, watch: bool, margin: float | None, text: str) -> None:
        try:
            self._session.edit_vehicle(with_pair(self._session.document.vehicle, pair, watch, margin), text)
        except LinkvizError as error:
            self.refused.emit(str(error))
        self._again()

    def _again(self) -> None:
        self._seen = ()
        shown = self._session.shown
        self._show_table(watched_pairs(shown.vehicle, shown.setup), self._session.view.unit, None)
