"""Templates read back from the PDF: geometry and scale bars to 0.05 mm, on both papers and across tiles."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from linkviz.papers.heading import Heading
from linkviz.papers.pdf import pdf
from linkviz.papers.plate_views import flat_view
from linkviz.papers.template import BARS, OVERLAP, SAID, Sheet, template_pages, window
from linkviz.papers.templates import templates
from linkviz.sheetmetal.clearance_holes import clearance_hole
from linkviz.sheetmetal.plate import Plate
from tests.papers.look import circles, lines, size, words
from tests.papers.orders import order_of
from tests.sheetmetal.plates import joggled

PAPERS = ("a4", "letter")
CLOSE = 0.05


def bar(data: bytes, number: int, length: float) -> list[float]:
    """Return the lengths of the level lines on a page that are within 1 mm of a length."""
    found = [points for points in lines(data, number) if len(points) == 2 and size(points)[1] < 1e-3]
    return [size(points)[0] for points in found if abs(size(points)[0] - length) < 0.8]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", ["plain", "bent"])
def test_every_page_has_both_bars_and_says_to_measure_them(paper: Any, unit: Any, kind: str) -> None:
    data = pdf(templates(order_of(1, unit, paper, kind)), "test")
    for number, text in enumerate(words(data)):
        assert 100.0 in [pytest.approx(found, abs=0.01) for found in bar(data, number, 100.0)]
        assert 101.6 in [pytest.approx(found, abs=0.01) for found in bar(data, number, 101.6)]
        assert SAID in text and "100 mm" in text and "4 in" in text


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_holes_of_a_plate_on_one_sheet(paper: Any, unit: Any) -> None:
    found = order_of(0, unit, paper)
    data = pdf(templates(found), "test")
    plate = found.plates[0]
    by_size: dict[float, list[Any]] = {}
    for hole in plate.holes:
        by_size.setdefault(hole.diameter, []).append(hole)
    places = []
    for diameter, holes in by_size.items():
        seen = circles(data, 1, diameter)
        assert len(seen) == len(holes)
        places += zip(sorted(holes, key=lambda h: -h.y), seen, strict=True)
    origin = np.array(places[0][1]) - np.array(places[0][0].at)
    for hole, at in places:
        assert np.array(at) - origin == pytest.approx(np.array(hole.at), abs=CLOSE)
    x0, y0, x1, y1 = plate.blank.extent
    outlines = [size(points) for points in lines(data, 1)]
    assert any(np.allclose(found, (x1 - x0, y1 - y0), atol=CLOSE) for found in outlines)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_guide_sets_the_anchor_hole_below_the_original_one(paper: Any) -> None:
    found = order_of(0, "mm", paper)
    assert found.kit is not None
    bracket = found.kit.bracket
    data = pdf(templates(found), "test")
    (first,) = circles(data, 0, clearance_hole(bracket.bolt).diameter)
    (second,) = circles(data, 0, clearance_hole(bracket.anchor_bolt).diameter)
    assert (first[0] - second[0], first[1] - second[1]) == pytest.approx((0.0, bracket.anchor), abs=CLOSE)


def large() -> Plate:
    """Return a plate larger than any paper both ways."""
    return joggled(drops=(300.0, 420.0, 520.0), width=260.0, shift=40.0, offset=12.0)


def tiles(paper: Any) -> tuple[bytes, Plate, tuple[float, float, float, float], tuple[int, int]]:
    heading = Heading(paper=paper, vehicle="test")
    plate = large()
    view = flat_view(plate, heading, 1.0)
    pages = template_pages([Sheet("large plate", view, ("note",))], heading, "Templates")
    x0, y0, x1, y1 = window(heading)
    room = (x0, y0, x1, y1 - 6.0 - 2 * 4.2)
    steps = (room[2] - room[0] - OVERLAP, room[3] - room[1] - OVERLAP)
    across = math.ceil((view.width - OVERLAP) / steps[0])
    down = math.ceil((view.height - OVERLAP) / steps[1])
    assert len(pages) == across * down
    return pdf(pages, "test"), plate, room, (across, down)


@pytest.mark.parametrize("paper", PAPERS)
def test_tiles_laid_together_give_the_plate(paper: Any) -> None:
    data, plate, room, (across, down) = tiles(paper)
    step = np.array([room[2] - room[0] - OVERLAP, -(room[3] - room[1] - OVERLAP)])
    assert across > 1 and down > 1
    laid: set[tuple[float, float]] = set()
    for row in range(down):
        for column in range(across):
            for at in circles(data, row * across + column, 13.5):
                place = np.array(at) + step * (column, row)
                if not any(math.dist(place, other) < CLOSE for other in laid):
                    laid.add((float(place[0]), float(place[1])))
    seen, holes = np.array(sorted(laid)), np.array(sorted(h.at for h in plate.holes))
    assert seen - seen[0] == pytest.approx(holes - holes[0], abs=CLOSE)
    assert all(bar(data, number, 100.0) and bar(data, number, 101.6) for number in range(across * down))


@pytest.mark.parametrize("paper", PAPERS)
def test_marks_of_neighbours_lie_on_one_another(paper: Any) -> None:
    data, _, room, (across, down) = tiles(paper)
    step = np.array([room[2] - room[0] - OVERLAP, -(room[3] - room[1] - OVERLAP)])

    def marks(column: int, row: int) -> set[tuple[float, float]]:
        found = circles(data, row * across + column, 4.0)
        return {tuple(np.round(np.array(at) + step * (column, row), 2)) for at in found}

    for row in range(down):
        for column in range(across):
            if column + 1 < across:
                assert len(near(marks(column, row), marks(column + 1, row))) == 3
            if row + 1 < down:
                assert len(near(marks(column, row), marks(column, row + 1))) == 3


def near(one: set[tuple[float, float]], other: set[tuple[float, float]]) -> list[tuple[float, float]]:
    return [a for a in one if any(math.dist(a, b) < CLOSE for b in other)]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_bit_of_the_sheet_is_on_some_tile(paper: Any) -> None:
    heading = Heading(paper=paper)
    view = flat_view(large(), heading, 1.0)
    _, _, room, (across, down) = tiles(paper)
    wide, high = room[2] - room[0], room[3] - room[1]
    assert across * (wide - OVERLAP) + OVERLAP >= view.width
    assert down * (high - OVERLAP) + OVERLAP >= view.height


def test_the_strip_of_bars_lies_below_the_window() -> None:
    _, low, _, _ = window(Heading())
    assert low == pytest.approx(10.0 + 21.0 + BARS)
