"""Points of a drawing as Qt takes them: all of them at once, since one by one they take as long as the painting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain
from typing import Any

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPolygonF
from shiboken6 import VoidPtr

from linkviz.picture.shapes import Path, Pt, Shape

_PAIR = 16
"""Bytes of a QPointF: two double numbers."""


def polygons(shapes: Sequence[Shape]) -> Iterator[QPolygonF]:
    """Yield the points of each path among the shapes, in their order, mm."""
    outlines = [shape.points for shape in shapes if type(shape) is Path]
    flat = np.fromiter(chain.from_iterable(chain.from_iterable(outlines)), float)
    start = 0
    for points in outlines:
        stop = start + 2 * len(points)
        yield _polygon(points, flat[start:stop])
        start = stop


def _polygon(points: Sequence[Pt], flat: np.ndarray[tuple[int], np.dtype[np.float64]]) -> QPolygonF:
    """Return points as a polygon; `flat` has the same numbers in one row."""
    if len(points) < 4:
        return QPolygonF([QPointF(u, v) for u, v in points])
    result = QPolygonF()
    result.resize(len(points))
    # The stubs know only addresses; a pointer to a value, its size and whether it may be written is meant.
    place: Any = VoidPtr(result.data(), len(points) * _PAIR, True)  # type: ignore[arg-type,call-arg]
    np.frombuffer(place)[:] = flat
    return result
