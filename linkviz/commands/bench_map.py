"""The contact map against a general collision library that is asked state by state: for `linkviz bench --only=map`."""

from __future__ import annotations

import time
from typing import Any

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.contact_map import contact_map
from linkviz.analysis.clearance.movers import Places, things
from linkviz.analysis.clearance.pairs import pieces_of, watched_pairs
from linkviz.clearance.bodies import Body, Frames
from linkviz.clearance.pair import Compound
from linkviz.commands.bench import seconds
from linkviz.linkage.layout import Array
from linkviz.linkage.solve import solve

_EVERY = 97
"""The library is asked at one state in so many, and its time is taken times as many."""


def bench_map(build: Build) -> dict[str, Any]:
    """Measure the contact map of a build, and a loop over the Flexible Collision Library (python-fcl) for it."""
    found = contact_map(build)
    ours = seconds(lambda: contact_map(build), 7)
    states = found.gap.size
    result: dict[str, Any] = {"states": states, "pairs": len(found.pairs), "ours_ms": ours * 1e3}
    try:
        import fcl
        from scipy.spatial import ConvexHull
    except ImportError:
        return result | {"library_over_ours": None, "note": "install python-fcl and scipy to compare with them"}
    t, r = (grid.ravel()[::_EVERY] for grid in np.meshgrid(found.travel, found.roll, indexing="ij"))
    begin = time.perf_counter()
    gaps = _library(fcl, ConvexHull, build, t, r)
    theirs = (time.perf_counter() - begin) * states / len(t)
    shallow = ~found.deep.ravel()[::_EVERY] & (gaps > -1e3)
    apart = np.abs(gaps - found.gap.ravel()[::_EVERY])[shallow].max()
    return result | {
        "library_ms": theirs * 1e3,
        "library_over_ours": theirs / ours,
        "largest_difference_mm": float(apart),
    }


def _library(fcl: Any, hull: Any, build: Build, travel: Array, roll: Array) -> Array:
    """Return the smallest gap of all pairs at each state, asked one by one."""
    poses = solve(build.layout, travel - build.setup.lift, roll)
    places, found = Places(build, poses), things(build.vehicle, build.setup)
    jobs = []
    for pair in watched_pairs(build.vehicle, build.setup):
        for a, b in pieces_of(found[pair.one], found[pair.other]):
            parts = b.body.parts if isinstance(b.body, Compound) else (b.body,)
            one = _Shape(fcl, hull, a.body, places[a.frame])
            jobs += [(one, _Shape(fcl, hull, part, places[b.frame])) for part in parts]
    best = np.full(len(travel), np.inf)
    request = fcl.DistanceRequest()
    for k in range(len(travel)):
        for one, other in jobs:
            distance = fcl.distance(one.at(k), other.at(k), request, fcl.DistanceResult())
            gap = max(distance, 0.0) - one.radius - other.radius
            if gap < best[k]:
                best[k] = gap
    return best


class _Shape:
    """The core of a body for FCL, and where it stands at each state."""

    def __init__(self, fcl: Any, hull: Any, body: Body, frames: Frames) -> None:
        self.fcl, self.radius = fcl, body.radius
        n, vertices = len(frames), body.vertices
        matrix = np.repeat(np.eye(3)[:, :, None], n, axis=2) if frames.matrix is None else frames.matrix
        self.turn = np.ascontiguousarray(np.moveaxis(matrix, 2, 0))
        middle = vertices.mean(axis=0)
        self.place = self.turn @ middle + frames.origin.T
        if len(vertices) == 1:
            self.shapes = [fcl.Sphere(1e-9)] * n
            self.turn = np.repeat(np.eye(3)[None], n, axis=0)
        elif len(vertices) == 2:
            ends = self.turn @ (vertices[1] - vertices[0])
            lengths = np.linalg.norm(ends, axis=1)
            self.turn = np.stack([_upright(end) for end in ends])
            make = (lambda length: fcl.Cylinder(body.disc, length)) if body.disc else _rod(fcl)
            steady = np.ptp(lengths) < 1e-9
            self.shapes = [make(lengths[0])] * n if steady else [make(length) for length in lengths]
        else:
            sides = hull(vertices)
            listed = np.hstack([np.full((len(sides.simplices), 1), 3), _outwards(sides)]).ravel().astype(np.int32)
            self.shapes = [fcl.Convex(vertices - middle, len(sides.simplices), listed)] * n

    def at(self, k: int) -> Any:
        return self.fcl.CollisionObject(self.shapes[k], self.fcl.Transform(self.turn[k], self.place[k]))


def _rod(fcl: Any) -> Any:
    return lambda length: fcl.Capsule(1e-9, length)


def _outwards(sides: Any) -> Array:
    """Return the triangles of a hull, each going around its outward normal."""
    corners = sides.points[sides.simplices]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    wrong = (normal * sides.equations[:, :3]).sum(axis=1) < 0
    result: Array = np.where(wrong[:, None], sides.simplices[:, ::-1], sides.simplices)
    return result


def _upright(way: Array) -> Array:
    """Return a rotation that takes the z axis into a direction."""
    z = way / max(float(np.linalg.norm(way)), 1e-12)
    if not z.any():
        return np.eye(3)
    x = np.cross(z, np.eye(3)[np.abs(z).argmin()])
    x /= np.linalg.norm(x)
    return np.stack([x, np.cross(z, x), z], axis=1)
