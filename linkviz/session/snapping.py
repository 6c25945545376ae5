"""Snapping: where a corner goes when it is near something it was probably meant for.

In this order: another corner; level or upright with a corner of the same outline; the grid.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from linkviz.frozen import Frozen
from linkviz.session.outline import Corner, Corners, snapped
from linkviz.units import Unit, finest

GRIDS: dict[Unit, tuple[float, ...]] = {
    "mm": (0.0, finest("mm"), 5.0, 10.0, 25.0),
    "in": (0.0, finest("in"), 25.4 / 4.0, 25.4 / 2.0, 25.4),
}
"""Steps of the grid to choose from, mm; 0 for none."""
USUAL = 2
"""Which of them is used at first."""
ON_CORNER = 8.0
"""How near a corner of something else must be, screen points."""
IN_LINE = 5.0
"""How near to level or upright, screen points."""


class Snap(Frozen):
    """Where a corner goes, and why.

    Attributes
    ----------
    corner : (float, float)
        The place, mm.
    words : str
        Why there, in a few words; "" where nothing held it.
    lines : tuple of (corner, corner)
        What to draw: from the corner that held it to the place.
    on : bool
        Whether it lies on another corner.
    """

    corner: Corner
    words: str = ""
    lines: tuple[tuple[Corner, Corner], ...] = ()
    on: bool = False


def grid_step(grid: int, unit: Unit) -> float:
    """Return the step of the chosen grid, mm; 0 for none."""
    steps = GRIDS[unit]
    return steps[min(max(grid, 0), len(steps) - 1)]


def to_grid(corner: Corner, step: float) -> Corner:
    """Return the corner on the grid; as it is without one."""
    return snapped(corner, step) if step > 0 else corner


def snap(
    at: Corner,
    step: float,
    scale: float,
    own: Sequence[Corner] = (),
    others: Sequence[Corner] = (),
    last: int = -1,
    heights: Sequence[float] = (),
) -> Snap:
    """Return where a corner goes.

    Parameters
    ----------
    at : (float, float)
        Where the mouse is, mm.
    step : float
        Step of the grid, mm; 0 for none.
    scale : float
        Screen points per mm.
    own : sequence of corner
        The other corners of the same outline: level and upright with them counts.
    others : sequence of corner
        Corners of everything else.
    last : int
        Which of its own corners the next edge comes from; it is preferred. -1 for none.
    heights : sequence of float
        Heights of the outline in the other view: a corner near one of them takes it, mm.
    """
    near = min(others, key=lambda corner: math.dist(corner, at), default=None)
    if near is not None and math.dist(near, at) * scale <= ON_CORNER:
        return Snap(near, "on a corner", on=True)
    order = sorted(range(len(own)), key=lambda i: (i != last % len(own) if last >= 0 else False, math.dist(own[i], at)))
    reach = IN_LINE / scale
    upright = next((own[i] for i in order if abs(own[i][0] - at[0]) <= reach), None)
    level = next((own[i] for i in order if abs(own[i][1] - at[1]) <= reach), None)
    if upright is not None and upright == level:
        # on top of one corner: keep to the nearer of its two lines
        if abs(upright[0] - at[0]) <= abs(upright[1] - at[1]):
            level = None
        else:
            upright = None
    onto = to_grid(at, step)
    place = (upright[0] if upright is not None else onto[0], level[1] if level is not None else onto[1])
    lines = tuple((corner, place) for corner in (upright, level) if corner is not None)
    words = " and ".join(word for word, corner in (("upright", upright), ("level", level)) if corner is not None)
    height = min(heights, key=lambda z: abs(z - at[1]), default=None)
    if level is None and height is not None and abs(height - at[1]) <= reach:
        place = (place[0], height)
        words = f"{words}, height of the other view" if words else "height of the other view"
    return Snap(place, words, lines)


def held_straight(at: Corner, last: Corner, step: float) -> Snap:
    """Return the place level or upright with the last corner, whichever is nearer; the other axis on the grid."""
    onto = to_grid(at, step)
    level = abs(at[0] - last[0]) >= abs(at[1] - last[1])
    place = (onto[0], last[1]) if level else (last[0], onto[1])
    return Snap(place, "held level" if level else "held upright", ((last, place),))


def snap_shift(moved: Corners, by: Corner, step: float, scale: float, others: Sequence[Corner] = ()) -> Corner:
    """Return how far corners go that are moved together.

    Parameters
    ----------
    moved : tuple of corner
        The corners where they were, mm.
    by : (float, float)
        How far the mouse went, mm.
    step, scale
        As for `snap`.
    others : sequence of corner
        Corners of everything else: one corner of the moved ones is put on one of them if it comes near.
    """
    best: tuple[float, Corner] | None = None
    for corner in moved:
        for other in others:
            shift = (other[0] - corner[0], other[1] - corner[1])
            far = math.dist(shift, by)
            if far * scale <= ON_CORNER and (best is None or far < best[0]):
                best = (far, shift)
    return to_grid(by, step) if best is None else best[1]


def other_corners(outlines: Sequence[Corners], without: int = -1) -> Corners:
    """Return the corners of all outlines but one."""
    return tuple(corner for i, outline in enumerate(outlines) if i != without for corner in outline)
