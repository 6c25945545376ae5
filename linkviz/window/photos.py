"""Photos to trace over: choosing one, laying it, taking it away."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from linkviz.analysis.photo import filling
from linkviz.errors import LinkvizError
from linkviz.letters import hidden, visible
from linkviz.picture.scene import from_view
from linkviz.session.edits import ViewName
from linkviz.session.files import full_path
from linkviz.session.session import Session
from linkviz.window.paths import beside
from linkviz.window.photo import CHOSEN, PICTURES, machine, photo_size
from linkviz.window.stage import Stage

SHARE = 0.75
"""How much of the pane's height a new photo takes."""


class Photos(QObject):
    """Deeds on the photos behind the drawings.

    Parameters
    ----------
    session : Session
        What has the photos.
    stage : Stage
        Where they lie.
    parent : QWidget
        Owner of the dialogs.
    """

    refused = Signal(str)

    def __init__(self, session: Session, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self._session, self._stage, self._parent = session, stage, parent
        self._folder = ""
        stage.another_photo.connect(lambda: self.ask(stage.placer.view))

    def deeds(self) -> dict[str, Callable[[], None]]:
        """Return what each deed calls, by its name in `linkviz.window.actions`."""
        return {"photo_rear": lambda: self.begin("rear"), "photo_side": lambda: self.begin("side")}

    def begin(self, view: ViewName) -> None:
        """Work on the photo of a view, or ask for one; the axle stands still meanwhile."""
        self._session.set_view(playing=False)
        if self._stage.pencil.corners or self._stage.pencil.first is not None:
            self.refused.emit("Finish the outline first, or leave it with Esc; then choose the photo.")
        elif self._session.document.photo(view) is not None:
            self._stage.take_placer(view)
        else:
            self.ask(view)

    def ask(self, view: ViewName) -> None:
        """Ask for a photo and put it behind a drawing."""
        path, _ = QFileDialog.getOpenFileName(
            self._parent,
            f"Photo behind the {view} view",
            str(beside(self._session, self._folder)),
            f"{PICTURES};;All files (*)",
        )
        if path:
            self._folder = str(Path(path).parent)
            self.put(view, path)

    def put(self, view: ViewName, path: str) -> None:
        """Put a photo behind a drawing, in the middle of what is seen; only its path is kept."""
        pane = self._stage.panes[view]
        try:
            full = full_path(path)
            if hidden(full):
                raise LinkvizError(
                    f"{visible(full)} has a letter in its name that no job can hold. Give it another name."
                )
            CHOSEN.add(machine(full))
            size = photo_size(path)
            middle = pane.camera.to_plane(view, (pane.width() / 2.0, pane.height() / 2.0), pane.area)
            centre = from_view(view, middle, self._session.shown.setup.lift)
            photo = filling(view, full, size, centre, SHARE * pane.height() / pane.camera.scale)
            self._session.edit(self._session.document.with_photo(view, photo), f"photo behind the {view} view")
            layer, document = self._stage.photos[view], self._session.shown
            layer.forget()
            layer.show(document.photo(view), document.setup.lift, document.path or "")
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        self._stage.take_placer(view)
