"""What is done with whole envelopes: duplicate, mirror, copy, paste, take, import, export."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from linkviz.book.model import Whole
from linkviz.book.read import read_either
from linkviz.errors import LinkvizError
from linkviz.session import edits
from linkviz.session.outline_exchange import exported, found_in, paired, taken
from linkviz.session.session import Session
from linkviz.session.snapping import grid_step
from linkviz.units import Unit
from linkviz.vehicle.envelope_text import dump_envelopes, parse_envelopes
from linkviz.vehicle.model import Envelope, Vehicle
from linkviz.vehicle.outline_files import Named, UnitWanted, read_outlines, write_outlines
from linkviz.window import dialogs
from linkviz.window.files import file_stem
from linkviz.window.import_outlines import ImportDialog, TakeDialog, ask_unit
from linkviz.window.paths import beside
from linkviz.window.save_name import ask_name

OUTLINES = "Outlines (*.dxf *.csv *.txt)"
EXPORTS = {"dxf": "Drawing (*.dxf)", "csv": "Table (*.csv)"}
VEHICLES = "Vehicles and jobs (*.vehicle.toml *.job.toml *.toml)"
NONE_PICKED = "Pick an envelope first: click it in a drawing or in the table of the Clearance page."


class Envelopes(QObject):
    """Deeds on whole envelopes.

    Parameters
    ----------
    session : Session
        What is changed.
    parent : QWidget
        Owner of the dialogs.
    """

    said = Signal(str)
    refused = Signal(str)

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._parent = parent
        self._folder = ""

    def deeds(self) -> dict[str, Callable[[], None]]:
        """Return what each deed calls, by its name in `linkviz.window.actions`."""
        return {
            "env_duplicate": self.duplicate,
            "env_mirror": self.mirror,
            "env_copy": self.copy,
            "env_paste": self.paste,
            "env_take": self.ask_take,
            "env_import": self.ask_import,
            "env_export": self.ask_export,
        }

    # -- the picked one

    @property
    def _vehicle(self) -> Vehicle:
        return self._session.document.vehicle

    def _picked(self) -> int:
        index = self._session.view.envelope
        if not 0 <= index < len(self._vehicle.envelopes):
            self.refused.emit(NONE_PICKED)
            return -1
        return index

    def _edit(self, vehicle: Vehicle, text: str, pick: int) -> bool:
        """Make an edit and pick an envelope; return whether it was taken."""
        try:
            self._session.edit_vehicle(vehicle, text)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        self._session.set_view(envelope=pick, corner=None, point="", page="clearance")
        return True

    def _add(self, envelopes: tuple[Envelope, ...], text: str) -> bool:
        vehicle = edits.add_envelopes(self._vehicle, envelopes)
        return self._edit(vehicle, text, len(vehicle.envelopes) - 1)

    def duplicate(self) -> None:
        """Put a copy of the picked envelope a little beside it."""
        index = self._picked()
        if index >= 0:
            step = 5.0 * (grid_step(self._session.view.grid, self._session.view.unit) or 5.0)
            name = self._vehicle.envelopes[index].name
            vehicle = edits.duplicate_envelope(self._vehicle, index, (step, step, 0.0))
            self._edit(vehicle, f"duplicate {name}", len(vehicle.envelopes) - 1)

    def mirror(self) -> None:
        """Put the picked envelope on the other side."""
        index = self._picked()
        if index >= 0:
            name = self._vehicle.envelopes[index].name
            self._edit(edits.mirror_envelope(self._vehicle, index), f"mirror {name}", index)

    def copy(self) -> None:
        """Put the picked envelope on the clipboard, as text of a vehicle file."""
        index = self._picked()
        if index >= 0:
            envelope = self._vehicle.envelopes[index]
            QApplication.clipboard().setText(dump_envelopes((envelope,), self._session.view.unit))
            self.said.emit(f"Copied {envelope.name}. Paste it here, into another vehicle, or into a vehicle file.")

    def paste(self) -> None:
        """Add the envelopes of the clipboard."""
        try:
            envelopes = parse_envelopes(QApplication.clipboard().text())
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        if self._add(envelopes, "paste " + _names(envelopes)):
            self.said.emit(f"Pasted {_names(envelopes)}.")

    # -- another vehicle

    def ask_take(self) -> None:
        """Ask for another vehicle, and which of its envelopes are taken."""
        path = self._ask_path("Take envelopes from another vehicle", VEHICLES)
        if path:
            self.take_from(path)

    def take_from(self, path: str) -> None:
        """Ask which envelopes of another vehicle are taken, and take them."""
        try:
            found = read_either(path)
        except LinkvizError as error:
            self._show(error)
            return
        other = found.vehicle if isinstance(found, Whole) else found
        if not other.envelopes:
            self.refused.emit(f"{other.name} has no envelopes. Choose another vehicle.")
            return
        dialog = TakeDialog(other.name, other.envelopes, self._session.view.unit, self._parent)
        wanted = dialog.taken() if dialogs.run(dialog) else ()
        if wanted and self._add(wanted, f"take {_names(wanted)}"):
            self.said.emit(f"Took {_names(wanted)} from {other.name}. Check where they lie: the vehicles may differ.")

    # -- files of outlines

    def ask_import(self) -> None:
        """Ask for a file of outlines and take them."""
        path = self._ask_path("Take outlines from a drawing or a table", f"{OUTLINES};;All files (*)")
        if path:
            self.import_from(path)

    def import_from(self, path: str) -> None:
        """Take outlines from a DXF or CSV file."""
        try:
            named = self._read(path)
        except LinkvizError as error:
            self._show(error)
            return
        if named is None:
            return
        found = found_in(named)
        whole = paired(found)
        if whole:
            if self._add(whole, f"import {_names(whole)}"):
                self.said.emit(f"Took {_names(whole)} from {Path(path).name}.")
            return
        view = self._session.view
        dialog = ImportDialog(found, self._vehicle.envelopes, view.envelope, view.unit, self._parent)
        if dialogs.run(dialog):
            self._take_chosen(dialog)

    def _take_chosen(self, dialog: ImportDialog) -> None:
        rear, side = dialog.chosen(dialog.rear), dialog.chosen(dialog.side)
        try:
            vehicle = taken(self._vehicle, dialog.index, dialog.name, rear, side, dialog.as_it_lies)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        pick = dialog.index if dialog.index >= 0 else len(vehicle.envelopes) - 1
        if self._edit(vehicle, f"import {dialog.name}", pick):
            self.said.emit("Taken. Drag it to its place, or type its corners.")

    def _read(self, path: str) -> Named | None:
        """Read a file of outlines; None if nobody says what unit it is in."""
        try:
            return read_outlines(path)
        except UnitWanted:
            unit: Unit | None = ask_unit(self._parent, path)
            return read_outlines(path, unit) if unit is not None else None

    def ask_export(self) -> None:
        """Ask where to write the outlines of the picked envelope, or of all if none is picked."""
        vehicle, picked = self._vehicle, self._session.view.envelope
        if not vehicle.envelopes:
            self.refused.emit("There is no envelope to write. Draw one first.")
            return
        name = vehicle.envelopes[picked].name if picked >= 0 else "envelopes"
        start = beside(self._session, self._folder) / f"{file_stem(name)}.dxf"
        path = ask_name(self._parent, "Save outlines", start, EXPORTS)
        if path:
            self.export_to(path)

    def export_to(self, path: str) -> None:
        """Write the outlines of the picked envelope, or of all if none is picked."""
        picked = self._session.view.envelope
        indices = [picked] if picked >= 0 else range(len(self._vehicle.envelopes))
        try:
            write_outlines(path, exported(self._vehicle, indices), self._session.view.unit)
        except LinkvizError as error:
            self._show(error)
            return
        self._folder = str(Path(path).parent)
        self.said.emit(f"Saved {path}, in {'inches' if self._session.view.unit == 'in' else 'millimetres'}.")

    # -- asking

    def _ask_path(self, title: str, kinds: str) -> str:
        path, _ = QFileDialog.getOpenFileName(self._parent, title, str(beside(self._session, self._folder)), kinds)
        if path:
            self._folder = str(Path(path).parent)
        return path

    def _show(self, error: LinkvizError) -> None:
        dialogs.tell(error, self._parent)


def _names(envelopes: tuple[Envelope, ...]) -> str:
    """Return the name of one, or how many there are."""
    return envelopes[0].name if len(envelopes) == 1 else f"{len(envelopes)} envelopes"
