"""The session: one open document, how it is looked at, and who wants to know."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Literal

from linkviz.errors import LinkvizError, Problem
from linkviz.job.setup import Setup
from linkviz.session.document import Document
from linkviz.session.history import History
from linkviz.session.store import Leftover, Store
from linkviz.session.view import ROLL_RANGE_DEG, View
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.sheet import vehicle_from_sheet
from linkviz.vehicle.write import write_vehicle

Event = Literal["document", "view", "history"]
Subscriber = Callable[[Event], None]


class EditRefused(LinkvizError):
    """An edit that would make the vehicle unusable; nothing was changed."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in problems))


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
        self._history = History(document)
        self._saved = document.vehicle
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
        """Return whether the vehicle differs from its file."""
        return self._history.document.vehicle != self._saved

    @property
    def undo_text(self) -> str:
        """Return what undo would take back, or ""."""
        return self._history.undo_text

    @property
    def redo_text(self) -> str:
        """Return what redo would bring again, or ""."""
        return self._history.redo_text

    # -- edits

    def _checked(self, document: Document) -> Document:
        setup = document.setup
        for name in setup.__dataclass_fields__:
            if not math.isfinite(getattr(setup, name)):
                raise EditRefused([Problem(name, str(getattr(setup, name)), "a length such as 90 mm")])
        if document.vehicle != self.document.vehicle:
            problems = problems_of(document.vehicle)
            if problems:
                raise EditRefused(list(problems))
        return document

    def _refuse(self, error: LinkvizError) -> None:
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
            checked = self._checked(document)
        except EditRefused as error:
            self._refuse(error)
            return
        had = self._preview is not None
        self._preview = None
        if checked != self.document:
            self._history.push(checked, text, key)
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

    def end_gesture(self) -> None:
        """End the present gesture: what follows is a step of its own."""
        self._history.seal()

    def preview(self, document: Document) -> bool:
        """Show a state without making it a step; return whether it could be shown.

        A state with problems is not shown; the last good one stays, and `last_error` says why.
        """
        try:
            checked = self._checked(document)
        except EditRefused as error:
            self.last_error = str(error)
            return False
        self.last_error = ""
        if checked != self.shown:
            self._preview = checked
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
        self._preview = None
        if self._history.undo():
            self._hold_view()
            self._tell("document", "history")

    def redo(self) -> None:
        """Bring the edit again that was taken back."""
        self._preview = None
        if self._history.redo():
            self._hold_view()
            self._tell("document", "history")

    # -- view

    def set_view(self, **changes: object) -> None:
        """Change view state; travel and roll are held inside their ranges."""
        view = self._within(self._view.with_(**changes))
        if view != self._view:
            self._view = view
            self._tell("view")

    def _within(self, view: View) -> View:
        low, high = self.shown.window
        count = len(self.shown.vehicle.envelopes)
        return replace(
            view,
            travel=min(max(view.travel, low), high),
            roll_deg=min(max(view.roll_deg, ROLL_RANGE_DEG[0]), ROLL_RANGE_DEG[1]),
            envelope=view.envelope if -1 <= view.envelope < count else count - 1,
        )

    def _hold_view(self) -> None:
        self._view = self._within(self._view)

    # -- files

    def _start(self, document: Document) -> None:
        self.store.drop_autosave()
        self._history = History(document)
        self._saved = document.vehicle
        self._preview = None
        self.last_error = ""
        self._view = self._within(self._view.with_(point="", envelope=-1))
        self._tell("document", "view", "history")

    def open(self, path: str) -> None:
        """Open a vehicle file in place of the document; the lift stays, brackets come off.

        Raises
        ------
        FileRefused
            If the file cannot be taken; the document is untouched.
        """
        try:
            vehicle = read_vehicle(path)
        except LinkvizError as error:
            self._refuse(error)
            return
        full = str(Path(path).resolve())
        self.store.add_recent(full)
        self._start(Document(vehicle, Setup(lift=self.document.setup.lift), full))

    def new_from(self, path: str) -> None:
        """Start a new, unnamed document from a demo vehicle."""
        self._start(Document(read_vehicle(path), Setup(lift=self.document.setup.lift), None))

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
            return
        self._start(Document(vehicle, Setup(lift=self.document.setup.lift), None))
        # nothing on disk holds it yet
        self._saved = vehicle.model_copy(update={"name": ""})
        self._tell("history")

    def recover(self, leftover: Leftover) -> None:
        """Go on with unsaved work of an earlier session; it stays marked as not saved."""
        self._start(leftover.document)
        path = leftover.document.path
        try:
            self._saved = read_vehicle(path) if path else leftover.document.vehicle
        except LinkvizError:
            self._saved = leftover.document.vehicle
        if not path or self._saved == leftover.document.vehicle:
            self._saved = leftover.document.vehicle.model_copy(update={"name": ""})
        self.autosave()
        self.store.forget(leftover)
        self._tell("history")

    def save(self) -> None:
        """Save to the document's own file.

        Raises
        ------
        LinkvizError
            If there is no file yet or it cannot be written; nothing is lost.
        """
        if self.document.path is None:
            raise LinkvizError("This vehicle has no file yet. Choose Save as and give it a name.")
        self.save_as(self.document.path)

    def save_as(self, path: str) -> None:
        """Save to a file, which becomes the document's own.

        Raises
        ------
        LinkvizError
            If it cannot be written; the old file, if any, stays whole.
        """
        try:
            write_vehicle(self.document.vehicle, path)
        except LinkvizError as error:
            self._refuse(error)
        except OSError as error:
            self._refuse(
                LinkvizError(
                    f"{path} could not be written ({error.strerror}). "
                    "Choose Save as and a folder you may write to; nothing was lost."
                )
            )
        full = str(Path(path).resolve())
        self._history.move_to(full)
        self._saved = self.document.vehicle
        self.store.drop_autosave()
        self.store.add_recent(full)
        self._tell("history")

    def autosave(self) -> None:
        """Keep a copy of unsaved work, or drop the copy when there is none to keep."""
        if self.dirty:
            self.store.autosave(self.document)
        else:
            self.store.drop_autosave()
