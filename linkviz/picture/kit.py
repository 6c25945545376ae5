"""A kit of parts: shapes fixed to the axle or to the body, moved together with one multiplication."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np
from numpy.typing import NDArray

from linkviz.picture.shapes import Circle, Path, Pt, Shape

Mover = Callable[[NDArray[np.float64]], list[Pt]]


class Kit:
    """Parts drawn in the order they were added; their points are three-dimensional, mm."""

    def __init__(self) -> None:
        self._points: list[tuple[float, float, float]] = []
        self._parts: list[tuple[str, int, int, bool, float]] = []
        self._array: NDArray[np.float64] | None = None

    def path(self, points: Iterable[tuple[float, float, float]], style: str, closed: bool = True) -> None:
        """Add a polygon or polyline."""
        start = len(self._points)
        self._points.extend(points)
        self._parts.append((style, start, len(self._points), closed, 0.0))
        self._array = None

    def circle(self, centre: tuple[float, float, float], radius: float, style: str) -> None:
        """Add a circle; its radius does not foreshorten."""
        start = len(self._points)
        self._points.append(centre)
        self._parts.append((style, start, start + 1, True, radius))
        self._array = None

    def shapes(self, mover: Mover) -> list[Shape]:
        """Return the shapes of all parts, put where `mover` puts their points."""
        if not self._parts:
            return []
        if self._array is None:
            self._array = np.array(self._points, float)
        at = mover(self._array)
        return [
            Circle(at[start], radius, style) if radius else Path(tuple(at[start:end]), style, closed)
            for style, start, end, closed, radius in self._parts
        ]
