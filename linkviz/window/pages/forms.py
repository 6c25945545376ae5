"""Forms for the tables of a vehicle, made from what the model says of itself: a new table there has its form here."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
)

from linkviz.errors import LinkvizError
from linkviz.session.tables import length_shown, needed, read, shown
from linkviz.session.typed import in_other_unit
from linkviz.units import Unit, parse_length
from linkviz.vehicle.described import Field, Path, fields_of, optional_part
from linkviz.vehicle.part import Part, default_of
from linkviz.window.still import StillCombo

Change = Callable[[Path, Any, str], bool]
"""Called with a place, what is to stand there (None to take a table away) and words for it; False if it was refused."""


class Entry(QLineEdit):
    """A line that sends what was typed once it is left or Enter is pressed, and gives up with Esc."""

    typed = Signal()

    def __init__(self, name: str, tip: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setToolTip(tip)
        self._shown = ""
        self.returnPressed.connect(self._send)

    def show_text(self, text: str) -> None:
        """Show a value; text that is being typed is left alone."""
        self._shown = text
        if not (self.hasFocus() and self.isModified()):
            self.restore()

    def turn(self, old: Unit, new: Unit, many: bool = False) -> None:
        """Let a length that is being typed mean the same in another unit; `many` have commas between."""
        if self.isModified():
            self.setText(in_other_unit(self.text(), old, new, many))
            self.setModified(True)

    def restore(self) -> None:
        """Put the value back that was shown."""
        if self.text() != self._shown:
            self.setText(self._shown)
        self.setModified(False)

    def _send(self) -> None:
        if self.isModified():
            self.typed.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Send what was typed."""
        self._send()
        super().focusOutEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Give up with Esc."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.restore()
            return
        super().keyPressEvent(event)


