"""Hatches as small tiles, sharp at every scale of the screen."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPixmap, QTransform

TILE = 7
"""Side of a tile, screen points."""


@lru_cache(maxsize=32)
def hatch_brush(kind: str, colour: str, ratio: float) -> QBrush:
    """Return a hatching brush.

    Parameters
    ----------
    kind : {"rising", "falling", "dots"}
        The pattern.
    colour : str
        ``#rrggbb``.
    ratio : float
        Device pixels per screen point.
    """
    side = round(TILE * ratio)
    tile = QPixmap(side, side)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    try:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if kind == "dots":
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colour))
            painter.drawEllipse(QPointF(side / 2, side / 2), 0.9 * ratio, 0.9 * ratio)
        else:
            width = 1.3 if kind == "rising" else 0.8
            painter.setPen(QPen(QColor(colour), width * ratio))
            for shift in (-side, 0, side):
                low, high = QPointF(shift, side), QPointF(shift + side, 0)
                if kind == "falling":
                    low, high = QPointF(shift, 0), QPointF(shift + side, side)
                painter.drawLine(low, high)
    finally:
        painter.end()
    brush = QBrush(tile)
    brush.setTransform(QTransform.fromScale(1.0 / ratio, 1.0 / ratio))
    return brush
