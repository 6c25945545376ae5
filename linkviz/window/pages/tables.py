"""The tables of a vehicle in groups that open: each can be added, typed into and removed."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget

from linkviz.errors import LinkvizError
from linkviz.session import tables
from linkviz.session.session import Session
from linkviz.units import Unit
from linkviz.vehicle.described import OTHER_PAGES, Field, Path
from linkviz.vehicle.described import tables as all_tables
from linkviz.vehicle.model import Vehicle
from linkviz.window.pages.forms import PartForm


class Group(QWidget):
    """One table, or a list of tables, behind a heading; its form is made when it is first opened.

    Parameters
    ----------
    field : Field
        The table.
    session : Session
        What is changed.
    """

    refused = Signal(str)

    def __init__(self, field: Field, session: Session) -> None:
        super().__init__()
        self.field = field
        self._session = session
        self._vehicle: Vehicle | None = None
        self._unit: Unit = "mm"
        self.forms: list[PartForm] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2)
        self.head = QToolButton()
        self.head.setCheckable(True)
        self.head.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.head.setArrowType(Qt.ArrowType.RightArrow)
        self.head.setAutoRaise(True)
        self.head.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.head.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.head.setToolTip(field.tip)
        self.head.toggled.connect(self._open)
        self._column.addWidget(self.head)

    def show_vehicle(self, vehicle: Vehicle, unit: Unit) -> None:
        """Show what the vehicle has of it."""
        self._vehicle, self._unit = vehicle, unit
        value = getattr(vehicle, self.field.name)
        state = (f"{len(value)} on file" if value else "none") if self.field.kind == "parts" else (
            "on file" if value is not None else "not on file"
        )  # fmt: skip
        self.head.setText(f"{self.field.label}  \N{MIDDLE DOT}  {state}")
        self.head.setAccessibleName(f"{self.field.label}, {state}")
        if self.head.isChecked():
            self._show_forms(value)

    def _open(self, on: bool) -> None:
        self.head.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        if on and self._vehicle is not None:
            self._show_forms(getattr(self._vehicle, self.field.name))
        for form in self.forms:
            form.setVisible(on)

    def _show_forms(self, value: Any) -> None:
        many = self.field.kind == "parts"
        items = [*value, None] if many else [value]
        while len(self.forms) < len(items):
            self.forms.append(self._make(len(self.forms)))
        for form in self.forms[len(items) :]:
            self._column.removeWidget(form)
            form.deleteLater()
        del self.forms[len(items) :]
        for form, item in zip(self.forms, items, strict=True):
            form.show_part(item, self._unit)

    def _make(self, index: int) -> PartForm:
        path: Path = (self.field.name, index) if self.field.kind == "parts" else (self.field.name,)
        label = f"{self.field.label} {index + 1}" if self.field.kind == "parts" else self.field.label
        assert self.field.part is not None
        form = PartForm(path, self.field.part, label, self._change)
        form.refused.connect(self.refused)
        self._column.addWidget(form)
        return form

    def _change(self, path: Path, value: Any, text: str) -> bool:
        vehicle = self._session.document.vehicle
        try:
            if value is None and path in {form.path for form in self.findChildren(PartForm)}:
                changed = tables.remove(vehicle, path)
            elif isinstance(value, dict):
                changed = tables.add(vehicle, path, value)
            else:
                changed = tables.put(vehicle, path, value)
            self._session.edit_vehicle(changed, text)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        if isinstance(path[-1], int):
            # what was in the lines of a list's items moves with them
            for form in self.forms:
                form.clear()
        return True


class Tables(QWidget):
    """All groups.

    Parameters
    ----------
    session : Session
        What is shown and changed.
    """

    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self.groups: dict[str, Group] = {}
        for field in all_tables():
            if field.name in OTHER_PAGES:
                continue
            group = Group(field, session)
            group.refused.connect(self.refused)
            column.addWidget(group)
            self.groups[field.name] = group

    def show_vehicle(self, vehicle: Vehicle, unit: Unit) -> None:
        """Show a vehicle."""
        for group in self.groups.values():
            group.show_vehicle(vehicle, unit)
