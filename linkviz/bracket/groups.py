"""Elastic groups: bolts loaded off their middle, and lines of weld."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def bolt_group(places: ArrayLike, force: ArrayLike, at: ArrayLike, areas: ArrayLike | None = None) -> Array:
    """Share a force in the plane of a bolt group among its bolts.

    Parameters
    ----------
    places : array_like, shape (n, 2)
        Where the bolts are, mm.
    force : array_like, shape (2,)
        On the group, N.
    at : array_like, shape (2,)
        A point on the line of the force, mm.
    areas : array_like, shape (n,), optional
        Of the bolts, mm2; all alike if left out.

    Returns
    -------
    ndarray, shape (n, 2)
        What each bolt carries, N; the rows sum to the force.

    Raises
    ------
    ValueError
        If the bolts lie all in one place and the force has a lever arm about it.

    Notes
    -----
    Direct share by area; the moment about the centroid by distance: F_i = F A_i / sum A + M A_i r_i / sum (A r^2),
    square to r_i.

    References
    ----------
    Shigley's Mechanical Engineering Design, 8-12, shear joints with eccentric loading, example 8-7.
    """
    xy, f, p = np.asarray(places, float), np.asarray(force, float), np.asarray(at, float)
    a = np.ones(len(xy)) if areas is None else np.asarray(areas, float)
    share = a / a.sum()
    arm = xy - share @ xy
    lever = p - share @ xy
    moment = float(lever[0] * f[1] - lever[1] * f[0])
    polar = float(a @ (arm**2).sum(axis=1))
    if polar <= 0 and moment:
        raise ValueError("bolts in one place cannot hold a moment")
    turn = np.zeros_like(xy) if polar <= 0 else moment / polar * a[:, None] * np.column_stack([-arm[:, 1], arm[:, 0]])
    shared: Array = share[:, None] * f + turn
    return shared


Line = tuple[float, float, float, float]
"""A straight line of weld from (x, y) to (x, y), mm."""


@dataclass(frozen=True)
class WeldGroup:
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
