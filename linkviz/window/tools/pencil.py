"""The pencil: draws a new envelope, its outline in one view first, then in the other."""

from __future__ import annotations

import math

from PySide6.QtCore import QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPen, QPolygonF

from linkviz.errors import LinkvizError
from linkviz.picture.camera import HEADING
from linkviz.picture.scene import from_view, to_view
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.outline import Corner, Corners
from linkviz.session.session import Session
from linkviz.units import format_length, length_number
from linkviz.vehicle.model import Envelope
from linkviz.vehicle.outlines import shared_height
from linkviz.window.pane import Pane

NEAR = 11.0
"""How near to the first corner a click closes the outline, screen points."""
NAMES: dict[ViewName, str] = {"rear": "rear view", "side": "side view"}
DEFAULT: dict[ViewName, tuple[float, float]] = {"rear": (-200.0, 200.0), "side": (500.0, 400.0)}
"""Middle and width of the outline taken where none is drawn, mm."""


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
    Enter alone takes a plain block. Backspace takes the last corner back, Esc leaves.
    """

    refused = Signal(str)
    hint = Signal(str)
    changed = Signal()
    finished = Signal(bool)
    """Whether an envelope was made."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.view: ViewName | None = None
        """View in which corners are being clicked; None before the first."""
        self.corners: Corners = ()
        """Corners so far, body frame, mm."""
        self.first: tuple[ViewName, Corners] | None = None
        """The outline that is already closed."""
        self._hover: Corner | None = None
        self._crossed = ""

    def begin(self) -> None:
        """Start with an empty sheet."""
        self.view, self.corners, self.first, self._hover, self._crossed = None, (), None, None, ""
        self._say()

    def leave(self) -> None:
        """Leave without an envelope."""
        self.begin()
        self.hint.emit("")
        self.finished.emit(False)

    def _say(self) -> None:
        unit = self._session.view.unit
        if self.first is not None:
            now = other(self.first[0])
            low, high = outline.heights(self.first[1])
            text = (
                f"Now the {NAMES[now]}: click the corners of the same part there. Only what lies between the dashed "
                f"lines ({format_length(high - low, unit)} high) is kept. Enter takes a plain block, Esc leaves."
            )
        elif self.view is None:
            text = (
                "Click the first corner of the part in either view. "
                f"Corners snap to {format_length(outline.SNAP, unit)}. Esc leaves."
            )
        else:
            text = (
                "Click the corners in order around the part; click the first one again or press Enter to close. "
                "Backspace takes one back, Esc leaves."
            )
        self.hint.emit(text)
        self.changed.emit()

    # -- the mouse

    def _plane(self, pane: Pane, at: Corner) -> Corner:
        return outline.snapped(from_view(pane.view, at, self._session.shown.setup.lift))

    def _drawn(self, view: ViewName, corner: Corner) -> Corner:
        return to_view(view, corner, self._session.shown.setup.lift)

    def _closes(self, pane: Pane, at: Corner) -> bool:
        if len(self.corners) < 2:
            return False
        first = self._drawn(pane.view, self.corners[0])
        return math.dist(first, at) * pane.camera.scale <= NEAR

    def press(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Put a corner, or close the outline."""
        wanted = other(self.first[0]) if self.first is not None else self.view
        if wanted is not None and pane.view != wanted:
            self.refused.emit(
                f"This outline is being drawn in the {NAMES[wanted]}. Close it there first: click its first corner or "
                "press Enter."
            )
            return
        if self._closes(pane, at):
            self.close()
            return
        corner = self._plane(pane, at)
        if self.corners and corner == self.corners[-1]:
            return
        corners = (*self.corners, corner)
        why = outline.why_refused(corners, closed=False)
        if why:
            self.refused.emit(why)
            return
        self.view = pane.view
        self.corners = corners
        self._say()

    def move(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Show the next edge."""
        pane.setCursor(Qt.CursorShape.CrossCursor)
        wanted = other(self.first[0]) if self.first is not None else self.view
        if wanted is not None and pane.view != wanted:
            return
        self._hover = self._plane(pane, at) if self.corners or wanted is None or pane.view == wanted else None
        self._crossed = ""
        hover = self._hover
        if self.corners and hover not in (None, self.corners[-1]) and not self._closes(pane, at):
            self._crossed = outline.why_refused((*self.corners, hover), closed=False)
        pane.update()

    def release(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Nothing: corners are clicked, not dragged."""

    def double(self, pane: Pane, at: Corner, event: QMouseEvent) -> None:
        """Count as a second click."""
        self.press(pane, at, event)

    def left(self, pane: Pane) -> None:
        """Forget the next edge."""
        self._hover = None
        pane.unsetCursor()
        pane.update()

    def key(self, pane: Pane, event: QKeyEvent) -> bool:
        """Close with Enter, take back with Backspace, leave with Esc."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close()
        elif event.key() == Qt.Key.Key_Backspace:
            self.take_back()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            return False
        return True

    # -- steps

    def take_back(self) -> None:
        """Take the last corner back, or open the first outline again."""
        if self.corners:
            self.corners = self.corners[:-1]
            if not self.corners and self.first is None:
                self.view = None
        elif self.first is not None:
            (self.view, self.corners), self.first = self.first, None
        self._say()

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
            self._hover = None
            self._say()
            return
        self._finish(self.corners)

    @staticmethod
    def _block(view: ViewName, first: Corners) -> Corners:
        middle, width = DEFAULT[view]
        return outline.rectangle(middle, width, outline.heights(first))

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
        try:
            envelope = Envelope(
                name=edits.free_name(vehicle, "envelope"), rear=outlines["rear"], side=outlines["side"], margin=12.0
            )
            self._session.edit_vehicle(edits.add_envelope(vehicle, envelope), "draw envelope")
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        self._session.set_view(envelope=len(self._session.document.vehicle.envelopes) - 1)
        self.begin()
        self.hint.emit("")
        self.finished.emit(True)

    # -- drawing

    def paint(self, pane: Pane, painter: QPainter) -> None:
        """Draw the corners, the next edge, and the heights that are kept."""
        colours = pane.colours
        if self.first is not None:
            if pane.view == self.first[0]:
                self._outline(pane, painter, self.first[1], True, colours.accent)
            else:
                self._band(pane, painter)
        if pane.view != self.view and not (self.view is None and self._hover is not None):
            return
        colour = colours.danger if self._crossed else colours.accent
        if self.view == pane.view and self.corners:
            self._outline(pane, painter, self.corners, False, colours.accent)
            if self._hover is not None:
                painter.setPen(QPen(QColor(colour), 1.6, Qt.PenStyle.DashLine))
                tip = pane.place(self._drawn(pane.view, self._hover))
                painter.drawLine(pane.place(self._drawn(pane.view, self.corners[-1])), tip)
                unit = self._session.view.unit
                word = ", ".join(length_number(value, unit) for value in self._hover)
                _write(pane, painter, tip + QPointF(10.0, -8.0), "crosses" if self._crossed else word, colour)

    def _outline(self, pane: Pane, painter: QPainter, corners: Corners, closed: bool, colour: str) -> None:
        places = [pane.place(self._drawn(pane.view, corner)) for corner in corners]
        painter.setPen(QPen(QColor(colour), 2.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if closed:
            painter.drawPolygon(QPolygonF(places))
        else:
            painter.drawPolyline(QPolygonF(places))
        painter.setBrush(QColor(pane.colours.paper))
        for i, place in enumerate(places):
            size = 6.5 if i == 0 and not closed else 4.0
            painter.drawEllipse(place, size, size)

    def _band(self, pane: Pane, painter: QPainter) -> None:
        assert self.first is not None
        low, high = outline.heights(self.first[1])
        top = pane.place(self._drawn(pane.view, (0.0, high))).y()
        bottom = pane.place(self._drawn(pane.view, (0.0, low))).y()
        colour = QColor(pane.colours.accent)
        fill = QColor(colour)
        fill.setAlpha(26)
        painter.fillRect(QRectF(0.0, top, pane.width(), bottom - top), fill)
        painter.setPen(QPen(colour, 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(0.0, top), QPointF(pane.width(), top))
        painter.drawLine(QPointF(0.0, bottom), QPointF(pane.width(), bottom))
        words = "height that is kept"
        wide = QFontMetricsF(painter.font()).horizontalAdvance(words)
        at = QPointF(pane.width() - wide - 10.0, max(top - 6.0, HEADING + 12.0))
        _write(pane, painter, at, words, pane.colours.accent)


def _write(pane: Pane, painter: QPainter, at: QPointF, words: str, colour: str) -> None:
    """Write a word on a piece of paper, so that it can be read over the drawing."""
    measure = QFontMetricsF(painter.font())
    box = measure.boundingRect(words).translated(at).adjusted(-3.0, -1.0, 3.0, 1.0)
    painter.fillRect(box, QColor(pane.colours.paper))
    painter.setPen(QColor(colour))
    painter.drawText(at, words)
