"""The stage: both drawings side by side on one camera, and the tools that work on them."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QWidget

from linkviz.analysis.study import Study
from linkviz.picture import rear_view, side_view
from linkviz.picture.scene import Scene
from linkviz.session.edits import ViewName
from linkviz.session.session import Session
from linkviz.window.camera import SharedCamera
from linkviz.window.pane import Pane
from linkviz.window.photo import PhotoLayer
from linkviz.window.theme import LIGHT, Colours
from linkviz.window.tools.hand import Hand
from linkviz.window.tools.pencil import Pencil
from linkviz.window.tools.placer import Placer

if TYPE_CHECKING:
    from linkviz.window.draw_bar import DrawBar
    from linkviz.window.photo_bar import PhotoBar


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
    another_photo = Signal()
    """Another photo is wanted behind the view whose photo is laid."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._scene: Scene | None = None
        self._fit_due = True
        self.camera = SharedCamera()
        self.hand = Hand(session, self.study)
        self.pencil = Pencil(session)
        self.placer = Placer(session)
        self.panes: dict[ViewName, Pane] = {}
        self.photos: dict[ViewName, PhotoLayer] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        names: tuple[ViewName, ViewName] = ("rear", "side")
        for view in names:
            pane = Pane(view, self.camera)
            pane.tool = self.hand
            pane.moved_camera.connect(self._camera_moved)
            self.panes[view] = pane
            layer = PhotoLayer(pane)
            layer.refused.connect(self.refused)
            pane.under = layer.paint
            self.photos[view] = layer
            if view == "side":
                self._line = QFrame()
                self._line.setFixedWidth(1)
                self._line.setAutoFillBackground(True)
                row.addWidget(self._line)
            row.addWidget(pane, 1)
        for tool in (self.hand, self.pencil, self.placer):
            tool.refused.connect(self.refused)
            tool.changed.connect(self._repaint)
        self._bars: list[QWidget] = []
        self.pencil.hint.connect(self.hint)
        self.placer.hint.connect(self.hint)
        self.placer.finished.connect(self._put_away)
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

    @cached_property
    def bar(self) -> DrawBar:
        """Return the bar of the pencil, made when it is first taken."""
        from linkviz.window.draw_bar import DrawBar

        bar = DrawBar(self._session, self.pencil, self)
        self._bars.append(bar)
        return bar

    @cached_property
    def photo_bar(self) -> PhotoBar:
        """Return the bar of the placer, made when it is first taken."""
        from linkviz.window.photo_bar import PhotoBar

        bar = PhotoBar(self._session, self.placer, self)
        bar.refused.connect(self.refused)
        bar.another.connect(self.another_photo)
        self._bars.append(bar)
        return bar

    @property
    def placing(self) -> bool:
        """Return whether a photo is being laid."""
        return self.rear.tool is self.placer

    # -- what is shown

    def show_scene(self, scene: Scene) -> None:
        """Show another moment in both panes."""
        self._scene = scene
        document = self._session.shown
        for view, layer in self.photos.items():
            layer.show(document.photo(view), document.setup.lift, document.path or "")
        if self.placing and document.photo(self.placer.view) is None:
            self.placer.leave()
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
            if self.placing:
                self.placer.leave()
            for pane in self.panes.values():
                pane.tool = self.pencil
                pane.setCursor(Qt.CursorShape.CrossCursor)
            self.pencil.begin()
            self.bar.present()
            if not any(pane.hasFocus() for pane in self.panes.values()):
                self.rear.setFocus(Qt.FocusReason.OtherFocusReason)
            self.drawing_changed.emit(True)
        else:
            self.pencil.leave()

    @property
    def undo_text(self) -> str:
        """Return what undo takes back of a drag or a drawing that is begun, or "" if nothing is."""
        if self.hand.dragged:
            return self.hand.dragged
        if not self.drawing or not (self.pencil.corners or self.pencil.first):
            return ""
        return "corner" if self.pencil.corners else "closing of the outline"

    def undo(self) -> None:
        """Call off a drag; else take the last corner of a drawing back; without one, the last edit."""
        if self.hand.dragged:
            self.hand.call_off()
        elif self.undo_text:
            self.pencil.take_back()
        else:
            self._session.undo()

    def take_placer(self, view: ViewName) -> None:
        """Lay the photo of a view by two of its points."""
        if self.drawing:
            self.pencil.leave()
        for pane in self.panes.values():
            pane.tool = self.placer
        self.placer.begin(view)
        self.photo_bar.present()
        self.panes[view].setFocus(Qt.FocusReason.OtherFocusReason)
        self._repaint()

    def _put_away(self) -> None:
        for pane in self.panes.values():
            pane.tool = self.hand
            pane.unsetCursor()
        focus = QApplication.focusWidget()
        for bar in self._bars:
            if focus is not None and bar.isAncestorOf(focus):
                self.rear.setFocus(Qt.FocusReason.OtherFocusReason)
            bar.hide()
        self._repaint()
        self.drawing_changed.emit(False)
