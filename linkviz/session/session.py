"""The session: one open document, how it is looked at, and who wants to know."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Literal, NoReturn

from linkviz.analysis.setup import Setup
from linkviz.book.form import form_of_file
from linkviz.book.model import Printed
from linkviz.errors import LinkvizError
from linkviz.session.checks import EditRefused, checked
from linkviz.session.document import Document
from linkviz.session.files import Hold, full_path, load, saved_part
from linkviz.session.history import History
from linkviz.session.stock import Stock
from linkviz.session.store import Store
from linkviz.session.unsaved import Leftover
from linkviz.session.view import View, within
from linkviz.vehicle.from_sheet import vehicle_from_sheet
from linkviz.vehicle.model import Vehicle

MOST_PRINTED = 200
"""So many papers are remembered with a job, the latest."""
Event = Literal["document", "view", "history"]
Subscriber = Callable[[Event], None]


class Session:
    """What is open now.

    Parameters
    ----------
    document : Document
        The document to begin with.
    store : Store or None
        State on disk; the user's own if None.
    view : View
        View state to begin with.

    Notes
    -----
    Subscribers are told of "document" (what is shown changed: an edit, a preview, undo, another file), "view" and
    "history" (what undo and redo would do, the dirty mark, the path).
    """

    def __init__(self, document: Document, store: Store | None = None, view: View | None = None) -> None:
        self.store = store or Store()
        self.stock = Stock(self.store)
        self._history = History(document)
        self._saved: Document | None = document
        self._of_job = document.is_job
        self.hold = Hold()
        self._preview: Document | None = None
        self._view = view or View()
        self._subscribers: list[Subscriber] = []
        self.last_error = ""

    # -- who wants to know

    def subscribe(self, callback: Subscriber) -> Callable[[], None]:
        """Call `callback(event)` at every change; return a function that ends it."""
        self._subscribers.append(callback)

        def unsubscribe() -> None:
            if callback in self._subscribers:
                self._subscribers.remove(callback)

        return unsubscribe

    def _tell(self, *events: Event) -> None:
        for event in events:
            for callback in tuple(self._subscribers):
                callback(event)

    # -- what is open

    @property
    def document(self) -> Document:
        """Return the document of the history."""
        return self._history.document

    @property
    def shown(self) -> Document:
        """Return what is on screen: the preview of a drag, or the document."""
        return self._preview or self._history.document

    @property
    def previewing(self) -> bool:
        """Return whether a drag is being previewed."""
        return self._preview is not None

    @property
    def view(self) -> View:
        """Return the view state."""
        return self._view

    @property
    def dirty(self) -> bool:
        """Return whether something is in no file; where a vehicle is looked at, lift and parts are but tried out.

        Those of a job are not, also where only its vehicle was saved last.
        """
        document, saved = self.document, self._saved
        if saved is None:
            return True
        if self._of_job:
            return not document.same(saved)
        return document.vehicle != saved.vehicle or document.job != saved.job

    @property
    def changed(self) -> bool:
        """Return whether a crash now would lose something, be it only a lift."""
        return self._saved is None or not self.document.same(self._saved)

    @property
    def undo_text(self) -> str:
        """Return what undo would take back, or ""."""
        return self._history.undo_text

    @property
    def redo_text(self) -> str:
        """Return what redo would bring again, or ""."""
        return self._history.redo_text

    # -- edits

    def _refuse(self, error: LinkvizError) -> NoReturn:
        self.last_error = str(error)
        raise error

    def edit(self, document: Document, text: str, key: object = None) -> None:
        """Make an edit a step of the history.

        Parameters
        ----------
        document : Document
            The state after the edit.
        text : str
            What it does, in the words of the menu.
        key : object
            Gesture it belongs to; edits of one gesture are one step.

        Raises
        ------
        EditRefused
            If the vehicle would not be usable; the document is untouched.
        """
        try:
            good = checked(document, self.document, self.view.unit)
        except EditRefused as error:
            self._refuse(error)
        had = self._preview is not None
        self._preview = None
        if good != self.document:
            self._history.push(good, text, key)
        elif not had:
            return
        self._hold_view()
        self._tell("document", "history")

    def edit_vehicle(self, vehicle: Vehicle, text: str, key: object = None) -> None:
        """Make a changed vehicle a step of the history."""
        self.edit(self.document.with_vehicle(vehicle), text, key)

    def edit_setup(self, text: str, key: object = None, **changes: float) -> None:
        """Make a changed setup a step of the history."""
        self.edit(self.document.with_setup(**changes), text, key)

    def edit_job(self, text: str, key: object = None, **changes: object) -> None:
        """Make changed fields of the job a step of the history."""
        self.edit(self.document.with_job(**changes), text, key)

    def papers_made(self, papers: Sequence[str]) -> None:
        """Note in the job's history that papers were made of it now."""
        entry = Printed(when=time.strftime("%Y-%m-%dT%H:%M:%S"), papers=tuple(papers))
        self.edit_job("papers made", printed=(*self.document.job.printed[1 - MOST_PRINTED :], entry))

    def end_gesture(self) -> None:
        """End the present gesture: what follows is a step of its own."""
        self._history.seal()

    def preview(self, document: Document) -> bool:
        """Show a state without making it a step; return whether it could be shown.

        A state with problems is not shown; the last good one stays, and `last_error` says why.
        """
        try:
            good = checked(document, self.document, self.view.unit)
        except EditRefused as error:
            self.last_error = str(error)
            return False
        self.last_error = ""
        if good != self.shown:
            self._preview = good
            self._tell("document")
        return True

    def commit_preview(self, text: str) -> None:
        """Make the previewed state one step of the history."""
        if self._preview is not None:
            self.edit(self._preview, text)

    def drop_preview(self) -> None:
        """Go back to the document; the drag never was."""
        if self._preview is not None:
            self._preview = None
            self._tell("document")

    def undo(self) -> None:
        """Take the last edit back."""
        self._walk(self._history.undo)

    def redo(self) -> None:
        """Bring the edit again that was taken back."""
        self._walk(self._history.redo)

    def _walk(self, step: Callable[[], bool]) -> None:
        """Go one step through the history; a preview goes with it, also where there is none to go."""
        self.drop_preview()
        if step():
            self._hold_view()
            self._tell("document", "history")

    # -- view

    def choose_stock(self, path: str) -> None:
        """Take another catalogue of parts; it is remembered.

        Raises
        ------
        LinkvizError
            If it cannot be read; the old one stays.
        """
        self.stock.choose(path)
        self._tell("view")

    def set_view(self, **changes: object) -> None:
        """Change view state; travel and roll are held inside their ranges."""
        view = within(self._view.with_(**changes), self._view, self.shown)
        if view != self._view:
            self._view = view
            self._tell("view")

    def _hold_view(self) -> None:
        self._view = within(self._view, self._view, self.shown)

    # -- files

    def _start(self, document: Document, saved: Document | None) -> None:
        """Take another document; `saved` is what of it is on the disk."""
        self.store.unsaved.drop()
        self._history = History(document)
        self._saved = saved
        self._of_job = document.is_job
        self._preview = None
        self.last_error = ""
        self._view = within(self._view.with_(point="", envelope=-1), self._view, self.shown)
        self._tell("document", "view", "history")

    def open(self, path: str, look: bool = False) -> None:
        """Open a job or a vehicle file in place of the document; with a vehicle the lift stays, brackets come off.

        Parameters
        ----------
        path : str
            The file.
        look : bool
            Whether a job is only looked at, and cannot be saved under its name.

        Raises
        ------
        FileRefused
            If the file cannot be taken; the document is untouched.
        Held
            If somebody else has the job open; the document is untouched.
        """
        try:
            full = full_path(path)
            with contextlib.nullcontext() if look else self.hold.moving_to(full, form_of_file(full)):
                document = load(path, self.document.setup.lift)
            if look:
                self.hold.look(full)
        except LinkvizError as error:
            self._refuse(error)
        self.store.add_recent(full)
        self._start(document, document)

    def open_copy(self, path: str, number: str = "") -> None:
        """Open a copy of a job as a new job that has no file yet, under a number of its own if one is given.

        Raises
        ------
        FileRefused
            If the file cannot be taken; the document is untouched.
        """
        document = load(path)
        named = {"number": number} if number else {"name": f"{document.job.name} (copy)".strip()}
        job = document.job.replace(**named, printed=())
        self.begin(document.replace(job=job, form="job"))

    def begin(self, document: Document) -> None:
        """Begin a new job, or a vehicle that was measured; nothing on the disk holds it yet."""
        self.hold.drop()
        self._start(document.kept_in(None, document.form), None)

    def new_from(self, path: str) -> None:
        """Start a new, unnamed document from a demo vehicle."""
        document = load(path, self.document.setup.lift).kept_in(None)
        self.hold.drop()
        self._start(document, document)

    def import_sheet(self, path: str, mirror: bool = False) -> None:
        """Start a new, unsaved document from a filled-in measuring sheet.

        Parameters
        ----------
        path : str
            The sheet (CSV).
        mirror : bool
            Whether a link measured on one side only stands for its partner too.

        Raises
        ------
        FileRefused
            If something is missing or wrong; the document is untouched.
        """
        name = Path(path).stem.replace("-", " ").replace("_", " ").strip() or "New vehicle"
        try:
            vehicle = vehicle_from_sheet(path, name, mirror)
        except LinkvizError as error:
            self._refuse(error)
        self.begin(Document(vehicle, Setup(lift=self.document.setup.lift), None))

    def recover(self, leftover: Leftover) -> None:
        """Go on with unsaved work of an earlier session; it stays marked as not saved.

        Raises
        ------
        Held
            If somebody else has opened the job since; the document is untouched.
        """
        self._start(*self.hold.take_up(leftover))
        self.autosave()
        self.store.unsaved.forget(leftover)

    def save(self) -> None:
        """Save to the document's own file.

        Raises
        ------
        LinkvizError
            If there is no file yet or it cannot be written; nothing is lost.
        """
        if self.document.path is None:
            raise LinkvizError("This has no file yet. Choose Save as and give it a name.")
        self.save_as(self.document.path)

    def save_as(self, path: str, over: str | None = None) -> None:
        """Save to a file, which becomes the document's own; a job file holds all, a vehicle file the vehicle.

        Raises
        ------
        Changed
            If others made something else of the document's own file, unless that has the mark `over`.
        OtherForm
            If another file is chosen that is a job where a vehicle would be written, or a vehicle where a job would.
        LinkvizError
            If it cannot be written; the old file, if any, stays whole.
        """
        try:
            full = full_path(path)
            self.hold.save(self.document, full, over)
        except LinkvizError as error:
            self._refuse(error)
        self._history.move_to(full, self.document.form_in(full))
        self._saved = saved_part(self.document, self._saved)
        self._of_job |= self.document.is_job
        self.store.unsaved.drop()
        self.store.add_recent(full)
        self._tell("history")

    def autosave(self, later: bool = False) -> None:
        """Keep a copy of unsaved work, or drop the copy when there is none to keep; `later`: off this thread."""
        if not self.changed:
            self.store.unsaved.drop()
        elif later:
            self.store.unsaved.ask(self.document, self.hold.seen)
        else:
            self.store.unsaved.keep(self.document, self.hold.seen)

    def close(self) -> None:
        """End: what is not saved was thrown away on purpose."""
        self.store.unsaved.drop()
        self.hold.drop()
