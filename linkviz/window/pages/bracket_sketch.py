"""The drawing of the bracket on its page: its holes can be clicked."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QMouseEvent

from linkviz.picture.bracket_views import BracketScene, bracket_views
from linkviz.picture.camera import lay_out
from linkviz.window.sketch import Sketch

NEAR = 14.0
"""A click this near to the middle of a hole takes it, screen points."""


class BracketSketch(Sketch):
    """The bracket in its frame bracket, from the front and from the edge."""

    hole_picked = Signal(float)
    """The drop of a hole of the bracket, mm."""

    def __init__(self) -> None:
        super().__init__("The bracket in its frame bracket, from the front and from the edge", 236)
        self._scene: BracketScene | None = None
        self.setMouseTracking(True)

    def show_scene(self, scene: BracketScene, words: str) -> None:
        """Show a bracket; `words` say what is to be seen, for a screen reader."""
        self._scene = scene
        self.show_drawings(bracket_views(scene), words)

    def place_of(self, drop: float) -> QPointF:
        """Return where a hole of the front view stands on this widget."""
        pane = lay_out(self.drawings, self.width(), self.height())[0]
        shift = self._scene.bracket.shift if self._scene is not None else 0.0
        x, y = pane.camera.to_screen((shift, -drop))
        return QPointF(pane.left + x, pane.top + y)

    def hole_at(self, at: QPointF) -> float | None:
        """Return the drop of the hole at a place on this widget, mm; None if there is none."""
        if self._scene is None or not self.drawings:
            return None
        apart = {drop: (self.place_of(drop) - at).manhattanLength() for drop in self._scene.bracket.holes}
        drop = min(apart, key=lambda one: apart[one])
        return drop if apart[drop] <= NEAR else None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Show that a hole can be clicked."""
        over = self.hole_at(event.position()) is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if over else Qt.CursorShape.ArrowCursor)
        self.setToolTip("Hang the bar in this hole" if over else "")

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take the hole that is clicked."""
        drop = self.hole_at(event.position())
        if event.button() == Qt.MouseButton.LeftButton and drop is not None:
            self.hole_picked.emit(drop)
