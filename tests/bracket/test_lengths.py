from __future__ import annotations

import math
from dataclasses import replace

import pytest

from linkviz.bracket.lengths import joggle_length, joggle_needed, shortest_drops
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket, Joggle

FRAME = FrameBracket(inside_width=46.0, thickness=5.0, lip=48.0, width=80.0, bolt="M12")
BAR = BarEnd(eye_width=46.0, eye_diameter=36.0, bolt="M12")
BRACKET = DropBracket("one", (80.0,), anchor=35.0, bolt="M12", bar_bolt="M12")


def test_the_lip_and_the_eye_set_the_shortest_drop() -> None:
    bound = shortest_drops(BRACKET, FRAME, BAR)[0]
    assert bound.key == "lip"
    assert bound.drop == pytest.approx(48.0 + 18.0 + 3.0)
    assert "lip" in bound.words and "48.0" in bound.formula


def test_a_joggle_takes_its_room() -> None:
    joggled = replace(BRACKET, fit="inside", joggle=Joggle(offset=6.35, start=50.0))
    bounds = shortest_drops(joggled, FRAME, BAR)
    assert bounds[0].key == "joggle"
    assert bounds[0].drop > shortest_drops(BRACKET, FRAME, BAR)[0].drop
    assert [bound.drop for bound in bounds] == sorted((bound.drop for bound in bounds), reverse=True)


def test_a_far_anchor_pushes_the_hole_down() -> None:
    assert shortest_drops(replace(BRACKET, anchor=60.0), FRAME, BAR)[0].key == "anchor_sleeve"
    assert shortest_drops(replace(BRACKET, anchor=60.0), None, None)[0].key == "spacing"


@pytest.mark.parametrize("degrees", [20.0, 45.0, 90.0])
def test_a_joggle_drawn_by_hand(degrees: float) -> None:
    """Walk along the middle line: arc, straight, arc back."""
    beta, t, offset, r = math.radians(degrees), 6.0, 30.0, 8.0
    length, web = joggle_length(Joggle(offset, beta, r), t)
    n, along, across, middle = 20_000, 0.0, 0.0, r + t / 2
    for i in range(n):
        turned = beta * (i + 0.5) / n
        along += 2 * middle * beta / n * math.cos(turned)
        across += 2 * middle * beta / n * math.sin(turned)
    assert along + web * math.cos(beta) == pytest.approx(length, abs=1e-5)
    assert across + web * math.sin(beta) == pytest.approx(offset, abs=1e-5)


def test_how_far_plates_must_spread_for_the_eye() -> None:
    assert joggle_needed(replace(BRACKET, fit="inside"), FRAME, BAR) == pytest.approx(BRACKET.thickness)
    assert joggle_needed(BRACKET, FRAME, BAR) == pytest.approx(-FRAME.thickness)
