from __future__ import annotations

import numpy as np
import pytest
import shapely
from scipy.spatial import cKDTree

from linkviz.clearance.gap import gap
from linkviz.clearance.solid import Solid
from linkviz.clearance.zone import Region, Zone, interference_zone, line_distance
from tests.segments import segment_distance

BOX = Solid.from_outlines([(0, 0), (100, 0), (100, 50), (0, 50)], [(0, 0), (200, 0), (200, 50), (0, 50)])


def shape(regions: tuple[Region, ...]) -> shapely.Geometry:
    return shapely.union_all([shapely.Polygon(r.outer, r.holes) for r in regions])


def test_a_tube_alongside_touches_a_strip() -> None:
    """Axis along x, 6 mm outside the face y = 0 at mid height, radius 10: a strip 4 mm deep and 16 mm high."""
    zone = interference_zone(BOX, np.array([[-50.0, -6.0, 25.0]]), np.array([[250.0, -6.0, 25.0]]), 10.0, 5.0, step=0.5)
    rear = shape(zone.touched_rear)
    assert rear.bounds == pytest.approx((0.0, 17.0, 4.0, 33.0), abs=0.1)
    segment = 100.0 * np.arccos(0.6) - 6.0 * 8.0
    assert rear.area == pytest.approx(segment, rel=0.02)
    assert shape(zone.touched_side).bounds == pytest.approx((0.0, 17.0, 200.0, 33.0), abs=0.3)
    assert shape(zone.near_rear).intersection(rear).area == pytest.approx(0.0, abs=1e-6)
    assert shape(zone.near_rear).bounds[2] == pytest.approx(9.0, abs=0.1)
    assert zone.touched


def test_near_but_not_touched() -> None:
    zone = interference_zone(BOX, np.array([[0.0, -12.0, 25.0]]), np.array([[200.0, -12.0, 25.0]]), 10.0, 5.0, step=0.5)
    assert not zone.touched
    assert zone.near_rear
    assert zone.near_side


def test_far_away_is_nothing() -> None:
    zone = interference_zone(BOX, np.array([[0.0, -80.0, 25.0]]), np.array([[200.0, -80.0, 25.0]]), 10.0, 5.0)
    assert zone == type(zone)()


def test_against_points_of_the_solid() -> None:
    """Random points of a hollow solid: those inside a tube project into the zone, in both views."""
    rear = [(0, 0), (120, 0), (120, 90), (60, 90), (60, 40), (0, 60)]
    side = [(0, 0), (200, 10), (180, 90), (20, 80)]
    solid = Solid.from_outlines(rear, side)
    random = np.random.default_rng(4)
    p = random.uniform((-60, -40, 0), (-20, 60, 90), (9, 3))
    q = random.uniform((220, -40, 0), (260, 60, 90), (9, 3))
    zone = interference_zone(solid, p, q, 15.0, 8.0, step=1.0)
    points = random.uniform((0, 0, 0), (200, 120, 90), (60_000, 3))
    points = points[solid.contains(points)]
    distance = np.min([segment_distance(points, np.zeros(3), a, b - a) for a, b in zip(p, q, strict=True)], axis=0)
    for regions, columns in ((zone.touched_rear, (1, 2)), (zone.touched_side, (0, 2))):
        touched = shape(regions)
        shapely.prepare(touched)
        deep = points[distance < 14.0][:, columns]
        assert len(deep) > 1000
        assert shapely.contains_xy(touched.buffer(2.0), *deep.T).all()
        # And no more than that: every place in the zone has a touched point of the solid near it.
        hits = cKDTree(points[distance < 15.5][:, columns])
        low_u, low_v, high_u, high_v = touched.bounds
        u, v = (a.ravel() for a in np.meshgrid(np.linspace(low_u, high_u, 60), np.linspace(low_v, high_v, 60)))
        within = shapely.contains_xy(touched, u, v)
        far = hits.query(np.stack([u, v], axis=1)[within])[0] > 4.0
        assert within.sum() > 500
        assert far.mean() < 0.02


# rear view: a wide board (z 0..20) and on it a narrow post (y 0..10); in side view the board is long, the post short
POST = Solid.from_outlines([(0, 0), (80, 0), (80, 20), (10, 20), (10, 60), (0, 60)],
                           [(0, 0), (200, 0), (200, 20), (30, 20), (30, 60), (0, 60)])  # fmt: skip


