from __future__ import annotations

import pytest

from linkviz.bracket.parts import DropBracket, FrameBracket, Joggle

FRAME = FrameBracket(inside_width=46.0, thickness=5.0, lip=48.0, width=80.0)


@pytest.mark.parametrize(("fit", "top"), [("inside", 46.0 - 2 * 6.0), ("outside", 46.0 + 2 * 5.0)])
def test_the_plates_stand_apart_as_they_are_fitted(fit: str, top: float) -> None:
    bracket = DropBracket("one", (75.0,), thickness=6.0, fit=fit)  # type: ignore[arg-type]
    assert bracket.inside_top(FRAME) == top
    assert bracket.inside_bottom(FRAME) == top


def test_the_spacer_tube_is_welded_where_it_reaches_the_plates() -> None:
    """Inside: between the plates. Outside: the frame bracket's plates, 5 mm each, stand between it and the plates."""
    nested = DropBracket("one", (75.0,), thickness=6.0, fit="inside")
    assert (nested.tube_welded, nested.tube_length(FRAME)) == (True, nested.inside_top(FRAME))
    astride = nested.replace(fit="outside")
    assert (astride.tube_welded, astride.tube_length(FRAME)) == (False, 46.0)
    assert astride.inside_top(FRAME) - astride.tube_length(FRAME) == 2 * 5.0


def test_a_brace_is_never_shorter_than_four_legs() -> None:
    bracket = DropBracket("one", (75.0,), brace_start=55.0, weld_leg=5.0)
    assert [bracket.brace_length(drop) for drop in (50.0, 74.9, 75.0, 100.0)] == [0.0, 0.0, 20.0, 45.0]
    assert bracket.replace(brace=False).brace_length(100.0) == 0.0


def test_a_joggle_sets_both_plates_off() -> None:
    bracket = DropBracket("one", (75.0,), thickness=6.0, fit="inside", joggle=Joggle(offset=6.0))
    assert bracket.inside_bottom(FRAME) == FRAME.inside_width
    narrower = bracket.replace(fit="outside", joggle=Joggle(offset=-5.0))
    assert narrower.inside_bottom(FRAME) == FRAME.inside_width


def test_holes_are_kept_in_order() -> None:
    bracket = DropBracket("one", (75.0,), end_top=20.0, end_bottom=22.0).with_holes(101.6, 76.2)
    assert bracket.holes == (76.2, 101.6)
    assert bracket.longest == 101.6
    assert bracket.length == pytest.approx(20.0 + 101.6 + 22.0)
