"""The Clearance page: envelopes, their margins and corners, and where the shaft comes too near."""

from __future__ import annotations

from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QTabWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.compare import ROLLS, Worst
from linkviz.analysis.findings import place_words
from linkviz.analysis.telling import depth_words, room_words
from linkviz.analysis.tightness import shaft_margins
from linkviz.clearance.zone import Zone
from linkviz.errors import LinkvizError
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.outline import Corners
from linkviz.session.session import Session
from linkviz.session.view import View
from linkviz.units import Unit, format_angle, format_length, length_number, parse_length
from linkviz.vehicle.model import Vehicle
from linkviz.window.icons import sign_icons
from linkviz.window.pages.certainty import Certainty
from linkviz.window.pages.contact import MapPanel, PairsPanel
from linkviz.window.pages.envelope_menu import EnvelopeMenu
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.sentences import Note, Sentences, put
from linkviz.window.pages.table import TypedTable
from linkviz.window.still import StillCombo, StillTabBar
from linkviz.window.theme import Colours

OUTLINES: tuple[tuple[ViewName, str, str], ...] = (
    ("rear", "Outline in rear view", "y"),
    ("side", "Outline in side view", "x"),
)
"""View, words and first axis of each outline."""

HINT = (
    "Drag corners, edges or the whole part in the drawings. Double-click an edge for a new corner. The solid is what "
    "lies inside both outlines."
)
NONE_PICKED = (
    "Click an envelope, here or in the drawings, to see its corners, drag them and type them. An envelope is anything "
    "on the body to stay clear of: a tank, a skid plate, an exhaust."
)


