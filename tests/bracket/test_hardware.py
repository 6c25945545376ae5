"""Lengths and torques of hardware, worked out by hand beside each."""

from __future__ import annotations

import math

import pytest

from linkviz.bracket.bolts import find_size
from linkviz.bracket.defaults import default_bracket
from linkviz.bracket.hardware import fasteners, pieces, stock_length, thread_length
from linkviz.bracket.parts import BarEnd, FrameBracket
from linkviz.errors import LinkvizError

FRAME = FrameBracket(46.0, 5.0, 49.0, 80.0, "M12")
BAR = BarEnd(46.0, 36.0, "M12")
BRACKET = default_bracket(FRAME, BAR, (98.0,))


def test_grip_length_and_shank() -> None:
    original, anchor, bar = fasteners(BRACKET, FRAME, BAR)
    # 46 between, two frame plates of 5, two of the bracket's of 8
    assert [b.grip for b in (original, anchor, bar)] == [72.0, 72.0, 72.0]
    # under the head: 72 + 2 washers of 3 + a nut of 13.2 + two threads of 1.75 = 94.7; 100 is sold
    assert original.length == 100.0
    # thread 2 x 12 + 6 = 30; the farther shear plane is a plate of 8 before the far washer: 3 + 72 - 8 = 67
    assert original.sold_as == "100 mm"
    assert (original.shank, original.shear_at) == (70.0, 67.0)
    assert original.threads_clear and original.tightens
    # M14 x 100 would have its thread in the shear plane (100 - 34 = 66), so the next length is taken
    assert (anchor.bolt, anchor.length, anchor.shank) == ("M14", 110.0, 76.0)


def test_plates_inside_grip_the_frame_bracket_alone() -> None:
    original, _, bar = fasteners(BRACKET.replace(fit="inside"), FRAME, BAR)
    assert original.grip == 56.0
    # the eye, wider than what is between the plates, spreads the bar's bolt
    assert bar.grip == 46.0 + 16.0


def test_torque_is_k_f_d() -> None:
    original = fasteners(BRACKET, FRAME, BAR)[0]
    # 0.2 x 0.75 x 830 MPa x 84.3 mm2 x 12 mm
    assert original.torque_plain == pytest.approx(0.2 * 0.75 * 830.0 * 84.3 * 12.0, rel=2e-3)
    assert original.torque_plated == pytest.approx(0.75 * original.torque_plain)


def test_inch_bolts_come_in_quarter_inches() -> None:
    size = find_size("1/2-13")
    assert stock_length(size, 3.6 * 25.4) == pytest.approx(3.75 * 25.4)
    assert thread_length(size, 3.75 * 25.4) == pytest.approx(1.25 * 25.4)
    assert thread_length(size, 7.0 * 25.4) == pytest.approx(1.5 * 25.4)


def test_an_inch_bolt_is_asked_for_in_inches() -> None:
    frame = FRAME.replace(bolt="1/2-13")
    bracket = default_bracket(frame, BAR.replace(bolt="1/2-13"), (98.0,))
    # plates of 5/16 in: 46 + 10 + 15.9 between the washers, 95.8 mm or 3.77 in under the head
    assert [b.sold_as for b in fasteners(bracket, frame, BAR)] == ["4 in"] * 3


def test_where_no_length_keeps_the_thread_out_the_shortest_is_taken_and_told() -> None:
    # grip of 20: 2 x 12 + 6 of thread leaves no shank that reaches the shear plane and still lets the nut down
    size = find_size("M12")
    assert stock_length(size, 43.0, 39.0, 40.0 - 1.5) == 45.0


def test_a_bolt_longer_than_any_is_refused() -> None:
    with pytest.raises(LinkvizError, match="off the shelf"):
        fasteners(BRACKET, FRAME.replace(inside_width=300.0), BAR)


def test_pieces_fill_what_is_between() -> None:
    found = {p.name: p for p in pieces(BRACKET, FRAME, BAR)}
    tube = found["spacer tube, original bolt"]
    assert tube.size == (30.0, 6.0, 46.0)
    assert tube.mass == pytest.approx(math.pi / 4.0 * (30.0**2 - 18.0**2) * 46.0 * 7850e-9)
    # 56 between the plates, an eye of 46: 5 on either side
    assert (found["sleeve beside the eye"].count, found["sleeve beside the eye"].size[2]) == (2, 5.0)
    strip = found["brace strip, outboard edges"]
    assert strip.size == (72.0, 8.0, 98.0 - 52.0)
    assert strip.mass == pytest.approx(72.0 * 8.0 * 46.0 * 7850e-9)
    assert "sleeve beside the eye" not in {p.name for p in pieces(BRACKET, FRAME, BAR.replace(eye_width=56.0))}
