"""The window as it was left, and the picture it saves."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRect
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QFileDialog

from linkviz.errors import LinkvizError
from linkviz.session.snapping import GRIDS
from linkviz.session.view import AXES, GHOSTS, GRAPHS, PAGES
from linkviz.vehicle.saving import save_bytes
from linkviz.window import dialogs
from linkviz.window.graph_file import png_bytes

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow

KEPT = {
    "unit": ("mm", "in"),
    "theme": ("light", "dark"),
    "ghost": GHOSTS,
    "page": PAGES,
    "graph": GRAPHS,
    "graph_axis": AXES,
    "mirrored": (True, False),
    "doubt": (True, False),
    "grid": tuple(range(len(GRIDS["mm"]))),
}
"""View values that are remembered, and what they may be."""


def kept_layout(window: MainWindow) -> dict[str, Any]:
    """Return what is to be remembered of a window."""
    view = window.session.view
    return {**{name: getattr(view, name) for name in KEPT}, **window.places()}


def view_values(layout: dict[str, Any]) -> dict[str, Any]:
    """Return the remembered view values that make sense."""
    return {name: layout[name] for name, allowed in KEPT.items() if layout.get(name) in allowed and name in layout}


def shown_layout(window: MainWindow, layout: dict[str, Any]) -> None:
    """Bring a window back as it was left."""
    values = view_values(layout)
    if values:
        window.session.set_view(**values)
    window.restore_places(layout)


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


def save_picture(window: MainWindow, path: str) -> None:
    """Save both drawings as a PNG picture.

    Raises
    ------
    LinkvizError
        If it cannot be written.
    """
    save_bytes(path, png_bytes(picture_of(window)))


def ask_picture(window: MainWindow) -> None:
    """Ask for a file and save the drawings to it."""
    path, _ = QFileDialog.getSaveFileName(window, "Save picture", str(Path.home() / "axle.png"), "Pictures (*.png)")
    if not path:
        return
    if not path.lower().endswith(".png"):
        path += ".png"
    try:
        save_picture(window, path)
    except LinkvizError as error:
        dialogs.ProblemsDialog(error, window).exec()
    else:
        window.notice.say(f"Saved {path}.", "info")
