"""The hand: picks and moves points and envelopes in the drawings."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from linkviz.analysis.study import Study
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.picture.scene import from_view, to_view
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.moves import How, Move, OutlineRefused, moved_envelope, with_outline
from linkviz.session.outline import Corner, Corners
from linkviz.session.places import dragged, live_points
from linkviz.session.session import Session
from linkviz.session.snapping import Snap, grid_step, to_grid
from linkviz.units import finest, length_number
from linkviz.vehicle.model import Vehicle
from linkviz.window.pane import Pane
from linkviz.window.tools.keys import arrow
from linkviz.window.tools.marks import FREE, STRAIGHT, show_refused, show_snap, write

NEAR = 9.0
"""How near the mouse must be to take something, screen points."""
STILL = 3.0
"""A press that moves less than this is a click, screen points."""


class Grip(Frozen):
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
        self._snap: tuple[ViewName, Snap] | None = None
        self._bad: OutlineRefused | None = None

    @property
    def corner(self) -> tuple[ViewName, int] | None:
        """Return the picked corner of the picked envelope: the view of its outline, and its number."""
        return self._session.view.corner

    @property
    def _step(self) -> float:
        return grid_step(self._session.view.grid, self._session.view.unit)

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
                if outline.from_edge(corner, corners[(i + 1) % len(corners)], at) <= reach * 0.7:
                    return Grip("edge", index=i)
            if outline.inside(corners, at):
                return Grip("whole", index=self._session.view.envelope)
        for i, envelope in enumerate(self._session.shown.vehicle.envelopes):
            if outline.inside(self._drawn(view, envelope.rear if view == "rear" else envelope.side), at):
                return Grip("pick", index=i)
        return None

    # -- the mouse

    def press(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Take hold of what is there; a click on nothing lets go."""
        grip = self.grip_at(pane, at)
        self._from, self._pressed, self._dragging = at, event.position(), False
        self._vehicle = self._session.document.vehicle
        self._grip = grip
        corner = (pane.view, grip.index) if grip is not None and grip.kind == "corner" else None
        if grip is None:
            self._session.set_view(envelope=-1, point="", corner=None)
        elif grip.kind == "point":
            self._session.set_view(point=grip.name, corner=None)
        elif grip.kind != "pick":
            self._session.set_view(corner=corner)
        else:
            self._session.set_view(envelope=grip.index, corner=None)
            self._grip = Grip("whole", index=grip.index)
        self.changed.emit()

    def move(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Drag, or show what could be taken."""
        if not event.buttons() & Qt.MouseButton.LeftButton:
            self._show_hover(pane, self.grip_at(pane, at))
            return
        if self._grip is None or self._vehicle is None:
            return
        if self._vehicle is not self._session.document.vehicle:  # undone, redone or opened meanwhile
            self.call_off()
            return
        if not self._dragging:
            way = event.position() - self._pressed
            if math.hypot(way.x(), way.y()) < STILL:
                return
            self._dragging = True
        by = (at[0] - self._from[0], at[1] - self._from[1])
        self._bad = None
        try:
            vehicle = self._dragged(self._vehicle, self._grip, pane, by, event.modifiers())
        except LinkvizError as error:
            # what cannot be is hatched where the mouse is; the last good place stays
            self._bad = error if isinstance(error, OutlineRefused) else None
            pane.update()
            self.refused.emit(str(error))
            return
        if not self._session.preview(self._session.document.with_vehicle(vehicle)):
            self.refused.emit(self._session.last_error)

    def release(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Let go: what was dragged becomes one step of the history."""
        grip, self._grip, self._snap, self._bad = self._grip, None, None, None
        pane.update()
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
        self._insert(pane.view, grip.index, to_grid(from_view(pane.view, at, self._lift), self._step))

    def _insert(self, view: ViewName, edge: int, corner: Corner) -> None:
        if self._set_outline(view, outline.inserted(self._corners(view), edge, corner), "insert corner"):
            self._session.set_view(corner=(view, edge + 1))
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

    def _dragged(
        self, vehicle: Vehicle, grip: Grip, pane: Pane, by: Corner, keys: Qt.KeyboardModifier, exact: bool = False
    ) -> Vehicle:
        """Return the vehicle with what is held moved by a way on the drawing; `exact` as it is, without snapping."""
        view = pane.view
        if grip.kind == "point":
            study = self._study()
            if study is None:
                return vehicle
            to = dragged(
                study, grip.name, edits.point_of(vehicle, grip.name), view, by, finest(self._session.view.unit)
            )
            return edits.move_point(vehicle, grip.name, to, self._session.view.mirrored)
        plane = (-by[0] if view == "rear" else by[0], by[1])
        how: How = "free" if exact or keys & FREE else ("straight" if keys & STRAIGHT else "snap")
        if not exact:
            plane = (round(plane[0], 1), round(plane[1], 1))
        move = Move(self._session.view.envelope, view, grip.kind, grip.index, plane, how, self._step, pane.camera.scale)
        vehicle, found = moved_envelope(vehicle, move)
        self._snap = None if exact or found is None else (view, found)
        return vehicle

    def _set_outline(self, view: ViewName, corners: Corners, text: str) -> bool:
        try:
            vehicle = with_outline(self._session.document.vehicle, self._session.view.envelope, view, corners)
            self._session.edit_vehicle(vehicle, text)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        return True

    def _words(self, grip: Grip) -> str:
        if grip.kind == "point":
            return f"move {edits.point_words(self._session.shown.vehicle, grip.name)}"
        return {"corner": "move corner", "edge": "move edge"}.get(grip.kind, "move envelope")

    # -- keys

    def key(self, pane: Pane, event: QKeyEvent) -> bool:
        """Nudge with the arrows, go through corners, insert and delete them, let go with Esc."""
        view, key = self._session.view, event.key()
        self._bad = None
        if key == Qt.Key.Key_Escape:
            return self._let_go()
        if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            return self._delete()
        if key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            return self._next(pane, 1 if key == Qt.Key.Key_PageDown else -1, event.modifiers())
        if key == Qt.Key.Key_Insert:
            return self._insert_half_way()
        point = view.point if not self._corners(pane.view) else ""
        fine = finest(view.unit)
        by = arrow(event, fine if point else self._step, fine)
        if by is None or not (view.point or view.envelope >= 0):
            return False
        if point:
            grip = Grip("point", name=point)
        elif self.corner is not None and self.corner[0] == pane.view:
            grip = Grip("corner", index=self.corner[1])
        else:
            grip = Grip("whole")
        try:
            vehicle = self._dragged(self._session.document.vehicle, grip, pane, by, event.modifiers(), exact=True)
            self._session.edit_vehicle(vehicle, self._words(grip), ("nudge", grip, pane.view))
        except LinkvizError as error:
            self.refused.emit(str(error))
        return True

    @property
    def dragged(self) -> str:
        """Return what is being dragged, as a step of the history would say it, or ""."""
        return self._words(self._grip) if self._dragging and self._grip is not None else ""

    def call_off(self) -> None:
        """Leave what is being dragged where it was."""
        self._grip, self._dragging, self._snap, self._bad = None, False, None, None
        self._session.drop_preview()
        self.changed.emit()

    def _let_go(self) -> bool:
        """Call off a drag, else let go of the corner, else of the envelope or point."""
        view = self._session.view
        if self.dragged:
            self.call_off()
            return True
        if view.corner is not None:
            self._session.set_view(corner=None)
        elif view.point or view.envelope >= 0:
            self._session.set_view(point="", envelope=-1)
        else:
            return False
        self.changed.emit()
        return True

    def _next(self, pane: Pane, way: int, keys: Qt.KeyboardModifier) -> bool:
        """Pick the next corner, or with Ctrl the next envelope; on the Vehicle page the next point."""
        view, count = self._session.view, len(self._session.shown.vehicle.envelopes)
        free = view.envelope < 0 and not keys & Qt.KeyboardModifier.ControlModifier
        study = self._study()
        if view.page == "vehicle" and free and study is not None:
            names = list(live_points(study))
            start = names.index(view.point) if view.point in names else (-1 if way > 0 else 0)
            self._session.set_view(point=names[(start + way) % len(names)])
            self.changed.emit()
            return True
        if not count:
            return False
        corners = self._corners(pane.view)
        if keys & Qt.KeyboardModifier.ControlModifier or not corners:
            start = view.envelope if view.envelope >= 0 else (-1 if way > 0 else count)
            self._session.set_view(envelope=(start + way) % count, corner=None, point="")
        else:
            at = self.corner[1] if self.corner is not None and self.corner[0] == pane.view else (-1 if way > 0 else 0)
            self._session.set_view(corner=(pane.view, (at + way) % len(corners)))
        self.changed.emit()
        return True

    def _insert_half_way(self) -> bool:
        """Put a corner in the middle of the edge after the picked one."""
        if self.corner is None:
            return False
        view, index = self.corner
        corners = self._corners(view)
        (u0, v0), (u1, v1) = corners[index], corners[(index + 1) % len(corners)]
        self._insert(view, index, ((u0 + u1) / 2.0, (v0 + v1) / 2.0))
        return True

    def _delete(self) -> bool:
        corner = self.corner
        if corner is None and self._hover is not None and self._hover[1].kind == "corner":
            corner = (self._hover[0], self._hover[1].index)
        if corner is None:
            return False
        view, index = corner
        corners = self._corners(view)
        if index < len(corners) and self._set_outline(view, outline.removed(corners, index), "delete corner"):
            self._session.set_view(corner=None)
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
        bad = self._bad
        if bad is not None and bad.view == pane.view:
            show_refused(pane, painter, bad.corners, self._lift, bad.fault.edges)
            at = max((pane.place(p) for p in self._drawn(pane.view, bad.corners)), key=lambda place: place.x())
            write(pane, painter, at + QPointF(10.0, -8.0), bad.fault.short, pane.colours.danger)
        elif self._snap is not None and self._snap[0] == pane.view:
            found, unit = self._snap[1], self._session.view.unit
            show_snap(pane, painter, found, self._lift)
            words = ", ".join(length_number(value, unit) for value in found.corner)
            at = pane.place(to_view(pane.view, found.corner, self._lift))
            write(pane, painter, at + QPointF(12.0, -10.0), f"{words}  {found.words}".rstrip(), pane.colours.accent)