def test_the_third_direction_counts() -> None:
    """A tube upright behind the short post, over the long board: it touches the board only, in both views."""
    zone = interference_zone(POST, np.array([[100.0, 5.0, 8.0]]), np.array([[100.0, 5.0, 90.0]]), 6.0, 0.0, step=1.0)
    rear, side = shape(zone.touched_rear), shape(zone.touched_side)
    assert rear.bounds == pytest.approx((0.0, 2.0, 11.0, 20.0), abs=0.1)
    assert side.bounds == pytest.approx((94.0, 2.0, 106.0, 20.0), abs=0.1)
    half_disc = np.pi * 36 / 2
    assert side.area == pytest.approx(half_disc + 12 * 12, rel=0.01)
    assert not zone.near_rear and not zone.near_side


def test_the_zone_ends_at_a_step_of_the_other_outline_whatever_the_grid() -> None:
    """The tube stands over the board at x = 100 and z = 20 is where the post begins: nothing leaks above it."""
    for step in (1.0, 3.0, 7.0):
        zone = interference_zone(
            POST, np.array([[100.0, 5.0, 8.0]]), np.array([[100.0, 5.0, 90.0]]), 6.0, 0.0, step=step
        )
        assert shape(zone.touched_rear).bounds[3] == pytest.approx(20.0, abs=1e-3)


def test_a_tube_round_which_nothing_is_touched_leaves_a_hole_in_what_is_near() -> None:
    """What is touched is left out of what is near: an end-on tube makes a disc in a ring."""
    zone = interference_zone(BOX, np.array([[-50.0, 50.0, 25.0]]), np.array([[250.0, 50.0, 25.0]]), 10.0, 6.0, step=0.5)
    (touched,), (near,) = zone.touched_rear, zone.near_rear
    assert touched.holes == () and len(near.holes) == 1
    assert shape((touched,)).area == pytest.approx(np.pi * 100, rel=0.01)
    assert shape((near,)).area == pytest.approx(np.pi * (256 - 100), rel=0.01)


def test_more_states_never_make_less() -> None:
    random = np.random.default_rng(8)
    p = random.uniform((-60, -40, -20), (-20, 60, 60), (24, 3))
    q = random.uniform((220, -40, -20), (260, 60, 60), (24, 3))
    few, all_of_them = (interference_zone(POST, p[:n], q[:n], 8.0, 5.0) for n in (12, 24))
    for name in ("touched_rear", "touched_side"):
        less, more = shape(getattr(few, name)), shape(getattr(all_of_them, name))
        assert less.area > 100
        assert more.area >= less.area
        assert less.difference(more.buffer(1.5)).area == 0


def test_no_state_is_no_zone() -> None:
    assert interference_zone(BOX, np.zeros((0, 3)), np.zeros((0, 3)), 10.0, 5.0) == Zone()


def test_zone_and_gap_agree_on_whether_anything_is_touched_or_near() -> None:
    random = np.random.default_rng(12)
    seen = {"touched": 0, "near": 0, "clear": 0}
    for _ in range(120):
        p, q = random.uniform((-60, -60, -60), (260, 140, 120), (2, 3, 3))
        distance = gap(POST, p, q, 8.0).distance.min()
        zone = interference_zone(POST, p, q, 8.0, 12.0, step=1.0)
        if distance < -0.5:
            seen["touched"] += 1
            assert zone.touched_rear and zone.touched_side
        elif 0.01 < distance < 11.5:
            seen["near"] += 1
            assert not zone.touched and zone.near_rear and zone.near_side
        elif distance > 12.01:
            seen["clear"] += 1
            assert zone == Zone()
    assert min(seen.values()) > 5


def test_the_distance_of_lines_is_that_of_segments() -> None:
    random = np.random.default_rng(21)
    for case in range(200):
        p, d = random.uniform(-10, 10, (2, 5, 3))
        d[0, case % 3] = 0.0
        d[1] = 0.0
        d[2, [0, 2]] = 0.0
        d[3, 1:] = 0.0
        u, height = random.uniform(-10, 10, 7), random.uniform(-10, 10)
        start, end = np.sort(random.uniform(-10, 10, 2))
        ours = line_distance(u, height, start, end, np.concatenate([p[:, [1, 2, 0]], d[:, [1, 2, 0]]], axis=1).T)
        a = np.stack([np.full(7, start), u, np.full(7, height)], axis=1)
        theirs = segment_distance(p, d, a[:, None], np.array([end - start, 0.0, 0.0])).min(axis=1)
        assert ours == pytest.approx(theirs, abs=1e-9)
