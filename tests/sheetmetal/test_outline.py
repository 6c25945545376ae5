from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from linkviz.errors import LinkvizError
from linkviz.sheetmetal.outline import Arc, Node, Outline, rectangle


def test_area_of_a_rectangle_with_round_corners() -> None:
    # 100 x 50 with corners of 10: 5000 - (4 - pi) 100
    found = rectangle((0.0, 0.0), (100.0, 50.0), 10.0)
    assert found.area == pytest.approx(5000.0 - (4.0 - math.pi) * 100.0, abs=1e-9)
    assert found.centre == pytest.approx((50.0, 25.0))
    assert found.extent == pytest.approx((0.0, 0.0, 100.0, 50.0))


def test_a_bulge_of_a_quarter_turn() -> None:
    bulges = [n.bulge for n in rectangle((0.0, 0.0), (100.0, 50.0), 10.0).nodes if n.bulge]
    assert bulges == pytest.approx([0.414214] * 4, abs=1e-6)
    half = Outline((Node(0.0, 0.0, 1.0), Node(10.0, 0.0, 1.0)))
    assert half.area == pytest.approx(25.0 * math.pi)
    assert half.extent == pytest.approx((0.0, -5.0, 10.0, 5.0))


def ragged(random: np.random.Generator) -> Outline:
    """Return a star with arcs in and out."""
    count = int(random.integers(4, 9))
    nodes = []
    for k in range(count):
        angle, r = 2.0 * math.pi * k / count, random.uniform(60.0, 100.0)
        nodes.append(Node(7.0 + r * math.cos(angle), r * math.sin(angle) - 3.0, random.choice([-0.2, 0.0, 0.15, 0.5])))
    return Outline(tuple(nodes))


def test_area_middle_and_distance_against_shapely(rng: np.random.Generator) -> None:
    for _ in range(30):
        outline = ragged(rng)
        polygon = shapely.Polygon(outline.points(math.radians(0.02)))
        assert outline.area == pytest.approx(polygon.area, rel=1e-6)
        assert outline.centre == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-4)
        assert outline.extent == pytest.approx(polygon.bounds, abs=1e-4)
        at = rng.uniform(-120.0, 120.0, 2)
        assert outline.distance(tuple(at)) == pytest.approx(polygon.exterior.distance(shapely.Point(at)), abs=1e-4)


def test_the_mirror_image_runs_the_same_way(rng: np.random.Generator) -> None:
    outline = ragged(rng)
    mirrored = outline.mirrored()
    assert mirrored.area == pytest.approx(outline.area)
    assert mirrored.centre == pytest.approx((-outline.centre[0], outline.centre[1]))
    turns = sorted(e.turn for e in outline.edges() if isinstance(e, Arc))
    assert sorted(e.turn for e in mirrored.edges() if isinstance(e, Arc)) == pytest.approx(turns)


@pytest.mark.parametrize(("high", "corner"), [((0.0, 10.0), 0.0), ((10.0, 10.0), 6.0), ((10.0, 10.0), -1.0)])
def test_impossible_rectangles_are_refused(high: tuple[float, float], corner: float) -> None:
    with pytest.raises(LinkvizError, match="mm"):
        rectangle((0.0, 0.0), high, corner)


def test_ends_as_round_as_they_are_wide() -> None:
    outline = rectangle((-10.0, 0.0), (10.0, 50.0), 10.0)
    assert outline.area == pytest.approx(20.0 * 30.0 + 100.0 * math.pi)
    assert len(outline.edges()) == 6
