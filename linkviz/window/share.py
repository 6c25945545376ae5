"""Pictures that leave the window: saved as PNG, SVG or moving GIF, copied, dragged out."""

from __future__ import annotations

import shutil
import tempfile
import weakref
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QMimeData, QObject, QPoint, QRect, Qt, QUrl
from PySide6.QtGui import QDrag, QGuiApplication, QImage, QMouseEvent, QPainter, QPixmap
from PySide6.QtWidgets import QApplication

from linkviz.errors import LinkvizError
from linkviz.painter.image import png_bytes
from linkviz.session.document import Document
from linkviz.units import Unit
from linkviz.vehicle.saving import save_bytes, save_text
from linkviz.window import dialogs
from linkviz.window.files import file_stem
from linkviz.window.pane import Pane
from linkviz.window.paths import beside
from linkviz.window.save_name import ask_name
from linkviz.window.work import LatestWork

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow

FILTERS = {
    "png": "Picture (*.png)",
    "svg": "Drawing that scales (*.svg)",
    "gif": "Moving picture, as built against corrected (*.gif)",
}
"""What the drawings are saved as, by the ending of the file."""
SIZES = {1: (640, 420), 2: (1120, 460), 3: (1380, 420)}
"""Size of a moving picture by the number of states in it, pixels."""
DRAG = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
"""Held while the mouse drags a picture out of a drawing."""


def picture_of(window: MainWindow, scale: float = 2.0) -> QImage:
    """Return both drawings as they are on the screen, at a multiple of its resolution."""
    stage = window.stage
    image = QImage(round(stage.width() * scale), round(stage.height() * scale), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(scale)
    image.fill(window.colours.paper)
    painter = QPainter(image)
    try:
        stage.render(painter, QRect(0, 0, 0, 0).topLeft())
    finally:
        painter.end()
    return image


def drawing_svg(window: MainWindow) -> str:
    """Return both drawings as SVG, whole, in the colours of the theme."""
    from linkviz.picture.svg import svg_of

    drawings = [pane.drawing for pane in window.stage.panes.values() if pane.drawing is not None]
    return svg_of(drawings, window.session.view.theme, 1280, 560)


def save_picture(window: MainWindow, path: str) -> None:
    """Save both drawings as a PNG or an SVG picture, by the ending of the name.

    Raises
    ------
    LinkvizError
        If it cannot be written.
    """
    if path.lower().endswith(".svg"):
        save_text(path, drawing_svg(window))
    else:
        save_bytes(path, png_bytes(picture_of(window)))


def save_moving(document: Document, unit: Unit, theme: str, path: str) -> None:
    """Save the axle going through its travel, as built against lifted and corrected; takes seconds.

    Raises
    ------
    LinkvizError
        If it cannot be written.
    """
    from linkviz.painter.image import write_gif_of
    from linkviz.picture.against import FRAMES, frames_against
    from linkviz.session.motion import PERIOD_S

    frames = list(frames_against(document.vehicle, document.setup, unit))
    write_gif_of(frames, Path(path), SIZES[len(frames[0])], theme, PERIOD_S / FRAMES)


def _moved(what: tuple[Document, Unit, str, str]) -> str:
    try:
        save_moving(*what)
    except LinkvizError as error:
        return str(error)
    return ""


class Share(QObject):
    """What leaves the window.

    Parameters
    ----------
    window : MainWindow
        Whose drawings.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._pressed: QPoint | None = None
        self._folder: Path | None = None
        self.work = LatestWork(_moved, pause_ms=0, parent=self)
        self.work.done.connect(self._moving_saved)

    def watch(self) -> None:
        """Let pictures be dragged out of the drawings."""
        for pane in self._window.stage.panes.values():
            pane.installEventFilter(self)

    def deeds(self) -> dict[str, Callable[..., object]]:
        """Return what each action does."""
        return {"picture": self.ask, "copy": self.copy}

    def ask(self) -> None:
        """Ask for a file and save the drawings to it, in the kind that is chosen."""
        window = self._window
        stem = file_stem(window.session.document.title)
        path = ask_name(window, "Save picture", beside(window.session) / f"{stem}.png", FILTERS)
        if path:
            self.save(path)

    def save(self, path: str) -> None:
        """Save to a file of the kind its name says; a moving picture is made off this thread."""
        window = self._window
        if path.lower().endswith(".gif"):
            if self.work.busy:
                window.notice.say("A moving picture is still being made. Save this one when it is done.")
                return
            view = window.session.view
            window.notice.say("Making the moving picture...", "info")
            self.work.ask(path, (window.session.shown, view.unit, view.theme, path))
            return
        try:
            save_picture(window, path)
        except LinkvizError as error:
            dialogs.tell(error, window)
        else:
            window.notice.say(f"Saved {path}.", "info")

    def _moving_saved(self, path: str, trouble: str | None) -> None:
        # the same name may be asked for again
        self.work.forget()
        if trouble is None:
            trouble = f"{path} could not be made. Save a picture of another kind."
        self._window.notice.say(trouble or f"Saved {path}.", "warn" if trouble else "info")

    # -- copied and dragged

    def mime(self) -> QMimeData:
        """Return the drawings for other programs: as pixels and as SVG."""
        data = QMimeData()
        data.setImageData(picture_of(self._window))
        data.setData("image/svg+xml", drawing_svg(self._window).encode())
        return data

    def copy(self) -> None:
        """Copy the drawings to the clipboard."""
        # pixels only: data made here would outlive the interpreter in the clipboard, and end the process badly
        QGuiApplication.clipboard().setImage(picture_of(self._window))
        self._window.notice.say("The drawings are on the clipboard: paste them into a letter or a message.", "info")

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Drag a picture out of a drawing with Ctrl and Shift held."""
        if not isinstance(watched, Pane) or not isinstance(event, QMouseEvent):
            return False
        kind = event.type()
        if kind == QEvent.Type.MouseButtonPress:
            wanted = event.button() == Qt.MouseButton.LeftButton and event.modifiers() & DRAG == DRAG
            self._pressed = event.position().toPoint() if wanted else None
            return wanted
        if kind == QEvent.Type.MouseMove and self._pressed is not None:
            far = (event.position().toPoint() - self._pressed).manhattanLength()
            if far >= QApplication.startDragDistance():
                self._pressed = None
                self._drag(watched)
            return True
        if kind == QEvent.Type.MouseButtonRelease and self._pressed is not None:
            self._pressed = None
            return True
        return False

    def _drag(self, pane: Pane) -> None:
        drag = QDrag(pane)
        data = self.mime()
        file = self.dragged_file()
        if file is not None:
            data.setUrls([QUrl.fromLocalFile(str(file))])
        drag.setMimeData(data)
        small = picture_of(self._window, 0.25)
        small.setDevicePixelRatio(1.0)
        drag.setPixmap(QPixmap.fromImage(small))
        drag.exec(Qt.DropAction.CopyAction)

    def dragged_file(self) -> Path | None:
        """Return a file with the picture, for programs that take files; None where none can be written."""
        try:
            if self._folder is None:
                # nobody else may write into it, or lay a link there that is followed
                self._folder = Path(tempfile.mkdtemp(prefix="linkviz-"))
                weakref.finalize(self, shutil.rmtree, self._folder, ignore_errors=True)
            path = self._folder / f"{file_stem(self._window.session.document.title)}.png"
            save_picture(self._window, str(path))
        except (LinkvizError, OSError):
            return None
        return path
