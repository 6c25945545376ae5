from __future__ import annotations

import math

import pytest

from linkviz.bracket.bolts import SIZES
from linkviz.bracket.lengths import bent, hole_to_bend, shortest_drops
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
    joggled = BRACKET.replace(fit="inside", joggle=Joggle(offset=6.35, angle=math.radians(40.0), start=50.0))
    bounds = shortest_drops(joggled, FRAME, BAR)
    assert bounds[0].key == "joggle"
    assert bounds[0].drop > shortest_drops(BRACKET, FRAME, BAR)[0].drop
    assert [bound.drop for bound in bounds] == sorted((bound.drop for bound in bounds), reverse=True)


def test_a_far_anchor_pushes_the_hole_down() -> None:
    assert shortest_drops(BRACKET.replace(anchor=60.0), FRAME, BAR)[0].key == "anchor_sleeve"
    assert shortest_drops(BRACKET.replace(anchor=60.0), None, None)[0].key == "spacing"


def test_the_joggle_and_both_holes_keep_their_distance_on_the_flat_pattern() -> None:
    """The shortest drop with a joggle, laid out by the sheet-metal rules, just passes them."""
    joggle = Joggle(offset=6.35, angle=math.radians(40.0), inside_radius=6.0, start=0.0)
    joggled = BRACKET.replace(fit="inside", joggle=joggle)
    shape = bent(joggle, joggled.thickness)
    arc = shape.neutral.length(shape.angle, shape.inside, shape.thickness)
    need = 2.0 * joggled.thickness + joggle.inside_radius
    drop = shortest_drops(joggled, FRAME, BAR)[0].drop
    start = joggled.anchor + hole_to_bend(SIZES[joggled.anchor_bolt].hole, shape)
    assert start + arc / 2 - joggled.anchor - SIZES[joggled.anchor_bolt].hole / 2 == pytest.approx(need)
    end = start + shape.axial
    assert drop - SIZES[joggled.bar_bolt].hole / 2 - (end - arc / 2) == pytest.approx(need)
