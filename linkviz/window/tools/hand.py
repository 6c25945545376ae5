"""The hand: picks and moves points and envelopes in the drawings."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from linkviz.errors import LinkvizError
from linkviz.job.study import Study
from linkviz.picture.scene import from_view, to_view
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.outline import Corner, Corners
from linkviz.session.places import dragged, live_points
from linkviz.session.session import Session
from linkviz.vehicle.model import Vehicle
from linkviz.window.pane import Pane

NEAR = 9.0
"""How near the mouse must be to take something, screen points."""
STILL = 3.0
"""A press that moves less than this is a click, screen points."""
_STEPS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


@dataclass(frozen=True)
class Grip:
    """What the mouse has hold of.

    Attributes
    ----------
    kind : str
        "point", "corner", "edge" or "whole".
    name : str
        Name of a point.
    index : int
        Number of a corner or an edge.
    """

    kind: str
    name: str = ""
    index: int = -1


class Hand(QObject):
    """Picks and moves points and envelopes.

    Parameters
    ----------
    session : Session
        What is changed.
    study : callable
        Returns the study on the screen, n = 1, or None.
    """

    refused = Signal(str)
    changed = Signal()

    def __init__(self, session: Session, study: Callable[[], Study | None]) -> None:
        super().__init__()
        self._session = session
        self._study = study
        self._grip: Grip | None = None
        self._hover: tuple[ViewName, Grip] | None = None
        self._from: Corner = (0.0, 0.0)
        self._pressed = QPointF()
        self._vehicle: Vehicle | None = None
        self._dragging = False
        self.corner: tuple[ViewName, int] | None = None
        """The picked corner of the picked envelope."""

    # -- what is under the mouse

    @property
    def _lift(self) -> float:
        return self._session.shown.setup.lift

    def _corners(self, view: ViewName) -> Corners:
        index = self._session.view.envelope
        vehicle = self._session.shown.vehicle
        if not 0 <= index < len(vehicle.envelopes):
            return ()
        return edits.outline_of(vehicle, index, view)

    def _drawn(self, view: ViewName, corners: Corners) -> Corners:
        return tuple(to_view(view, corner, self._lift) for corner in corners)

    def grip_at(self, pane: Pane, at: Corner) -> Grip | None:
        """Return what lies under a place of the drawing, mm."""
        reach = NEAR / pane.camera.scale
        view = pane.view
        corners = self._drawn(view, self._corners(view))
        for i, corner in enumerate(corners):
            if math.dist(corner, at) <= reach:
                return Grip("corner", index=i)
        study = self._study()
        if study is not None and self._session.view.page == "vehicle":
            far: dict[str, float] = {}
            for point, (x, y, z) in live_points(study).items():
                far[point] = math.dist(to_view(view, (y if view == "rear" else x, z), self._lift), at)
            # of points in line the picked one is taken
            picked = self._session.view.point
            name = picked if far.get(picked, math.inf) <= reach else min(far, key=lambda point: far[point])
            if far[name] <= reach:
                return Grip("point", name=name)
        if corners:
            for i, corner in enumerate(corners):
                if _from_edge(corner, corners[(i + 1) % len(corners)], at) <= reach * 0.7:
                    return Grip("edge", index=i)
            if _inside(corners, at):
                return Grip("whole", index=self._session.view.envelope)
        for i, envelope in enumerate(self._session.shown.vehicle.envelopes):
            if _inside(self._drawn(view, envelope.rear if view == "rear" else envelope.side), at):
                return Grip("pick", index=i)
        return None

    # -- the mouse

    def press(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Take hold of what is there; a click on nothing lets go."""
        grip = self.grip_at(pane, at)
        self._from, self._pressed, self._dragging = at, event.position(), False
        self._vehicle = self._session.document.vehicle
        self._grip = grip
        self.corner = (pane.view, grip.index) if grip is not None and grip.kind == "corner" else None
        if grip is None:
            self._session.set_view(envelope=-1, point="")
        elif grip.kind == "point":
            self._session.set_view(point=grip.name)
        elif grip.kind == "pick":
            self._session.set_view(envelope=grip.index)
            self._grip = Grip("whole", index=grip.index)
        self.changed.emit()

    def move(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Drag, or show what could be taken."""
        if not event.buttons() & Qt.MouseButton.LeftButton:
            self._show_hover(pane, self.grip_at(pane, at))
            return
        if self._grip is None or self._vehicle is None:
            return
        if not self._dragging:
            way = event.position() - self._pressed
            if math.hypot(way.x(), way.y()) < STILL:
                return
            self._dragging = True
        by = (at[0] - self._from[0], at[1] - self._from[1])
        free = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        try:
            vehicle = self._dragged(self._vehicle, self._grip, pane.view, by, free)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        if not self._session.preview(self._session.document.with_vehicle(vehicle)):
            self.refused.emit(self._session.last_error)

    def release(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Let go: what was dragged becomes one step of the history."""
        grip, self._grip = self._grip, None
        if grip is None or not self._dragging:
            return
        self._dragging = False
        try:
            self._session.commit_preview(self._words(grip))
        except LinkvizError as error:
            self._session.drop_preview()
            self.refused.emit(str(error))

    def double(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Put a corner on the edge under the mouse."""
        grip = self.grip_at(pane, at)
        if grip is None or grip.kind != "edge":
            return
        corner = outline.snapped(from_view(pane.view, at, self._lift))
        corners = outline.inserted(self._corners(pane.view), grip.index, corner)
        if self._set_outline(pane.view, corners, "insert corner"):
            self.corner = (pane.view, grip.index + 1)
            self.changed.emit()

    def left(self, pane: Pane) -> None:
        """Forget what was under the mouse."""
        self._show_hover(pane, None)

    def _show_hover(self, pane: Pane, grip: Grip | None) -> None:
        shapes = {
            "corner": Qt.CursorShape.CrossCursor,
            "point": Qt.CursorShape.CrossCursor,
            "edge": Qt.CursorShape.SizeAllCursor,
            "whole": Qt.CursorShape.SizeAllCursor,
            "pick": Qt.CursorShape.PointingHandCursor,
        }
        hover = (pane.view, grip) if grip is not None else None
        if hover != self._hover:
            self._hover = hover
            if grip is None:
                pane.unsetCursor()
            else:
                pane.setCursor(shapes[grip.kind])
            pane.update()

    # -- what a drag means

    def _dragged(self, vehicle: Vehicle, grip: Grip, view: ViewName, by: Corner, free: bool) -> Vehicle:
        if grip.kind == "point":
            study = self._study()
            if study is None:
                return vehicle
            to = dragged(study, grip.name, edits.point_of(vehicle, grip.name), view, by)
            return edits.move_point(vehicle, grip.name, to, self._session.view.mirrored)
        index = self._session.view.envelope
        plane = (-by[0] if view == "rear" else by[0], by[1])
        corners = edits.outline_of(vehicle, index, view)
        if grip.kind == "corner":
            start = corners[grip.index]
            goal = (start[0] + plane[0], start[1] + plane[1])
            goal = (round(goal[0]), round(goal[1])) if free else outline.snapped(goal)
            return self._with_outline(vehicle, view, outline.moved(corners, grip.index, goal))
        step = (round(plane[0]), round(plane[1])) if free else outline.snapped(plane)
        if grip.kind == "edge":
            return self._with_outline(vehicle, view, outline.edge_moved(corners, grip.index, step))
        envelope = vehicle.envelopes[index]
        rear = outline.shifted(envelope.rear, step if view == "rear" else (0.0, step[1]))
        side = outline.shifted(envelope.side, step if view == "side" else (0.0, step[1]))
        return edits.change_envelope(vehicle, index, rear=rear, side=side)

    def _with_outline(self, vehicle: Vehicle, view: ViewName, corners: Corners) -> Vehicle:
        why = outline.why_refused(corners)
        if why:
            raise LinkvizError(why)
        return edits.change_envelope(vehicle, self._session.view.envelope, **{view: corners})

    def _set_outline(self, view: ViewName, corners: Corners, text: str, key: object = None) -> bool:
        try:
            vehicle = self._with_outline(self._session.document.vehicle, view, corners)
            self._session.edit_vehicle(vehicle, text, key)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        return True

    def _words(self, grip: Grip) -> str:
        if grip.kind == "point":
            return f"move {edits.point_words(grip.name)}"
        return {"corner": "move corner", "edge": "move edge"}.get(grip.kind, "move envelope")

    # -- keys

    def key(self, pane: Pane, event: QKeyEvent) -> bool:
        """Nudge with the arrows, delete a corner, let go with Esc."""
        view = self._session.view
        if event.key() == Qt.Key.Key_Escape:
            if self._dragging:
                self._grip, self._dragging = None, False
                self._session.drop_preview()
            elif self.corner is None and not view.point and view.envelope < 0:
                return False
            else:
                self.corner = None
                self._session.set_view(point="", envelope=-1)
            self.changed.emit()
            return True
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            return self._delete(pane)
        if event.key() not in _STEPS or not (view.point or view.envelope >= 0):
            return False
        step = _STEPS[Qt.Key(event.key())]
        point = view.point if not self._corners(pane.view) else ""
        size = 1.0 if point else outline.SNAP
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            size *= 10.0
        by = (step[0] * size, step[1] * size)
        if point:
            grip = Grip("point", name=point)
        elif self.corner is not None and self.corner[0] == pane.view:
            grip = Grip("corner", index=self.corner[1])
        else:
            grip = Grip("whole")
        try:
            vehicle = self._dragged(self._session.document.vehicle, grip, pane.view, by, True)
            self._session.edit_vehicle(vehicle, self._words(grip), ("nudge", grip, pane.view))
        except LinkvizError as error:
            self.refused.emit(str(error))
        return True

    def _delete(self, pane: Pane) -> bool:
        corner = self.corner
        if corner is None and self._hover is not None and self._hover[1].kind == "corner":
            corner = (self._hover[0], self._hover[1].index)
        if corner is None:
            return False
        view, index = corner
        corners = self._corners(view)
        if index < len(corners) and self._set_outline(view, outline.removed(corners, index), "delete corner"):
            self.corner = None
            self._hover = None
            self.changed.emit()
        return True

    # -- drawing

    def paint(self, pane: Pane, painter: QPainter) -> None:
        """Mark what is under the mouse and the picked corner."""
        corners = self._drawn(pane.view, self._corners(pane.view))
        accent = QColor(pane.colours.accent)
        if self._hover is not None and self._hover[0] == pane.view and corners:
            grip = self._hover[1]
            if grip.kind == "edge" and grip.index < len(corners):
                painter.setPen(QPen(accent, 3.0))
                painter.drawLine(pane.place(corners[grip.index]), pane.place(corners[(grip.index + 1) % len(corners)]))
            elif grip.kind == "corner" and grip.index < len(corners):
                painter.setPen(QPen(accent, 2.0))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(pane.place(corners[grip.index]), 7.5, 7.5)
        if self.corner is not None and self.corner[0] == pane.view and self.corner[1] < len(corners):
            painter.setPen(QPen(QColor(pane.colours.paper), 1.5))
            painter.setBrush(accent)
            painter.drawEllipse(pane.place(corners[self.corner[1]]), 5.5, 5.5)


def _from_edge(a: Corner, b: Corner, at: Corner) -> float:
    du, dv = b[0] - a[0], b[1] - a[1]
    long = du * du + dv * dv
    part = 0.0 if long == 0 else min(1.0, max(0.0, ((at[0] - a[0]) * du + (at[1] - a[1]) * dv) / long))
    return math.dist((a[0] + part * du, a[1] + part * dv), at)


def _inside(corners: Corners, at: Corner) -> bool:
    inside = False
    for (u0, v0), (u1, v1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (v0 > at[1]) != (v1 > at[1]) and at[0] < u0 + (at[1] - v0) / (v1 - v0) * (u1 - u0):
            inside = not inside
    return inside
