"""The Lift page: springs, spacer and load, how high that makes the vehicle stand, and what still reaches."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from linkviz.analysis.findings import CAUTIONS
from linkviz.analysis.stance.springing import FRONT, SPACER, Load, Springing, rate_of, springing_problems
from linkviz.analysis.stance.stance import from_springs, springs_rise
from linkviz.analysis.stance.stance_words import source_words, stance_rows, stance_sentences
from linkviz.errors import LinkvizError
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.units import Unit, format_length, parse_number
from linkviz.vehicle.fittings import COIL, LENGTHS, RATE, TURNS, WIRE
from linkviz.vehicle.wording import Words
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.results import Results
from linkviz.window.pages.sentences import Note, Sentences, put
from linkviz.window.pages.table import TypedTable
from linkviz.window.still import StillCombo
from linkviz.window.theme import Colours
from linkviz.window.value_box import Kind, ValueBox

MEASURED, TYPED = "As measured", "Other springs, typed"
_COIL: tuple[tuple[str, str, Kind, str, tuple[float, float]], ...] = (
    ("free_length", "Free length", "length", "", LENGTHS["springs.free_length"]),
    ("rate", "Rate", "number", "N/mm", RATE),
    ("wire", "Wire", "length", "", WIRE),
    ("coil", "Coil, mean diameter", "length", "", COIL),
    ("turns", "Turns, all", "number", "", TURNS),
)
"""What a coil is told by: key, words, kind, unit, limits."""
_CHANGED = "change springs"


class LiftPage(Page):
    """Inputs, where the ride height comes from, results, sentences."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._unit: Unit = "mm"
        self._seen: tuple[object, ...] = ()
        self.source = Sentences()
        self.take = QPushButton()
        self.take.setToolTip("Set the ride height to what these springs give")
        self.take.clicked.connect(self._take)
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(self.source, 1)
        line.addWidget(self.take)
        self.column.addLayout(line)
        self.column.addLayout(self._springs())
        self.loads = TypedTable("Load that is always carried", ("Load carried always", "At most", "Carried"), 82)
        self.loads.setToolTip("Drawers, a winch, a second tank: type how many kg are always there")
        self.loads.typed.connect(self._typed_load)
        self.loads.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.column.addWidget(self.loads)
        self.no_loads = Note("No places for load are on file (Vehicle, Load places): the laden height cannot be told.")
        self.column.addWidget(self.no_loads)
        self.results = Results("How it stands: as built and now")
        self.column.addWidget(self.results)
        self.sentences = Sentences()
        self.column.addWidget(self.sentences)
        self.column.addStretch(1)
        self.cautions = Note("", 0.88)
        self.column.addWidget(self.cautions)

    def _springs(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(5)
        self.choice = StillCombo()
        self.choice.setAccessibleName("Springs")
        self.choice.setToolTip("The springs that are in: those measured, others on file, or others typed below")
        self.choice.setSizeAdjustPolicy(StillCombo.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.activated.connect(self._chosen)
        label = QLabel("&Springs")
        label.setBuddy(self.choice)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.choice, 0, 1, 1, 3)
        self.boxes: dict[str, ValueBox] = {}
        for i, (key, words, kind, suffix, limits) in enumerate(_COIL):
            box = self._box(kind, words, suffix, limits)
            box.entered.connect(lambda value, key=key: self._set_coil(key, value))
            self._put(grid, 1 + i // 2, 2 * (i % 2), words, box)
            self.boxes[key] = box
        self.from_wire = QPushButton("Rate from the wire")
        self.from_wire.setToolTip("Work the rate out from wire, coil and turns, two of them dead ends")
        self.from_wire.clicked.connect(self._rate_from_wire)
        grid.addWidget(self.from_wire, 3, 2, 1, 2)
        self.spacer = self._box("length", "Spacer", "", SPACER)
        self.spacer.entered.connect(lambda value: self._put_in(spacer=value))
        self._put(grid, 4, 0, "S&pacer", self.spacer)
        self.front = self._box("length", "Front raised", "", FRONT)
        self.front.entered.connect(lambda value: self._put_in(front_rise=value))
        self._put(grid, 4, 2, "&Front raised", self.front)
        self.as_rear = QCheckBox("Front raised as much as the rear")
        self.as_rear.setToolTip("For headlights and the centre of gravity")
        self.as_rear.clicked.connect(self._front_as_rear)
        grid.addWidget(self.as_rear, 5, 0, 1, 4)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        return grid

    def _box(self, kind: Kind, words: str, suffix: str, limits: tuple[float, float]) -> ValueBox:
        box = ValueBox(kind, words, suffix=suffix)
        box.set_limits(*limits)
        box.setToolTip(f"{words}: type {'90 mm or 3 1/2 in' if kind == 'length' else f'a number {suffix}'.strip()}")
        box.refused.connect(self.refused)
        return box

    def _put(self, grid: QGridLayout, row: int, place: int, words: str, box: ValueBox) -> None:
        label = QLabel(words)
        label.setBuddy(box)
        grid.addWidget(label, row, place)
        grid.addWidget(box, row, place + 1)

    # -- what is shown

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        for part in (self.source, self.results, self.sentences):
            part.show_theme(colours)
        self._seen = ()

    def show_state(self, moment: Moment) -> None:
        """Show springs, height and results."""
        document, unit = moment.document, moment.view.unit
        seen = (document.vehicle, document.setup, document.job.springing, unit)
        if seen == self._seen:
            return
        self._seen, self._unit = seen, unit
        vehicle, setup, springing = document.vehicle, document.setup, document.job.springing
        source = source_words(vehicle, setup, springing, unit)
        self.source.show_sentences(((source.text, source.icon),))
        rise = springs_rise(vehicle, springing or Springing())
        self.take.setVisible(rise is not None and not from_springs(vehicle, setup, springing))
        if rise is not None:
            self.take.setText(f"Take {format_length(max(rise, 0.0), unit)}")
        self._show_springs(document, unit)
        self._show_loads(document)
        rows = stance_rows(vehicle, setup, springing, unit)
        self.results.show_rows(rows, tuple(rows[0].cells) if rows else ())
        said = stance_sentences(vehicle, setup, springing, unit)
        self.sentences.show_sentences(tuple((s.text, s.icon) for s in said))
        put(self.cautions, "\n".join(CAUTIONS))

    def _show_springs(self, document: Document, unit: Unit) -> None:
        vehicle, put_in = document.vehicle, document.job.springing or Springing()
        names = [MEASURED, *(coil.name for coil in vehicle.other_springs), TYPED]
        self.choice.offer(names)
        coil = put_in.springs or vehicle.springs
        others = [other.bare for other in vehicle.other_springs]
        if put_in.springs is None:
            at = 0
        else:
            at = 1 + others.index(put_in.springs) if put_in.springs in others else len(names) - 1
        if self.choice.currentIndex() != at:
            self.choice.setCurrentIndex(at)
        self.choice.setEnabled(vehicle.springs is not None)
        for key, box in self.boxes.items():
            box.setEnabled(coil is not None)
            value = None if coil is None else getattr(coil, key)
            if key == "rate" and coil is not None:
                value = rate_of(coil)
            if value is None:
                box.show_nothing()
            else:
                box.show_value(value, unit)
        wound = coil is not None and None not in (coil.wire, coil.coil, coil.turns)
        self.from_wire.setEnabled(wound and coil is not None and coil.rate is not None)
        self.spacer.setEnabled(vehicle.springs is not None)
        self.spacer.show_value(put_in.spacer, unit)
        self.as_rear.setChecked(put_in.front_rise is None)
        self.front.setEnabled(put_in.front_rise is not None)
        self.front.show_value(document.setup.lift if put_in.front_rise is None else put_in.front_rise, unit)

    def _show_loads(self, document: Document) -> None:
        places = document.vehicle.load_places
        carried = {load.place: load.mass for load in (document.job.springing or Springing()).loads}
        rows = [(p.name, f"{p.most:g} kg", f"{carried.get(p.name, 0.0):g} kg") for p in places]
        self.loads.show_rows(rows, (False, False, True))
        self.loads.setVisible(bool(places))
        row = self.loads.verticalHeader().defaultSectionSize()
        self.loads.setFixedHeight(self.loads.horizontalHeader().sizeHint().height() + row * max(len(places), 1) + 4)
        self.no_loads.setVisible(not places)

    def first_widget(self) -> QWidget:
        """Return the choice of springs."""
        return self.choice

    # -- what is changed

    def _put_in(self, **changes: object) -> bool:
        """Change what is put in; the ride height follows if it came from the springs before."""
        document = self.session.document
        before = document.job.springing
        wanted = (before or Springing()).replace(**changes)
        problems = list(springing_problems(wanted, Words(self._unit)))
        if problems:
            self._refuse("\n".join(f"{p.where.removeprefix('springing.')}: {p.found}; {p.expected}" for p in problems))
            return False
        changed = document.with_job(springing=wanted)
        if from_springs(document.vehicle, document.setup, before):
            changed = _standing(changed)
        return self._edit(changed)

    def _edit(self, document: Document) -> bool:
        try:
            self.session.edit(document, _CHANGED)
        except LinkvizError as error:
            self._refuse(str(error))
            return False
        return True

    def _refuse(self, why: str) -> None:
        self.refused.emit(why)
        self._show_again()

    def _show_again(self) -> None:
        """Write again what the session holds over what was typed."""
        self._seen = ()
        self._show_springs(self.session.shown, self._unit)
        self._show_loads(self.session.shown)

    def _take(self) -> None:
        document = self.session.document
        self._edit(_standing(document.with_job(springing=document.job.springing or Springing())))

    def _chosen(self, index: int) -> None:
        vehicle = self.session.document.vehicle
        if vehicle.springs is None:
            return
        others = vehicle.other_springs
        if index == 0:
            coil = None
        elif index <= len(others):
            coil = others[index - 1].bare
        else:
            put_in = self.session.document.job.springing
            present = put_in.springs if put_in is not None and put_in.springs is not None else vehicle.springs
            # half a millimetre longer, so that it is told from the ones on file until something is typed
            coil = present.bare.replace(free_length=present.free_length + 0.5)
        self._put_in(springs=coil)
        self._show_again()

    def _set_coil(self, key: str, value: float) -> None:
        document = self.session.document
        put_in = document.job.springing
        if put_in is not None and put_in.springs is not None:
            self._put_in(springs=put_in.springs.replace(**{key: value}))
        elif document.vehicle.springs is not None:
            self._measured({key: value})

    def _rate_from_wire(self) -> None:
        put_in = self.session.document.job.springing
        if put_in is not None and put_in.springs is not None:
            self._put_in(springs=put_in.springs.replace(rate=None))
        else:
            self._measured({"rate": None})

    def _measured(self, update: dict[str, float | None]) -> None:
        """Change the springs of the vehicle itself; the ride height follows if it came from them."""
        document = self.session.document
        springs = document.vehicle.springs
        if springs is None:
            return
        vehicle = document.vehicle.replace(springs=springs.replace(**update))
        changed = document.with_vehicle(vehicle)
        if from_springs(document.vehicle, document.setup, document.job.springing):
            changed = _standing(changed)
        self._edit(changed)

    def _front_as_rear(self, on: bool) -> None:
        self._put_in(front_rise=None if on else self.session.document.setup.lift)

    def _typed_load(self, row: int, column: int, text: str) -> None:
        places = self.session.document.vehicle.load_places
        if row >= len(places) or column != 2:
            return
        try:
            mass = parse_number(text, "kg")
            if not 0.0 <= mass <= places[row].most:
                raise LinkvizError(f"{places[row].name}: {mass:g} kg is not from 0 to {places[row].most:g} kg.")
        except LinkvizError as error:
            self._refuse(str(error))
            return
        put_in = self.session.document.job.springing or Springing()
        carried = {load.place: load.mass for load in put_in.loads} | {places[row].name: mass}
        self._put_in(loads=tuple(Load(place=name, mass=kg) for name, kg in carried.items() if kg))
        self._show_again()


def _standing(document: Document) -> Document:
    """Return the document at the height its springs give."""
    rise = springs_rise(document.vehicle, document.job.springing or Springing())
    return document if rise is None else document.with_setup(lift=max(rise, 0.0))
