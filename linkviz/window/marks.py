"""How the lines of the three states are told apart without their colour: dashes, markers, bands, names kept apart."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF

from linkviz.linkage.layout import Array
from linkviz.picture.chart import MARKERS, RADIUS, marked

DASH = {
    "as built": Qt.PenStyle.DashLine,
    "lifted": Qt.PenStyle.SolidLine,
    "corrected": Qt.PenStyle.DashDotLine,
}
"""How each state's line is drawn."""
DIM = 0.45
"""Opacity of what belongs to an earlier state."""


def new_path() -> QPainterPath:
    """Return an empty path in which shapes on each other stay filled."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    return path


def add_marker(path: QPainterPath, state: str, at: QPointF) -> None:
    """Add the marker of a state to a path: circle as built, square lifted, triangle corrected."""
    corners = MARKERS[state]
    if corners:
        path.addPolygon(QPolygonF([QPointF(at.x() + RADIUS * a, at.y() + RADIUS * b) for a, b in corners]))
        path.closeSubpath()
    else:
        path.addEllipse(at, RADIUS, RADIUS)


def marker_path(
    state: str, x: Array, y: Array, offset: int, around: tuple[float, float, float, float], area: QRectF
) -> QPainterPath:
    """Return the markers of a state along its line, in the places of the widget.

    Parameters
    ----------
    state : str
    x, y : ndarray, shape (n,)
        The line; where it is NaN there is no marker.
    offset : int
        Number of the state, so that the markers of lines that lie on each other do not.
    around : tuple of float
        Least and greatest x, least and greatest y that are shown.
    area : QRectF
        Where they are shown; nothing is drawn outside.
    """
    path = new_path()
    left, right, low, high = around
    across, up = area.width() / (right - left), area.height() / (high - low)
    for i in marked(offset, len(x)):
        if low <= y[i] <= high:
            at = QPointF(area.left() + across * (float(x[i]) - left), area.bottom() - up * (float(y[i]) - low))
            add_marker(path, state, at)
    return path


def band_path(x: Array, low: Array, high: Array) -> QPainterPath:
    """Return the outline of the space between two lines; where an end is not finite there is none."""
    path = QPainterPath()
    there = np.isfinite(low) & np.isfinite(high)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], there, [False]]).astype(int)))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        around = [(x[i], low[i]) for i in range(first, last)] + [
            (x[i], high[i]) for i in range(last - 1, first - 1, -1)
        ]
        path.addPolygon(QPolygonF([QPointF(float(a), float(b)) for a, b in around]))
        path.closeSubpath()
    return path


def nudge(ends: list[tuple[float, str]], least: float, lowest: float) -> list[tuple[float, str]]:
    """Move names that would lie on each other apart, all of them inside the widget.

    Parameters
    ----------
    ends : list of (float, str)
        Where each would stand, and which it is.
    least : float
        How far apart they must be.
    lowest : float
        The bottom edge.
    """
    ends = sorted(ends)
    places = [y for y, _ in ends]
    for i in range(1, len(places)):
        places[i] = max(places[i], places[i - 1] + least)
    if places and places[-1] > lowest - 2.0:
        places[-1] = lowest - 2.0
        for i in range(len(places) - 2, -1, -1):
            places[i] = min(places[i], places[i + 1] - least)
    return [(y, state) for y, (_, state) in zip(places, ends, strict=True)]
