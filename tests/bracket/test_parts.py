from __future__ import annotations

from dataclasses import replace

import pytest

from linkviz.bracket.parts import DropBracket, FrameBracket, Joggle

FRAME = FrameBracket(inside_width=46.0, thickness=5.0, lip=48.0, width=80.0)


@pytest.mark.parametrize(("fit", "top"), [("inside", 46.0 - 2 * 6.0), ("outside", 46.0 + 2 * 5.0)])
def test_the_spacer_tube_is_as_long_as_the_plates_stand_apart(fit: str, top: float) -> None:
    bracket = DropBracket("one", (75.0,), thickness=6.0, fit=fit)  # type: ignore[arg-type]
    assert bracket.inside_top(FRAME) == top
    assert bracket.inside_bottom(FRAME) == top


def test_a_joggle_sets_both_plates_off() -> None:
    bracket = DropBracket("one", (75.0,), thickness=6.0, fit="inside", joggle=Joggle(offset=6.0))
    assert bracket.inside_bottom(FRAME) == FRAME.inside_width
    narrower = replace(bracket, fit="outside", joggle=Joggle(offset=-5.0))
    assert narrower.inside_bottom(FRAME) == FRAME.inside_width


def test_holes_are_kept_in_order() -> None:
    bracket = DropBracket("one", (75.0,), end_top=20.0, end_bottom=22.0).with_holes(101.6, 76.2)
    assert bracket.holes == (76.2, 101.6)
    assert bracket.longest == 101.6
    assert bracket.length == pytest.approx(20.0 + 101.6 + 22.0)
