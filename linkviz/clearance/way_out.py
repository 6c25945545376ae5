"""How far one body must be moved to come clear of another that it is in: the shortest straight way out.

Along a direction the way out is the width of the overlap there. For flat-faced bodies and segments the shortest one is
square to a face of either or to an edge of each (the separating axis theorem: S. Gottschalk, Separating axis theorem,
TR96-024, University of North Carolina, 1996), so trying those is exact. Bodies with a disc have smooth parts too: the
best of the directions tried is then turned downhill, and what is found is a way out all the same, if not always the
very shortest.
"""

from __future__ import annotations

import numpy as np

from linkviz.clearance.bodies import Body, Frames
from linkviz.clearance.distance import farthest
from linkviz.clearance.segments import Array

_TURNS = 60
_SAME = 1e-9


def way_out(a: Body, at_a: Frames, b: Body, at_b: Frames, also: Array) -> tuple[Array, Array, Array, Array]:
    """Return the shortest straight ways out of one core for another, at n states where they meet.

    Parameters
    ----------
    a, b : Body
        The bodies; their balls are left out.
    at_a, at_b : Frames
        Where they stand.
    also : ndarray, shape (3, k, n)
        Further directions worth trying, common frame, unit length.

    Returns
    -------
    length : ndarray, shape (n,)
        How far b must move, mm, >= 0.
    way : ndarray, shape (3, n)
        In which direction, unit length.
    on_a, on_b : ndarray, shape (3, n)
        The point of a that is farthest out that way, and the point of b that is to come there, mm.
    """
    n = len(at_a)
    best, way = np.full(n, np.inf), np.zeros((3, n))
    for ways in _candidates(a, at_a, b, at_b, also):
        size = np.sqrt((ways**2).sum(axis=0))
        ways = ways / np.where(size > _SAME, size, 1.0)
        for sense in (ways, -ways):
            length = np.where(size > _SAME, _overlap(a, at_a, b, at_b, sense)[0], np.inf)
            less = length < best
            best = np.where(less, length, best)
            way = np.where(less, sense, way)
    if a.disc or b.disc:
        best, way = _downhill(a, at_a, b, at_b, best, way)
    _, on_a, _ = _overlap(a, at_a, b, at_b, way)
    return np.maximum(best, 0.0), way, on_a, on_a - np.maximum(best, 0.0) * way


def _overlap(a: Body, at_a: Frames, b: Body, at_b: Frames, way: Array) -> tuple[Array, Array, Array]:
    """Return how far b must move along unit directions to be clear of a, and the points that decide it."""
    _, on_a = farthest(a, at_a, way)
    _, on_b = farthest(b, at_b, -way)
    apart = on_a - on_b
    return (apart * way).sum(axis=0), on_a, apart


def _turned(ways: Array, frames: Frames) -> list[Array]:
    """Return directions of a frame (k, 3) in the common frame, (3, n) each."""
    n = len(frames)
    if frames.matrix is None:
        return [np.repeat(way[:, None], n, axis=1) for way in ways]
    found: list[Array] = [np.einsum("ijn,j->in", frames.matrix, way) for way in ways]
    return found


def _candidates(a: Body, at_a: Frames, b: Body, at_b: Frames, also: Array) -> list[Array]:
    edges_a, edges_b = _turned(a.edges, at_a), _turned(b.edges, at_b)
    found = [*_turned(a.normals, at_a), *_turned(b.normals, at_b)]
    found += [np.cross(one, other, axis=0) for one in edges_a for other in edges_b]
    # what has no face, no edge, or an edge by itself: square to the edges, from middle to middle
    middle = _middle(a, at_a) - _middle(b, at_b)
    found.append(middle)
    for edge in (*edges_a, *edges_b):
        along = (edge * middle).sum(axis=0) / np.maximum((edge * edge).sum(axis=0), 1e-30)
        square = middle - along * edge
        other = np.cross(edge, np.eye(3)[np.abs(edge).argmin(axis=0)].T, axis=0)
        found.append(np.where((square**2).sum(axis=0) > _SAME, square, other))
    found += [also[:, k] for k in range(also.shape[1])]
    return found


def _middle(body: Body, frames: Frames) -> Array:
    return frames.place(np.repeat(body.vertices.mean(axis=0)[:, None], len(frames), axis=1))


def _downhill(a: Body, at_a: Frames, b: Body, at_b: Frames, best: Array, way: Array) -> tuple[Array, Array]:
    """Turn directions as long as the overlap becomes smaller."""
    step = np.full(len(best), 0.3)
    apart = _overlap(a, at_a, b, at_b, way)[2]
    for _ in range(_TURNS):
        size = np.maximum(np.sqrt((apart**2).sum(axis=0)), 1e-12)
        slope = (apart - (apart * way).sum(axis=0) * way) / size
        turned = way - step * slope
        turned /= np.sqrt((turned**2).sum(axis=0))
        length, _, there = _overlap(a, at_a, b, at_b, turned)
        less = length < best
        best, way = np.where(less, length, best), np.where(less, turned, way)
        apart = np.where(less, there, apart)
        step = np.where(less, 1.5 * step, 0.5 * step)
        if (step < 1e-7).all():
            break
    return best, way