class ClearancePage(Page):
    """Envelopes and what touches them.

    Parameters
    ----------
    session : Session
        What is shown and changed.
    """

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._signs: dict[str, QIcon] = {}
        self._seen: tuple[object, ...] = ()
        self._moment: Moment | None = None
        self._picked = -1
        self.sentences = Sentences()
        self.column.addWidget(self.sentences)
        self.sheets = QTabWidget()
        self.sheets.setTabBar(StillTabBar())
        self.sheets.setAccessibleName("Sheets of the Clearance page")
        self.sheets.setDocumentMode(True)
        self.column.addWidget(self.sheets, 1)
        envelopes = QWidget()
        column = QVBoxLayout(envelopes)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(8)
        buttons = QHBoxLayout()
        self.draw_button = QPushButton("Draw envelope")
        self.draw_button.setAccessibleName("Draw envelope")
        self.draw_button.setCheckable(True)
        self.draw_button.setToolTip("Click the corners of a tank, a skid plate, an exhaust in the drawings (D)")
        self.draw_button.clicked.connect(lambda: self.asked.emit("draw"))
        self.delete_button = QPushButton("Delete")
        self.delete_button.setAccessibleName("Delete the picked envelope")
        self.delete_button.setToolTip("Delete the picked envelope; Undo brings it back")
        self.delete_button.clicked.connect(self._delete)
        buttons.addWidget(self.draw_button)
        buttons.addWidget(self.delete_button)
        self.more = EnvelopeMenu()
        self.more.asked.connect(self.asked)
        buttons.addWidget(self.more)
        buttons.addStretch(1)
        column.addLayout(buttons)
        self.table = TypedTable("Envelopes", ("Envelope", "Margin", "Shaft"), 74)
        self.table.setColumnWidth(2, self.table.columnWidth(1) * 96 // 74)
        self.table.setMinimumHeight(96)
        self.table.setMaximumHeight(170)
        self.table.typed.connect(self._typed)
        self.table.picked.connect(lambda row: self.session.set_view(envelope=row, point=""))
        column.addWidget(self.table)
        row = QHBoxLayout()
        self.which = StillCombo()
        self.which.setAccessibleName("Which outline the corners belong to")
        for _, words, _ in OUTLINES:
            self.which.addItem(words)
        self.which.currentIndexChanged.connect(lambda _: self._show_corners(self.session.view))
        self.add_corner = QToolButton()
        self.add_corner.setText("+ corner")
        self.add_corner.setAccessibleName("Add a corner after the picked one")
        self.add_corner.setToolTip("Add a corner after the picked one (or double-click an edge in the drawing)")
        self.add_corner.clicked.connect(self._insert)
        self.remove_corner = QToolButton()
        self.remove_corner.setText("\N{MINUS SIGN} corner")
        self.remove_corner.setAccessibleName("Delete the picked corner")
        self.remove_corner.setToolTip("Delete the picked corner (or press Delete on it in the drawing)")
        self.remove_corner.clicked.connect(self._remove)
        row.addWidget(self.which, 1)
        row.addWidget(self.add_corner)
        row.addWidget(self.remove_corner)
        column.addLayout(row)
        self.corners = TypedTable("Corners of the outline", ("Corner", "y", "z"), 92)
        self.corners.typed.connect(self._typed_corner)
        self.corners.picked.connect(lambda row: self.session.set_view(corner=(self.outline_view, row)))
        column.addWidget(self.corners, 1)
        self.hint = Note()
        self.hint.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        column.addWidget(self.hint)
        self._room = QWidget()
        column.addWidget(self._room, 1)
        self.pairs = PairsPanel(session)
        self.pairs.refused.connect(self.refused)
        self.map = MapPanel(session)
        for sheet, name, tip in (
            (envelopes, "&Envelopes", "What is drawn on the body, and its corners"),
            (self.pairs, "&Pairs", "Every pair of parts that is watched: smallest gap, where, margin"),
            (self.map, "&Map", "Smallest gap over wheel travel and axle roll"),
        ):
            sheet.layout().setContentsMargins(0, 8, 0, 0)
            self.sheets.setTabToolTip(self.sheets.addTab(sheet, name), tip)
        self.sheets.currentChanged.connect(lambda _: self._turned())
        self.certainty = Certainty(session, ("worst_gap", "sure_drop"))
        self.certainty.asked.connect(self.asked)
        self.column.addWidget(self.certainty)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        super().show_theme(colours)
        self._signs = sign_icons(colours)
        for part in (self.sentences, self.certainty, self.pairs, self.map):
            part.show_theme(colours)
        self._seen = ()

    def show_progress(self, share: float) -> None:
        """Move the bar of the measuring error."""
        self.certainty.show_progress(share)

    def first_widget(self) -> QWidget:
        """Return the button that draws."""
        return self.draw_button

    def show_state(self, moment: Moment) -> None:
        """Show what the session holds and what was found."""
        document, view, frame, name = moment.document, moment.view, moment.frame, moment.name
        self.certainty.show_doubt(moment.doubt, view)
        if self.draw_button.isChecked() != moment.drawing:
            self.draw_button.setChecked(moment.drawing)
        self._moment = moment
        self._turned()
        if view.envelope >= 0 and view.envelope != self._picked:
            self.sheets.setCurrentIndex(0)
        self._picked = view.envelope
        worst = frame.comparison.cases[name].worst
        zones = frame.scene.zones
        seen = (document.vehicle, view.unit, view.envelope, view.corner, worst, zones, frame.stale)
        if seen == self._seen:
            return
        self._seen = seen
        if view.corner is not None and view.corner[0] != self.outline_view:
            self.which.setCurrentIndex([name for name, _, _ in OUTLINES].index(view.corner[0]))
        vehicle = document.vehicle
        self.sentences.show_sentences(_sentences(vehicle, worst, zones, frame.stale, view))
        states = [_state(zones, i) for i in range(len(vehicle.envelopes))]
        rows = [
            (envelope.name, format_length(envelope.margin, view.unit), state[0])
            for envelope, state in zip(vehicle.envelopes, states, strict=True)
        ]
        icons = [self._signs.get(state[1], QIcon()) for state in states]
        self.table.show_rows(rows, (True, True, False), icons if self._signs else ())
        self.table.pick(view.envelope)
        self.delete_button.setEnabled(view.envelope >= 0)
        self._show_corners(view)

    def _turned(self) -> None:
        """Show the sheet that is on top; the others are not worked for."""
        moment, sheet = self._moment, self.sheets.currentWidget()
        if moment is None:
            return
        if sheet is self.pairs:
            self.pairs.show_state(moment.document, moment.view, moment.frame.answers, moment.frame.stale)
        elif sheet is self.map:
            self.map.show_state(moment.document, moment.view)

    # -- corners

    @property
    def outline_view(self) -> ViewName:
        """Return which outline the table of corners shows."""
        return OUTLINES[self.which.currentIndex()][0]

    def _present(self) -> Corners:
        index = self.session.view.envelope
        vehicle = self.session.shown.vehicle
        return edits.outline_of(vehicle, index, self.outline_view) if 0 <= index < len(vehicle.envelopes) else ()

    def _show_corners(self, view: View) -> None:
        corners = self._present()
        unit = view.unit
        axis = OUTLINES[self.which.currentIndex()][2]
        self.corners.show_heads(("Corner", f"{axis}, {unit}", f"z, {unit}"))
        rows = [(str(i + 1), length_number(u, unit), length_number(z, unit)) for i, (u, z) in enumerate(corners)]
        self.corners.show_rows(rows, (False, True, True))
        here = view.corner is not None and view.corner[0] == self.outline_view
        self.corners.pick(view.corner[1] if here and view.corner is not None else -1)
        for widget in (self.which, self.add_corner, self.remove_corner, self.corners):
            widget.setVisible(bool(corners))
        self._room.setVisible(not corners)
        put(self.hint, HINT if corners else NONE_PICKED)

    def _set(self, corners: Corners, text: str) -> bool:
        why = outline.why_refused(corners)
        if why:
            self._refuse(why)
            return False
        vehicle, index = self.session.document.vehicle, self.session.view.envelope
        return self._do(edits.change_envelope(vehicle, index, **{self.outline_view: corners}), text)

    def _do(self, vehicle: Vehicle, text: str) -> bool:
        try:
            self.session.edit_vehicle(vehicle, text)
        except LinkvizError as error:
            self._refuse(str(error))
            return False
        return True

    def _refuse(self, why: str) -> None:
        self.refused.emit(why)
        self._seen = ()
        self._show_corners(self.session.view)

    def _typed_corner(self, row: int, column: int, text: str) -> None:
        unit = self.session.view.unit
        corners = self._present()
        if row >= len(corners):
            return  # the outline became another while this was typed
        try:
            value = parse_length(text, unit)
        except LinkvizError as error:
            self._refuse(str(error))
            return
        corner = list(corners[row])
        corner[column - 1] = value
        self._set(outline.moved(corners, row, (corner[0], corner[1])), "move corner")
        self._show_corners(self.session.view)

    def _insert(self) -> None:
        corners = self._present()
        if not corners:
            return
        at = max(self.corners.currentRow(), 0)
        (u0, v0), (u1, v1) = corners[at], corners[(at + 1) % len(corners)]
        if self._set(outline.inserted(corners, at, ((u0 + u1) / 2, (v0 + v1) / 2)), "insert corner"):
            self.corners.setCurrentCell(at + 1, 1)

    def _remove(self) -> None:
        at = self.corners.currentRow()
        if at < 0:
            self.refused.emit("Pick the corner to delete in the table first.")
        elif self._present():
            self._set(outline.removed(self._present(), at), "delete corner")

    # -- envelopes

    def _delete(self) -> None:
        index = self.session.view.envelope
        vehicle = self.session.document.vehicle
        if 0 <= index < len(vehicle.envelopes):
            self.session.set_view(envelope=-1)
            self._do(edits.remove_envelope(vehicle, index), f"delete {vehicle.envelopes[index].name}")

    def _typed(self, row: int, column: int, text: str) -> None:
        vehicle, unit = self.session.document.vehicle, self.session.view.unit
        if row >= len(vehicle.envelopes):
            return  # the envelopes became others while this was typed
        try:
            if column == 0:
                name = text.strip()
                if not name:
                    raise LinkvizError("An envelope needs a name, such as fuel tank. Type one.")
                changed = edits.change_envelope(vehicle, row, name=name)
                words = "rename envelope"
            else:
                changed = edits.change_envelope(vehicle, row, margin=parse_length(text, unit))
                words = "set margin"
        except LinkvizError as error:
            self.refused.emit(str(error))
        else:
            self._do(changed, words)
        self._seen = ()
        # what was typed is written as it was understood, also when it changed nothing
        states = [self.table.item(i, 2).text() for i in range(self.table.rowCount())]
        rows = [
            (envelope.name, format_length(envelope.margin, unit), state)
            for envelope, state in zip(self.session.shown.vehicle.envelopes, states, strict=False)
        ]
        self.table.show_rows(rows, (True, True, False))


def _state(zones: tuple[Zone, ...], index: int) -> tuple[str, str]:
    """Return the words and the sign for one envelope."""
    if index >= len(zones):
        return ("looking ...", "")
    zone = zones[index]
    if zone.touched:
        return ("touches", "hit")
    if zone.near_rear or zone.near_side:
        return ("in margin", "warn")
    return ("clear", "ok")


def _sentences(
    vehicle: Vehicle, worst: Worst | None, zones: tuple[Zone, ...], stale: bool, view: View
) -> tuple[tuple[str, str], ...]:
    unit: Unit = view.unit
    if vehicle.driveshaft is None:
        return (("This vehicle has no driveshaft measured, so there is nothing to keep clear of.", ""),)
    if worst is None:
        return (("Nothing is drawn yet. Draw the tank, or whatever the shaft must stay clear of.", ""),)
    envelope = vehicle.envelopes[worst.envelope]
    where = place_words(worst.travel, worst.roll, unit)
    margin = format_length(worst.margin, unit)
    if worst.sign == "hit":
        first = (f"The shaft touches the {envelope.name} {where}{depth_words(worst.gap, unit)}.", "hit")
    elif worst.sign == "warn":
        gap = room_words(worst.gap, unit)
        first = (f"Tightest gap {gap}, to the {envelope.name} {where}; its margin is {margin}.", "warn")
    else:
        first = (f"Tightest gap {room_words(worst.gap, unit)}, to the {envelope.name} {where}.", "ok")
    states = [_state(zones, i)[1] for i in range(len(vehicle.envelopes))]
    lines = [first]
    if stale:
        lines.append(("Working out which part is touched ...", ""))
    elif "hit" in states:
        lines.append(
            (
                "Hatched and coloured: the part the shaft reaches somewhere in its travel, level or crossed up "
                f"{format_angle(max(ROLLS), 0)}. Lighter: the part inside the margin.",
                "",
            )
        )
    elif "warn" in states:
        lines.append(("Lightly hatched: the part that comes inside the margin. Nothing is touched.", ""))
    if others := _others(vehicle, unit):
        lines.append((f"Typed under Pairs and used for the shaft instead of the margin below: {others}.", ""))
    return tuple(lines)


def _others(vehicle: Vehicle, unit: Unit) -> str:
    """Return in words the margins of the shaft that are not those of the envelopes."""
    said = [
        f"{format_length(margin, unit)} to the {envelope.name}"
        for envelope, margin in zip(vehicle.envelopes, shaft_margins(vehicle), strict=True)
        if margin != envelope.margin
    ]
    return ", ".join(said)
