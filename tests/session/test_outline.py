from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from linkviz.session import outline
from linkviz.vehicle.outlines import area, crossing

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
BOW_TIE = ((0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0))

corner = st.tuples(st.integers(-10, 10).map(float), st.integers(-10, 10).map(float))


def test_a_sound_outline_is_taken() -> None:
    assert outline.why_refused(SQUARE) == ""


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        (SQUARE[:2], "at least 3 corners"),
        ((*SQUARE, SQUARE[0]), "same spot"),
        (BOW_TIE, "cross each other"),
        (((0.0, 0.0), (50.0, 0.001), (100.0, 0.0)), "next to nothing"),
    ],
)
def test_what_is_wrong_is_said_in_words(corners: outline.Corners, words: str) -> None:
    assert words in outline.why_refused(corners)


def test_an_open_outline_may_have_two_corners_but_not_cross() -> None:
    assert outline.why_refused(SQUARE[:2], closed=False) == ""
    assert "cross" in outline.why_refused((*BOW_TIE[:3], (0.0, 100.0), (50.0, -10.0)), closed=False)


@given(st.lists(corner, min_size=3, max_size=7, unique=True))
def test_crossing_agrees_with_a_geometry_library(corners: list[outline.Corner]) -> None:
    """Shapely 2 calls an outline simple when its ring touches itself nowhere but at its ends."""
    ring = Polygon(corners).exterior
    flat = any(
        (b[0] - a[0]) * (c[1] - b[1]) == (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in zip(corners, [*corners[1:], corners[0]], [*corners[2:], *corners[:2]], strict=True)
    )
    if not flat:
        assert (crossing(corners) is None) == ring.is_simple


@given(st.lists(corner, min_size=3, max_size=6, unique=True))
def test_area_agrees_with_a_geometry_library(corners: list[outline.Corner]) -> None:
    if crossing(corners) is None:
        assert abs(area(corners)) == pytest.approx(Polygon(corners).area)


def test_corners_snap_to_the_grid() -> None:
    assert outline.snapped((12.4, -7.6), 5.0) == (10.0, -10.0)


def test_small_edits() -> None:
    assert outline.moved(SQUARE, 1, (120.0, -5.0))[1] == (120.0, -5.0)
    assert outline.edge_moved(SQUARE, 3, (-10.0, 0.0)) == ((-10.0, 0.0), SQUARE[1], SQUARE[2], (-10.0, 100.0))
    assert outline.shifted(SQUARE, (1.0, 2.0))[0] == (1.0, 2.0)
    assert outline.inserted(SQUARE, 3, (0.0, 50.0))[-1] == (0.0, 50.0)
    assert outline.removed(SQUARE, 0) == SQUARE[1:]
    assert outline.heights(SQUARE) == (0.0, 100.0)
    assert outline.rectangle(10.0, 20.0, (1.0, 3.0)) == ((0.0, 1.0), (20.0, 1.0), (20.0, 3.0), (0.0, 3.0))


def test_an_outline_of_thousands_of_corners_is_refused_before_its_edges_are_compared() -> None:
    ring = tuple((1000.0 * math.cos(i * 1e-4), 1000.0 * math.sin(i * 1e-4)) for i in range(50_000))
    fault = outline.fault_of(ring)
    assert fault is not None
    assert "50000" in fault.words
    assert outline.fault_of(ring[:: len(ring) // 300]) is None


def test_what_the_pencil_lets_pass_the_vehicle_takes() -> None:
    """An outline that runs back over itself crosses in both: the window does not take what the file would refuse."""
    there_and_back = ((0.0, 300.0), (100.0, 300.0), (50.0, 300.0), (50.0, 500.0))
    fault = outline.fault_of(there_and_back)
    assert fault is not None and "Edges 1 and 2" in fault.words
    assert crossing(there_and_back) is not None
    assert crossing(there_and_back[:2], closed=False) is None
