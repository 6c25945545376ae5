"""Outlines of envelopes: whether one is a sound closed outline, in plain geometry."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

Corner = tuple[float, float]

MOST_CORNERS = 400
"""More corners than this are not drawn by hand."""

FEW = 16
"""So few edges are looked at one by one."""

LEAST_AREA = 1.0
"""Smaller outlines, mm^2, are nothing to stay clear of."""


def area(outline: Sequence[Corner]) -> float:
    """Return the signed area of an outline, mm^2 (counter-clockwise +).

    Notes
    -----
    The shoelace formula; for an outline that crosses itself it is not the area people see.
    """
    x0, y0 = outline[0]
    total = 0.0
    for (xa, ya), (xb, yb) in zip(outline, (*outline[1:], outline[0]), strict=True):
        total += (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0)
    return 0.5 * total


def doubled_corner(outline: Sequence[Corner]) -> int | None:
    """Return the index of a corner that stands on the one before it (0: the first on the last), or None."""
    for index, corner in enumerate(outline):
        if tuple(corner) == tuple(outline[index - 1]):
            return index
    return None


def crossing(outline: Sequence[Corner], closed: bool = True) -> tuple[int, int, Corner] | None:
    """Find where an outline crosses, touches or runs back over itself.

    Parameters
    ----------
    outline : sequence of corner
        Corners in order, mm. Edge i runs from corner i to the next.
    closed : bool
        Whether the last corner joins the first.

    Returns
    -------
    tuple or None
        The two edges (indices) and the place, mm; None for a simple outline.
    """
    count = len(outline)
    edges = [(outline[i], outline[(i + 1) % count]) for i in range(count if closed else count - 1)]
    for i, j in near_pairs(edges):
        if j == i + 1 or (closed and i == 0 and j == count - 1):
            before, after = (edges[i], edges[j]) if j == i + 1 else (edges[j], edges[i])
            if _runs_back(before[0], before[1], after[1]):
                return i, j, before[1]
        elif (place := _meeting(*edges[i], *edges[j])) is not None:
            return i, j, place
    return None


def near_pairs(edges: Sequence[tuple[Corner, Corner]]) -> Iterator[tuple[int, int]]:
    """Yield the pairs (i, j), i < j, of edges whose upright boxes touch or overlap, in order; no others can meet."""
    if len(edges) < FEW:
        yield from ((i, j) for i in range(len(edges)) for j in range(i + 1, len(edges)))
        return
    # a vehicle is read without numpy
    import numpy as np

    ends = np.array(edges)
    low, high = ends.min(axis=1), ends.max(axis=1)
    apart = (low[:, None] > high[None, :]).any(axis=2)
    yield from ((int(i), int(j)) for i, j in np.argwhere(~np.tril(np.ones_like(apart)) & ~apart & ~apart.T))


def shared_height(rear: Sequence[Corner], side: Sequence[Corner]) -> float:
    """Return by how much the heights (z) of two outlines overlap, mm; negative if they do not."""
    return min(max(z for _, z in rear), max(z for _, z in side)) - max(min(z for _, z in rear), min(z for _, z in side))


def _turn(a: Corner, b: Corner, c: Corner) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _runs_back(a: Corner, b: Corner, c: Corner) -> bool:
    backwards = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0
    return backwards and _turn(a, b, c) == 0


def _within(a: Corner, b: Corner, p: Corner) -> bool:
    return min(a[0], b[0]) <= p[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= p[1] <= max(a[1], b[1])


def _meeting(a: Corner, b: Corner, c: Corner, d: Corner) -> Corner | None:
    """Return where the segments a-b and c-d meet, or None."""
    to_c, to_d = _turn(a, b, c), _turn(a, b, d)
    to_a, to_b = _turn(c, d, a), _turn(c, d, b)
    if to_c * to_d < 0 and to_a * to_b < 0:
        part = to_a / (to_a - to_b)
        return a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])
    for turn, start, end, point in ((to_c, a, b, c), (to_d, a, b, d), (to_a, c, d, a), (to_b, c, d, b)):
        if turn == 0 and _within(start, end, point):
            return point
    return None
