"""What does not move from one moment to the next, painted once: paper, mesh, frame, ground, and a ghost that stands.

A layer never guesses what may have changed. It keeps the very shapes it was painted from and is used only for a
drawing that begins with equal ones, through the same camera, in the same theme, on as fine a device.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPixmap, QTransform

from linkviz.picture.camera import Camera
from linkviz.picture.shapes import Shape

Shapes = tuple[Shape, ...]
Draw = Callable[[QPainter, Shapes], None]
"""Paints paper, mesh and some shapes into a pane whose upper left corner is the painter's origin."""
_Key = tuple[Camera, str, float]


class Layer:
    """The lowest shapes of a drawing, kept by a pane from one painting to the next.

    Attributes
    ----------
    count : int
        How many shapes are in the layer; 0 if there is none.
    painted : int
        How often it was painted anew (for tests).
    """

    def __init__(self) -> None:
        self.count = 0
        self.painted = 0
        self._key: _Key | None = None
        self._held: Shapes = ()
        self._before: Shapes = ()
        self._pixmap: QPixmap | None = None

    def lay(self, painter: QPainter, shapes: Shapes, camera: Camera, theme: str, draw: Draw) -> Shapes:
        """Paint paper, mesh and the shapes that stayed; return the shapes still to be painted.

        Parameters
        ----------
        painter : QPainter
            An active painter; its origin is the pane's upper left corner.
        shapes : tuple of Shape
            All shapes of the drawing, lowest first.
        camera : Camera
            Where the drawing lies in the pane.
        theme : {"light", "dark"}
            The colours.
        draw : callable
            Paints paper, mesh and some shapes.
        """
        ratio = _ratio(painter)
        if ratio == 0.0:
            self._forget()
            draw(painter, ())
            return shapes
        key = (camera, theme, ratio)
        before, self._before = self._before, shapes
        if key != self._key:
            # A camera that moves would have the layer painted anew each time: wait until it stands.
            self._forget()
            self._key, self._before = key, shapes
            draw(painter, ())
            return shapes
        stayed = _common(before, shapes)
        if self._pixmap is None or stayed > self.count or self._held != shapes[: self.count]:
            self._paint(shapes[:stayed], camera, ratio, draw)
        if self._pixmap is not None:
            painter.drawPixmap(QPointF(0.0, 0.0), self._pixmap)
        return shapes[self.count :]

    def _forget(self) -> None:
        self._key, self._pixmap, self._held, self._before, self.count = None, None, (), (), 0

    def _paint(self, shapes: Shapes, camera: Camera, ratio: float, draw: Draw) -> None:
        width, height = math.ceil(camera.width * ratio), math.ceil(camera.height * ratio)
        pixmap = self._pixmap
        if pixmap is None:
            pixmap = QPixmap(width, height)
            pixmap.setDevicePixelRatio(ratio)
        painter = QPainter(pixmap)
        try:
            draw(painter, shapes)
        finally:
            painter.end()
        self._pixmap, self._held, self.count = pixmap, shapes, len(shapes)
        self.painted += 1


def _ratio(painter: QPainter) -> float:
    """Return the pixels per screen point; 0 where a pixmap would not lie pixel on pixel."""
    device = painter.device()
    ratio = float(device.devicePixelRatio()) if device is not None else 0.0
    world: QTransform = painter.deviceTransform()
    straight = world.m12() == 0.0 == world.m21() and world.m11() == ratio == world.m22()
    whole = abs(world.dx() - round(world.dx())) < 1e-6 and abs(world.dy() - round(world.dy())) < 1e-6
    return ratio if straight and whole else 0.0


def _common(a: Shapes, b: Shapes) -> int:
    """Return how many shapes two drawings begin with that are equal."""
    count = 0
    for one, other in zip(a, b, strict=False):
        if one is not other and one != other:
            break
        count += 1
    return count
