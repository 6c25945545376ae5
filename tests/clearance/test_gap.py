"""The gap between tube and solid: worked by hand, and its properties over drawn cases."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linkviz.clearance.gap import Gap, gap
from linkviz.clearance.solid import Solid

# a block: x 0..20, y -5..5, z 0..10
BLOCK = Solid.from_outlines([(-5, 0), (5, 0), (5, 10), (-5, 10)], [(0, 0), (20, 0), (20, 10), (0, 10)])
# an ell in rear view: y 0..10, z 0..4 below and y 0..4, z 4..10 above; x 0..20
ELL = Solid.from_outlines([(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)], [(0, 0), (20, 0), (20, 10), (0, 10)])
COMB = [(0, 0), (9, 0), (9.5, 6), (6, 6.5), (6, 2), (3, 2), (3, 6), (0, 6)]
HOLLOW = Solid.from_outlines(COMB, [(0, -1), (8, 0), (9, 7), (4, 3), (1, 8)])
SOLIDS = {"block": BLOCK, "ell": ELL, "hollow": HOLLOW}


def one(solid: Solid, p: tuple[float, ...], q: tuple[float, ...], radius: float = 0.0) -> Gap:
    return gap(solid, np.array([p], dtype=float), np.array([q], dtype=float), radius)


def check(found: Gap, distance: float, on_shaft: tuple[float, ...], on_solid: tuple[float, ...]) -> None:
    assert found.distance[0] == pytest.approx(distance, abs=1e-9)
    assert found.on_shaft[0] == pytest.approx(on_shaft, abs=1e-9)
    assert found.on_solid[0] == pytest.approx(on_solid, abs=1e-9)


def test_over_a_face() -> None:
    # the low end stands 3 over the top, inside its rim
    check(one(BLOCK, (10, 0, 13), (10, 2, 40), 1), 2, (10, 0, 12), (10, 0, 10))


def test_parallel_to_a_face() -> None:
    found = one(BLOCK, (2, -30, 14), (2, 30, 14), 1.5)
    assert found.distance[0] == pytest.approx(2.5)
    assert found.on_shaft[0, 2] == pytest.approx(12.5) and found.on_solid[0, 2] == pytest.approx(10)
    assert -5 <= found.on_solid[0, 1] <= 5 and found.on_solid[0, 0] == pytest.approx(2)


def test_across_an_edge() -> None:
    # along (1, -1) in (y, z) past the edge y = 5, z = 10: the line y + z = 21 lies 6/sqrt(2) from (5, 10)
    found = one(BLOCK, (7, 3, 18), (7, 15, 6), 1)
    check(found, 6 / np.sqrt(2) - 1, (7, 8 - 1 / np.sqrt(2), 13 - 1 / np.sqrt(2)), (7, 5, 10))


def test_off_a_corner() -> None:
    # nearest corner (20, 5, 10); the axis starts at (1, 2, 2) from it and leads away
    check(one(BLOCK, (21, 7, 12), (31, 27, 32), 1.5), 1.5, (20.5, 6, 11), (20, 5, 10))


def test_end_on() -> None:
    check(one(BLOCK, (10, 0, 16), (10, 0, 60), 2), 4, (10, 0, 14), (10, 0, 10))


def test_no_length() -> None:
    check(one(BLOCK, (10, 0, 16), (10, 0, 16), 2), 4, (10, 0, 14), (10, 0, 10))
    check(one(BLOCK, (10, 0, 9), (10, 0, 9), 2), -3, (10, 0, 7), (10, 0, 10))


def test_touching() -> None:
    assert one(BLOCK, (2, -30, 12), (2, 30, 12), 2).distance[0] == pytest.approx(0, abs=1e-12)


def test_skin_in_but_axis_out_is_how_deep_the_skin_is() -> None:
    found = one(BLOCK, (10, 0, 11), (10, 2, 40), 3)
    check(found, -2, (10, 0, 8), (10, 0, 10))


def test_axis_flush_with_a_face() -> None:
    found = one(BLOCK, (10, -30, 10), (10, 30, 10), 3)
    assert found.distance[0] == pytest.approx(-3)
    assert found.on_solid[0, 2] == pytest.approx(10) and -5 <= found.on_solid[0, 1] <= 5
    assert found.on_shaft[0] - found.on_solid[0] == pytest.approx([0, 0, -3])


def test_axis_end_on_the_surface() -> None:
    check(one(BLOCK, (10, 0, 10), (10, 0, 50), 3), -3, (10, 0, 7), (10, 0, 10))


def test_axis_right_through() -> None:
    # through the block along y, 3 below the top and 7 over the bottom
    found = one(BLOCK, (10, -30, 7), (10, 30, 7), 2)
    assert found.distance[0] == pytest.approx(-5)
    assert found.on_solid[0] == pytest.approx([10, 0, 10]) and found.on_shaft[0] == pytest.approx([10, 0, 5])


def test_axis_dips_in_and_is_deepest_at_its_end() -> None:
    check(one(BLOCK, (10, 0, 8), (10, 0, 40), 1), -3, (10, 0, 7), (10, 0, 10))


def test_tilted_axis_is_deepest_where_two_faces_are_equally_far() -> None:
    # z = 10 + (y - 1) / 2 below the top, out through the side y = -5: 10 - z = y + 5 at y = -3, z = 8
    found = one(BLOCK, (10, -9, 5), (10, 31, 25), 1)
    assert found.distance[0] == pytest.approx(-3, abs=2e-8)
    skin = np.hypot(*(found.on_shaft[0] - [10, -3, 8])[1:])
    assert skin == pytest.approx(1, abs=1e-6)


def test_in_the_notch_of_an_ell() -> None:
    # y = 7, z = 6 in the notch: 2 over the shelf, 3 off the wall
    check(one(ELL, (5, 7, 6), (15, 7, 6), 0.5), 1.5, (5, 7, 5.5), (5, 7, 4))


def test_below_the_hollow_corner_the_corner_is_nearest() -> None:
    # inside at y = 2, z = 2 the outer faces are 2 off; at (3, 3): shelf and wall do not reach it, corner sqrt(2)
    check(one(ELL, (10, 3, 3), (10, 3, 3), 0), -np.sqrt(2), (10, 3, 3), (10, 4, 4))


def test_deepest_point_between_outside_and_hollow_corner() -> None:
    # on the diagonal y = z of the ell: t from the outside, sqrt(2) (4 - t) from the corner
    t = 4 * np.sqrt(2) / (1 + np.sqrt(2))
    found = one(ELL, (10, 0, 0), (10, 10, 10), 1)
    assert found.distance[0] == pytest.approx(-1 - t, abs=2e-8)


def test_inner_walls_between_slabs_are_no_surface() -> None:
    # corners at many heights cut the same block into slabs; the depth must not see them
    rear = [(-5, 0), (5, 0), (5, 3), (5, 7), (5, 10), (-5, 10), (-5, 5), (-5, 4)]
    cut = Solid.from_outlines(rear, [(0, 0), (20, 0), (20, 2), (20, 10), (0, 10), (0, 6)])
    assert one(cut, (10, 0, 5), (10, 0, 5)).distance[0] == pytest.approx(-5)


@pytest.mark.parametrize("bad", [np.nan, np.inf])
def test_what_is_no_number_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        one(BLOCK, (bad, 0, 0), (0, 0, 0), 1)
    with pytest.raises(ValueError, match="negative"):
        one(BLOCK, (0, 0, 0), (0, 0, 0), -1)


def test_no_states() -> None:
    found = gap(BLOCK, np.zeros((0, 3)), np.zeros((0, 3)), 1.0)
    assert found.distance.shape == (0,) and found.on_shaft.shape == (0, 3) and found.on_solid.shape == (0, 3)


def test_many_states_are_the_single_ones() -> None:
    rng = np.random.default_rng(4)
    p, q = rng.uniform(-10, 20, (7000, 3)), rng.uniform(-10, 20, (7000, 3))
    many = gap(HOLLOW, p, q, 1.0)
    for i in range(0, 7000, 501):
        single = gap(HOLLOW, p[i : i + 1], q[i : i + 1], 1.0)
        assert many.distance[i] == pytest.approx(single.distance[0], abs=1e-7)


@pytest.mark.parametrize("name", SOLIDS)
def test_never_above_and_close_to_what_sampling_the_axis_gives(name: str) -> None:
    # plain point by point: distance of a point from every face as a pair of triangles
    solid = SOLIDS[name]
    rng = np.random.default_rng(7)
    p, q = rng.uniform(-4, 14, (60, 3)), rng.uniform(-4, 14, (60, 3))
    found = gap(solid, p, q, 0.0).distance
    t = np.linspace(0, 1, 601)[:, None]
    depths = 0
    for i in range(60):
        points = p[i] + t * (q[i] - p[i])
        halves = [face[list(c)] for face in solid.faces for c in ((0, 1, 2), (0, 2, 3))]
        least = np.min([from_triangle(points, *half) for half in halves], axis=0)
        sampled = np.where(solid.contains(points), -least, least).min()
        depths += sampled < 0
        assert found[i] <= sampled + 1e-7
        assert found[i] >= sampled - np.linalg.norm(q[i] - p[i]) / 1200 - 1e-7
    assert 10 < depths < 55


@pytest.mark.parametrize("size", [1e-12, 1e-10, 3e-10, 1e-9, 3e-9, 1e-8, 1e-7, 1e-6, 1e-3])
@pytest.mark.parametrize("name", SOLIDS)
def test_corners_a_hair_off_change_the_gap_by_a_hair(name: str, size: float) -> None:
    # corners nearly at one height make slabs nearly without height, and faces nearly without area
    solid = SOLIDS[name]
    rng = np.random.default_rng(3)
    for _ in range(12):
        near = Solid.from_outlines(*(o + rng.uniform(-size, size, o.shape) for o in (solid.rear, solid.side)))
        p, q = rng.integers(-4, 14, (2, 40, 3)).astype(float)
        q[:10], q[10:20, :2], q[20:30, 1:] = p[:10], p[10:20, :2], p[20:30, 1:]
        here, there = gap(solid, p, q, 1.0).distance, gap(near, p, q, 1.0).distance
        assert np.abs(here - there).max() < 2 * size + 2e-7


def from_triangle(points: np.ndarray, a: np.ndarray, b: np.ndarray, c: np.ndarray) -> np.ndarray:
    least = np.full(len(points), np.inf)
    for u, v in itertools.pairwise((a, b, c, a)):
        along = v - u
        size = along @ along
        t = np.clip((points - u) @ along / size, 0, 1) if size > 0 else np.zeros(len(points))
        least = np.minimum(least, np.linalg.norm(points - u - t[:, None] * along, axis=1))
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal)
    if size < 1e-9:
        return least
    over = np.ones(len(points), dtype=bool)
    for u, v in itertools.pairwise((a, b, c, a)):
        over &= (points - u) @ np.cross(normal, v - u) >= 0
    return np.where(over, np.abs((points - a) @ normal) / size, least)


places = st.floats(-40, 40, allow_nan=False).map(lambda v: round(v, 3))
points3 = st.tuples(places, places, places)
names = st.sampled_from(sorted(SOLIDS))


@settings(deadline=None, max_examples=150)
@given(names, points3, points3, st.floats(0, 10))
def test_radius_is_taken_off_and_the_points_lie_where_they_should(name: str, p, q, radius: float) -> None:
    solid = SOLIDS[name]
    bare, thick = one(solid, p, q), one(solid, p, q, radius)
    assert thick.distance[0] == pytest.approx(bare.distance[0] - radius, abs=3e-8)
    assert from_segment(thick.on_shaft[0], np.array(p), np.array(q)) == pytest.approx(radius, abs=1e-6)
    onto = gap(solid, thick.on_solid, thick.on_solid, 0.0)
    assert onto.distance[0] == pytest.approx(0, abs=1e-6)
    if bare.distance[0] > 1e-6:
        apart = np.linalg.norm(thick.on_shaft[0] - thick.on_solid[0])
        assert apart == pytest.approx(abs(thick.distance[0]), abs=1e-6)


def from_segment(point: np.ndarray, p: np.ndarray, q: np.ndarray) -> float:
    along = q - p
    size = along @ along
    t = np.clip((point - p) @ along / size, 0, 1) if size > 0 else 0.0
    return float(np.linalg.norm(point - p - t * along))


@settings(deadline=None, max_examples=100)
@given(names, points3, points3)
def test_ends_may_be_swapped(name: str, p, q) -> None:
    solid = SOLIDS[name]
    assert one(solid, p, q, 1).distance[0] == pytest.approx(one(solid, q, p, 1).distance[0], abs=3e-8)


@settings(deadline=None, max_examples=100)
@given(points3, points3, st.floats(-500, 500), st.floats(-500, 500))
def test_shifted_together_nothing_changes(p, q, forward: float, left: float) -> None:
    shifted = Solid.from_outlines(HOLLOW.rear + np.array([left, 0]), HOLLOW.side + np.array([forward, 0]))
    shift = np.array([forward, left, 0])
    here = one(HOLLOW, p, q, 1).distance[0]
    there = one(shifted, tuple(p + shift), tuple(q + shift), 1).distance[0]
    assert there == pytest.approx(here, abs=1e-6)


@settings(deadline=None, max_examples=100)
@given(points3, points3)
def test_mirrored_together_nothing_changes(p, q) -> None:
    mirrored = Solid.from_outlines(HOLLOW.rear * np.array([-1, 1]), HOLLOW.side)
    flip = np.array([1, -1, 1])
    there = one(mirrored, tuple(p * flip), tuple(q * flip), 1).distance[0]
    assert there == pytest.approx(one(HOLLOW, p, q, 1).distance[0], abs=1e-6)


@settings(deadline=None, max_examples=150)
@given(names, points3, points3, points3, st.floats(0, 0.5))
def test_moved_a_little_the_gap_changes_no_more(name: str, p, q, way, size: float) -> None:
    # the gap is never steeper than the movement: so it has no jump, at touching either
    solid = SOLIDS[name]
    norm = np.linalg.norm(way)
    shift = size * np.array(way) / norm if norm > 0 else np.zeros(3)
    here, there = one(solid, p, q, 2), one(solid, tuple(p + shift), tuple(q + shift), 2)
    assert abs(there.distance[0] - here.distance[0]) <= size + 1e-7
