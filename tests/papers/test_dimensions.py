"""Dimensions lie where they measure."""

from __future__ import annotations

import pytest

from linkviz.papers.dimensions import level, upright
from linkviz.papers.shapes import Polyline, Shape, Text


def ends(shapes: list[Shape], y: float) -> tuple[float, float]:
    """Return from where to where lines lie at a height."""
    us = [x for s in shapes if isinstance(s, Polyline) and all(v == y for _, v in s.points) for x, _ in s.points]
    return min(us), max(us)


def test_a_wide_dimension_lies_between_its_points() -> None:
    shapes = level((60.0, 5.0), (0.0, 0.0), 20.0, "60")
    assert ends(shapes, 20.0) == (0.0, 60.0)
    text = next(s for s in shapes if isinstance(s, Text))
    assert (text.at[0], text.anchor) == (30.0, "centre")


def test_a_narrow_dimension_has_arrows_from_outside_and_its_figure_beside() -> None:
    shapes = level((10.0, 0.0), (13.0, 0.0), 20.0, "3")
    assert ends(shapes, 20.0) == (5.0, 18.0)
    text = next(s for s in shapes if isinstance(s, Text))
    assert text.at[0] > 18.0
    # the points of both arrow heads are the ends of what is measured
    heads = [s.points for s in shapes if isinstance(s, Polyline) and len(s.points) > 2]
    assert len(heads) == 2
    for points, x, way in zip(heads, (10.0, 13.0), (-1.0, 1.0), strict=True):
        assert any(p == pytest.approx((x, 20.0)) for p in points)
        assert all((p[0] - x) * way >= -1e-9 for p in points)


def test_an_upright_dimension_is_a_level_one_stood_up() -> None:
    lines = [s for s in upright((0.0, 0.0), (5.0, 60.0), 20.0, "60") if isinstance(s, Polyline)]
    along = [y for s in lines if all(x == pytest.approx(20.0) for x, _ in s.points) for _, y in s.points]
    assert (min(along), max(along)) == pytest.approx((0.0, 60.0))
