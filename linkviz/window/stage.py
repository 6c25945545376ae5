"""The stage: both drawings side by side on one camera, and the tools that work on them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QWidget

from linkviz.job.study import Study
from linkviz.picture import rear_view, side_view
from linkviz.picture.scene import Scene
from linkviz.session.edits import ViewName
from linkviz.session.session import Session
from linkviz.window.camera import SharedCamera
from linkviz.window.draw_bar import DrawBar
from linkviz.window.pane import Pane
from linkviz.window.theme import LIGHT, Colours
from linkviz.window.tools.hand import Hand
from linkviz.window.tools.pencil import Pencil


class Stage(QWidget):
    """Both drawings.

    Parameters
    ----------
    session : Session
        What the tools change.
    """

    drawing_changed = Signal(bool)
    """Whether the pencil is out."""
    hint = Signal(str)
    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._scene: Scene | None = None
        self._fit_due = True
        self.camera = SharedCamera()
        self.hand = Hand(session, self.study)
        self.pencil = Pencil(session)
        self.panes: dict[ViewName, Pane] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        names: tuple[ViewName, ViewName] = ("rear", "side")
        for view in names:
            pane = Pane(view, self.camera)
            pane.tool = self.hand
            pane.moved_camera.connect(self._camera_moved)
            self.panes[view] = pane
            if view == "side":
                self._line = QFrame()
                self._line.setFixedWidth(1)
                self._line.setAutoFillBackground(True)
                row.addWidget(self._line)
            row.addWidget(pane, 1)
        for tool in (self.hand, self.pencil):
            tool.refused.connect(self.refused)
            tool.changed.connect(self._repaint)
        self.bar = DrawBar(session, self.pencil, self)
        self.pencil.hint.connect(self.hint)
        self.pencil.finished.connect(lambda made: self._put_away())
        self.show_theme("light", LIGHT)

    @property
    def rear(self) -> Pane:
        """Return the pane with the rear view."""
        return self.panes["rear"]

    @property
    def side(self) -> Pane:
        """Return the pane with the side view."""
        return self.panes["side"]

    def study(self) -> Study | None:
        """Return the study on the screen, n = 1, or None before the first."""
        return self._scene.live if self._scene is not None else None

    @property
    def drawing(self) -> bool:
        """Return whether the pencil is out."""
        return self.rear.tool is self.pencil

    # -- what is shown

    def show_scene(self, scene: Scene) -> None:
        """Show another moment in both panes."""
        self._scene = scene
        self.rear.show_drawing(rear_view(scene))
        self.side.show_drawing(side_view(scene))
        if self._fit_due:
            self.fit()

    def show_theme(self, name: str, colours: Colours) -> None:
        """Take the colours of a theme."""
        for pane in self.panes.values():
            pane.show_theme(name, colours)
        palette = self._line.palette()
        palette.setColor(self._line.backgroundRole(), colours.line)
        self._line.setPalette(palette)

    def fit(self) -> None:
        """Show all of both drawings."""
        drawings = {name: pane.drawing for name, pane in self.panes.items()}
        extents = {name: drawing.extent for name, drawing in drawings.items() if drawing is not None}
        if len(extents) < len(self.panes):
            self._fit_due = True
            return
        self._fit_due = False
        self.camera.fit(extents, {name: pane.area for name, pane in self.panes.items()})
        self._repaint()

    def fit_later(self) -> None:
        """Fit as soon as there is something new to show (another file)."""
        self._fit_due = True

    def _camera_moved(self) -> None:
        sender = self.sender()
        # a resize moves the camera only as far as it still showed everything
        if self.camera.fitted and isinstance(sender, Pane) and sender.drawing is not None:
            self.fit()
        self._repaint()

    def _repaint(self) -> None:
        for pane in self.panes.values():
            pane.update()

    # -- tools

    def take_pencil(self, on: bool) -> None:
        """Take the pencil to draw an envelope, or put it away."""
        if on == self.drawing:
            return
        if on:
            for pane in self.panes.values():
                pane.tool = self.pencil
                pane.setCursor(Qt.CursorShape.CrossCursor)
            self.pencil.begin()
            self.bar.present(True)
            if not any(pane.hasFocus() for pane in self.panes.values()):
                self.rear.setFocus(Qt.FocusReason.OtherFocusReason)
            self.drawing_changed.emit(True)
        else:
            self.pencil.leave()

    def _put_away(self) -> None:
        for pane in self.panes.values():
            pane.tool = self.hand
            pane.unsetCursor()
        focus = QApplication.focusWidget()
        if focus is not None and self.bar.isAncestorOf(focus):
            self.rear.setFocus(Qt.FocusReason.OtherFocusReason)
        self.bar.present(False)
        self._repaint()
        self.drawing_changed.emit(False)
