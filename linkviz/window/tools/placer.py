"""The placer: two points of a photo are clicked, and what they are is typed."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from linkviz.analysis.photo import Photo, Place, placed, placed_by_distance
from linkviz.errors import LinkvizError
from linkviz.picture.scene import from_view, to_view
from linkviz.session.edits import ViewName
from linkviz.session.session import Session
from linkviz.window.pane import Pane
from linkviz.window.tools.keys import arrow
from linkviz.window.tools.marks import write


class Placer(QObject):
    """Lays the photo of one view by two known points.

    Parameters
    ----------
    session : Session
        What has the photo.

    Notes
    -----
    The first click is point 1, the second point 2; a third moves the nearer one. Without a mouse the arrow keys move a
    cross and the space bar puts a point there. Esc takes the last point back, then leaves.
    """

    refused = Signal(str)
    hint = Signal(str)
    changed = Signal()
    finished = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.view: ViewName = "rear"
        self.pixels: tuple[Place, ...] = ()
        """The points so far, pixels of the photo."""
        self._pen: Place | None = None

    @property
    def photo(self) -> Photo | None:
        """Return the photo that is laid."""
        return self._session.shown.photo(self.view)

    @property
    def _lift(self) -> float:
        return self._session.shown.setup.lift

    def begin(self, view: ViewName) -> None:
        """Begin with the photo of a view."""
        self.view, self.pixels, self._pen = view, (), None
        self._say()

    def leave(self) -> None:
        """Put the placer away; what was laid stays."""
        self.pixels, self._pen = (), None
        self.hint.emit("")
        self.finished.emit()

    def _say(self) -> None:
        photo = self.photo
        if photo is None:
            return
        words = (
            f"Click a point of the photo in the {self.view} view whose place you have measured. Esc leaves.",
            "Click a second one, far from the first. Esc takes the first back.",
            "Type where the two points are, or how far apart, and press Place. A click moves the nearer point.",
        )
        self.hint.emit(words[len(self.pixels)])
        self.changed.emit()

    def put(self, place: Place) -> None:
        """Put a point on what the photo shows at a place of the body, mm."""
        photo = self.photo
        if photo is None:
            return
        pixel = photo.to_pixel(place)
        if len(self.pixels) < 2:
            self.pixels = (*self.pixels, pixel)
        else:
            far = [abs(complex(*pixel) - complex(*other)) for other in self.pixels]
            self.pixels = (pixel, self.pixels[1]) if far[0] <= far[1] else (self.pixels[0], pixel)
        self._say()

    def place(self, places: tuple[Place, Place] | None, apart: float | None) -> bool:
        """Lay the photo by where its two points are, or by how far apart, mm; return whether it could be."""
        photo = self.photo
        if photo is None:
            return False
        try:
            if len(self.pixels) < 2:
                raise LinkvizError("Click two points of the photo first.")
            pixels = (self.pixels[0], self.pixels[1])
            if places is not None:
                photo = placed(photo, pixels, places)
            elif apart is not None:
                photo = placed_by_distance(photo, pixels, apart)
            self._session.edit(self._session.document.with_photo(self.view, photo), "place photo")
        except LinkvizError as error:
            self.refused.emit(str(error))
            return False
        self.changed.emit()
        return True

    # -- the mouse and the keys

    def press(self, pane: Pane, at: Place, event: QMouseEvent) -> None:
        """Put a point."""
        if pane.view != self.view:
            self.refused.emit(f"This photo lies behind the {self.view} view. Click its points there.")
            return
        self.put(from_view(pane.view, at, self._lift))

    def move(self, pane: Pane, at: Place, event: QMouseEvent) -> None:
        """Show the cross."""
        pane.setCursor(Qt.CursorShape.CrossCursor if pane.view == self.view else Qt.CursorShape.ForbiddenCursor)

    def release(self, pane: Pane, at: Place, event: QMouseEvent) -> None:
        """Nothing: points are clicked."""

    def double(self, pane: Pane, at: Place, event: QMouseEvent) -> None:
        """Nothing: the first click has put the point."""

    def left(self, pane: Pane) -> None:
        """Give the mouse its arrow back."""
        pane.unsetCursor()

    def escape(self) -> None:
        """Take the last point back; leave when there is none."""
        if self.pixels:
            self.pixels = self.pixels[:-1]
            self._say()
        else:
            self.leave()

    def key(self, pane: Pane, event: QKeyEvent) -> bool:
        """Move the cross with the arrows, put a point with the space bar, step back with Esc."""
        by = arrow(event, 5.0, 1.0)
        middle = pane.plane(QPointF(pane.width() / 2.0, pane.height() / 2.0))
        if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_Backspace):
            self.escape()
        elif pane.view != self.view:
            return False
        elif by is not None:
            at = self._pen or middle
            self._pen = (at[0] + by[0], at[1] + by[1])
            pane.update()
        elif event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Insert):
            self.put(from_view(pane.view, self._pen or middle, self._lift))
        else:
            return False
        return True

    def paint(self, pane: Pane, painter: QPainter) -> None:
        """Draw the points with their numbers, and the cross of the keys."""
        photo = self.photo
        if pane.view != self.view or photo is None:
            return
        accent = QColor(pane.colours.accent)
        places = [pane.place(to_view(pane.view, photo.to_body(pixel), self._lift)) for pixel in self.pixels]
        if len(places) == 2:
            painter.setPen(QPen(accent, 1.2, Qt.PenStyle.DashLine))
            painter.drawLine(*places)
        for number, at in enumerate(places, 1):
            painter.setPen(QPen(accent, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(at, 7.0, 7.0)
            painter.drawLine(at - QPointF(11.0, 0.0), at + QPointF(11.0, 0.0))
            painter.drawLine(at - QPointF(0.0, 11.0), at + QPointF(0.0, 11.0))
            write(pane, painter, at + QPointF(12.0, -10.0), f"point {number}", pane.colours.accent)
        if self._pen is not None:
            at = pane.place(self._pen)
            painter.setPen(QPen(accent, 1.4))
            painter.drawLine(at - QPointF(9.0, 0.0), at + QPointF(9.0, 0.0))
            painter.drawLine(at - QPointF(0.0, 9.0), at + QPointF(0.0, 9.0))
