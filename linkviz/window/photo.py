"""A photo behind a drawing: read off the painting thread, laid under the lines of the drawing by the painter."""

from __future__ import annotations

import os

from PySide6.QtCore import QObject, QPointF, QSize, Signal
from PySide6.QtGui import QImage, QImageIOHandler, QImageReader, QPainter, QTransform

from linkviz.analysis.photo import Photo
from linkviz.errors import LinkvizError
from linkviz.letters import visible
from linkviz.picture.scene import to_view
from linkviz.window.pane import Pane
from linkviz.window.work import LatestWork

PICTURES = "Photos (*.jpg *.jpeg *.png *.bmp *.webp *.gif)"
MOST = 2400
"""A photo is kept no larger than this, pixels; what it shows of the vehicle stays where it is."""
CHOSEN: set[str] = set()
"""Machines that photos were chosen from since the program began."""
_KINDS = (b"jpeg", b"png", b"bmp", b"webp", b"gif")
_TURNED = QImageIOHandler.Transformation.TransformationRotate90


def _reader(path: str) -> QImageReader:
    reader = QImageReader()
    # a job that was mailed may name anything: a pipe would be waited for without end
    if os.path.isfile(path):
        reader.setFileName(path)
    reader.setAutoTransform(True)
    reader.setDecideFormatFromContent(True)
    # a drawing in place of a photo may name further files, on other machines too
    return reader if reader.format().data() in _KINDS else QImageReader()


def machine(path: str) -> str:
    """Return the machine that a path names (two slashes of either kind, then it), or "" if it names none."""
    plain = path.replace("\\", "/")
    return plain[2:].partition("/")[0].lower() if plain.startswith("//") else ""


def elsewhere(path: str, beside: str = "") -> bool:
    """Return whether a photo lies on a machine that nobody has chosen: asking it would tell it who is asking.

    Parameters
    ----------
    path : str
        The photo, as a job names it.
    beside : str
        The file of the job, whose machine is asked anyway.
    """
    return bool(machine(path)) and machine(path) not in {machine(beside), *CHOSEN}


def photo_size(path: str) -> tuple[float, float]:
    """Return width and height of a photo as it is looked at, pixels.

    Raises
    ------
    LinkvizError
        If there is no such photo.
    """
    reader = _reader(path)
    size = reader.size()
    if not size.isValid():
        raise LinkvizError(_cannot(path))
    turned = bool(reader.transformation() & _TURNED)
    return (float(size.height()), float(size.width())) if turned else (float(size.width()), float(size.height()))


def _cannot(path: str) -> str:
    if not os.path.isfile(path):
        return f"The photo {visible(path)} is not there any more. Choose Photo behind the view again, or remove it."
    return f"{visible(path)} is no photo that can be read. Choose a JPEG or a PNG."


def _read(path: str) -> tuple[QImage, float] | str:
    """Return a photo and how many of its pixels one of ours stands for, or why it cannot be had."""
    image = _reader(path).read()
    if image.isNull():
        return _cannot(path)
    largest = max(image.width(), image.height())
    factor = max(1.0, largest / MOST)
    if factor > 1.0:
        image = image.scaledToWidth(round(image.width() / factor))
    return image.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied), factor


class PhotoLayer(QObject):
    """The photo of one pane.

    Parameters
    ----------
    pane : Pane
        Where it lies.

    Notes
    -----
    Light paper is multiplied by the photo, dark paper is screened by it: either way the lines of the drawing stay on
    top and the photo shows through its areas.
    """

    refused = Signal(str)

    def __init__(self, pane: Pane) -> None:
        super().__init__(pane)
        self._pane = pane
        self.photo: Photo | None = None
        self._lift = 0.0
        self._path = ""
        self._image: tuple[QImage, float] | None = None
        self._laid: tuple[object, QImage] | None = None
        self.work = LatestWork(_read, pause_ms=0, parent=self)
        self.work.done.connect(self._came)

    def show(self, photo: Photo | None, lift: float, beside: str = "") -> None:
        """Show a photo, or none, on a body that is lifted, mm; `beside` is the file of the job that names it."""
        if photo == self.photo and lift == self._lift:
            return
        self.photo, self._lift = photo, lift
        path = photo.path if photo is not None else ""
        if path != self._path:
            self._path, self._image, self._laid = path, None, None
            if elsewhere(path, beside):
                self.refused.emit(
                    f"The photo {visible(path)} lies on another machine. Choose it yourself to look at it."
                )
            elif path:
                # an answer given before is not kept: a photo that comes back is read again
                self.work.forget()
                self.work.ask(path, path)
        self._pane.update()

    def forget(self) -> None:
        """Forget what was read, or could not be: the photo was chosen anew, and is read when it is shown next."""
        self.photo, self._path, self._image, self._laid = None, "", None, None
        self.work.forget()

    def _came(self, path: object, answer: object) -> None:
        if path != self._path:
            return
        if isinstance(answer, tuple):
            self._image = answer
            self._pane.update()
        else:
            self.refused.emit(answer if isinstance(answer, str) else _cannot(self._path))

    @property
    def ready(self) -> bool:
        """Return whether the photo has been read."""
        return self._image is not None

    def paint(self, painter: QPainter) -> None:
        """Lay the photo into the pane."""
        photo = self.photo
        if photo is None or not photo.shown or self._image is None or photo.opacity <= 0.0:
            return
        ratio = self._pane.devicePixelRatioF()
        place = photo.replace(opacity=1.0)
        key = (place, self._lift, self._pane.camera.of(self._pane.view, self._pane.area), ratio)
        if self._laid is None or self._laid[0] != key:
            self._laid = (key, self._lay(ratio))
        painter.save()
        modes = QPainter.CompositionMode
        dark = self._pane.theme == "dark"
        painter.setCompositionMode(modes.CompositionMode_Screen if dark else modes.CompositionMode_Multiply)
        painter.setOpacity(photo.opacity)
        painter.drawImage(QPointF(0.0, 0.0), self._laid[1])
        painter.restore()

    def _lay(self, ratio: float) -> QImage:
        assert self._image is not None
        image, factor = self._image
        pane = self._pane
        size = QSize(round(pane.width() * ratio), round(pane.height() * ratio))
        result = QImage(size, QImage.Format.Format_ARGB32_Premultiplied)
        result.setDevicePixelRatio(ratio)
        result.fill(0)
        corner, right, down = (self.place(pixel) for pixel in ((0.0, 0.0), (factor, 0.0), (0.0, factor)))
        over, under = right - corner, down - corner
        painter = QPainter(result)
        try:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.setTransform(QTransform(over.x(), over.y(), under.x(), under.y(), corner.x(), corner.y()))
            painter.drawImage(QPointF(0.0, 0.0), image)
        finally:
            painter.end()
        return result

    def place(self, pixel: tuple[float, float]) -> QPointF:
        """Return where a pixel of the photo lies in the pane."""
        assert self.photo is not None
        return self._pane.place(to_view(self._pane.view, self.photo.to_body(pixel), self._lift))
