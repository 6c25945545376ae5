"""Gaps between balls, capsules, cylinders, boxes and drawn solids against general collision and geometry libraries.

More than 5,000 random pairs, degenerate ones among them. Sources: the Flexible Collision Library (python-fcl) says
which pairs touch, and how far apart flat-faced bodies, balls and capsules are: triangle against triangle, exact to
rounding. Its distances of cylinders are good to 1e-3 mm only, so those are proved instead: the two nearest points lie
on the bodies, and no point of the bodies comes nearer along the line between them. Depths of flat-faced bodies: the
nearest facet of the Minkowski difference, by Qhull (scipy.spatial.ConvexHull).
"""

from __future__ import annotations

from dataclasses import dataclass

import fcl
import numpy as np
import pytest
import shapely
import trimesh
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

from linkviz.clearance.bodies import Body, Frames, ball, box, capsule, cylinder, hull_of, rigid
from linkviz.clearance.pair import Compound, gap
from linkviz.clearance.solid import Solid

EACH = 260
"""Pairs of each two kinds."""
CLOSE = 1e-6
CONVEX = ([(-90, 0), (80, -20), (120, 90), (30, 160), (-80, 120)], [(-150, -20), (160, -20), (190, 60), (0, 170)])
HOLLOW = (
    [(-120, -100), (120, -100), (120, 160), (60, 160), (60, -20), (-60, 10), (-60, 160)],
    [(-200, -100), (300, -60), (300, 30), (50, 40), (40, 180), (-200, 130)],
)


def floats(outline: list[tuple[int, int]]) -> list[tuple[float, float]]:
    return [(float(u), float(v)) for u, v in outline]


@dataclass
class Kind:
    """One body, and the same for FCL: a shape that tells contact, and (model, radius) that tells distance."""

    body: Body | Compound
    contact: list[fcl.CollisionGeometry]
    turn: np.ndarray
    middle: np.ndarray
    surface: list[tuple[fcl.BVHModel, float]]


def bvh(vertices: np.ndarray, triangles: np.ndarray) -> fcl.BVHModel:
    model = fcl.BVHModel()
    model.beginModel(len(triangles), len(vertices))
    model.addSubModel(vertices, triangles)
    model.endModel()
    return model


def convex(vertices: np.ndarray) -> tuple[fcl.Convex, fcl.BVHModel]:
    mesh = trimesh.convex.convex_hull(vertices)
    corners, triangles = np.asarray(mesh.vertices), np.asarray(mesh.faces)
    listed = np.hstack([np.full((len(triangles), 1), 3), triangles]).ravel().astype(np.int32)
    return fcl.Convex(corners, len(triangles), listed), bvh(corners, triangles)


def product(rear: np.ndarray, side: np.ndarray) -> np.ndarray | None:
    """Return the corners of what lies inside two convex outlines: those of its slices at every corner's height."""
    low, high = max(rear[:, 1].min(), side[:, 1].min()), min(rear[:, 1].max(), side[:, 1].max())
    if high - low < 1e-6:
        return None
    heights = sorted({low, high} | {float(z) for z in (*rear[:, 1], *side[:, 1]) if low < z < high})
    corners = []
    for z in heights:
        cuts = [shapely.Polygon(o).intersection(shapely.LineString([(-1e4, z), (1e4, z)])).bounds for o in (side, rear)]
        corners += [(x, y, z) for x in (cuts[0][0], cuts[0][2]) for y in (cuts[1][0], cuts[1][2])]
    return np.array(corners)


def triangles_of(outline: list[tuple[float, float]]) -> list[np.ndarray]:
    pieces = shapely.constrained_delaunay_triangles(shapely.Polygon(outline)).geoms
    return [np.array(p.exterior.coords)[:-1] for p in pieces]


