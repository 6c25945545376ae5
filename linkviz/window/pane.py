"""A pane: shows one drawing through the shared camera and hands the mouse and the keys to the present tool."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from linkviz.painter.layer import Layer
from linkviz.painter.paint import paint
from linkviz.picture.shapes import Drawing
from linkviz.session.edits import ViewName
from linkviz.window.camera import SharedCamera, Size
from linkviz.window.theme import LIGHT, Colours

NAMES: dict[ViewName, str] = {"rear": "Rear view, from behind", "side": "Side view, front to the right"}
"""Accessible name of each pane."""
_SHIFT = 40.0
_SHIFTS = {
    Qt.Key.Key_Left: (_SHIFT, 0.0),
    Qt.Key.Key_Right: (-_SHIFT, 0.0),
    Qt.Key.Key_Up: (0.0, _SHIFT),
    Qt.Key.Key_Down: (0.0, -_SHIFT),
}
"""How far an arrow key shifts the drawing, screen points."""


class Tool(Protocol):
    """What the left button and the keys do in a pane; places are in mm of the drawing."""

    def press(self, pane: Pane, at: tuple[float, float], event: QMouseEvent) -> None:
        """Left button down."""

    def move(self, pane: Pane, at: tuple[float, float], event: QMouseEvent) -> None:
        """Mouse moved, a button held or not."""

    def release(self, pane: Pane, at: tuple[float, float], event: QMouseEvent) -> None:
        """Left button up."""

    def double(self, pane: Pane, at: tuple[float, float], event: QMouseEvent) -> None:
        """Left button pressed twice."""

    def key(self, pane: Pane, event: QKeyEvent) -> bool:
        """Key pressed; return whether it was taken."""

    def paint(self, pane: Pane, painter: QPainter) -> None:
        """Draw handles and hints over the drawing, in screen points."""

    def left(self, pane: Pane) -> None:
        """Mouse left the pane."""


class Pane(QWidget):
    """One of the two drawings.

    Parameters
    ----------
    view : {"rear", "side"}
        Which one.
    camera : SharedCamera
        Shared by both.
    """

    moved_camera = Signal()
    painted = Signal()

    def __init__(self, view: ViewName, camera: SharedCamera) -> None:
        super().__init__()
        self.view: ViewName = view
        self.camera = camera
        self.drawing: Drawing | None = None
        self.tool: Tool | None = None
        self.colours: Colours = LIGHT
        self.theme = "light"
        self.under: Callable[[QPainter], None] | None = None
        """Lays something under the lines of the drawing, such as a photo."""
        self._memory: dict[str, int] = {}
        self._layer = Layer()
        self._pan_from: QPointF | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(NAMES[view])
        self.setAccessibleDescription(
            "Drawing of the axle. Its numbers are in the tables of the pages on the right. "
            "Arrow keys move what is picked, with Shift ten times as far; with nothing picked they shift the drawing. "
            "Page Down picks the next corner or envelope, on the Vehicle page the next point. Plus and minus zoom."
        )
        self.setMinimumSize(200, 140)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return a size that suits a small screen."""
        return QSize(420, 380)

    @property
    def area(self) -> Size:
        """Return width and height, screen points."""
        return (float(self.width()), float(self.height()))

    def show_drawing(self, drawing: Drawing) -> None:
        """Show another drawing."""
        self.drawing = drawing
        self.update()

    def show_theme(self, name: str, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.theme, self.colours = name, colours
        self.update()

    def place(self, at: tuple[float, float]) -> QPointF:
        """Return where a point of the drawing (mm) stands in the pane."""
        return QPointF(*self.camera.to_screen(self.view, at, self.area))

    def plane(self, at: QPointF) -> tuple[float, float]:
        """Return which point of the drawing (mm) stands at a place of the pane."""
        return self.camera.to_plane(self.view, (at.x(), at.y()), self.area)

    # -- drawing

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw paper, drawing and tool."""
        painter = QPainter(self)
        try:
            painter.fillRect(self.rect(), QColor(self.colours.paper))
            if self.drawing is not None:
                self._paint_drawing(painter, self.drawing)
            if self.under is not None:
                self.under(painter)
            if self.tool is not None:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                self.tool.paint(self, painter)
        finally:
            painter.end()
        self.painted.emit()

    def _paint_drawing(self, painter: QPainter, drawing: Drawing) -> None:
        camera = self.camera.of(self.view, self.area)
        paint(painter, drawing, camera, self.theme, self._memory, background=False, layer=self._layer)

    # -- mouse and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Pan with the middle or right button; the left one belongs to the tool."""
        if event.button() in (Qt.MouseButton.MiddleButton, Qt.MouseButton.RightButton):
            self._pan_from = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self.tool.press(self, self.plane(event.position()), event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Pan, or tell the tool."""
        if self._pan_from is not None:
            by = event.position() - self._pan_from
            self._pan_from = event.position()
            self.camera.pan(self.view, (by.x(), by.y()))
            self.moved_camera.emit()
        elif self.tool is not None:
            self.tool.move(self, self.plane(event.position()), event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """End a pan, or tell the tool."""
        if event.button() in (Qt.MouseButton.MiddleButton, Qt.MouseButton.RightButton):
            self._pan_from = None
            self.unsetCursor()
        elif event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self.tool.release(self, self.plane(event.position()), event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Tell the tool."""
        if event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self.tool.double(self, self.plane(event.position()), event)

    def leaveEvent(self, event: object) -> None:  # noqa: N802
        """Tell the tool that the mouse is gone."""
        if self.tool is not None:
            self.tool.left(self)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Zoom about the mouse."""
        steps = event.angleDelta().y() / 120.0
        if steps:
            at = event.position()
            self.camera.zoom(self.view, (at.x(), at.y()), self.area, 1.15**steps)
            self.moved_camera.emit()
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Give the tool the key; zoom with + and -, shift the drawing with the arrows where it does not want them."""
        if self.tool is not None and self.tool.key(self, event):
            return
        if event.key() in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            factor = 1.0 / 1.15 if event.key() == Qt.Key.Key_Minus else 1.15
            self.camera.zoom(self.view, (self.width() / 2.0, self.height() / 2.0), self.area, factor)
            self.moved_camera.emit()
            return
        shift = _SHIFTS.get(Qt.Key(event.key()))
        if shift is not None:
            self.camera.pan(self.view, shift)
            self.moved_camera.emit()
            return
        super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Fit again if everything was shown before."""
        super().resizeEvent(event)
        self.moved_camera.emit()