class PartForm(QFrame):
    """The fields of one table. Where the table is not on file they are empty, to be filled in and added.

    Parameters
    ----------
    path : tuple
        Where it stands in the vehicle.
    kind : type of Part
        Its class.
    label : str
        What it is called.
    change : callable
        See `Change`.
    removable : bool
        Whether it can be taken away.
    """

    refused = Signal(str)

    def __init__(self, path: Path, kind: type[Part], label: str, change: Change, removable: bool = True) -> None:
        super().__init__()
        self.path, self.kind, self.label = path, kind, label
        self._change = change
        self._unit: Unit = "mm"
        self._value: Part | None = None
        self.entries: dict[str, tuple[Entry, ...]] = {}
        self.choices: dict[str, QComboBox] = {}
        self.ticks: dict[str, QCheckBox] = {}
        self.inner: dict[str, PartForm] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(16, 0, 0, 4)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(4)
        for column in (1, 2, 3):
            grid.setColumnStretch(column, 1)
        for row, field in enumerate(fields_of(kind)):
            self._add(grid, row, field)
        self.button = QPushButton()
        self.button.clicked.connect(self._press)
        self._removable = removable
        line = QHBoxLayout()
        line.addStretch(1)
        line.addWidget(self.button)
        grid.addLayout(line, grid.rowCount(), 0, 1, 4)
        # shown before it has a place, it would be a window of its own for a moment and take the keys
        self.button.setVisible(removable)

    def _add(self, grid: QGridLayout, row: int, field: Field) -> None:
        name, tip = f"{self.label}, {field.label.lower()}", field.tip or field.label
        if field.kind == "part" and field.part is not None:
            inner = PartForm(
                (*self.path, field.name), field.part, name, self._change, optional_part(self.kind, field.name)
            )
            inner.refused.connect(self.refused)
            head = QLabel(field.label)
            head.setToolTip(tip)
            under = QVBoxLayout()
            under.addWidget(head)
            under.addWidget(inner)
            grid.addLayout(under, row, 0, 1, 4)
            self.inner[field.name] = inner
            return
        label = QLabel(field.label)
        label.setToolTip(tip)
        grid.addWidget(label, row, 0)
        if field.kind == "choice":
            box = StillCombo()
            box.addItems(list(field.choices))
            box.setAccessibleName(name)
            box.setToolTip(tip)
            box.activated.connect(lambda _, field=field, box=box: self._set(field, box.currentText()))
            grid.addWidget(box, row, 1, 1, 3)
            self.choices[field.name] = box
        elif field.kind == "yes":
            tick = QCheckBox()
            tick.setAccessibleName(name)
            tick.setToolTip(tip)
            tick.clicked.connect(lambda on, field=field: self._set(field, on))
            grid.addWidget(tick, row, 1, 1, 3)
            self.ticks[field.name] = tick
        elif field.kind in ("parts", "other"):
            note = QLabel("in the file")
            note.setObjectName("soft")
            grid.addWidget(note, row, 1, 1, 3)
        else:
            axes = "xyz" if field.kind == "point" else ("",)
            made = tuple(Entry(f"{name} {axis}".strip(), _tip(field, axis)) for axis in axes)
            for i, entry in enumerate(made):
                entry.setMinimumWidth(52)
                entry.typed.connect(lambda field=field: self._typed(field))
                grid.addWidget(entry, row, 1 + i, 1, 1 if len(made) == 3 else 3)
            label.setBuddy(made[0])
            self.entries[field.name] = made

    # -- showing

    def show_part(self, value: Part | None, unit: Unit, draft: bool = False) -> None:
        """Show a table, or empty lines where there is none; in a draft no value is sent by itself."""
        if value is None and self._value is not None:
            self.clear()
        if unit != self._unit:
            for field in fields_of(self.kind):
                if field.kind in ("length", "lengths", "point"):
                    for entry in self.entries[field.name]:
                        entry.turn(self._unit, unit, field.kind == "lengths")
        self._value, self._unit = value, unit
        for field in fields_of(self.kind):
            there = None if value is None else getattr(value, field.name)
            if field.name in self.inner:
                self.inner[field.name].show_part(there, unit, value is None)
            elif field.name in self.choices and value is not None:
                self.choices[field.name].setCurrentText(str(there))
            elif field.name in self.ticks and value is not None:
                self.ticks[field.name].setChecked(bool(there))
            elif field.name in self.entries:
                self._show_field(field, there)
        words = "Remove" if value is not None else "Add"
        self.button.setText(f"{words} {self.label.split(', ')[-1].lower()}")
        self.button.setAccessibleName(f"{words} {self.label}")
        self.button.setToolTip(
            f"Take {self.label.lower()} off the vehicle; Undo brings it back"
            if value is not None
            else f"Put {self.label.lower()} on the vehicle once its values are typed"
        )
        self.button.setVisible(self._removable and not draft)

    def _show_field(self, field: Field, value: Any) -> None:
        entries = self.entries[field.name]
        for entry, text in zip(entries, self._faint(field), strict=True):
            if entry.placeholderText() != text:
                entry.setPlaceholderText(text)
        if self._value is None:
            return  # what is typed into a draft stays
        texts = [shown(field, value, self._unit)]
        if field.kind == "point":
            texts = [length_shown(v, self._unit) for v in value] if value is not None else ["", "", ""]
        for entry, text in zip(entries, texts, strict=True):
            entry.show_text(text)

    def _faint(self, field: Field) -> tuple[str, ...]:
        """Return what stands faintly in the empty lines of a field: what is taken then, or the unit."""
        if field.kind == "point":
            return ("x", "y", "z")
        usual = default_of(self.kind, field.name) if field.optional else None
        if field.optional and usual not in (None, ()):
            return (f"{shown(field, usual, self._unit)} if left empty",)
        unit = self._unit if field.kind in ("length", "lengths") else field.unit
        return (", ".join(filter(None, ("not known" if field.optional else "", unit))),)

    # -- typing

    def _typed(self, field: Field) -> None:
        if self._value is None:
            return
        try:
            value = self._read(field)
            if value is None and not field.optional:
                raise LinkvizError(f"{field.label} is needed. Type a value, or remove the whole table.")
        except LinkvizError as error:
            self.refused.emit(str(error))
            for entry in self.entries[field.name]:
                entry.restore()
            return
        if value is None:
            value = default_of(self.kind, field.name)
        self._set(field, value)

    def _read(self, field: Field) -> Any:
        entries = self.entries[field.name]
        if field.kind != "point":
            text = entries[0].text()
            return None if not text.strip() else read(field, text, self._unit)
        texts = [entry.text().strip() for entry in entries]
        if not any(texts):
            return None
        if not all(texts):
            raise LinkvizError(f"{field.label}: a point needs x, y and z. Type all three.")
        return tuple(parse_length(text, self._unit) for text in texts)

    def _set(self, field: Field, value: Any) -> None:
        if self._value is None:
            return
        if not self._change((*self.path, field.name), value, f"set {self.label.lower()}, {field.label.lower()}"):
            self.show_part(self._value, self._unit)
        for entry in self.entries.get(field.name, ()):
            entry.restore()

    def draft(self) -> dict[str, Any]:
        """Return what was typed into an empty form.

        Raises
        ------
        LinkvizError
            If something is missing or no value.
        """
        values: dict[str, Any] = {}
        for field in fields_of(self.kind):
            if field.name in self.inner:
                inner = self.inner[field.name]
                if not field.optional or inner.begun():
                    values[field.name] = inner.draft()
            elif field.name in self.choices:
                values[field.name] = self.choices[field.name].currentText()
            elif field.name in self.ticks:
                values[field.name] = self.ticks[field.name].isChecked()
            elif field.name in self.entries and (value := self._read(field)) is not None:
                values[field.name] = value
        missing = needed(self.kind, values)
        if missing:
            raise LinkvizError(f"{self.label}: {', '.join(missing)} still to be typed.")
        return values

    def begun(self) -> bool:
        """Return whether anything was typed."""
        lines = [entry for entries in self.entries.values() for entry in entries]
        return any(entry.text().strip() for entry in lines) or any(inner.begun() for inner in self.inner.values())

    def clear(self) -> None:
        """Empty the lines."""
        for entry in self.findChildren(Entry):
            entry.show_text("")
            entry.restore()

    def _press(self) -> None:
        if self._value is not None:
            self._change(self.path, None, f"remove {self.label.lower()}")
            return
        try:
            values = self.draft()
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        if self._change(self.path, values, f"add {self.label.lower()}"):
            for entry in self.findChildren(Entry):
                entry.setModified(False)


def _tip(field: Field, axis: str) -> str:
    tip = field.tip or field.label
    if axis:
        way = {"x": "forward of the axle", "y": "to the left of the middle", "z": "above the ground"}[axis]
        return f"{tip} {axis}: {way}, at design height."
    return tip
