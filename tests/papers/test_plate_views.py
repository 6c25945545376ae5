"""Views of a plate on the shop drawing, at a scale."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import shapely

from linkviz.papers.drawing import _BETWEEN, _wide
from linkviz.papers.heading import Heading
from linkviz.papers.letters import bounds, extent
from linkviz.papers.plate_views import View, bent_view, edge_view, flat_view
from linkviz.papers.shapes import THICK, Polyline, Text
from linkviz.units import Unit
from tests.papers.orders import SETUP, order_of

HEADING = Heading("1", "2026-11-25", "A. Customer", "a wagon (invented)", "mm", "a4")


def uprights(view: View) -> Iterator[float]:
    """Yield where upright lines stand."""
    for shape in view.shapes:
        if isinstance(shape, Polyline) and len(shape.points) == 2 and shape.pen != THICK:
            (x0, y0), (x1, y1) = shape.points
            if abs(x0 - x1) < 1e-9 and abs(y0 - y1) > 0.1:
                yield x0


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_the_thickness_is_given_at_the_faces(scale: float) -> None:
    kit = order_of().kit
    assert kit is not None
    plate = kit.plates[0]
    view = edge_view(plate, HEADING, scale)
    half = plate.thickness * scale / 2.0
    for face in (-half, half):
        assert any(x == pytest.approx(face) for x in uprights(view))
    assert HEADING.exact(plate.thickness) in {shape.text for shape in view.shapes if isinstance(shape, Text)}


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_a_pair_of_holes_is_given_from_middle_to_middle(scale: float) -> None:
    valve = order_of().valve
    assert valve is not None
    (far,) = {round(abs(hole.x), 6) for hole in valve.holes}
    view = flat_view(valve, HEADING, scale)
    top = max(shape.at[1] for shape in view.shapes if isinstance(shape, Text) and shape.text == HEADING.exact(2 * far))
    lines = [s.points for s in view.shapes if isinstance(s, Polyline) and len(s.points) == 2]
    # the lines that lead from the holes to the dimension
    ends = {round(a[0], 6) for a, b in lines if a[0] == b[0] and max(a[1], b[1]) > top - 2.0}
    assert {-far * scale, far * scale} <= ends


def test_a_hole_off_the_middle_is_given_from_an_edge_and_led_out_from_itself() -> None:
    kit = order_of(setup=SETUP.replace(shift=5.0)).kit
    assert kit is not None
    plate = kit.plates[0]
    left = plate.blank.extent[0]
    assert left + plate.blank.extent[2] == pytest.approx(5.0)
    view = flat_view(plate, HEADING, 0.5)
    assert HEADING.exact(-left) in {shape.text for shape in view.shapes if isinstance(shape, Text)}
    # the line to the dimension begins at the bar's hole, and not at the height of the bolt above it
    bar = next(hole for hole in plate.holes if abs(hole.x) > 1.0)
    upright = [s.points for s in view.shapes if isinstance(s, Polyline) and len(s.points) == 2]
    lowest = min(min(a[1], b[1]) for a, b in upright if a[0] == b[0] == pytest.approx(0.5 * bar.x) and b[1] > 0)
    assert lowest == pytest.approx(0.5 * bar.y, abs=1.0)


def crossed(view: View) -> Iterator[str]:
    """Yield every text that a line runs through."""
    lines = [shapely.LineString(s.points) for s in view.shapes if isinstance(s, Polyline) and len(s.points) > 1]
    for text in (shape for shape in view.shapes if isinstance(shape, Text)):
        x0, y0, x1, y1 = extent(text)
        inside = shapely.box(x0 + 0.2, y0 + 0.5, x1 - 0.2, y1 - 0.2)
        yield from (text.text for line in lines if line.intersects(inside))


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("scale", [0.2, 0.4, 0.5, 1.0])
@pytest.mark.parametrize("kind", ["plain", "bent"])
@pytest.mark.parametrize("shift", [0.0, 5.0, -12.0])
def test_no_line_runs_through_a_figure(unit: Unit, scale: float, kind: str, shift: float) -> None:
    heading = HEADING.replace(unit=unit)
    for plate in order_of(1, unit, kind=kind, setup=SETUP.replace(shift=shift)).plates:
        views = [flat_view(plate, heading, scale), edge_view(plate, heading, scale)]
        views += [bent_view(plate, heading, scale)] if plate.bend_lines else []
        for view in views:
            assert not list(crossed(view)), plate.name
            for shape in view.shapes:
                x0, y0, x1, y1 = bounds(shape)
                assert view.extent[0] <= x0 + 0.01 and x1 <= view.extent[2] + 0.01, plate.name
                assert view.extent[1] <= y0 + 0.5 and y1 <= view.extent[3] + 0.5, plate.name


def test_a_row_is_as_wide_as_its_views_and_what_is_between() -> None:
    view = View((), (0.0, 0.0, 40.0, 10.0))
    assert _wide([("one", view)]) == 40.0
    assert _wide([("one", view), ("two", view.replace(extent=(5.0, 0.0, 15.0, 1.0)))]) == 50.0 + _BETWEEN
