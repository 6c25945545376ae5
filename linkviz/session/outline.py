"""Corners of an outline: what is allowed, said in words, and the small edits a mouse makes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from linkviz.frozen import Frozen
from linkviz.vehicle.outlines import MOST_CORNERS, area, crossing
from linkviz.vehicle.outlines import Corner as Corner

Corners = tuple[Corner, ...]

LEAST_DRAWN = 100.0
"""An outline that encloses less, mm^2, was not meant."""


def snapped(corner: Corner, step: float) -> Corner:
    """Return the corner on the nearest grid point, mm."""
    return (round(corner[0] / step) * step, round(corner[1] / step) * step)


class Fault(Frozen):
    """What is wrong with an outline.

    Attributes
    ----------
    short : str
        In a few words, for the drawing.
    words : str
        In a sentence, with what to do.
    edges : tuple of int
        The edges it is about, by the number of their first corner.
    """

    short: str
    words: str
    edges: tuple[int, ...] = ()


def fault_of(corners: Sequence[Corner], closed: bool = True) -> Fault | None:
    """Return what is wrong with these corners as an outline, or None.

    Parameters
    ----------
    corners : sequence of (float, float)
        The corners in order, mm.
    closed : bool
        Whether the last corner is joined to the first; an open line may be short and enclose nothing yet.
    """
    if closed and len(corners) < 3:
        more = f"An outline needs at least 3 corners; this one has {len(corners)}. Click more corners."
        return Fault("needs 3 corners", more)
    if len(corners) > MOST_CORNERS:
        more = f"An outline has at most {MOST_CORNERS} corners; this one has {len(corners)}. Draw it with fewer."
        return Fault("too many corners", more)
    if len(set(corners)) < len(corners):
        return Fault("two corners on one spot", "Two corners lie on the same spot. Move one of them or delete it.")
    hit = crossing(corners, closed)
    if hit is not None:
        one, other, _ = hit
        words = f"Edges {one + 1} and {other + 1} cross each other. Place the corners around the outline in order."
        return Fault(f"edges {one + 1} and {other + 1} cross", words, (one, other))
    if closed and abs(area(corners)) < LEAST_DRAWN:
        return Fault("encloses nothing", "The outline encloses next to nothing. Pull its corners apart.")
    return None


def why_refused(corners: Sequence[Corner], closed: bool = True) -> str:
    """Return why these corners make no outline, in words with what to do; "" if they do."""
    fault = fault_of(corners, closed)
    return fault.words if fault is not None else ""


def moved(corners: Corners, index: int, to: Corner) -> Corners:
    """Return the corners with one of them elsewhere."""
    return (*corners[:index], to, *corners[index + 1 :])


def edge_moved(corners: Corners, index: int, by: Corner) -> Corners:
    """Return the corners with both ends of the edge that starts at `index` shifted, mm."""
    ends = {index, (index + 1) % len(corners)}
    return tuple((u + by[0], v + by[1]) if i in ends else (u, v) for i, (u, v) in enumerate(corners))


def shifted(corners: Corners, by: Corner) -> Corners:
    """Return all corners shifted, mm."""
    return tuple((u + by[0], v + by[1]) for u, v in corners)


def inserted(corners: Corners, edge: int, corner: Corner) -> Corners:
    """Return the corners with one more on the edge that starts at `edge`."""
    return (*corners[: edge + 1], corner, *corners[edge + 1 :])


def removed(corners: Corners, index: int) -> Corners:
    """Return the corners without one of them."""
    return (*corners[:index], *corners[index + 1 :])


def rectangle(middle: float, width: float, heights: tuple[float, float]) -> Corners:
    """Return an upright rectangle about `middle`, mm, counter-clockwise."""
    low, high = heights
    left, right = middle - width / 2.0, middle + width / 2.0
    return ((left, low), (right, low), (right, high), (left, high))


def heights(corners: Sequence[Corner]) -> tuple[float, float]:
    """Return the lowest and the highest z, mm."""
    values = [v for _, v in corners]
    return (min(values), max(values))


def from_edge(a: Corner, b: Corner, at: Corner) -> float:
    """Return how far a place is from the edge between two corners, mm."""
    du, dv = b[0] - a[0], b[1] - a[1]
    long = du * du + dv * dv
    part = 0.0 if long == 0 else min(1.0, max(0.0, ((at[0] - a[0]) * du + (at[1] - a[1]) * dv) / long))
    return math.dist((a[0] + part * du, a[1] + part * dv), at)


def inside(corners: Corners, at: Corner) -> bool:
    """Return whether a place is inside an outline."""
    found = False
    for (u0, v0), (u1, v1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (v0 > at[1]) != (v1 > at[1]) and at[0] < u0 + (at[1] - v0) / (v1 - v0) * (u1 - u0):
            found = not found
    return found
