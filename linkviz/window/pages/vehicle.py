"""The Vehicle page: what was measured, typed or picked; the picked point is marked in the drawings."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QLineEdit, QWidget

from linkviz.errors import LinkvizError
from linkviz.session import edits, tables
from linkviz.session.session import Session
from linkviz.session.view import View
from linkviz.units import length_number, parse_length
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.points import FITTING_POINTS, POINTS
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.sentences import Note, put
from linkviz.window.pages.table import TypedTable
from linkviz.window.pages.tables import Tables
from linkviz.window.value_box import ValueBox

QUANTITIES: tuple[tuple[str, str, str], ...] = (
    ("track", "Track", "Centre of the left tyre to the centre of the right one, on the ground"),
    ("tyre_radius", "Tyre radius", "Ground to wheel centre, vehicle standing"),
    ("tyre_width", "Tyre width", "Widest part of the tyre"),
    ("jounce", "Travel up", "How far the wheels can rise from rest"),
    ("rebound", "Travel down", "How far the wheels can fall from rest"),
    ("pinion_angle_deg", "Pinion angle", "How far the pinion pointed up as built; type degrees, nose up is plus"),
    ("u", "Tape, off by", "How far any measured point may be off, either way"),
)
"""Key, label and tip of each simple quantity on the page."""
_OFF, _OFF_COLUMN = "\N{PLUS-MINUS SIGN}", 4
_SHORTER = {
    " link,": ",",
    ", frame end": ", frame",
    ", axle end": ", axle",
    "driveshaft,": "shaft,",
    "left bump": "bump",
    "upper face": "face",
    "left damper": "damper",
    "left spring": "spring",
    "brake valve,": "valve,",
    "tip of the arm": "arm's tip",
}
_TABLE = {"jounce": "travel", "rebound": "travel", "u": "measuring"}
"""Table of each quantity; that of the others is the axle's."""


