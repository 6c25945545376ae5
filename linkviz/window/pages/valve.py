"""The Brake valve page: the lever as the axle moves, what the rear brakes still do, the rise that puts it right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.stance.brake_valve import ValveResult, brake_valve
from linkviz.analysis.stance.brake_words import BRAKE_CAUTIONS, FORGOTTEN, TITLES, title, valve_rows, valve_sentences
from linkviz.analysis.stance.valve_bracket import RISE, ValveBracket, bracket_problems
from linkviz.errors import LinkvizError
from linkviz.picture.valve_view import valve_view
from linkviz.session.session import Session
from linkviz.units import Unit, format_length, length_number, parse_lengths
from linkviz.vehicle.wording import Words
from linkviz.window.controls import Control
from linkviz.window.icons import pixmap
from linkviz.window.pages.forms import Entry
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.results import Results
from linkviz.window.pages.sentences import Note, Sentences, put
from linkviz.window.sketch import Sketch
from linkviz.window.theme import THEMES, Colours

if TYPE_CHECKING:
    from linkviz.window.brake_graphs import BrakeGraphs

SHORT_CAUTION = (
    "Brakes can kill. Work on them is for a licensed mechanic and is tested on the road before use; local law and the "
    "maker's limits hold."
)
"""What stands above the page whatever it is scrolled to."""
NO_VALVE = (
    "No load-sensing brake valve is on file. If the vehicle has one, measure where its arm turns, where the rod hangs "
    "on the arm and where it is held on the axle, and type them under Vehicle, Brake valve."
)


class ValvePage(Page):
    """Sketch, rise, holes, sentences, table and graphs under a caution that stays."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._gesture: object | None = None
        self._seen: tuple[object, ...] = ()
        self._unit: Unit = "mm"
        self._result: ValveResult | None = None
        self.graphs: BrakeGraphs | None = None
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._make_graphs)
        self.caution = QLabel(SHORT_CAUTION, self)
        self.caution.setWordWrap(True)
        self.caution.setContentsMargins(42, 6, 28, 4)
        self.caution.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.sign = QLabel(self)
        self.absent = QLabel(NO_VALVE)
        self.absent.setWordWrap(True)
        self.column.addWidget(self.absent)
        self.content = QWidget()
        inside = QVBoxLayout(self.content)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(8)
        self.sketch = Sketch("Brake valve, seen from the right", 236)
        self.sketch.setMaximumHeight(300)
        inside.addWidget(self.sketch)
        self.rise = Control(
            "Rod raised", "length", RISE, "How far a bracket raises the rod at the axle. Double click: not."
        )
        self.rise.changed.connect(self._set_rise)
        self.rise.began.connect(self._begin)
        self.rise.ended.connect(self._end)
        self.rise.refused.connect(self.refused)
        self.nearest = QPushButton()
        self.nearest.setToolTip("Raise the rod by the hole nearest to what puts the arm back")
        self.nearest.clicked.connect(self._take_nearest)
        raised = QHBoxLayout()
        raised.setSpacing(8)
        raised.addWidget(self.rise, 1)
        raised.addWidget(self.nearest)
        inside.addLayout(raised)
        inside.addLayout(self._holes())
        self.sentences = Sentences()
        inside.addWidget(self.sentences)
        inside.addLayout(self._loads())
        self.results = Results("The valve and the brakes: as built, lifted, rod raised")
        inside.addWidget(self.results)
        self._room = QVBoxLayout()
        self._room.setSpacing(8)
        inside.addLayout(self._room)
        self.forgotten = QLabel(FORGOTTEN)
        self.forgotten.setWordWrap(True)
        inside.addWidget(self.forgotten)
        self.column.addWidget(self.content)
        self.column.addStretch(1)
        self.cautions = Note("\n".join(BRAKE_CAUTIONS), 0.88)
        self.column.addWidget(self.cautions)

    def _holes(self) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setSpacing(8)
        self.holes = Entry("Holes of the bracket", "The rise each hole of the bracket gives, with commas between")
        self.holes.typed.connect(self._typed_holes)
        self._holes_label = label = QLabel()
        label.setBuddy(self.holes)
        line.addWidget(label)
        line.addWidget(self.holes, 1)
        return line

    def _loads(self) -> QHBoxLayout:
        line = QHBoxLayout()
        self.unladen, self.laden = QRadioButton("&Unladen"), QRadioButton("La&den")
        self._load = QButtonGroup(self)
        for button in (self.unladen, self.laden):
            self._load.addButton(button)
            line.addWidget(button)
            button.clicked.connect(self._show_load)
        self.unladen.setChecked(True)
        self.unladen.setToolTip("Table and graphs with nobody in it")
        self.laden.setToolTip("Table and graphs with the greatest load in every place")
        line.addStretch(1)
        return line

    # -- what is shown

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Keep the caution above the page."""
        super().resizeEvent(event)
        self._place_caution()

    def _place_caution(self) -> None:
        tall = self.caution.heightForWidth(self.width())
        if self.viewportMargins().top() != tall:
            self.setViewportMargins(0, tall, 0, 0)
        self.caution.setGeometry(0, 0, self.width(), tall)
        self.sign.setGeometry(14, 6, 20, 20)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        for part in (self.sentences, self.results):
            part.show_theme(colours)
        self.sign.setPixmap(pixmap("warn", colours.lifted, 18, self.devicePixelRatioF()))
        self.sketch.show_theme("dark" if colours == THEMES["dark"] else "light")
        if self.graphs is not None:
            self.graphs.show_theme(colours)
        self._seen = ()

    def show_state(self, moment: Moment) -> None:
        """Show the lever as it stands, and what is found where anything changed."""
        document, scene, unit = moment.document, moment.frame.scene, moment.view.unit
        there = document.vehicle.brake_valve is not None
        self.absent.setVisible(not there)
        self.content.setVisible(there)
        if not there:
            return
        drawing = valve_view(scene.live, scene.ghost, scene.ghost_name, unit)
        self.rise.show_value(document.setup.valve_rise, unit)
        seen = (document.vehicle, document.setup, document.job.springing, document.job.valve_bracket, unit)
        if seen != self._seen:
            self.holes.turn(self._unit, unit, many=True)
            self._seen, self._unit = seen, unit
            bracket = document.job.valve_bracket or ValveBracket()
            self._result = brake_valve(document.vehicle, document.setup, document.job.springing, bracket.holes)
            self._show_result(self._result, bracket)
        self.sketch.show_drawings((drawing,), self.sentences.texts()[0] if self.sentences.texts() else "")

    def _show_result(self, result: ValveResult, bracket: ValveBracket) -> None:
        said = valve_sentences(result, self._unit)
        self.sentences.show_sentences(tuple((s.text, s.icon) for s in said))
        put(self._holes_label, f"&Holes, {self._unit}")
        self.holes.show_text(", ".join(length_number(hole, self._unit) for hole in bracket.holes))
        if not self.holes.hasFocus():
            self.holes.setCursorPosition(0)
        hole = result.hole
        self.nearest.setEnabled(hole is not None and abs(hole - result.setup.valve_rise) > 0.05)
        put_words = "Nearest hole" if hole is None else f"Take {format_length(hole, self._unit)}"
        if self.nearest.text() != put_words:
            self.nearest.setText(put_words)
        laden = any(state.laden for state in result.states)
        self.laden.setEnabled(laden)
        if not laden:
            self.unladen.setChecked(True)
        self._show_load()

    def _show_load(self) -> None:
        """Show the table and the graphs of the load that is chosen."""
        result = self._result
        if result is None:
            return
        states = [s for s in result.states if s.laden == self.laden.isChecked()]
        self.results.show_rows(valve_rows(result), [title(s) for s in states], [TITLES[s.name] for s in states])
        told = any(s.system is not None for s in states)
        if told and self.graphs is None:
            # pyqtgraph is loaded when the page has been painted
            self._soon.start()
        elif self.graphs is not None:
            self.graphs.setVisible(told)
            self.graphs.show_states(states, self.colours)

    def _make_graphs(self) -> None:
        if self.graphs is None:
            from linkviz.window.brake_graphs import BrakeGraphs

            self.graphs = BrakeGraphs()
            self.graphs.show_theme(self.colours)
            self._room.addWidget(self.graphs)
            self._show_load()

    def first_widget(self) -> QWidget:
        """Return the slider of the rise."""
        return self.rise.slider

    # -- what is changed

    def _begin(self) -> None:
        self._gesture = object()

    def _end(self) -> None:
        self._gesture = None
        self.session.end_gesture()

    def _set_rise(self, value: float) -> None:
        self.session.edit_setup("raise valve rod", self._gesture or "raise valve rod", valve_rise=value)

    def _take_nearest(self) -> None:
        if self._result is not None and self._result.hole is not None:
            self.session.edit_setup("raise valve rod", valve_rise=self._result.hole)

    def _typed_holes(self) -> None:
        self._seen = ()
        try:
            found = tuple(sorted(parse_lengths(self.holes.text(), self._unit)))
            bracket = ValveBracket(holes=found)
            problems = list(bracket_problems(bracket, Words(self._unit)))
            if problems:
                raise LinkvizError(
                    "; ".join(f"{p.found}: {p.expected}" for p in problems) or "Type the rise of a hole."
                )
            self.session.edit(self.session.document.with_job(valve_bracket=bracket), "change holes of the bracket")
        except LinkvizError as error:
            self.refused.emit(str(error))
        # what was typed is written as it was understood, also when it changed nothing
        bracket = self.session.document.job.valve_bracket or ValveBracket()
        self.holes.setModified(False)
        self.holes.show_text(", ".join(length_number(hole, self._unit) for hole in bracket.holes))
