"""Opening, saving, recent files: everything the window does with the disk."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QMimeData, QObject, QTimer, Signal
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from linkviz.book.form import bare_name, form_of_file
from linkviz.book.lock import TOUCH_S, Held
from linkviz.errors import FileRefused, LinkvizError
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.files import free_name, put_aside
from linkviz.session.seen import Changed
from linkviz.session.session import Event, Session
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.sheet import is_sheet
from linkviz.vehicle.sheet_lines import blank_measuring_sheet
from linkviz.window import dialogs
from linkviz.window.paths import beside
from linkviz.window.save_name import ask_name
from linkviz.window.shop.folder import shop_folder

AUTOSAVE_MS = 2000
"""How long after an edit a copy of unsaved work is kept, whatever comes after it."""
BOTH = "Jobs and vehicles (*.job.toml *.vehicle.toml *.toml)"
KINDS = {"job.toml": "Jobs (*.job.toml)", "vehicle.toml": "Vehicles (*.vehicle.toml)"}
"""What is open can be saved as."""
SHEETS = "Measuring sheets (*.csv *.txt)"
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{i}" for port in ("com", "lpt") for i in range(10))}
"""Names that some systems keep for devices, whatever the ending."""
ENDINGS = (".toml", ".csv", ".txt")
"""Files that may be dropped on the window."""


class Files(QObject):
    """What the window does with files.

    Parameters
    ----------
    session : Session
        What is opened and saved.
    parent : QWidget
        Owner of the dialogs.
    """

    said = Signal(str)
    opened = Signal()

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._parent = parent
        self._folder = ""
        self._autosave = QTimer(self)
        self._autosave.setSingleShot(True)
        self._autosave.setInterval(AUTOSAVE_MS)
        self._autosave.timeout.connect(lambda: session.autosave(later=True))
        self._stop = session.subscribe(self._told)
        self._touch = QTimer(self)
        self._touch.setInterval(round(TOUCH_S * 1000))
        self._touch.timeout.connect(session.hold.touch)
        self._touch.start()

    def _told(self, event: Event) -> None:
        # not started again by the next edit: an hour of dragging must not put the copy off
        if event == "history" and not self._autosave.isActive():
            self._autosave.start()

    def close(self) -> None:
        """Stop listening to the session."""
        self._autosave.stop()
        self._touch.stop()
        self._stop()

    # -- opening

    def _refused(self, error: LinkvizError) -> None:
        dialogs.tell(error, self._parent)

    def _take(self, how: Callable[[], None]) -> bool:
        """Replace what is open unless the person keeps unsaved work or the file is refused."""
        if not self.may_leave():
            return False
        try:
            how()
        except Held as held:
            return self._held(held)
        except FileRefused as refused:
            return self._damaged(refused)
        except LinkvizError as error:
            self._refused(error)
            return False
        self.opened.emit()
        return True

    def tell(self, error: LinkvizError) -> None:
        """Tell why a file was not opened; offer what can be done about it."""
        if isinstance(error, Held):
            self._held(error)
        elif isinstance(error, FileRefused):
            self._damaged(error)
        else:
            self._refused(error)

    def _damaged(self, refused: FileRefused) -> bool:
        """Say what is wrong with a file; of a job, offer what is left."""
        if form_of_file(refused.path) != "job":
            self._refused(refused)
            return False
        from linkviz.book.recover import recover
        from linkviz.window.shop.damage import Damage

        try:
            found = recover(refused.path)
        except LinkvizError:
            self._refused(refused)
            return False
        dialog = Damage(refused.path, found, self._parent)
        taken = dialogs.run(dialog)
        if not taken or found.whole is None:
            return False
        self._session.begin(Document.of(found.whole, form="job"))
        self.opened.emit()
        self.said.emit("This is what was left of the damaged job. Save it under a name of its own.")
        return True

    def begin(self, document: Document) -> bool:
        """Begin a new job; return whether what was open could be left."""
        return self._take(lambda: self._session.begin(document.kept_in(None, "job")))

    def open_copy(self, path: str, number: str = "") -> bool:
        """Begin a new job like that of a file, under a number of its own."""
        return self._take(lambda: self._session.open_copy(path, number))

    def _held(self, held: Held) -> bool:
        """Ask what to do with a job that somebody else has open."""
        answer = dialogs.ask_held(self._parent, held)
        if answer == "stay":
            return False
        try:
            if answer == "look":
                self._session.open(held.path, look=True)
                self.said.emit(f"Only looked at: {held.holder.words()} has it open. Save as makes a job of your own.")
            else:
                self._session.open_copy(held.path)
                self.said.emit("This is a copy. Save it to keep it.")
        except LinkvizError as error:
            self._refused(error)
            return False
        self.opened.emit()
        return True

    def open_path(self, path: str) -> bool:
        """Open a job, a vehicle file or a measuring sheet; what is wrong with it is told in a dialog."""
        if is_sheet(path):
            return self._open_sheet(path)
        return self._take(lambda: self._session.open(path))

    def _open_sheet(self, path: str) -> bool:
        if not self._take(lambda: self._session.import_sheet(path, mirror=True)):
            return False
        self.said.emit(
            "Made from the measuring sheet; a link measured on one side only stands on the other side too. Save it to "
            "keep it."
        )
        return True

    def open_demo(self, path: str) -> bool:
        """Open a demo vehicle as a new, unnamed document."""
        return self._take(lambda: self._session.new_from(path))

    def ask_open(self) -> None:
        """Ask for a job or a vehicle file and open it."""
        path, _ = QFileDialog.getOpenFileName(
            self._parent, "Open a job or a vehicle", self._start(), f"{BOTH};;{SHEETS};;All files (*)"
        )
        if path:
            self._folder = str(Path(path).parent)
            self.open_path(path)

    def ask_sheet(self) -> None:
        """Ask for a measuring sheet and make a vehicle of it."""
        path, _ = QFileDialog.getOpenFileName(
            self._parent, "New vehicle from measuring sheet", self._start(), f"{SHEETS};;All files (*)"
        )
        if path:
            self._folder = str(Path(path).parent)
            self._open_sheet(path)

    def ask_blank(self) -> None:
        """Ask where to put an empty measuring sheet."""
        start = Path(self._start()) / "measuring-sheet.csv"
        path = ask_name(self._parent, "Save a blank measuring sheet", start, {"csv": SHEETS}, good=("csv", "txt"))
        if path:
            try:
                save_text(path, blank_measuring_sheet(self._session.view.unit))
            except LinkvizError as error:
                self._refused(error)
            else:
                self.said.emit(f"Saved {path}. Fill it in and choose Vehicle from measuring sheet.")

    # -- saving

    def save(self) -> bool:
        """Save to the document's own file, or ask for one; return whether it was saved."""
        path = self._session.document.path
        return self.save_to(path) if path else self.ask_save()

    def save_to(self, path: str) -> bool:
        """Save to a file; return whether it was saved."""
        return self._save(path, lambda: self._session.save_as(path))

    def _save(self, path: str, how: Callable[[], None], more: str = "") -> bool:
        try:
            how()
        except Changed as changed:
            return self._changed(changed)
        except LinkvizError as error:
            self._refused(error)
            return False
        more += " Only the vehicle: choose Save as and a job to keep the rest." if self._session.dirty else ""
        self.said.emit(f"Saved {path}.{more}")
        return True

    def _changed(self, changed: Changed) -> bool:
        """Ask what to do with a file that others have changed; nothing of theirs or of what is open is lost."""
        path = changed.path
        answer = dialogs.ask_changed(self._parent, changed)
        if answer == "other":
            return self.ask_save(new=True)
        if answer == "stay":
            return False
        try:
            copy, mark = put_aside(path)
        except LinkvizError as error:
            self._refused(error)
            return False
        more = f" What was there is kept as {Path(copy).name}." if copy else ""
        return self._save(path, lambda: self._session.save_as(path, mark), more)

    def ask_save(self, new: bool = False) -> bool:
        """Ask for a file and save to it; return whether it was saved. `new`: offer a name no file has yet."""
        document = self._session.document
        first = "job.toml" if document.is_job else "vehicle.toml"
        folder = Path(self._start())
        if document.is_job and not document.path and not self._folder:
            folder = shop_folder(self._session.store)
            with contextlib.suppress(OSError):
                folder.mkdir(parents=True, exist_ok=True)
        name = Path(document.path or free_name(folder, file_stem(document.title), f".{first}"))
        if new:
            name = free_name(name.parent, bare_name(name), f".{first}")
        path = ask_name(self._parent, "Save as", name, KINDS, first)
        if not path:
            return False
        self._folder = str(Path(path).parent)
        return self.save_to(path)

    def may_leave(self) -> bool:
        """Return whether what is open may be left: saved, or thrown away on purpose."""
        if not self._session.dirty:
            return True
        answer = dialogs.ask_unsaved(self._parent, self._session.document.title)
        if answer == "save":
            # a vehicle file holds no job: what it leaves out is not to be lost
            return self.save() and not self._session.dirty
        return answer == "discard"

    def _start(self) -> str:
        return str(beside(self._session, self._folder))

    # -- menus

    def fill_recent(self, menu: QMenu) -> None:
        """Fill the menu of recent files."""
        menu.clear()
        files = self._session.store.recent()
        for i, path in enumerate(files):
            shown = path.replace("&", "&&")
            action = menu.addAction(f"&{i + 1}  {shown}" if i < 9 else shown)
            action.triggered.connect(lambda _=False, path=path: self.open_path(path))
        if not files:
            menu.addAction("None yet").setEnabled(False)

    def fill_demos(self, menu: QMenu) -> None:
        """Fill the menu of demo vehicles."""
        menu.clear()
        for path in demo_vehicle_paths():
            words = path.name.removesuffix(".vehicle.toml").replace("-", " ").title()
            action = menu.addAction(f"{words} (invented)")
            action.triggered.connect(lambda _=False, path=str(path): self.open_demo(path))

    # -- recovery

    def offer_leftovers(self) -> None:
        """Offer work that an ended session left unsaved."""
        found = self._session.store.unsaved.leftovers()
        if not found:
            return
        answer, leftover = dialogs.ask_recover(self._parent, found)
        if leftover is None:
            return
        if answer == "recover":
            try:
                self._session.recover(leftover)
            except LinkvizError as error:
                self._refused(error)
                return
            self.opened.emit()
            self.said.emit("Recovered. Save it to keep it.")
        else:
            self._session.store.unsaved.forget(leftover)


def file_stem(name: str) -> str:
    """Return a name as part of a file name."""
    kept = "".join(c if c.isalnum() else "-" for c in name.lower())
    stem = "-".join(part for part in kept.split("-") if part)[:60] or "vehicle"
    return f"{stem}-1" if stem in _DEVICES else stem


def dropped_path(data: QMimeData) -> str:
    """Return the one file that is dropped on the window, or "" if it is none that can be opened."""
    urls = data.urls()
    path = urls[0].toLocalFile() if len(urls) == 1 else ""
    return path if path.lower().endswith(ENDINGS) else ""
