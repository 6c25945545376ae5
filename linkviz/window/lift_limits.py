"""How far can it be lifted: the trailing links over lift against limits of the shop's own, and the ends of travel."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.build import Build
from linkviz.analysis.limit_words import lift_sentences, travel_sentences
from linkviz.analysis.limits import DEFAULTS, HIGHEST, LinkLimits, RunOut, TravelLimits, run_out, travel_limits
from linkviz.errors import FAILED
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.units import Unit, format_length
from linkviz.window.lift_chart import LiftChart
from linkviz.window.pages.sentences import Note, Sentences, put
from linkviz.window.theme import Colours, scaled
from linkviz.window.value_box import ValueBox
from linkviz.window.work import LatestWork

BOXES = (
    ("link_angle_deg", "Trailing link, steepest", "angle", (5.0, 60.0), "Half of a link's force stands up there"),
    ("pinion_change_deg", "Pinion angle changed by", "angle", (0.5, 20.0), "What a universal joint works at smoothly"),
    ("wheelbase_change", "Wheelbase changed by", "length", (5.0, 200.0), "What most slip joints have to give"),
)  # fmt: skip
"""Key of `LinkLimits`, words, kind, what is taken, and why the usual value is what it is."""


def look(what: tuple[Document, LinkLimits]) -> tuple[RunOut, TravelLimits]:
    """Follow the links over lift and look for the ends of travel; safe in a thread of its own."""
    document, limits = what
    return run_out(document.vehicle, limits), travel_limits(Build.of(document.vehicle, document.setup))


class LiftLimits(QDialog):
    """The dialog; it goes on following the session while it is open.

    Parameters
    ----------
    session : Session
        Whose vehicle and lift it shows. The limits are the shop's own judgement and no measurement of a vehicle, so
        that they are remembered on this computer and not in the vehicle's file.
    colours : Colours
        Of the present theme.
    """

    def __init__(self, session: Session, colours: Colours, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.limits = kept_limits(session)
        self.setWindowTitle("How far can it be lifted?")
        self.resize(860, 560)
        self.chart = LiftChart()
        self.chart.show_theme(colours)
        self.heading = QLabel()
        self.heading.setFont(scaled(self.font(), 1.2, bold=True))
        self.heading.setWordWrap(True)
        self.sentences = Sentences()
        self.sentences.show_theme(colours)
        self.refusal = QLabel()
        self.refusal.setTextFormat(Qt.TextFormat.PlainText)
        self.refusal.setObjectName("problem")
        self.refusal.setWordWrap(True)
        self.boxes: dict[str, ValueBox] = {}
        grid = QGridLayout()
        for row, (key, words, kind, (low, high), why) in enumerate(BOXES):
            box = ValueBox("angle" if kind == "angle" else "length", words)
            box.set_limits(low, high)
            box.setToolTip(why)
            box.entered.connect(lambda value, key=key: self._set(key, value))
            box.refused.connect(self.refusal.setText)
            label = QLabel(words)
            label.setBuddy(box)
            label.setToolTip(why)
            grid.addWidget(label, row, 0)
            grid.addWidget(box, row, 1)
            self.boxes[key] = box
        usual = QPushButton("Usual limits")
        usual.setToolTip("Go back to 30\N{DEGREE SIGN}, 3\N{DEGREE SIGN} and 50 mm")
        usual.setAutoDefault(False)  # Enter belongs to the lines
        usual.clicked.connect(lambda: self._take(DEFAULTS))
        grid.addWidget(usual, len(BOXES), 1)
        note = Note("The limits are your own and stay on this computer. They do not go into the vehicle's file.")
        right = QVBoxLayout()
        right.addWidget(self.heading)
        right.addWidget(self.sentences)
        right.addStretch(1)
        right.addWidget(QLabel("Your limits, for a lift that still drives well"))
        right.addLayout(grid)
        right.addWidget(self.refusal)
        right.addWidget(note)
        across = QHBoxLayout()
        across.addWidget(self.chart, 3)
        across.addLayout(right, 2)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        for button in buttons.buttons():
            button.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.addLayout(across, 1)
        column.addWidget(buttons)
        self.work = LatestWork(look, pause_ms=0, parent=self)
        self.work.done.connect(self._came)
        self._stop = session.subscribe(lambda event: self.ask())
        self.finished.connect(lambda _: self._stop())
        self.ask()

    def ask(self) -> None:
        """Look again at what the session holds."""
        document, unit = self._session.shown, self._session.view.unit
        for key, box in self.boxes.items():
            box.show_value(getattr(self.limits, key), unit)
        self.work.ask((document.vehicle, document.setup, self.limits, unit), (document, self.limits))

    def _set(self, key: str, value: float) -> None:
        self._take(self.limits.replace(**{key: value}))

    def _take(self, limits: LinkLimits) -> None:
        self.refusal.clear()
        self.limits = limits
        keep_limits(self._session, limits)
        self.ask()

    def _came(self, key: object, answer: tuple[RunOut, TravelLimits] | None) -> None:
        if answer is None:
            put(self.heading, FAILED)
            return
        found, ends = answer
        lift, unit = self._session.shown.setup.lift, self._session.view.unit
        put(self.heading, _answer(found, unit))
        self.chart.show_run(found, lift, unit)
        said = (*lift_sentences(found, lift, unit), *travel_sentences(ends, unit))
        self.sentences.show_sentences(tuple((sentence.text, sentence.icon) for sentence in said))

    def wait(self) -> None:
        """Wait for the thread (when the window closes)."""
        self.work.wait()


def _answer(found: RunOut, unit: Unit) -> str:
    """Return the answer to the question of the title in a few words."""
    name, first = found.vehicle.name, found.first
    if first is None:
        return f"{name}: {format_length(HIGHEST, unit)} and perhaps more"
    return f"{name}: up to {format_length(first.lift, unit)}" if first.lift > 0 else f"{name}: not within these limits"


def kept_limits(session: Session) -> LinkLimits:
    """Return the limits this computer remembers, the usual ones where it has none that make sense."""
    kept = session.store.limits()
    values = {}
    for key, _, _, (low, high), _ in BOXES:
        value = kept.get(key)
        if isinstance(value, int | float) and low <= value <= high:
            values[key] = float(value)
    return DEFAULTS.replace(**values)


def keep_limits(session: Session, limits: LinkLimits) -> None:
    """Remember limits on this computer."""
    session.store.keep_limits({key: getattr(limits, key) for key, *_ in BOXES})
