"""Our icons: SVG files in one colour, tinted for the theme."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from linkviz.errors import LinkvizError
from linkviz.resources import data_dir

SIZE = 20
"""Side of a toolbar icon, screen points."""


def _source(name: str) -> bytes | None:
    try:
        path: Path = data_dir("icons") / f"{name}.svg"
        return path.read_bytes()
    except (LinkvizError, OSError):
        return None


@lru_cache(maxsize=256)
def pixmap(name: str, colour: str, size: int = SIZE, scale: float = 1.0) -> QPixmap:
    """Return an icon drawn in one colour; an empty one if there is no such file."""
    side = max(1, round(size * scale))
    result = QPixmap(side, side)
    result.fill(Qt.GlobalColor.transparent)
    result.setDevicePixelRatio(scale)
    source = _source(name)
    if source is not None:
        renderer = QSvgRenderer(QByteArray(source.replace(b"currentColor", QColor(colour).name().encode())))
        painter = QPainter(result)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            renderer.render(painter, QRectF(0, 0, size, size))
        finally:
            painter.end()
    return result


def icon(name: str, colour: str, soft: str = "") -> QIcon:
    """Return an icon in one colour, at single and double resolution, its disabled form in `soft`."""
    result = QIcon()
    if _source(name) is None:
        return result
    for scale in (1.0, 1.5, 2.0):
        result.addPixmap(pixmap(name, colour, SIZE, scale))
        if soft:
            result.addPixmap(pixmap(name, soft, SIZE, scale), QIcon.Mode.Disabled)
    return result
