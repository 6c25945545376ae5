"""The gap between a tube and a drawn solid against general geometry libraries.

The solid is rebuilt without our code: halfspaces of the two prisms, vertices by Qhull (scipy.spatial), surface by
trimesh, distance by the Flexible Collision Library (python-fcl; triangle against triangle, so exact to rounding).
Depth of a convex solid is a linear programme, solved by HiGHS (scipy.optimize.linprog). Hollow outlines are cut into
triangles by shapely and the least over all pairs of triangles is taken.
"""

from __future__ import annotations

import fcl
import numpy as np
import pytest
import shapely
import trimesh
from scipy.optimize import linprog
from scipy.spatial import ConvexHull, HalfspaceIntersection, QhullError

from linkviz.clearance.gap import gap
from linkviz.clearance.solid import Solid

SOLIDS = 1000


def halfspaces(rear: np.ndarray, side: np.ndarray) -> np.ndarray:
    """Return rows (a, b, c, d) with a x + b y + c z + d <= 0 inside both convex outlines."""
    rows = []
    for outline, across in ((rear, 1), (side, 0)):
        for a, b, c in ConvexHull(outline).equations:
            row = [0.0, 0.0, b, c]
            row[across] = a
            rows.append(row)
    return np.array(rows)


def middle(spaces: np.ndarray) -> np.ndarray | None:
    """Return the centre of the largest ball inside, or None if there is hardly any inside."""
    norm = np.linalg.norm(spaces[:, :3], axis=1, keepdims=True)
    found = linprog([0, 0, 0, -1], A_ub=np.hstack([spaces[:, :3], norm]), b_ub=-spaces[:, 3], bounds=[(None, None)] * 4)
    return found.x[:3] if found.status == 0 and found.x[3] > 1e-3 else None


def surface(spaces: np.ndarray) -> fcl.BVHModel | None:
    """Return the surface of a convex solid for FCL."""
    inner = middle(spaces)
    if inner is None:
        return None
    try:
        mesh = trimesh.convex.convex_hull(HalfspaceIntersection(spaces, inner).intersections)
    except QhullError:
        return None
    return bvh(np.asarray(mesh.vertices), np.asarray(mesh.faces))


def bvh(vertices: np.ndarray, triangles: np.ndarray) -> fcl.BVHModel:
    model = fcl.BVHModel()
    model.beginModel(len(triangles), len(vertices))
    model.addSubModel(vertices, triangles)
    model.endModel()
    return model


def library_distance(model: fcl.BVHModel, p: np.ndarray, q: np.ndarray) -> float:
    """Return the distance of a segment, as a triangle with two corners at one place, from a surface."""
    segment = bvh(np.array([p, q, q]), np.array([[0, 1, 2]]))
    request, result = fcl.DistanceRequest(), fcl.DistanceResult()
    return float(fcl.distance(fcl.CollisionObject(model), fcl.CollisionObject(segment), request, result))


def library_depth(spaces: np.ndarray, p: np.ndarray, q: np.ndarray) -> float:
    """Return the greatest depth of a point of a segment below the planes of a convex solid; negative outside."""
    norm = np.linalg.norm(spaces[:, :3], axis=1)
    slope = spaces[:, :3] @ (q - p)
    constraint = np.stack([slope, norm], axis=1)
    limit = -(spaces[:, :3] @ p + spaces[:, 3])
    found = linprog([0, -1], A_ub=constraint, b_ub=limit, bounds=[(0, 1), (None, None)])
    return float(found.x[1])


def convex_outline(random: np.random.Generator) -> np.ndarray:
    points = random.uniform((-150.0, 200.0), (150.0, 500.0), (random.integers(4, 9), 2))
    return points[ConvexHull(points).vertices]


def segment(random: np.random.Generator, kind: int) -> tuple[np.ndarray, np.ndarray]:
    """Return a segment; some have no length, some are level or upright and so parallel to faces."""
    p, q = random.uniform((-400.0, -300.0, 50.0), (400.0, 300.0, 650.0), (2, 3))
    if kind == 0:
        return p, p.copy()
    if kind == 1:
        return p, p + np.array([random.uniform(-500, 500), 0.0, 0.0])
    if kind == 2:
        return p, p + np.array([0.0, 0.0, random.uniform(-300, 300)])
    return p, q


def test_convex_solids() -> None:
    random = np.random.default_rng(42)
    outside = inside = 0
    worst = 0.0
    while outside + inside < SOLIDS:
        rear, side = convex_outline(random), convex_outline(random)
        spaces = halfspaces(rear, side)
        model = surface(spaces)
        if model is None:
            continue
        solid = Solid.from_outlines(rear, side)
        p, q = segment(random, (outside + inside) % 8)
        ours = gap(solid, p[None], q[None], 25.0)
        depth = library_depth(spaces, p, q)
        if depth > 1e-6:
            inside += 1
            assert ours.distance[0] == pytest.approx(-depth - 25.0, abs=1e-6)
        else:
            outside += 1
            worst = max(worst, abs(library_distance(model, p, q) - 25.0 - ours.distance[0]))
            apart = np.linalg.norm(ours.on_shaft - ours.on_solid)
            assert apart == pytest.approx(abs(ours.distance[0]), abs=1e-6)
    assert worst < 1e-6
    assert inside > 60
    assert outside > 400


HOLLOW = [(-120.0, 220.0), (120.0, 220.0), (120.0, 480.0), (60.0, 480.0), (60.0, 300.0), (-60.0, 330.0), (-60.0, 480.0)]
STEP = [(-200.0, 200.0), (300.0, 240.0), (300.0, 350.0), (50.0, 360.0), (40.0, 500.0), (-200.0, 450.0)]


def test_hollow_solid() -> None:
    """A solid with a notch and a step: the least over convex pieces, and the sign by shapely."""
    solid = Solid.from_outlines(HOLLOW, STEP)
    rear, side = shapely.Polygon(HOLLOW), shapely.Polygon(STEP)
    models = []
    for one in shapely.constrained_delaunay_triangles(rear).geoms:
        for two in shapely.constrained_delaunay_triangles(side).geoms:
            spaces = halfspaces(np.array(one.exterior.coords)[:-1], np.array(two.exterior.coords)[:-1])
            model = surface(spaces)
            if model is not None:
                models.append(model)
    random = np.random.default_rng(7)
    seen = {True: 0, False: 0}
    for kind in range(200):
        p, q = segment(random, kind % 8)
        ours = gap(solid, p[None], q[None], 0.0).distance[0]
        t = np.linspace(0.0, 1.0, 400)[:, None]
        points = p + t * (q - p)
        within = shapely.contains_xy(rear, points[:, 1], points[:, 2]) & shapely.contains_xy(
            side, points[:, 0], points[:, 2]
        )
        seen[bool(within.any())] += 1
        if within.any():
            assert ours < 0
        elif ours > 1e-9:
            assert ours == pytest.approx(min(library_distance(m, p, q) for m in models), abs=1e-6)
    assert min(seen.values()) > 20
