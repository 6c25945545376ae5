from __future__ import annotations

import math

import pytest

from linkviz.bracket.parts import DropBracket, Joggle
from linkviz.bracket.plates import drop_plates
from linkviz.bracket.valve_plate import ValvePlate, valve_plate
from linkviz.errors import LinkvizError
from linkviz.sheetmetal.plate import Steel

MILD = Steel("ASTM A36", 550.0)


def test_a_straight_bracket_is_one_part_made_twice() -> None:
    (plate,) = drop_plates(DropBracket("test", (90.0, 115.0)), MILD)
    assert plate.count == 2
    assert [(h.name, h.x, h.y) for h in plate.holes] == [
        ("original bolt", 0.0, 0.0),
        ("anchor bolt", 0.0, -45.0),
        ("bar hole 1", 0.0, -90.0),
        ("bar hole 2", 0.0, -115.0),
    ]
    assert plate.blank.extent == pytest.approx((-38.1, -140.0, 38.1, 25.0))


def test_a_side_shift_makes_a_mirrored_pair_with_room_about_every_hole() -> None:
    one, two = drop_plates(DropBracket("test", (90.0,), shift=12.0), MILD)
    assert (one.count, two.count) == (1, 1)
    assert one.holes[2].x == 12.0 and two.holes[2].x == -12.0
    assert one.blank.extent[::2] == pytest.approx((-38.1, 50.1))
    assert two.blank.extent[::2] == pytest.approx((-50.1, 38.1))


@pytest.mark.parametrize("offset", [9.0, -9.0])
def test_a_joggle_moves_the_holes_beyond_it_and_goes_out_or_in(offset: float) -> None:
    joggle = Joggle(offset, math.radians(40.0), 8.0, 70.0)
    (plate,) = drop_plates(DropBracket("test", (130.0,), joggle=joggle), MILD)
    assert [h.y for h in plate.holes[:2]] == [0.0, -45.0]
    assert plate.holes[2].y < -130.0
    assert plate.finished(plate.holes[2].at)[1] == pytest.approx(-130.0)
    assert plate.bend_lines[0].up == (offset > 0)
    assert plate.profile.place(plate.profile.end).off == pytest.approx(offset)


def test_a_joggle_that_does_not_fit_is_refused() -> None:
    with pytest.raises(LinkvizError, match="smaller"):
        drop_plates(DropBracket("test", (130.0,), joggle=Joggle(2.0, math.radians(45.0))), MILD)
    with pytest.raises(LinkvizError, match="longer"):
        drop_plates(DropBracket("test", (60.0,), joggle=Joggle(9.0, math.radians(45.0), start=80.0)), MILD)


@pytest.mark.parametrize("lean", [0.0, 30.0, 60.0])
def test_every_rise_of_a_valve_plate_is_a_rise(lean: float) -> None:
    plate = valve_plate(ValvePlate(42.0, (38.1, 50.8, 76.2), lean=math.radians(lean)), MILD)
    heights = [plate.finished(h.at)[1] for h in plate.holes]
    assert heights == pytest.approx([0.0, 0.0, 38.1, 38.1, 50.8, 50.8, 76.2, 76.2])
    assert {abs(h.x) for h in plate.holes} == {21.0}
    # the plate goes on beyond the last hole by its margin, seen square to the first flat
    assert max(y for _, y in plate.finished_outline()) == pytest.approx(76.2 + 15.0)


def test_rises_that_make_no_bracket_are_refused() -> None:
    for rises in ((), (50.0, 40.0), (-10.0,)):
        with pytest.raises(LinkvizError, match="smallest first"):
            valve_plate(ValvePlate(40.0, rises), MILD)
    with pytest.raises(LinkvizError, match="lies in the bend"):
        valve_plate(ValvePlate(40.0, (22.0,), lean=0.7), MILD)
