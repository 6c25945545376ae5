from __future__ import annotations

import math

import pytest

from linkviz.errors import LinkvizError
from linkviz.session.typed import in_other_unit, polar_of, typed_corner

LAST = (100.0, 300.0)


def test_a_place_and_a_way_from_the_last_corner() -> None:
    assert typed_corner("place", "rear", ("12.5", '3 1/2"'), LAST, "mm") == pytest.approx((12.5, 88.9))
    assert typed_corner("from", "side", ("-20", "15mm"), LAST, "mm") == (80.0, 315.0)
    assert typed_corner("from", "side", ("1", ""), LAST, "in") == pytest.approx((125.4, 300.0))


def test_an_angle_is_what_is_seen() -> None:
    # 0 to the right: forward in the side view, but to the vehicle's right, -y, in the rear view
    assert typed_corner("polar", "side", ("50", "0"), LAST, "mm") == (150.0, 300.0)
    assert typed_corner("polar", "rear", ("50", "0"), LAST, "mm") == (50.0, 300.0)
    assert typed_corner("polar", "rear", ("50", "90"), LAST, "mm") == (100.0, 350.0)
    for view in ("rear", "side"):
        corner = typed_corner("polar", view, ("80", "30"), LAST, "mm")
        assert polar_of(view, LAST, corner) == pytest.approx((80.0, math.radians(30.0)))


@pytest.mark.parametrize(
    ("way", "texts", "last", "words"),
    [
        ("from", ("1", "2"), None, "no corner yet"),
        ("place", ("", ""), LAST, "Type y and z"),
        ("place", ("1", ""), LAST, "z is missing"),
        ("polar", ("1", ""), LAST, "angle is missing"),
        ("place", ("1", "tall"), LAST, "not a length"),
    ],
)
def test_what_is_missing_is_said(way, texts, last, words) -> None:
    with pytest.raises(LinkvizError, match=words):
        typed_corner(way, "rear", texts, last, "mm")


@pytest.mark.parametrize(
    ("text", "there"),
    [("25.4", "1"), ("90 mm", "90 mm"), ('3"', '3"'), ("", ""), ("12.7, 25.4, 5 mm", "0.5, 1, 5 mm"), ("abc", "abc")],
)
def test_a_length_means_the_same_in_the_other_unit(text: str, there: str) -> None:
    assert in_other_unit(text, "mm", "in", many="," in text) == there


def test_a_unit_that_is_the_same_changes_nothing() -> None:
    assert in_other_unit("1234.5", "mm", "mm") == "1234.5"


def test_a_list_that_may_be_two_stays_as_it_is_typed() -> None:
    assert in_other_unit("76,2; 101.6", "mm", "in", many=True) == "3, 4"
    assert in_other_unit("76,2, 90", "mm", "in", many=True) == "76,2, 90"
    assert in_other_unit("1,000", "mm", "in") == "1,000"
