"""Convex bodies in frames of their own: balls, capsules, cylinders with flat ends, boxes, and the parts of a solid.

Every body is the sum of three simple sets: the hull of some vertices, a disc about the x axis of its frame, and a ball.
So a ball is a vertex and a ball, a capsule two vertices and a ball, a flat cylinder two vertices and a disc, a box
eight vertices, and the farthest point of any of them in a direction is known at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
from msgspec import field
from numpy.typing import NDArray

from linkviz.clearance.convex import convex_pieces
from linkviz.clearance.segments import Array
from linkviz.clearance.solid import Solid
from linkviz.frozen import Frozen

Which = slice | NDArray[np.intp]
"""Some of the states."""
_NONE = np.zeros((0, 3))


class Body(Frozen, eq=False):
    """A convex body in its own frame.

    Attributes
    ----------
    vertices : ndarray, shape (k, 3)
        Corners of the hull, mm.
    radius : float
        Radius of the ball that is added to it, mm, >= 0.
    disc : float
        Radius of the disc square to the frame's x axis that is added to it, mm, >= 0.
    normals : ndarray, shape (f, 3)
        Unit normals of the flat faces, each direction once (either sense).
    edges : ndarray, shape (m, 3)
        Unit directions of the straight edges, each once (either sense).
    """

    vertices: Array
    radius: float = 0.0
    disc: float = 0.0
    normals: Array = field(default_factory=lambda: _NONE)
    edges: Array = field(default_factory=lambda: _NONE)

    @property
    def reach(self) -> float:
        """Return the radius of a ball about the frame's origin that holds the body, mm."""
        return float(np.linalg.norm(self.vertices, axis=1).max()) + self.disc + self.radius


class Frames(Frozen, eq=False):
    """Where bodies stand at n states: place = matrix @ point + origin.

    Attributes
    ----------
    matrix : ndarray, shape (3, 3, n), or None
        Rotations; for a body without a disc any matrices, so that a capsule may change its length. None: not turned.
    origin : ndarray, shape (3, n)
        Where the frame's origin stands, mm.
    """

    matrix: Array | None
    origin: Array

    def __len__(self) -> int:
        """Return the number of states."""
        return int(self.origin.shape[1])

    def at(self, which: Which) -> Frames:
        """Return some of the states."""
        matrix = None if self.matrix is None else self.matrix[:, :, which]
        return Frames(matrix, self.origin[:, which])

    def place(self, points: Array) -> Array:
        """Put points of the frame, shape (3, n), into the common frame, shape (3, n)."""
        if self.matrix is None:
            return points + self.origin
        m = self.matrix
        return np.stack([m[i, 0] * points[0] + m[i, 1] * points[1] + m[i, 2] * points[2] for i in range(3)]) + (
            self.origin
        )

    def back(self, way: Array) -> Array:
        """Turn directions of the common frame, shape (3, n), into the frame: matrix transposed @ way."""
        if self.matrix is None:
            return way
        m = self.matrix
        return np.stack([m[0, i] * way[0] + m[1, i] * way[1] + m[2, i] * way[2] for i in range(3)])


def together(frames: Sequence[Frames]) -> Frames:
    """Return the states of several frames, one after the other."""
    if len(frames) == 1:
        return frames[0]
    origin = np.concatenate([one.origin for one in frames], axis=1)
    if all(one.matrix is None for one in frames):
        return Frames(None, origin)
    matrix = np.empty((3, 3, origin.shape[1]))
    at = 0
    for one in frames:
        matrix[:, :, at : at + len(one)] = np.eye(3)[:, :, None] if one.matrix is None else one.matrix
        at += len(one)
    return Frames(matrix, origin)


def fixed(n: int, origin: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> Frames:
    """Return frames that do not move over n states."""
    return Frames(None, np.repeat(np.array(origin, dtype=float)[:, None], n, axis=1))


def rigid(rotation: Array, origin: Array) -> Frames:
    """Return frames from rotations, shape (n, 3, 3), and origins, shape (n, 3), mm."""
    return Frames(
        np.ascontiguousarray(np.moveaxis(rotation, 0, -1)), np.ascontiguousarray(np.asarray(origin, dtype=float).T)
    )


def between(p: Array, q: Array) -> Frames:
    """Return frames for `span`: its ends at p and q, shape (n, 3) each, mm."""
    matrix = np.zeros((3, 3, len(p)))
    matrix[:, 0] = (q - p).T
    return Frames(matrix, np.ascontiguousarray(np.asarray(p, dtype=float).T))


def ball(radius: float) -> Body:
    """Return a ball about the frame's origin."""
    return Body(np.zeros((1, 3)), radius=radius)


def span(radius: float) -> Body:
    """Return a capsule for frames made by `between`: its length is that of the frame's x axis."""
    return Body(np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]]), radius=radius, edges=np.array([[1.0, 0.0, 0.0]]))


def capsule(p: Array, q: Array, radius: float) -> Body:
    """Return all points within a radius of the segment from p to q, shape (3,) each, mm; p and q may coincide."""
    ends = np.array([p, q], dtype=float)
    return Body(ends, radius=radius, edges=_directions(ends[1:] - ends[:1]))


def cylinder(start: float, end: float, radius: float) -> Body:
    """Return a cylinder with flat ends about the frame's x axis, from `start` to `end`, mm."""
    axis = np.array([[1.0, 0.0, 0.0]])
    return Body(np.array([[start, 0.0, 0.0], [end, 0.0, 0.0]]), disc=radius, normals=axis, edges=axis)


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Body:
    """Return a box along the frame's axes, between two opposite corners, mm."""
    x, y, z = (np.array(pair, dtype=float) for pair in zip(low, high, strict=True))
    corners = np.stack(np.meshgrid(x, y, z, indexing="ij"), axis=-1).reshape(-1, 3)
    return Body(corners, normals=np.eye(3), edges=np.eye(3))


def convex_parts(solid: Solid) -> tuple[Body, ...]:
    """Return convex bodies that together fill a solid; one body if both its outlines are convex."""
    parts = []
    for rear in convex_pieces(solid.rear):
        for side in convex_pieces(solid.side):
            try:
                part = Solid.from_outlines([tuple(c) for c in rear.tolist()], [tuple(c) for c in side.tolist()])
            except ValueError:
                continue  # these two share no height
            parts.append(hull_of(part))
    return tuple(parts)


def hull_of(solid: Solid) -> Body:
    """Return the body of a convex solid: its true corners only."""
    normal, height = solid.planes
    points = np.unique(np.round(solid.faces.reshape(-1, 3), 9), axis=0)
    on = np.abs(points @ normal - height) < 1e-6
    true = [np.linalg.matrix_rank(solid.normals[row], tol=1e-6) == 3 for row in on]
    edges = solid.edges[:, 1] - solid.edges[:, 0]
    return Body(points[true], normals=_directions(solid.normals), edges=_directions(edges))


def _directions(ways: Array) -> Array:
    """Return each direction once, as unit vectors, whatever its sense."""
    size = np.linalg.norm(ways, axis=1)
    ways = ways[size > 1e-9] / size[size > 1e-9, None]
    keep = np.ones(len(ways), dtype=bool)
    for i, j in combinations(range(len(ways)), 2):
        if keep[i] and np.linalg.norm(np.cross(ways[i], ways[j])) < 1e-9:
            keep[j] = False
    return ways[keep]
