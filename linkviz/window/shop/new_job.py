"""A new job: one of the shop's vehicles, a customer, a lift."""

from __future__ import annotations

import time
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.setup import Setup
from linkviz.book.form import bare_name
from linkviz.book.model import Job
from linkviz.book.read import read_either
from linkviz.errors import LinkvizError
from linkviz.letters import one_line
from linkviz.session.document import LIFT_RANGE, Document
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.texts import LONGEST_LINE
from linkviz.window.pages.sentences import Note, put
from linkviz.window.value_box import ValueBox

PLACE = Qt.ItemDataRole.UserRole


class NewJob(QDialog):
    """Asks for what a new job needs; all but the vehicle may be left open.

    Parameters
    ----------
    vehicles : sequence of Path
        The shop's vehicle files.
    demos : sequence of Path
        The invented ones.
    present : Vehicle
        The vehicle that is open now, offered first.
    number : str
        The next number.
    lift : float
        The lift that is offered, mm.
    unit : {"mm", "in"}
        Unit of the lift.

    Attributes
    ----------
    document : Document or None
        The job that was asked for.
    """

    def __init__(
        self,
        vehicles: tuple[Path, ...],
        demos: tuple[Path, ...],
        present: Vehicle,
        number: str,
        lift: float,
        unit: Unit,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("New job")
        self.resize(560, 520)
        self._present = present
        self._unit = unit
        self.document: Document | None = None
        column = QVBoxLayout(self)
        column.addWidget(QLabel("Vehicle"))
        self.finder = QLineEdit()
        self.finder.setAccessibleName("Search the vehicles")
        self.finder.setPlaceholderText("Search the vehicles")
        self.finder.setClearButtonEnabled(True)
        self.finder.textChanged.connect(self._narrow)
        column.addWidget(self.finder)
        self.vehicles = QListWidget()
        self.vehicles.setAccessibleName("Vehicles")
        self.vehicles.itemDoubleClicked.connect(lambda _: self._take())
        self._add(f"{present.name} - the one that is open", "")
        for path in vehicles:
            self._add(_words(path), str(path))
        for path in demos:
            self._add(f"{_words(path)} (invented)", str(path))
        self.vehicles.setCurrentRow(0)
        column.addWidget(self.vehicles, 1)
        if not vehicles:
            hint = Note(
                "The shop's own vehicles stand here once their *.vehicle.toml files lie in the folder of the jobs. "
                "A new one begins with a measuring sheet (File menu)."
            )
            column.addWidget(hint)
        form = QFormLayout()
        self.number = QLineEdit(number)
        self.customer = QLineEdit()
        self.contact = QLineEdit()
        self.name = QLineEdit()
        self.name.setPlaceholderText("such as: lifted, swings out over bumps")
        self.lift = ValueBox("length", "Lift")
        self.lift.set_limits(*LIFT_RANGE)
        self._lift = lift
        self.lift.entered.connect(self._lifted)
        self.lift.refused.connect(self._say)
        self.lift.show_value(self._lift, unit)
        self.lift.setToolTip('How much higher the body stands; type 100 mm, 4in or 3 1/2"')
        for label, line in (
            ("&Number", self.number),
            ("&Customer", self.customer),
            ("Con&tact", self.contact),
            ("&What is asked", self.name),
            ("&Lift", self.lift),
        ):
            form.addRow(label, line)
            line.setAccessibleName(label.replace("&", ""))
            if isinstance(line, QLineEdit):
                line.setMaxLength(LONGEST_LINE)
        column.addLayout(form)
        self.trouble = QLabel()
        self.trouble.setObjectName("problem")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        column.addWidget(self.trouble)
        kinds = QDialogButtonBox.StandardButton
        buttons = QDialogButtonBox(kinds.Ok | kinds.Cancel)
        buttons.button(kinds.Ok).setText("Begin")
        buttons.accepted.connect(self._take)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)
        self.customer.setFocus()

    def _add(self, words: str, place: str) -> None:
        item = QListWidgetItem(words)
        item.setData(PLACE, place)
        self.vehicles.addItem(item)

    def _narrow(self, text: str) -> None:
        words = text.casefold().split()
        first = -1
        for i in range(self.vehicles.count()):
            item = self.vehicles.item(i)
            good = all(word in item.text().casefold() for word in words)
            item.setHidden(not good)
            first = i if good and first < 0 else first
        if first >= 0 and (self.vehicles.currentItem() is None or self.vehicles.currentItem().isHidden()):
            self.vehicles.setCurrentRow(first)

    def _say(self, text: str) -> None:
        put(self.trouble, text)
        self.trouble.show()

    def _lifted(self, value: float) -> None:
        self._lift = value
        self.lift.show_value(value, self._unit)

    def _take(self) -> None:
        item = self.vehicles.currentItem()
        if item is None or item.isHidden() or self.lift.isModified():
            return
        try:
            vehicle = _vehicle(item.data(PLACE)) or self._present
        except LinkvizError as error:
            self._say(str(error))
            return
        job = Job(
            number=one_line(self.number.text()),
            name=one_line(self.name.text()),
            customer=one_line(self.customer.text()),
            contact=one_line(self.contact.text()),
            opened=time.strftime("%Y-%m-%d"),
            units=vehicle.units,
        )
        self.document = Document(vehicle, Setup(lift=self._lift), None, job)
        self.accept()


def _vehicle(place: str) -> Vehicle | None:
    if not place:
        return None
    found = read_either(place)
    return found if isinstance(found, Vehicle) else found.vehicle


def _words(path: Path) -> str:
    return bare_name(path).replace("-", " ").replace("_", " ").title()
