"""Lines joined end to end into closed outlines, in time that goes with their number."""

from __future__ import annotations

import math
from collections import defaultdict, deque
from collections.abc import Sequence

from linkviz.errors import LinkvizError
from linkviz.vehicle.outline_files import Corners
from linkviz.vehicle.outlines import Corner

JOIN = 0.01
"""Ends this near to each other are one corner, mm."""
MOST_AT_A_PLACE = 100
"""No drawing has more different ends than this as near to each other as one corner."""


def joined(lines: Sequence[Corners], reach: float = JOIN) -> tuple[list[Corners], list[Corner]]:
    """Join lines end to end into closed outlines.

    Parameters
    ----------
    lines : sequence of corners
        Lines in any order and direction, mm; one that ends where it began is closed already.
    reach : float
        How near two ends must be to be one corner, mm.

    Returns
    -------
    closed : list of corners
        The outlines, first corner not repeated.
    ends : list of corner
        Where a line ends that no other one goes on from.

    Raises
    ------
    LinkvizError
        If very many different ends lie within the reach of one.

    Notes
    -----
    Each line is begun in its turn; the next one is that with the nearest end, of equally near ones the first.
    """
    closed: list[Corners] = []
    ends: list[Corner] = []
    left = _Left(lines, reach)
    for first in range(len(lines)):
        if not left.take(first):
            continue
        chain = list(lines[first])
        while math.dist(chain[0], chain[-1]) > reach:
            near = left.nearest(chain[-1])
            if near is None:
                ends.append(chain[-1])
                break
            index, turned = near
            left.take(index)
            more = lines[index]
            chain += (more[::-1] if turned else more)[1:]
        else:
            outline = tuple(chain[:-1])
            if len(outline) >= 3:
                closed.append(outline)
    return closed, ends


class _Left:
    """The lines not yet joined, found by where they end: squares as wide as the reach, in each the places of ends."""

    def __init__(self, lines: Sequence[Corners], reach: float) -> None:
        self._reach = reach
        self._there = [True] * len(lines)
        # of each place the lines that end there, in their order
        self._squares: dict[tuple[int, int], dict[Corner, deque[tuple[int, bool]]]] = defaultdict(dict)
        for index, line in enumerate(lines):
            for turned, corner in ((False, line[0]), (True, line[-1])):
                places = self._squares[self._square(corner)]
                places.setdefault(corner, deque()).append((index, turned))
                if len(places) > MOST_AT_A_PLACE:
                    u, v = corner
                    raise LinkvizError(
                        f"More than {MOST_AT_A_PLACE} lines end within {reach} mm of u = {u:.2f}, v = {v:.2f} mm. "
                        "Clean the drawing up there, or save the outlines alone."
                    )

    def take(self, index: int) -> bool:
        """Take a line; return whether it was still there."""
        there, self._there[index] = self._there[index], False
        return there

    def nearest(self, end: Corner) -> tuple[int, bool] | None:
        """Return the line with the end nearest to a place within the reach, and whether it is to be turned round."""
        column, row = self._square(end)
        best: tuple[float, int, bool] | None = None
        for square in ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)):
            places = self._squares.get(square)
            if not places:
                continue
            for corner, lines in list(places.items()):
                while lines and not self._there[lines[0][0]]:
                    lines.popleft()
                if not lines:
                    del places[corner]
                    continue
                far = math.dist(corner, end)
                if far <= self._reach and (best is None or (far, *lines[0]) < best):
                    best = (far, *lines[0])
        return None if best is None else best[1:]

    def _square(self, corner: Corner) -> tuple[int, int]:
        return math.floor(corner[0] / self._reach), math.floor(corner[1] / self._reach)
