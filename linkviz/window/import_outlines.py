"""The dialogs of outlines from files: which one goes where, and which envelopes of another vehicle are taken."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QMessageBox,
    QVBoxLayout,
    QWidget,
)

from linkviz.session.kinds import KINDS
from linkviz.session.outline_exchange import Found
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Envelope
from linkviz.vehicle.outline_files import TOLERANCE
from linkviz.window import dialogs

OLD, NONE = "leave as it is", "a plain block"


def ask_unit(parent: QWidget, path: str) -> Unit | None:
    """Ask what unit the lengths of a file are in; None if nobody says."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Question)
    box.setWindowTitle("Millimetres or inches?")
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setText(f"{path} does not say what its lengths are in.")
    box.setInformativeText("Ask whoever drew it; a tank of 500 is in mm, one of 20 in inches.")
    mm = box.addButton("Millimetres", QMessageBox.ButtonRole.AcceptRole)
    inch = box.addButton("Inches", QMessageBox.ButtonRole.AcceptRole)
    box.setEscapeButton(box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole))
    box.setDefaultButton(mm)
    dialogs.run(box)
    return "mm" if box.clickedButton() is mm else ("in" if box.clickedButton() is inch else None)


class ImportDialog(QDialog):
    """Which outline of a file becomes which outline of which envelope.

    Parameters
    ----------
    found : sequence of Found
        The outlines of the file.
    envelopes : sequence of Envelope
        Those of the vehicle.
    picked : int
        The picked one, -1 for none.
    unit : {"mm", "in"}
        Unit to show.
    """

    def __init__(
        self, found: Sequence[Found], envelopes: Sequence[Envelope], picked: int, unit: Unit, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._found = found
        self.setWindowTitle("Take outlines from a file")
        self.setMinimumWidth(520)
        column = QVBoxLayout(self)
        head = QLabel(
            "u goes to the right as seen in the drawing, v up from the ground. Arcs become straight edges that stand "
            f"off them by no more than {TOLERANCE:g} mm."
        )
        head.setWordWrap(True)
        column.addWidget(head)
        form = QFormLayout()
        column.addLayout(form)
        self.into = self._choice("Envelope", form)
        for kind in KINDS:
            self.into.addItem(f"new: {kind.name}", (-1, kind.name))
        for i, envelope in enumerate(envelopes):
            self.into.addItem(f"in place of the outlines of {envelope.name}", (i, envelope.name))
        self.into.setCurrentIndex(len(KINDS) + picked if picked >= 0 else 0)
        self.rear = self._choice("Rear view", form)
        self.side = self._choice("Side view", form)
        for box in (self.rear, self.side):
            box.addItem("")
            for one in found:
                wide, high = (format_length(value, unit) for value in one.size)
                bad = "   cannot be taken" if one.fault else ""
                box.addItem(f"{one.name}: {len(one.corners)} corners, {wide} by {high}{bad}")
        self.rear.setCurrentIndex(self._first("rear", 1))
        self.side.setCurrentIndex(self._first("side", 2 if len(found) > 1 else 0))
        self.place = self._choice("Place", form)
        self.place.addItem("as in the file")
        self.place.addItem("in the middle, to be moved by hand")
        self.into.currentIndexChanged.connect(self._show_blank)
        self._show_blank()
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)

    def _choice(self, words: str, form: QFormLayout) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(words)
        box.setMinimumContentsLength(30)
        form.addRow(words, box)
        return box

    def _first(self, view: str, otherwise: int) -> int:
        return next((i for i, one in enumerate(self._found, 1) if one.name.lower().endswith(view)), otherwise)

    def _show_blank(self) -> None:
        words = OLD if self.index >= 0 else NONE
        for box in (self.rear, self.side):
            box.setItemText(0, words)

    @property
    def index(self) -> int:
        """Return the envelope whose outlines are replaced, -1 for a new one."""
        return int(self.into.currentData()[0])

    @property
    def name(self) -> str:
        """Return the name of the envelope."""
        return str(self.into.currentData()[1])

    def chosen(self, box: QComboBox) -> Found | None:
        """Return the outline chosen in a box."""
        return self._found[box.currentIndex() - 1] if box.currentIndex() > 0 else None

    @property
    def as_it_lies(self) -> bool:
        """Return whether the places of the file are kept."""
        return self.place.currentIndex() == 0


class TakeDialog(QDialog):
    """Which envelopes of another vehicle are taken.

    Parameters
    ----------
    name : str
        The other vehicle.
    envelopes : sequence of Envelope
        Its envelopes.
    unit : {"mm", "in"}
        Unit to show.
    """

    def __init__(self, name: str, envelopes: Sequence[Envelope], unit: Unit, parent: QWidget) -> None:
        super().__init__(parent)
        self._envelopes = envelopes
        self.setWindowTitle("Take envelopes from another vehicle")
        self.setMinimumWidth(420)
        column = QVBoxLayout(self)
        head = QLabel(f"Envelopes of {name}. They come to the same place, from the axle as built.")
        head.setTextFormat(Qt.TextFormat.PlainText)
        head.setWordWrap(True)
        column.addWidget(head)
        self.list = QListWidget()
        self.list.setAccessibleName("Envelopes to take")
        for envelope in envelopes:
            item = QListWidgetItem(f"{envelope.name}, margin {format_length(envelope.margin, unit)}")
            item.setCheckState(Qt.CheckState.Checked)
            self.list.addItem(item)
        column.addWidget(self.list)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Take")
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)

    def taken(self) -> tuple[Envelope, ...]:
        """Return the envelopes that are ticked."""
        ticked = [self.list.item(i).checkState() == Qt.CheckState.Checked for i in range(self.list.count())]
        return tuple(envelope for envelope, on in zip(self._envelopes, ticked, strict=True) if on)
