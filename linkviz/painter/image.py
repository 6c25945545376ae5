"""Paints drawings into PNG files and moving GIF files; starts an offscreen application if there is none."""

from __future__ import annotations

import os
from collections.abc import Iterable, MutableMapping, Sequence
from io import BytesIO
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPointF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QImageWriter, QPainter, QPen
from PySide6.QtWidgets import QApplication

from linkviz.errors import LinkvizError
from linkviz.painter.paint import paint
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.camera import lay_out
from linkviz.picture.shapes import Drawing
from linkviz.picture.style import paint as colours
from linkviz.picture.style import styles
from linkviz.vehicle.saving import save_bytes

Memories = Sequence[MutableMapping[str, int]]
_application: list[QApplication] = []


def ensure_application() -> None:
    """Start an offscreen application if the process has none yet; a whole one, so that a window can use it too."""
    if QApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _application.append(QApplication(["linkviz"]))


def image(
    drawings: Sequence[Drawing], size: tuple[int, int], theme: str, scale: float = 1.0, memories: Memories | None = None
) -> QImage:
    """Return drawings side by side as an image.

    Parameters
    ----------
    drawings : sequence of Drawing
        Such as rear view and side view.
    size : (int, int)
        Width and height, screen points.
    theme : {"light", "dark"}
        The colours.
    scale : float
        Pixels per screen point.
    memories : sequence of mappings or None
        One for each drawing, kept from frame to frame; see `linkviz.painter.paint.paint`.
    """
    ensure_application()
    width, height = size
    result = QImage(QSize(round(width * scale), round(height * scale)), QImage.Format.Format_RGB32)
    result.setDevicePixelRatio(scale)
    result.fill(QColor(colours(theme).paper))
    painter = QPainter(result)
    try:
        for index, pane in enumerate(lay_out(drawings, width, height)):
            painter.save()
            painter.translate(pane.left, pane.top)
            paint(painter, pane.drawing, pane.camera, theme, memories[index] if memories else None, background=False)
            if index:
                painter.setPen(QPen(QColor(styles(theme)["grid"].line), 1.0, Qt.PenStyle.SolidLine))
                painter.drawLine(QPointF(0.0, 0.0), QPointF(0.0, height))
            painter.restore()
    finally:
        painter.end()
    return result


def views(scene: Scene) -> tuple[Drawing, Drawing]:
    """Return rear view and side view of a scene."""
    return rear_view(scene), side_view(scene)


def write_png(
    scene: Scene, path: Path, size: tuple[int, int] = (1280, 500), theme: str = "light", scale: float = 1.0
) -> None:
    """Paint both views of a scene into a PNG file.

    Raises
    ------
    LinkvizError
        If the file cannot be written.
    """
    save_bytes(path, png_bytes(image(views(scene), size, theme, scale)))


def png_bytes(picture: QImage) -> bytes:
    """Return an image as the content of a PNG file."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"png")).write(picture)
    return bytes(buffer.data().data())


def write_gif(
    scenes: Iterable[Scene],
    path: Path,
    size: tuple[int, int] = (1280, 500),
    theme: str = "light",
    seconds: float = 0.05,
) -> None:
    """Paint scenes one after the other into a moving GIF file that repeats for ever.

    Parameters
    ----------
    scenes : iterable of Scene
        The frames.
    path : Path
        The file.
    size : (int, int)
        Width and height, pixels.
    theme : {"light", "dark"}
        The colours.
    seconds : float
        Time each frame stays; GIF keeps hundredths of a second.

    Raises
    ------
    LinkvizError
        If there is no frame or the file cannot be written.
    """
    write_gif_of((views(scene) for scene in scenes), path, size, theme, seconds)


def write_gif_of(
    moving: Iterable[Sequence[Drawing]],
    path: Path,
    size: tuple[int, int] = (1280, 500),
    theme: str = "light",
    seconds: float = 0.05,
) -> None:
    """Paint frames of drawings side by side into a moving GIF file; see `write_gif`.

    Raises
    ------
    LinkvizError
        If there is no frame or the file cannot be written.
    """
    from PIL import Image

    memories: list[dict[str, int]] = []
    frames = []
    for drawings in moving:
        memories += [{} for _ in range(len(drawings) - len(memories))]
        picture = image(drawings, size, theme, 1.0, memories).convertToFormat(QImage.Format.Format_RGB888)
        raw = bytes(picture.constBits())
        stride = picture.bytesPerLine()
        frames.append(Image.frombytes("RGB", (picture.width(), picture.height()), raw, "raw", "RGB", stride))
    if not frames:
        raise LinkvizError(f"There is no frame to write to {path}. Give at least one state.")
    # One palette for all frames, so that still parts do not shimmer.
    palette = frames[len(frames) // 2].quantize(128, method=Image.Quantize.MEDIANCUT)
    still = [f.quantize(palette=palette, dither=Image.Dither.NONE) for f in frames]
    content = BytesIO()
    duration = round(seconds * 100) * 10
    still[0].save(content, "GIF", save_all=True, append_images=still[1:], duration=duration, loop=0, optimize=False)
    save_bytes(path, content.getvalue())