def kinds(random: np.random.Generator) -> dict[str, list[Kind]]:
    """Return some bodies of every kind."""
    upright, zero = np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]]), np.zeros(3)
    found: dict[str, list[Kind]] = {name: [] for name in ("ball", "capsule", "cylinder", "box", "solid", "hollow")}
    for i in range(4):
        r, length = random.uniform(5, 80), (0.0, 100.0, *random.uniform(50, 600, 2))[i]
        point = bvh(np.zeros((3, 3)), np.array([[0, 1, 2]]))
        found["ball"].append(Kind(ball(r), [fcl.Sphere(r)], np.eye(3), zero, [(point, r)]))
        ends = np.array([[0.0, 0, 0], [length, 0, 0], [length, 0, 0]])
        line = bvh(ends, np.array([[0, 1, 2]]))
        shape = fcl.Capsule(r, length) if length else fcl.Sphere(r)
        found["capsule"].append(Kind(capsule(ends[0], ends[1], r), [shape], upright, ends.mean(0) * 0.75, [(line, r)]))
        start, end = -random.uniform(0, 300), random.uniform(1, 300)
        round_ = fcl.Cylinder(1.5 * r, end - start)
        middle = np.array([(start + end) / 2, 0.0, 0.0])
        found["cylinder"].append(Kind(cylinder(start, end, 1.5 * r), [round_], upright, middle, []))
        low, high = -random.integers(10, 150, 3).astype(float), random.integers(10, 150, 3).astype(float)
        body = box(tuple(low), tuple(high))
        flat, surface = convex(body.vertices)
        found["box"].append(Kind(body, [flat], np.eye(3), zero, [(surface, 0.0)]))
    for name, outlines in (("solid", CONVEX), ("hollow", HOLLOW)):
        rear, side = floats(outlines[0]), floats(outlines[1])
        solid = Solid.from_outlines(rear, side)
        cut = triangles_of if name == "hollow" else lambda o: [np.array(o)]
        hulls = [product(a, b) for a in cut(rear) for b in cut(side)]
        both = [convex(h) for h in hulls if h is not None]
        mine: Body | Compound = Compound(solid) if name == "hollow" else hull_of(solid)
        found[name].append(Kind(mine, [b[0] for b in both], np.eye(3), zero, [(b[1], 0.0) for b in both]))
    return found


def frames(random: np.random.Generator, n: int) -> Frames:
    """Return random places; a third of them square to the axes and on a grid, so that faces lie flush and level."""
    turn = Rotation.random(n, rng=random).as_matrix()
    place = random.uniform(-230, 230, (n, 3))
    square = Rotation.create_group("O").as_matrix()
    third = np.arange(n) % 3 == 0
    turn[third] = np.round(square[random.integers(0, 24, third.sum())])
    place[third] = np.round(place[third], -1)
    return rigid(turn, place)


STILL = rigid(np.eye(3)[None], np.zeros((1, 3)))


def apart(one: Kind, at_one: Frames, other: Kind, at_other: Frames, k: int) -> tuple[bool, float]:
    """Return whether FCL sees contact, and its distance; nan where it has no exact one."""
    touch, distance = False, np.inf
    places = [(f.matrix[:, :, min(k, len(f) - 1)], f.origin[:, min(k, len(f) - 1)]) for f in (at_one, at_other)]
    (turn_1, at_1), (turn_2, at_2) = places
    first = fcl.Transform(turn_1 @ one.turn, turn_1 @ one.middle + at_1)
    second = fcl.Transform(turn_2 @ other.turn, turn_2 @ other.middle + at_2)
    for a in one.contact:
        for b in other.contact:
            pair = (fcl.CollisionObject(a, first), fcl.CollisionObject(b, second))
            touch |= fcl.collide(*pair, fcl.CollisionRequest(), fcl.CollisionResult()) > 0
    for a, r_a in one.surface:
        for b, r_b in other.surface:
            pair = (
                fcl.CollisionObject(a, fcl.Transform(turn_1, at_1)),
                fcl.CollisionObject(b, fcl.Transform(turn_2, at_2)),
            )
            distance = min(distance, fcl.distance(*pair, fcl.DistanceRequest(), fcl.DistanceResult()) - r_a - r_b)
    return touch, distance if one.surface and other.surface else np.nan


def extent(body: Body, turn: np.ndarray, at: np.ndarray, way: np.ndarray) -> float:
    """Return how far a body reaches in a direction, from its definition."""
    own = way @ turn
    most = max(float(own @ v) for v in body.vertices)
    return most + body.disc * float(np.hypot(own[1], own[2])) + body.radius + float(at @ way)


def outside(body: Body, turn: np.ndarray, at: np.ndarray, point: np.ndarray) -> float:
    """Return how far a point lies from a cylinder, 0 inside."""
    own = (point - at) @ turn
    low, high = body.vertices[:, 0]
    return float(np.hypot(max(low - own[0], own[0] - high, 0.0), max(np.hypot(own[1], own[2]) - body.disc, 0.0)))


def pairs() -> list[tuple[str, str]]:
    names = ["ball", "capsule", "cylinder", "box", "solid", "hollow"]
    return [(a, b) for i, a in enumerate(names) for b in names[i:] if (a, b) != ("hollow", "hollow")]


