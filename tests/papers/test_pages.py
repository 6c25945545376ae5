"""Every page of every paper: nothing over anything or beyond the frame, dark enough, and the words that must be."""

from __future__ import annotations

import itertools
import re
from functools import lru_cache
from typing import Any

import numpy as np
import pytest

from linkviz.analysis.setup import Setup
from linkviz.papers.heading import Heading
from linkviz.papers.letters import bounds
from linkviz.papers.order import order
from linkviz.papers.pdf import pdf
from linkviz.papers.registry import PAPERS, papers_of
from linkviz.papers.shapes import SIZES, Clip, Page, Text
from tests.papers.look import words
from tests.papers.orders import SETUP, order_of
from tests.vehicles import random_vehicle

PRINTED = [paper for paper in PAPERS if paper.pages is not None]
CASES = [
    (0, "mm", "a4", "plain"),
    (0, "in", "letter", "bare"),
    (1, "in", "letter", "bent"),
    (2, "mm", "a4", "bent"),
    (2, "mm", "letter", "plain"),
    (1, "in", "a4", "plain"),
]


@lru_cache(maxsize=64)
def pages(name: str, case: tuple[int, str, str, str]) -> tuple[Page, ...]:
    (paper,) = papers_of((name,))
    assert paper.pages is not None
    which, unit, size, kind = case
    return paper.pages(order_of(which, unit, size, kind))


