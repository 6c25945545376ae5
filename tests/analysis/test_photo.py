from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from linkviz.analysis.photo import Photo, filling, photo_faults, placed, placed_by_distance
from linkviz.errors import LinkvizError

number = st.floats(-3000.0, 3000.0)
place = st.tuples(number, number)


@given(st.sampled_from(["rear", "side"]), place, place, place, place, place)
def test_two_known_points_lie_where_they_were_said_to_be(view, p1, p2, q1, q2, other) -> None:
    """The scale and the turn are checked against a least-squares solution of numpy's."""
    assume(math.dist(p1, p2) > 5.0 and math.dist(q1, q2) > 5.0)
    photo = placed(Photo(view=view, path="a.jpg"), (p1, p2), (q1, q2))
    assert photo.to_body(p1) == pytest.approx(q1, abs=1e-6)
    assert photo.to_body(p2) == pytest.approx(q2, abs=1e-6)
    assert photo.to_pixel(photo.to_body(other)) == pytest.approx(other, rel=1e-6, abs=1e-5)
    sign = -1.0 if view == "rear" else 1.0
    rows, values = [], []
    for (px, py), (y, z) in ((p1, q1), (p2, q2)):
        rows += [[px, py, 1.0, 0.0], [-py, px, 0.0, 1.0]]
        values += [sign * y, z]
    a, b, left, top = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)[0]
    assert (photo.left, photo.top) == pytest.approx((left, top), rel=1e-6, abs=1e-5)
    assert photo.scale == pytest.approx(math.hypot(a, b))
    assert math.cos(photo.turn) == pytest.approx(a / math.hypot(a, b), abs=1e-7)


def test_a_known_distance_scales_about_the_first_point() -> None:
    before = Photo(view="rear", path="a.jpg", left=100.0, top=800.0, scale=0.5, turn=0.2)
    after = placed_by_distance(before, ((10.0, 20.0), (310.0, 420.0)), 750.0)
    assert after.scale == pytest.approx(1.5)
    assert after.turn == pytest.approx(0.2)
    assert after.to_body((10.0, 20.0)) == pytest.approx(before.to_body((10.0, 20.0)))
    assert math.dist(after.to_body((10.0, 20.0)), after.to_body((310.0, 420.0))) == pytest.approx(750.0)


def test_a_new_photo_stands_upright_about_the_middle() -> None:
    photo = filling("rear", "a.jpg", (800.0, 600.0), (50.0, 500.0), 900.0)
    assert photo.to_body((400.0, 300.0)) == pytest.approx((50.0, 500.0))
    assert photo.to_body((400.0, 0.0)) == pytest.approx((50.0, 950.0))
    # right on the photo is right of the vehicle: -y
    assert photo.to_body((800.0, 300.0))[0] < 50.0


def test_points_that_place_nothing_are_refused() -> None:
    photo = Photo(view="side", path="a.jpg")
    with pytest.raises(LinkvizError, match="same spot"):
        placed(photo, ((1.0, 1.0), (1.5, 1.0)), ((0.0, 0.0), (100.0, 0.0)))
    with pytest.raises(LinkvizError, match="same"):
        placed(photo, ((1.0, 1.0), (100.0, 1.0)), ((5.0, 5.0), (5.0, 5.0)))
    with pytest.raises(LinkvizError):
        placed_by_distance(photo, ((1.0, 1.0), (100.0, 1.0)), math.nan)


def test_what_makes_no_sense_is_named() -> None:
    photo = Photo(view="side", path="a.jpg")
    assert photo_faults(photo) == ()
    wrong = photo.replace(path=" ", scale=0.0, opacity=1.5)
    assert [key for key, _, _ in photo_faults(wrong)] == ["path", "scale", "opacity"]
