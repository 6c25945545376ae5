"""Arrow heads and badges."""

from __future__ import annotations

import math

import pytest

from linkviz.picture.marks import BADGES, HATCHES, HEAD, arrow
from linkviz.picture.style import styles


def test_the_tip_of_an_arrow_is_its_end() -> None:
    line, head = arrow((0.0, 0.0), (60.0, 0.0))
    assert head[0] == (60.0, 0.0)
    assert line[0] == pytest.approx((0.0, 0.0))
    assert line[1] == pytest.approx((60.0 - HEAD, 0.0))


def test_the_head_of_an_arrow_lies_square_to_it() -> None:
    line, (tip, left, right) = arrow((10.0, 20.0), (40.0, 60.0))  # 50 long, 3 : 4
    base = (tip[0] - 0.6 * HEAD, tip[1] - 0.8 * HEAD)
    assert line[1] == pytest.approx(base)
    assert ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2) == pytest.approx(base)
    assert (left[0] - right[0]) * 0.6 + (left[1] - right[1]) * 0.8 == pytest.approx(0.0)


def test_a_short_arrow_comes_from_beyond_its_tail_and_keeps_its_tip() -> None:
    line, head = arrow((0.0, 0.0), (0.0, 3.0))
    assert head[0] == (0.0, 3.0)
    assert math.dist(line[0], head[0]) == pytest.approx(2.0 * HEAD)
    assert line[0][1] < 0.0


def test_an_arrow_without_length_is_still_an_arrow() -> None:
    _, head = arrow((5.0, 5.0), (5.0, 5.0))
    assert head[0] == (5.0, 5.0)


def test_badges_stay_in_their_square_and_differ_in_shape() -> None:
    assert set(BADGES) == {"ok", "warn", "hit"}
    for outline, strokes in BADGES.values():
        for x, y in (*outline, *(p for stroke in strokes for p in stroke)):
            assert 0.0 <= x <= 1.0
            assert 0.0 <= y <= 1.0
        # regular enough to be filled: three quarters of the square, or the half of it a triangle has
        around = [(a[0] * b[1] - b[0] * a[1]) / 2.0 for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)]
        assert abs(sum(around)) > (0.4 if len(outline) == 3 else 0.7)
    assert len({len(outline) for outline, _ in BADGES.values()}) == 3


def test_every_hatch_a_style_names_is_known_and_the_two_zones_differ() -> None:
    used = {s.hatch for s in styles("light").values() if s.hatch}
    assert used <= set(HATCHES)
    touched, near = (HATCHES[styles("light")[name].hatch] for name in ("touched", "near"))
    assert touched.degrees != near.degrees