class VehiclePage(Page):
    """Points and main sizes of the vehicle.

    Parameters
    ----------
    session : Session
        What is shown and changed.
    """

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._names: tuple[str, ...] = ()
        self._seen: tuple[object, ...] = ()
        column = self.column
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the vehicle")
        self.name.setMaxLength(120)
        self.name.editingFinished.connect(self._rename)
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(5)
        label = QLabel("Name")
        label.setBuddy(self.name)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.name, 0, 1, 1, 3)
        self.boxes: dict[str, ValueBox] = {}
        for i, (key, text, tip) in enumerate(QUANTITIES):
            angle = key.endswith("_deg")
            box = ValueBox("angle" if angle else "length", text)
            box.setToolTip(tip if angle else f'{tip}; type 90, 90 mm or 3 1/2"')
            box.entered.connect(lambda value, key=key: self._set_quantity(key, value))
            box.refused.connect(self.refused)
            label = QLabel(text)
            label.setBuddy(box)
            row, place = 1 + i // 2, 2 * (i % 2)
            grid.addWidget(label, row, place)
            grid.addWidget(box, row, place + 1)
            self.boxes[key] = box
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        column.addLayout(grid)
        self.mirrored = QCheckBox("Move left and right together")
        self.mirrored.setToolTip("A link point that is moved takes the same point of the other side with it, mirrored")
        self.mirrored.toggled.connect(lambda on: self.session.set_view(mirrored=on))
        column.addWidget(self.mirrored)
        self.table = TypedTable("Points of the vehicle", ("Point", "x", "y", "z", _OFF))
        self.table.setMinimumHeight(190)
        off = "How far this point may be off, either way; empty for what goes for all (Tape, off by)"
        self.table.horizontalHeaderItem(_OFF_COLUMN).setToolTip(off)
        self.table.typed.connect(self._typed)
        self.table.picked.connect(self._pick)
        column.addWidget(self.table, 1)
        self.how = Note()
        self.how.setMinimumHeight(self.how.fontMetrics().lineSpacing() * 3)
        self.how.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.how)
        self.tables = Tables(session)
        self.tables.refused.connect(self.refused)
        column.addWidget(self.tables)

    def first_widget(self) -> QWidget:
        """Return the table of points."""
        return self.table

    def show_state(self, moment: Moment) -> None:
        """Show what the session holds."""
        vehicle, view = moment.document.vehicle, moment.view
        if self._seen != (vehicle, view.unit):
            self._seen = (vehicle, view.unit)
            self._show_vehicle(vehicle, view)
        if self.mirrored.isChecked() != view.mirrored:
            self.mirrored.setChecked(view.mirrored)
        self.table.pick(self._names.index(view.point) if view.point in self._names else -1)
        known = POINTS | FITTING_POINTS
        if view.point in known:
            words = known[view.point]
            put(self.how, f"{words.words.capitalize()}: {words.how}.")
        else:
            put(
                self.how,
                "Pick a point here or in the drawings: it is marked there. Drag it, type its values, or move it with "
                "the arrow keys. x forward, y left, z up from the ground at design height.",
            )

    def _show_vehicle(self, vehicle: Vehicle, view: View) -> None:
        if not (self.name.hasFocus() and self.name.isModified()) and self.name.text() != vehicle.name:
            self.name.setText(vehicle.name)
        for key, box in self.boxes.items():
            box.show_value(getattr(getattr(vehicle, _TABLE.get(key, "axle")), key), view.unit)
        self._names = edits.point_names(vehicle)
        own = dict(vehicle.measuring.points)
        rows = []
        for name in self._names:
            place = [length_number(value, view.unit) for value in edits.point_of(vehicle, name)]
            rows.append((_short(vehicle, name), *place, length_number(own[name], view.unit) if name in own else ""))
        self.table.show_rows(rows, (False, True, True, True, True))
        self.table.show_heads(("Point", f"x, {view.unit}", f"y, {view.unit}", f"z, {view.unit}", _OFF))
        self.table.fit_columns()
        self.tables.show_vehicle(vehicle, view.unit)

    # -- what is typed

    def _do(self, vehicle: Vehicle, text: str, key: object = None) -> None:
        try:
            self.session.edit_vehicle(vehicle, text, key)
        except LinkvizError as error:
            self.refused.emit(str(error))
            self._show_vehicle(self.session.shown.vehicle, self.session.view)

    def _rename(self) -> None:
        name = self.name.text().strip()
        self.name.setModified(False)
        vehicle = self.session.document.vehicle
        if name and name != vehicle.name:
            self._do(edits.rename(vehicle, name), "rename vehicle")
        elif not name:
            self.refused.emit("A vehicle needs a name. Type one, such as the customer's plate or job number.")
            self.name.setText(vehicle.name)

    def _set_quantity(self, key: str, value: float) -> None:
        vehicle = self.session.document.vehicle
        words = next(text for name, text, _ in QUANTITIES if name == key).lower()
        self._do(tables.put(vehicle, (_TABLE.get(key, "axle"), key), value), f"set {words}", ("quantity", key))

    def _typed(self, row: int, column: int, text: str) -> None:
        vehicle, view = self.session.document.vehicle, self.session.view
        if row >= len(self._names):
            return  # the points became others while this was typed
        name = self._names[row]
        try:
            value = None if column == _OFF_COLUMN and not text.strip() else parse_length(text, view.unit)
        except LinkvizError as error:
            self.refused.emit(str(error))
            self._show_vehicle(vehicle, view)
            return
        words = edits.point_words(vehicle, name)
        if column == _OFF_COLUMN:
            self._do(edits.set_point_u(vehicle, name, value), f"set how far {words} may be off")
        elif value is not None:
            point = list(edits.point_of(vehicle, name))
            point[column - 1] = value
            moved = edits.move_point(vehicle, name, (point[0], point[1], point[2]), view.mirrored)
            self._do(moved, f"move {words}")
        # what was typed is shown as it was understood, also when it changed nothing
        self._show_vehicle(self.session.shown.vehicle, self.session.view)

    def _pick(self, row: int) -> None:
        self.session.set_view(point=self._names[row], envelope=-1)


def _short(vehicle: Vehicle, name: str) -> str:
    """Return a point's words, short enough for the table."""
    words = edits.point_words(vehicle, name)
    for long, short in _SHORTER.items():
        words = words.replace(long, short)
    return words[:1].upper() + words[1:]
