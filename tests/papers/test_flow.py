from __future__ import annotations

import pytest

from linkviz.papers import letters
from linkviz.papers.dimensions import spread
from linkviz.papers.flow import TICK, Flow
from linkviz.papers.heading import Heading
from linkviz.papers.shapes import Polyline, Text


def said(flow: Flow) -> list[list[str]]:
    return [[s.text for s in page.shapes if isinstance(s, Text)] for page in flow.pages()]


def test_text_turns_the_page_and_nothing_is_lost() -> None:
    flow = Flow(Heading(), "test")
    sentences = [f"sentence {k} " + "word " * 30 for k in range(60)]
    for sentence in sentences:
        flow.text(sentence)
    pages = said(flow)
    assert len(pages) > 1
    assert " ".join(" ".join(t for t in page) for page in pages).count("sentence") == 60
    assert f"1 of {len(pages)}" in pages[0]


def test_a_table_repeats_its_head_and_keeps_its_rows_whole() -> None:
    flow = Flow(Heading(), "test")
    flow.table(("A", "B"), [(f"row {k}", "long text " * 12) for k in range(60)], (1, 2))
    pages = said(flow)
    assert len(pages) > 1
    assert all(page.count("A") == 1 for page in pages)
    assert sum(text.startswith("row ") for page in pages for text in page) == 60


def test_a_frame_of_text_stays_on_one_page() -> None:
    flow = Flow(Heading(), "test")
    flow.space(flow.left_over - 20.0)
    flow.text("before")
    flow.boxed("TITLE", ["one " * 40, "two " * 40])
    first, second = said(flow)
    assert "before" in first
    assert "TITLE" in second and any(text.startswith("two") for text in second)


@pytest.mark.parametrize("left", range(8, 50, 3))
def test_a_heading_is_never_alone_above_a_page_break(left: int) -> None:
    flow = Flow(Heading(), "test")
    flow.text("before")
    flow.space(flow.left_over - left)
    flow.section("HEADING")
    flow.table(("A", "B"), [("row", "long text " * 12), ("next", "")], (1, 2))
    pages = [page for page in said(flow) if "HEADING" in page]
    assert len(pages) == 1 and "A" in pages[0] and "row" in pages[0]


def test_a_square_to_tick_is_drawn() -> None:
    flow = Flow(Heading(), "test")
    flow.table(("", "what"), [(TICK, "bolt")], (1, 5))
    squares = [
        s
        for s in flow.pages()[0].shapes
        if isinstance(s, Polyline) and s.closed and s.points[1][0] - s.points[0][0] == 3
    ]
    assert len(squares) == 1
    assert TICK not in said(flow)[0]


def test_lines_are_no_wider_than_the_room() -> None:
    lines = letters.wrapped("a few words and " + "x" * 200 + " at the end", 60.0, 3.0)
    assert max(letters.width(line, 3.0) for line in lines) <= 60.0
    assert "".join(lines).replace(" ", "") == "afewwordsand" + "x" * 200 + "attheend"


def test_figures_in_a_column_keep_apart_and_in_order() -> None:
    places = spread([100.0, 99.0, 98.0, 50.0, 49.9], 4.0)
    assert places == pytest.approx([103.0, 99.0, 95.0, 51.95, 47.95])
    assert spread([], 4.0) == []
    assert spread([10.0, 5.0], 4.0) == [10.0, 5.0]
