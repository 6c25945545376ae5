"""Signed gap between two bodies at many states, with the two points it is measured between.

Outside, the gap is the distance of the bodies: exact, with proof (`linkviz.clearance.distance`). Balls that cut into
each other give a negative gap by the same formula. Where the cores themselves meet, the gap is minus the shortest
straight way out (`linkviz.clearance.way_out`). For a capsule and a solid of two outlines, minus its greatest depth, as
`linkviz.clearance.gap` has it, hollow corners and all. There is no jump from one to the other; only among the ways out
of a body with a disc, deep inside, the one found may be some millimetres longer than the shortest.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from linkviz.clearance.bodies import Body, Frames, convex_parts, fixed
from linkviz.clearance.distance import Simplex, core_distance
from linkviz.clearance.gap import gap as tube_gap
from linkviz.clearance.segments import Array
from linkviz.clearance.solid import Solid
from linkviz.clearance.way_out import way_out
from linkviz.frozen import Frozen


class Near(Frozen, eq=False):
    """Gaps between two bodies at n states.

    Attributes
    ----------
    distance : ndarray, shape (n,)
        mm; negative inside.
    error : ndarray, shape (n,)
        What the distance may be too large by, outside, mm.
    on_a, on_b : ndarray, shape (n, 3)
        The points it is measured between, on the surfaces of the two bodies, mm; as far apart as the gap says, but for
        a capsule whose axis is inside a compound (see `linkviz.clearance.gap.Gap`).
    across : ndarray, shape (n, 3)
        Where the gap is more than 0, a unit direction from the second body to the first along which no two points of
        them come nearer than the gap less its error.
    simplex : tuple of Simplex
        From where the search may go on at near states, one per part of the second body.
    """

    distance: Array
    error: Array
    on_a: Array
    on_b: Array
    across: Array
    simplex: tuple[Simplex, ...]


class Compound(Frozen, eq=False, dict=True):
    """A solid of two outlines, fixed to its frame, as convex parts."""

    solid: Solid

    @cached_property
    def parts(self) -> tuple[Body, ...]:
        """Return the convex bodies that fill it."""
        return convex_parts(self.solid)


def gap(a: Body, at_a: Frames, b: Body | Compound, at_b: Frames | None = None, start: tuple[Simplex, ...] = ()) -> Near:
    """Return the gap between two bodies at n states.

    Parameters
    ----------
    a : Body
        One body.
    at_a : Frames
        Where it stands.
    b : Body or Compound
        The other one.
    at_b : Frames, optional
        Where that stands; it does not move where this is left out. A compound never moves.
    start : tuple of Simplex, optional
        `Near.simplex` of states near these.

    Raises
    ------
    ValueError
        If a compound is to move, or the frames tell of different numbers of states.
    """
    if at_b is None:
        at_b = fixed(len(at_a))
    elif isinstance(b, Compound):
        raise ValueError("a compound stands in the common frame")
    if len(at_a) != len(at_b):
        raise ValueError("the frames of the two bodies must be of the same states")
    if isinstance(b, Body):
        return _of_parts(a, at_a, (b,), at_b, start)
    near = _of_parts(a, at_a, b.parts, at_b, start)
    rows = np.flatnonzero(near.distance < -a.radius)
    axis = len(a.vertices) <= 2
    if len(rows) and (axis or len(b.parts) > 1):
        _deepen(near, rows, a, at_a.at(rows), b.solid, instead=axis and not a.disc)
    return near


def _of_parts(a: Body, at_a: Frames, parts: tuple[Body, ...], at_b: Frames, start: tuple[Simplex, ...]) -> Near:
    found = [_convex(a, at_a, part, at_b, start[i] if start else None) for i, part in enumerate(parts)]
    first = found[0]
    distance, error, on_a, on_b, across = first.distance, first.error, first.on_a, first.on_b, first.across
    for other in found[1:]:
        less = other.distance < distance
        distance, error = np.where(less, other.distance, distance), np.where(less, other.error, error)
        on_a, on_b = np.where(less[:, None], other.on_a, on_a), np.where(less[:, None], other.on_b, on_b)
        across = np.where(less[:, None], other.across, across)
    return Near(distance, error, on_a, on_b, across, tuple(s for one in found for s in one.simplex))


def _convex(a: Body, at_a: Frames, b: Body, at_b: Frames, start: Simplex | None) -> Near:
    cores = core_distance(a, at_a, b, at_b, start)
    distance = cores.distance - a.radius - b.radius
    way, one, other = cores.way.copy(), cores.on_a.copy(), cores.on_b.copy()
    rows: NDArray[np.intp] = np.flatnonzero(cores.meet)
    if len(rows):
        length, out, in_a, in_b = way_out(a, at_a.at(rows), b, at_b.at(rows), cores.last[:, None, rows])
        distance[rows] = -length - a.radius - b.radius
        way[:, rows], one[:, rows], other[:, rows] = -out, in_a, in_b
    on_a, on_b = one - a.radius * way, other + b.radius * way
    return Near(
        distance,
        cores.distance - cores.least,
        np.ascontiguousarray(on_a.T),
        np.ascontiguousarray(on_b.T),
        np.ascontiguousarray(cores.across.T),
        (cores.simplex,),
    )


def _deepen(near: Near, rows: NDArray[np.intp], a: Body, at_a: Frames, solid: Solid, instead: bool) -> None:
    """Take the depth of a body's middle line below the surface of a whole solid, where that is greater.

    `instead` takes it in any case. The parts alone do not know that their common faces lie inside.
    """
    p, q = (at_a.place(np.repeat(v[:, None], len(rows), axis=1)).T for v in a.vertices[[0, -1]])
    found = tube_gap(solid, p, q, a.radius)
    deeper = np.ones(len(rows), dtype=bool) if instead else found.distance < near.distance[rows]
    put = rows[deeper]
    near.distance[put] = found.distance[deeper]
    near.on_a[put], near.on_b[put] = found.on_shaft[deeper], found.on_solid[deeper]
