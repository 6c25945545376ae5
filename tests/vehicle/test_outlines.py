"""Plain geometry of outlines."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from linkviz.vehicle import outlines
from linkviz.vehicle.outlines import area, crossing, doubled_corner, shared_height

SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))


def test_area_has_the_sign_of_the_turn() -> None:
    assert area(SQUARE) == 4.0
    assert area(SQUARE[::-1]) == -4.0


def test_a_bow_tie_crosses_where_it_crosses() -> None:
    assert crossing(((0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0))) == (0, 2, (1.0, 1.0))


@pytest.mark.parametrize(
    "outline",
    [
        ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)),  # a corner on an edge
        ((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 3.0)),  # runs back over itself
        ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 0.0), (-4.0, 4.0)),  # a corner visited again
        ((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)),  # a line
    ],
)
def test_touching_itself_counts_as_crossing(outline: tuple[tuple[float, float], ...]) -> None:
    assert crossing(outline) is not None


@given(
    st.lists(st.floats(0.0, 2 * math.pi), min_size=4, max_size=12, unique_by=lambda a: round(a, 2)),
    st.data(),
)
def test_a_star_shaped_outline_is_simple_until_two_corners_change_places(
    angles: list[float], data: st.DataObject
) -> None:
    angles = sorted(angles)
    gaps = [b - a for a, b in zip(angles, [*angles[1:], angles[0] + 2 * math.pi], strict=True)]
    if min(gaps) < 0.02 or max(gaps) > 3.0:
        return
    ring = [(100 * math.cos(a), 100 * math.sin(a)) for a in angles]
    assert crossing(ring) is None
    index = data.draw(st.integers(0, len(ring) - 1))
    other = (index + 1) % len(ring)
    ring[index], ring[other] = ring[other], ring[index]
    assert crossing(ring) is not None


def test_doubled_corners_are_found() -> None:
    assert doubled_corner(SQUARE) is None
    assert doubled_corner((*SQUARE, SQUARE[0])) == 0
    assert doubled_corner((SQUARE[0], *SQUARE)) == 1


def test_shared_height_is_negative_for_outlines_that_share_none() -> None:
    above = tuple((x, z + 5.0) for x, z in SQUARE)
    assert shared_height(SQUARE, above) == -3.0
    assert shared_height(SQUARE, SQUARE) == 2.0


@pytest.mark.parametrize("seed", range(20))
def test_many_edges_are_looked_at_as_thoroughly_as_few(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """With and without looking at boxes first, the same two edges are found; half of the outlines cross."""
    rng = np.random.default_rng(seed)
    angles = np.sort(rng.uniform(0.0, 2.0 * np.pi, 40))
    radius = rng.uniform(100.0, 300.0, 40)
    corners = [(float(r * np.cos(a)), float(r * np.sin(a))) for a, r in zip(angles, radius, strict=True)]
    if seed % 2:
        corners[5], corners[20] = corners[20], corners[5]
    found = outlines.crossing(corners)
    monkeypatch.setattr(outlines, "FEW", 1000)
    assert outlines.crossing(corners) == found
    assert Polygon(corners).exterior.is_simple == (found is None)
    assert (found is None) == (seed % 2 == 0)