def texts(page: Page) -> list[Text]:
    return [shape for shape in page.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("paper", PRINTED, ids=lambda p: p.name)
def test_no_words_lie_on_others_and_nothing_leaves_the_frame(paper: Any, case: Any) -> None:
    made = pages(paper.name, case)
    assert 1 <= len(made) <= 10
    assert_readable(made, case[2])


def assert_readable(made: tuple[Page, ...], size: str) -> None:
    """Find words that lie on others, and anything beyond the frame."""
    for number, page in enumerate(made, 1):
        assert (page.width, page.height) == SIZES[size]
        for shape in page.shapes:
            x0, y0, x1, y1 = bounds(shape)
            inside = x0 >= 19.9 and y0 >= 9.9 and x1 <= page.width - 9.9 and y1 <= page.height - 9.9
            assert inside, f"page {number}: {shape} at {x0:.1f} {y0:.1f} {x1:.1f} {y1:.1f}"
        for one, two in itertools.combinations(texts(page), 2):
            ax0, ay0, ax1, ay1 = bounds(one)
            bx0, by0, bx1, by1 = bounds(two)
            over = min(ax1, bx1) - max(ax0, bx0) > 0.2 and min(ay1, by1) - max(ay0, by0) > 0.4
            assert not over, f"page {number}: {one.text!r} lies on {two.text!r}"


def test_pages_of_random_vehicles_are_readable_too() -> None:
    rng = np.random.default_rng(17)
    for paper, unit in (("a4", "mm"), ("letter", "in"), ("a4", "in")):
        drop, shift = float(rng.uniform(20.0, 300.0)), float(rng.choice([0.0, -25.0, 60.0]))
        setup = Setup(lift=float(rng.uniform(0.0, 180.0)), drop=drop, shift=shift, bar_longer=4.0, valve_rise=60.0)
        heading = Heading("J 17/3", "", "", "a vehicle", unit, paper)  # type: ignore[arg-type]
        holes = tuple(sorted(float(hole) for hole in rng.uniform(40.0, 260.0, 3)))
        found = order(random_vehicle(rng, 0.3), setup, heading, holes=holes)
        for printed in PRINTED:
            assert printed.pages is not None
            assert_readable(printed.pages(found), paper)


@pytest.mark.parametrize("paper", PRINTED, ids=lambda p: p.name)
def test_words_are_dark_enough_for_any_printer(paper: Any) -> None:
    def shown(shapes: Any) -> Any:
        for shape in shapes:
            if isinstance(shape, Text):
                yield shape
            elif isinstance(shape, Clip):
                yield from shown(shape.shapes)

    for page in pages(paper.name, CASES[0]):
        for text in shown(page.shapes):
            r, g, b = (int(text.colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
            # relative luminance of WCAG 2, whose contrast to white is 4.5 at 0.183
            linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in (r, g, b)]
            assert 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] <= 0.183, text


@pytest.mark.parametrize("paper", PRINTED, ids=lambda p: p.name)
def test_every_page_says_whose_it_is(paper: Any) -> None:
    for number, text in enumerate(words(pdf(pages(paper.name, CASES[2]), "test")), 1):
        for said in ("2026-114", "A. Customer, counter", "2026-11-25", "Hill Cruiser (invented)", "inches"):
            assert said in text
        assert re.search(rf"\b{number} of \d", text)


@lru_cache(maxsize=64)
def said(name: str, case: Any) -> str:
    return " ".join(" ".join(words(pdf(pages(name, case), "test"))).split())


def test_the_shop_drawing_has_every_list() -> None:
    found = said("drawing", CASES[2])
    for head in (
        "Cut list",
        "Holes and drills",
        "Bending, in this order",
        "Jig",
        "Welds",
        "Hardware",
        "Bending and layout",
        "Strength",
    ):
        assert head in found
    for word in ("kg", "US tons", "DIN 6935", "lbf ft", "Shigley", "qualified welder", "11/16 in", "bend 2"):
        assert word in found, word
    assert "Bending, in this order" not in said("drawing", CASES[0])


def test_the_shop_drawing_gives_the_figures_of_the_plates() -> None:
    found = order_of(*CASES[3])
    text = said("drawing", CASES[3])
    for plate in found.plates:
        assert f"{plate.mass:.2f} kg" in text
        for hole in plate.holes:
            assert f"{hole.x:.1f}, {hole.y + 0.0:.1f}" in text
    assert found.kit is not None
    for bolt in found.kit.bolts:
        assert f"{bolt.torque_plain / 1000.0:.0f} N m / {bolt.torque_plated / 1000.0:.0f} N m" in text


def test_the_fitting_sheet_says_what_to_drill_and_to_look_again() -> None:
    text = said("fitting", CASES[0])
    for word in (
        "BEFORE YOU BEGIN",
        "stands",
        "original bolt",
        "then 15.5 mm",
        "35.0 mm below",
        "licensed mechanic",
        "AFTERWARDS",
    ):
        assert word in text, word
    assert "Re-check the torque" in text and "local law" in text
    assert "Hang the bar in bar hole 1" in said("fitting", CASES[3])


@pytest.mark.parametrize("case", CASES)
def test_the_customer_sheet_is_one_page_of_the_same_sentences(case: Any) -> None:
    made = pages("customer", case)
    assert len(made) == 1
    text = said("customer", case)
    found = order_of(*case).findings
    for sentence in found.sentences:
        assert sentence.text in text
    for caution in found.cautions:
        assert caution in text
    assert "What this does not do" in text


def test_the_packing_list_counts_nuts_and_washers() -> None:
    text = said("packing", CASES[0])
    # two bolts M12 and one M14
    assert "2 lock nut M12, grade 10.9" in text and "4 hardened washer M12" in text
    assert "1 lock nut M14, grade 10.9" in text and "2 hardened washer M14" in text
    assert "2 sleeve beside the eye" in text


def test_what_was_taken_and_not_measured_is_said_where_it_matters() -> None:
    for name in ("drawing", "fitting", "packing"):
        text = said(name, CASES[1])
        assert "NOT MEASURED" in text
        assert "Frame bracket: 1.969 in wide inside" in text
        assert "NOT MEASURED" not in said(name, (1, "in", "letter", "bent"))
    assert "SIZES TAKEN, NOT MEASURED" in said("template", CASES[1])


def test_what_is_not_kept_stands_on_every_paper_of_the_shop() -> None:
    weak = (1, "in", "letter", "bent")
    found = order_of(*weak)
    assert found.over and found.over[0].endswith("of what is allowed.")
    for name in ("drawing", "fitting", "packing"):
        text = said(name, weak)
        assert "NOT KEPT. DO NOT MAKE OR FIT" in text
        assert all(sentence in text for sentence in found.over)
    assert "Do not drill" in said("template", weak)
    (cut,) = papers_of(("cut",))
    assert b"NOT KEPT: " in cut.files(found)[0].data
    # one that keeps everything says nothing of the kind
    assert order_of(2).over == ()
    assert "NOT KEPT" not in said("drawing", (2, "mm", "letter", "plain"))


def test_a_raised_axle_end_is_said_not_to_be_made() -> None:
    found = order_of(0, "mm", "a4", "plain", Setup(lift=100.0, drop=60.0, axle_raise=30.0))
    for name in ("drawing", "packing"):
        (paper,) = papers_of((name,))
        text = " ".join(" ".join(words(paper.files(found)[0].data)).split())
        assert "raises the axle end of the bar by 30.0 mm is not on these papers" in text


def test_strength_is_not_told_without_the_mass_on_the_axle() -> None:
    found = order_of()
    bare = found.comparison.vehicle.replace(mass=None)
    made = order(bare, SETUP, found.heading)
    assert made.kit is not None and not made.kit.cases
    (paper,) = papers_of(("drawing",))
    text = " ".join(" ".join(words(paper.files(made)[0].data)).split())
    assert "Not looked at: the mass on the rear axle was not measured" in text


def test_a_vehicle_without_parts_has_a_customer_sheet_and_no_other() -> None:
    found = order_of(0, "mm", "a4", "plain", Setup(lift=100.0))
    assert [paper.name for paper in PAPERS if not paper.missing(found)] == ["customer"]
    (paper,) = papers_of(("customer",))
    assert len(paper.files(found)) == 1


def test_a_long_name_is_made_to_fit() -> None:

    found = order_of()
    long = found.replace(heading=found.heading.replace(customer="A very long name indeed " * 6, job="17/" * 30))
    for paper in PRINTED:
        assert paper.pages is not None
        for page in paper.pages(long):
            assert max(bounds(text)[2] for text in texts(page)) <= page.width - 10.0
