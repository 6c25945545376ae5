"""Places for the name of an outline: inside of it where it has room, else clear beside it, never across its line."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from linkviz.picture.edges import Array, crossed
from linkviz.picture.shapes import Pt

_COLUMNS, _ROWS = (0.0, -0.5, 0.5, -1.0, 1.0), (0.64, 1.0, 0.3, 0.0, -0.3, -0.64, -1.0)
"""Where in the outline's box a name may lie, of the room it has either way; low in the middle first."""
INSIDE = len(_COLUMNS) * len(_ROWS)
"""How many places come first that lie inside."""
_AROUND = tuple(
    (x, y, away) for away in (0.0, 26.0) for x, y in
    ((0.0, 1.0), (1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.7), (-1.0, 0.7), (1.0, -0.7), (-1.0, -0.7))
)  # fmt: skip
"""Where beside the outline's box, and how much farther away than need be, screen points."""
_ROOM = 4.0
"""Kept between a name and the outline, screen points."""
_BESIDE = 36.0
"""What it costs to lie beside the outline rather than inside of it."""


@lru_cache(maxsize=64)
def places(outline: tuple[Pt, ...], scale: float, width: float, height: float) -> tuple[Array, Array]:
    """Return the places of a name and what each costs by itself.

    Parameters
    ----------
    outline : tuple of Pt
        Its corners, mm from the point the name speaks of.
    scale : float
        Screen points per mm.
    width, height : float
        Of the name, screen points.

    Returns
    -------
    centres : ndarray, shape (k, 2)
        Middles, screen points from that point, y down. The same place has the same row whatever outline, scale and
        name are.
    cost : ndarray, shape (k,)
        Infinite where the name would cross the outline or lie in a bay of it.
    """
    corners = np.array(outline) * (scale, -scale)
    low, high = corners.min(axis=0), corners.max(axis=0)
    middle, half = (low + high) / 2.0, np.array([width / 2.0 + _ROOM, height / 2.0 + _ROOM])
    grid = np.array([(x, y) for y in _ROWS for x in _COLUMNS])
    inside = middle + grid * np.maximum((high - low) / 2.0 - half, 0.0)
    beside = np.array(_AROUND)
    way = np.sign(beside[:, :2]) * (np.abs(beside[:, :2]) == 1.0)
    out = middle + beside[:, :2] * (high - low) / 2.0 + way * (half + beside[:, 2:])
    kept = 0.15 * np.abs(inside - inside[0]).sum(axis=1)
    kept[np.logical_not(_holds(corners, inside, half - 0.5))] = np.inf
    far = _BESIDE + 0.1 * np.abs(out - inside[0]).sum(axis=1) + 0.5 * beside[:, 2]
    return np.concatenate([inside, out]), np.concatenate([kept, far])


def _holds(corners: Array, centres: Array, half: Array) -> Array:
    """Return whether each box lies inside of a closed outline, shape (k,) of bool."""
    ends = np.roll(corners, -1, axis=0)
    reach = (ends - corners) / 2.0
    edges = np.column_stack([corners + reach, reach, np.ones(len(corners))])
    across = crossed(centres, half, edges) > 0
    x, y = centres[:, :1], centres[:, 1:]
    beyond = (corners[:, 1] > y) != (ends[:, 1] > y)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = corners[:, 0] + (y - corners[:, 1]) * (ends[:, 0] - corners[:, 0]) / (ends[:, 1] - corners[:, 1])
    inside = (beyond & (x < at)).sum(axis=1) % 2 == 1
    holds: Array = inside & ~across
    return holds
