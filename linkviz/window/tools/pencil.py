"""The pencil: draws a new envelope, its outline in one view first, then in the other."""

from __future__ import annotations

import math

from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter

from linkviz.errors import LinkvizError
from linkviz.picture.scene import from_view, to_view
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.kinds import KINDS
from linkviz.session.outline import Corner, Corners, Fault
from linkviz.session.outline_exchange import BLOCK
from linkviz.session.session import Session
from linkviz.session.snapping import Snap, grid_step, held_straight, other_corners, snap
from linkviz.session.typed import Way, typed_corner
from linkviz.units import finest, format_length, length_number
from linkviz.vehicle.model import Envelope
from linkviz.vehicle.outlines import shared_height
from linkviz.window.pane import Pane
from linkviz.window.tools.keys import TYPED, arrow
from linkviz.window.tools.marks import FREE, STRAIGHT
from linkviz.window.tools.sketch import Sketch, paint_sketch

NEAR = 11.0
"""How near to the first corner a click closes the outline, screen points."""
NAMES: dict[ViewName, str] = {"rear": "rear view", "side": "side view"}


def other(view: ViewName) -> ViewName:
    """Return the other view."""
    return "side" if view == "rear" else "rear"


class Pencil(QObject):
    """Draws a new envelope.

    Parameters
    ----------
    session : Session
        What gets the envelope.

    Notes
    -----
    Click corners in either view; a click on the first one, or Enter, closes the outline. Then the other view, where
    Enter alone takes a plain block. Digits begin a typed corner. Without a mouse the arrow keys move the pen and the
    space bar puts a corner. Backspace and Esc take the last corner back; with none left Esc leaves.
    """

    refused = Signal(str)
    hint = Signal(str)
    changed = Signal()
    moved = Signal()
    """The pen moved: what the next edge would be is another."""
    typing = Signal(str)
    """A digit was pressed: the rest of the corner is to be typed."""
    finished = Signal(bool)
    """Whether an envelope was made."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.kind = KINDS[0]
        self.view: ViewName | None = None
        """View in which corners are being clicked; None before the first."""
        self.corners: Corners = ()
        """Corners so far, body frame, mm."""
        self.first: tuple[ViewName, Corners] | None = None
        """The outline that is already closed."""
        self.pen: Snap | None = None
        """Where the next corner would go."""
        self.fault: Fault | None = None
        """Why it could not go there, or why the outline could not be closed."""
        self.closing = False
        """Whether the pen is on the first corner."""
        self._over: ViewName = "rear"
        self._hinted = ""

    def begin(self) -> None:
        """Start with an empty sheet."""
        self.view, self.corners, self.first, self.pen, self.fault = None, (), None, None, None
        self.closing = False
        self.say()

    def leave(self) -> None:
        """Leave without an envelope."""
        self.begin()
        self._hint("")
        self.finished.emit(False)

    @property
    def wanted(self) -> ViewName | None:
        """Return the only view in which a corner can be put now; None if either will do."""
        return other(self.first[0]) if self.first is not None else self.view

    @property
    def at_work(self) -> ViewName:
        """Return the view the next corner goes into: the one begun, or the one the pen is over."""
        return self.wanted or self._over

    @property
    def _lift(self) -> float:
        return self._session.shown.setup.lift

    @property
    def step(self) -> float:
        """Return the step of the grid, mm; 0 for none."""
        return grid_step(self._session.view.grid, self._session.view.unit)

    # -- words

    def _hint(self, text: str) -> None:
        if text != self._hinted:
            self._hinted = text
            self.hint.emit(text)

    def _words(self) -> str:
        unit = self._session.view.unit
        if self.fault is not None:
            return self.fault.words
        if self.first is not None:
            now = other(self.first[0])
            low, high = outline.heights(self.first[1])
            return (
                f"Now the {NAMES[now]}: click the corners of the same part there. Only what lies between the dashed "
                f"lines ({format_length(high - low, unit)} high) is kept. Enter takes a plain block, Esc goes back."
            )
        if self.view is None:
            return (
                f"Click the first corner of the {self.kind.name} in either view, or type its place, or go there with "
                "the arrow keys and press Space. Ctrl held: no snapping. Esc leaves."
            )
        return (
            "Click the corners in order around the part, or type them; click the first one again or press Enter to "
            "close. Esc takes one back. Ctrl held: no snapping. Shift held: level or upright."
        )

    def say(self) -> None:
        """Say what comes next, in the unit of the session."""
        self._hint(self._words())
        self.changed.emit()

    # -- where the pen is

    def _drawn(self, view: ViewName, corner: Corner) -> Corner:
        return to_view(view, corner, self._lift)

    def _closes(self, pane: Pane, at: Corner) -> bool:
        if len(self.corners) < 2:
            return False
        return math.dist(self._drawn(pane.view, self.corners[0]), at) * pane.camera.scale <= NEAR

    def _snapped(self, pane: Pane, at: Corner, keys: Qt.KeyboardModifier) -> Snap:
        place = from_view(pane.view, at, self._lift)
        if keys & FREE:
            return Snap((round(place[0], 1), round(place[1], 1)), "free")
        if keys & STRAIGHT and self.corners:
            return held_straight(place, self.corners[-1], self.step)
        vehicle = self._session.shown.vehicle
        others = other_corners([edits.outline_of(vehicle, i, pane.view) for i in range(len(vehicle.envelopes))])
        heights = outline.heights(self.first[1]) if self.first is not None else ()
        last = len(self.corners) - 1
        return snap(place, self.step, pane.camera.scale, self.corners, others, last, heights)

    def _look(self, pen: Snap | None, closing: bool = False) -> None:
        """Take another place for the pen and say at once what would be wrong with it."""
        self.pen, self.closing = pen, closing
        fault = None
        if closing:
            fault = outline.fault_of(self.corners)
        elif pen is not None and self.corners and pen.corner != self.corners[-1]:
            fault = outline.fault_of((*self.corners, pen.corner), closed=False)
        self.fault = fault
        self._hint(self._words())
        self.moved.emit()

    def move(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Show the next edge."""
        pane.setCursor(Qt.CursorShape.CrossCursor)
        if self.wanted is not None and pane.view != self.wanted:
            return
        self._over = pane.view
        self._look(self._snapped(pane, at, event.modifiers()), self._closes(pane, at))
        pane.update()

    def left(self, pane: Pane) -> None:
        """Forget the next edge."""
        self._look(None)
        pane.unsetCursor()
        pane.update()

    # -- the mouse

    def press(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Put a corner, or close the outline."""
        if pane.view == (self.wanted or pane.view) and self._closes(pane, at):
            self.close()
            return
        self.put(pane.view, self._snapped(pane, at, event.modifiers()).corner)

    def put(self, view: ViewName, corner: Corner) -> bool:
        """Put a corner; return whether it could be taken."""
        if self.wanted is not None and view != self.wanted:
            self.refused.emit(
                f"This outline is being drawn in the {NAMES[self.wanted]}. Close it there first: click its first "
                "corner or press Enter."
            )
            return False
        if self.corners and corner == self.corners[-1]:
            return False
        corners = (*self.corners, corner)
        why = outline.why_refused(corners, closed=False)
        if why:
            self.refused.emit(why)
            return False
        self.view, self._over, self.corners = view, view, corners
        self.fault, self.closing = None, False
        self.say()
        return True

    def type_corner(self, way: Way, texts: tuple[str, str]) -> bool:
        """Put a corner that was typed; return whether it could be taken."""
        view = self.at_work
        last = self.corners[-1] if self.corners else None
        try:
            corner = typed_corner(way, view, texts, last, self._session.view.unit)
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        if corner == last:
            self.refused.emit("That is where the last corner is. Type another place.")
            return False
        if len(self.corners) >= 3 and corner == self.corners[0]:
            self.close()
            return True
        return self.put(view, corner)

    def release(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Nothing: corners are clicked, not dragged."""

    def double(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Count as a second click."""
        self.press(pane, at, event)

    # -- the keys

    def key(self, pane: Pane, event: QKeyEvent) -> bool:
        """Close with Enter, put with the space bar, move the pen with the arrows, step back, or begin to type."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close()
        elif key == Qt.Key.Key_Backspace:
            self.take_back()
        elif key == Qt.Key.Key_Escape:
            self.escape()
        elif key in (Qt.Key.Key_Space, Qt.Key.Key_Insert):
            self.put(pane.view, self._pen_in(pane))
        elif (by := arrow(event, self.step, finest(self._session.view.unit))) is not None:
            self._nudge(pane, by)
        elif event.text() and event.text() in TYPED and not event.modifiers() & FREE:
            self._over = pane.view
            self.typing.emit(event.text())
        else:
            return False
        return True

    def _pen_in(self, pane: Pane) -> Corner:
        if self.pen is not None and self._over == pane.view:
            return self.pen.corner
        if self.corners and self.view == pane.view:
            return self.corners[-1]
        middle = pane.plane(QPointF(pane.width() / 2.0, pane.height() / 2.0))
        return outline.snapped(from_view(pane.view, middle, self._lift), self.step or 1.0)

    def _nudge(self, pane: Pane, by: Corner) -> None:
        if self.wanted is not None and pane.view != self.wanted:
            return
        u, v = self._pen_in(pane)
        self._over = pane.view
        place = (u - by[0] if pane.view == "rear" else u + by[0], v + by[1])
        self._look(Snap(place, "pen"), len(self.corners) > 1 and place == self.corners[0])
        pane.update()

    # -- steps

    def escape(self) -> None:
        """Take the last corner back; leave when there is none."""
        if self.corners or self.first is not None:
            self.take_back()
        else:
            self.leave()

    def take_back(self) -> None:
        """Take the last corner back, or open the first outline again."""
        if self.corners:
            self.corners = self.corners[:-1]
            if not self.corners and self.first is None:
                self.view = None
        elif self.first is not None:
            (self.view, self.corners), self.first = self.first, None
            self.pen = None
        # the pen may still be where the first corner was
        self.fault, self.closing = None, False
        self.say()

    def close(self) -> None:
        """Close the present outline; with both outlines there, make the envelope."""
        if self.first is not None and not self.corners:
            self._finish(self._block(other(self.first[0]), self.first[1]))
            return
        why = outline.why_refused(self.corners)
        if why:
            self.refused.emit(why)
            return
        if self.first is None:
            assert self.view is not None
            self.first, self.corners = (self.view, self.corners), ()
            self.view = other(self.first[0])
            self._look(None)
            self.say()
            return
        self._finish(self.corners)

    @staticmethod
    def _block(view: ViewName, first: Corners) -> Corners:
        return outline.rectangle(*BLOCK[view], outline.heights(first))

    def _finish(self, second: Corners) -> None:
        assert self.first is not None
        view, first = self.first
        outlines = {view: first, other(view): second}
        if shared_height(outlines["rear"], outlines["side"]) <= 0:
            low, high = outline.heights(first)
            unit = self._session.view.unit
            self.refused.emit(
                "The two outlines share no height, so nothing lies inside both. Draw this one between "
                f"{format_length(low, unit)} and {format_length(high, unit)}, the dashed lines."
            )
            return
        vehicle = self._session.document.vehicle
        name = edits.free_name(vehicle, self.kind.name)
        try:
            envelope = Envelope(name=name, rear=outlines["rear"], side=outlines["side"], margin=self.kind.margin)
            self._session.edit_vehicle(edits.add_envelope(vehicle, envelope), f"draw {name}")
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        self._session.set_view(envelope=len(self._session.document.vehicle.envelopes) - 1)
        self.begin()
        self._hint("")
        self.finished.emit(True)

    # -- drawing

    def paint(self, pane: Pane, painter: QPainter) -> None:
        """Draw the corners, the next edge, and the heights that are kept."""
        paint_sketch(pane, painter, self.sketch)

    @property
    def sketch(self) -> Sketch:
        """Return what is to be drawn."""
        words = ""
        if self.fault is not None:
            words = self.fault.short
        elif self.closing or self.pen is None:
            words = "close"
        else:
            unit = self._session.view.unit
            at = ", ".join(length_number(value, unit) for value in self.pen.corner)
            words = f"{at}  {self.pen.words}" if self.pen.words else at
        return Sketch(self.at_work, self.corners, self.first, self.pen, self.fault, self.closing, words, self._lift)
