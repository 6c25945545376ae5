from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from linkviz.clearance.convex import convex_pieces


def star(radii: list[float]) -> list[tuple[float, float]]:
    """Return a simple outline, hollow as it comes."""
    turn = np.linspace(0.0, 2.0 * np.pi, len(radii), endpoint=False)
    return [(float(r * np.cos(a)), float(r * np.sin(a))) for r, a in zip(radii, turn, strict=True)]


@settings(deadline=None, max_examples=60)
@given(st.lists(st.floats(10.0, 200.0), min_size=4, max_size=14), st.booleans())
def test_pieces_are_convex_and_fill_the_outline(radii: list[float], backwards: bool) -> None:
    outline = star(radii)[:: -1 if backwards else 1]
    pieces = [shapely.Polygon(piece) for piece in convex_pieces(np.array(outline))]
    assert all(piece.convex_hull.area == pytest.approx(piece.area, abs=1e-6) for piece in pieces)
    assert sum(piece.area for piece in pieces) == pytest.approx(shapely.Polygon(outline).area, abs=1e-6)
    assert shapely.union_all(pieces).symmetric_difference(shapely.Polygon(outline)).area < 1e-6


def test_convex_outline_stays_whole() -> None:
    outline = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (50.0, 50.0), (0.0, 50.0)])
    assert len(convex_pieces(outline)) == 1
    assert len(convex_pieces(outline[::-1])) == 1


def test_one_hollow_corner_makes_two_pieces() -> None:
    outline = np.array([(0.0, 0.0), (200.0, 0.0), (200.0, 50.0), (50.0, 50.0), (50.0, 100.0), (0.0, 100.0)])
    assert len(convex_pieces(outline)) == 2
