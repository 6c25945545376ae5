"""Points handed to Qt in one go are the points of the paths, in their order."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from linkviz.painter.polygons import polygons
from linkviz.picture.shapes import Circle, Path, Shape

number = st.floats(-1e6, 1e6, allow_nan=False)
outline = st.lists(st.tuples(number, number), min_size=1, max_size=30).map(tuple)


@given(st.lists(outline, max_size=12))
def test_every_path_gets_its_own_points(outlines: list[tuple[tuple[float, float], ...]]) -> None:
    shapes: list[Shape] = []
    for points in outlines:
        shapes += [Path(points, "bar"), Circle((0.0, 0.0), 1.0, "bar")]
    made = [[(p.x(), p.y()) for p in polygon.toList()] for polygon in polygons(shapes)]
    assert made == [list(points) for points in outlines]
