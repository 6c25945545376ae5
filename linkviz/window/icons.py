"""Our icons: SVG files in one colour, tinted for the theme."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QGuiApplication, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from linkviz.errors import LinkvizError
from linkviz.resources import data_dir

if TYPE_CHECKING:
    from linkviz.window.theme import Colours

SIZE = 20
"""Side of a toolbar icon, screen points."""


@lru_cache(maxsize=128)
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
    """Return an icon in one colour, sharp on the screens there are, its disabled form in `soft` if one is given."""
    result = QIcon()
    if _source(name) is None:
        return result
    ratio = max((screen.devicePixelRatio() for screen in QGuiApplication.screens()), default=1.0)
    for scale in sorted({1.0, ratio}):
        result.addPixmap(pixmap(name, colour, SIZE, scale))
        if soft:
            result.addPixmap(pixmap(name, soft, SIZE, scale), QIcon.Mode.Disabled)
    return result


SIGN_WORDS = {"ok": "good", "warn": "look at this", "hit": "not good"}
"""What a screen reader says for a sign."""


def sign_icons(colours: Colours) -> dict[str, QIcon]:
    """Return the icon of each sign in its colour."""
    return {name: icon(name, tint) for name, tint in colours.signs.items()}