def check(first: str, second: str, count: int, seed: int) -> tuple[int, int]:
    """Check random pairs of two kinds; return how many were apart and how many were not."""
    random = np.random.default_rng(seed)
    shapes = kinds(random)
    seen = [0, 0]
    for one in shapes[first]:
        other = shapes[second][random.integers(len(shapes[second]))]
        n = -(-count // len(shapes[first]))
        at_one = frames(random, n)
        at_other = STILL if second == "hollow" else frames(random, n)
        assert isinstance(one.body, Body)
        found = gap(one.body, at_one, other.body, None if second == "hollow" else at_other)
        span = np.linalg.norm(found.on_a - found.on_b, axis=1)
        plain = (found.distance > -one.body.radius) | (second != "hollow")
        assert span[plain] == pytest.approx(np.abs(found.distance[plain]), abs=CLOSE)
        for k in range(n):
            ours = float(found.distance[k])
            touch, distance = apart(one, at_one, other, at_other, k)
            if abs(ours) > CLOSE:
                assert touch == (ours < 0), (first, second, k, ours)
            seen[touch] += 1
            if not touch and distance > CLOSE:
                assert ours == pytest.approx(distance, abs=CLOSE), (first, second, k)
            if ours > CLOSE and isinstance(other.body, Body):
                way = -found.across[k]
                turn_1, at_1 = at_one.matrix[:, :, k], at_one.origin[:, k]
                turn_2, at_2 = at_other.matrix[:, :, k], at_other.origin[:, k]
                proof = -extent(other.body, turn_2, at_2, -way) - extent(one.body, turn_1, at_1, way)
                assert proof == pytest.approx(ours, abs=CLOSE), (first, second, k)
                for body, turn, at, point in (
                    (one.body, turn_1, at_1, found.on_a[k]),
                    (other.body, turn_2, at_2, found.on_b[k]),
                ):
                    if body.disc:
                        assert outside(body, turn, at, point) < CLOSE
    return seen[0], seen[1]


@pytest.mark.parametrize(("first", "second"), pairs())
def test_random_pairs(first: str, second: str) -> None:
    clear, touching = check(first, second, EACH, seed=1000 + pairs().index((first, second)))
    assert clear + touching >= EACH
    assert clear > 0
    assert touching > 0 or first == second == "ball"
    assert len(pairs()) * EACH >= 5000


@pytest.mark.soak
@pytest.mark.timeout(3600)
@pytest.mark.parametrize(("first", "second"), pairs())
def test_many_random_pairs(first: str, second: str) -> None:
    for seed in range(20):
        check(first, second, 1000, seed)


def test_depth_of_flat_faced_bodies() -> None:
    """Depth is the nearest facet of the Minkowski difference; moved out by it, the bodies only just touch."""
    random = np.random.default_rng(3)
    shapes = kinds(random)
    deep = 0
    for first, second in (("box", "box"), ("box", "solid"), ("capsule", "box"), ("capsule", "solid")):
        for one in shapes[first][1:]:
            other, n = shapes[second][0], 60
            at_one, at_other = frames(random, n), frames(random, n)
            found = gap(one.body, at_one, other.body, at_other)
            for k in np.flatnonzero(found.distance < -one.body.radius - CLOSE):
                a = at_one.matrix[:, :, k] @ one.body.vertices.T + at_one.origin[:, k, None]
                b = at_other.matrix[:, :, k] @ other.body.vertices.T + at_other.origin[:, k, None]
                difference = (a[:, :, None] - b[:, None, :]).reshape(3, -1).T
                least = -ConvexHull(difference, qhull_options="QJ Pp").equations[:, 3].max()
                assert -found.distance[k] - one.body.radius == pytest.approx(least, abs=1e-5)
                deep += 1
    assert deep > 50


def test_touching() -> None:
    """Faces, ends, edges and corners that just touch, and bodies without length: 0 to rounding."""
    one, rod, can = (
        box((0.0, 0.0, 0.0), (100.0, 60.0, 40.0)),
        capsule((0, 0, 0), (200, 0, 0), 30.0),
        cylinder(0, 80, 50),
    )
    point = capsule((0, 0, 0), (0, 0, 0), 25.0)
    cases = [
        (one, one, (100.0, 0.0, 0.0)),  # face on face
        (one, one, (100.0, 60.0, 0.0)),  # edge on edge
        (one, one, (100.0, 60.0, 40.0)),  # corner on corner
        (rod, rod, (260.0, 0.0, 0.0)),  # end on
        (rod, rod, (50.0, 60.0, 0.0)),  # side by side
        (can, can, (80.0, 0.0, 0.0)),  # end on end
        (can, can, (10.0, 100.0, 0.0)),  # side by side
        (can, one, (80.0, -30.0, 0.0)),
        (rod, can, (230.0, 0.0, 0.0)),
        (point, point, (0.0, 50.0, 0.0)),
        (point, one, (0.0, 0.0, 25.0)),
        (point, can, (-105.0, 0.0, 0.0)),
    ]
    for a, b, place in cases:
        for further, expected in ((0.0, 0.0), (7.0, 7.0)):
            way = np.array(place)
            moved = rigid(np.eye(3)[None], (way + further * way / np.linalg.norm(way))[None])
            found = gap(a, STILL, b, moved)
            if not further:
                assert found.distance[0] == pytest.approx(expected, abs=CLOSE), place
            else:
                assert 0 < found.distance[0] <= expected + CLOSE, place
