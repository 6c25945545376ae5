"""Elastic groups of lines of weld, loaded off their middle."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from linkviz.frozen import Frozen

Line = tuple[float, float, float, float]
"""A straight line of weld from (x, y) to (x, y), mm."""


class WeldGroup(Frozen):
    """Lines of weld in one plane, as lines without width.

    Attributes
    ----------
    lines : tuple of (x1, y1, x2, y2)
        mm.
    """

    lines: tuple[Line, ...]

    @property
    def length(self) -> float:
        """Return the length of all the weld, mm."""
        return sum(math.dist(line[:2], line[2:]) for line in self.lines)

    @property
    def centroid(self) -> tuple[float, float]:
        """Return the middle of the weld, mm."""
        total = self.length
        parts = [(math.dist(one[:2], one[2:]), (one[0] + one[2]) / 2, (one[1] + one[3]) / 2) for one in self.lines]
        return sum(w * x for w, x, _ in parts) / total, sum(w * y for w, _, y in parts) / total

    @property
    def seconds(self) -> tuple[float, float, float]:
        """Return the integrals of x^2, y^2 and x y along the weld about its middle, mm3."""
        cx, cy = self.centroid
        xx = yy = xy = 0.0
        for x1, y1, x2, y2 in self.lines:
            length = math.hypot(x2 - x1, y2 - y1)
            ax, ay, bx, by = x1 - cx, y1 - cy, x2 - cx, y2 - cy
            xx += length * (ax * ax + ax * bx + bx * bx) / 3.0
            yy += length * (ay * ay + ay * by + by * by) / 3.0
            xy += length * (2 * ax * ay + 2 * bx * by + ax * by + bx * ay) / 6.0
        return xx, yy, xy

    def peak(self, force: float, at: tuple[float, float]) -> float:
        """Return the largest force per length of weld, N/mm.

        Parameters
        ----------
        force : float
            Square to the plane of the weld, N.
        at : (float, float)
            Where it acts, mm.

        Raises
        ------
        ValueError
            If all the weld lies in one line and the force acts beside it.

        Notes
        -----
        f = P/L + (M_y' x + M_x' y) as in bending of a section of lines, both axes at once; elastic method (AISC Steel
        Construction Manual, part 8; Blodgett, Design of Welded Structures, 7.4).
        """
        cx, cy = self.centroid
        ex, ey = at[0] - cx, at[1] - cy
        xx, yy, xy = self.seconds
        section, moment = np.array([[xx, xy], [xy, yy]]), force * np.array([ex, ey])
        slope = np.linalg.lstsq(section, moment, rcond=None)[0]
        if np.abs(section @ slope - moment).max() > 1e-6 * max(np.abs(moment).max(), abs(force)):
            raise ValueError("weld in one line cannot hold a moment about that line")
        ends = [(x - cx, y - cy) for line in self.lines for x, y in (line[:2], line[2:])]
        bending = np.array(ends) @ slope
        return float(np.abs(force / self.length + bending).max())


def ring(x: float, y: float, radius: float, sides: int = 48) -> tuple[Line, ...]:
    """Return a ring of weld as a polygon of the same length, mm."""
    r = radius * (math.pi / sides) / math.sin(math.pi / sides)
    corners = [
        (x + r * math.cos(2 * math.pi * i / sides), y + r * math.sin(2 * math.pi * i / sides)) for i in range(sides)
    ]
    pairs: Sequence[tuple[tuple[float, float], tuple[float, float]]] = [
        (corners[i], corners[(i + 1) % sides]) for i in range(sides)
    ]
    return tuple((*one, *other) for one, other in pairs)
