from __future__ import annotations

import itertools
import random

import pytest

from linkviz.bracket.bolts import SIZES, hole_step
from linkviz.bracket.holes import fewest_holes


def bands(lifts: list[float], half: float) -> list[tuple[float, float] | None]:
    return [(lift - half, lift + half) for lift in lifts]


def test_every_hole_says_what_it_serves() -> None:
    lifts = [50.0, 75.0, 100.0, 125.0]
    found = fewest_holes(lifts, bands(lifts, 13.0), lifts, 25.0, 40.0, 200.0)
    assert [hole.serves for hole in found.holes] == [(50.0, 75.0), (100.0, 125.0)]
    assert found.drops == pytest.approx((62.5, 112.5))
    assert not found.unserved


@pytest.mark.parametrize("seed", range(20))
def test_no_smaller_set_serves_as_much(seed: int) -> None:
    draw = random.Random(seed)
    lifts = sorted(draw.uniform(40.0, 150.0) for _ in range(7))
    half = draw.uniform(4.0, 20.0)
    found = fewest_holes(lifts, bands(lifts, half), lifts, 0.0, 0.0, 400.0)
    assert not found.unserved
    for lift in lifts:
        assert any(abs(drop - lift) <= half + 1e-9 for drop in found.drops)
    # an optimal cover may always use the upper ends of bands
    tops = [lift + half for lift in lifts]
    for count in range(1, len(found.holes)):
        for drops in itertools.combinations(tops, count):
            assert not all(any(abs(drop - lift) <= half + 1e-9 for drop in drops) for lift in lifts)


def test_holes_keep_their_step_and_say_what_that_costs() -> None:
    lifts = [60.0, 70.0, 80.0, 90.0]
    found = fewest_holes(lifts, bands(lifts, 2.0), lifts, 25.0, 40.0, 200.0)
    assert all(b - a >= 25.0 - 1e-9 for a, b in itertools.pairwise(found.drops))
    assert found.unserved and "nearer to each other than they may" in found.why and found.step == 25.0
    assert {lift for hole in found.holes for lift in hole.serves} | set(found.unserved) == set(lifts)


def test_lifts_outside_the_bounds_are_told() -> None:
    found = fewest_holes([50.0, 300.0], [(45.0, 55.0), (290.0, 310.0)], [50.0, 300.0], 25.0, 60.0, 150.0)
    assert found.holes == () and found.unserved == (50.0, 300.0)
    assert "shorter or longer" in found.why


@pytest.mark.parametrize("key", ["1/2-13", "M12"])
def test_one_inch_steps_are_what_the_edge_distances_allow(key: str) -> None:
    """Common practice, no published source: holes stand 1 in apart. Half-inch bolts allow that, to 1/16 in."""
    assert hole_step(SIZES[key]) == pytest.approx(25.4, abs=25.4 / 16)


def test_a_band_that_ends_at_a_bound_is_served() -> None:
    found = fewest_holes([50.0, 100.0], [(40.0, 60.0), (90.0, 110.0)], [50.0, 100.0], 25.0, 60.0, 90.0)
    assert found.drops == (60.0, 90.0) and not found.unserved
    out = fewest_holes([50.0, 100.0], [(40.0, 59.9), (90.1, 110.0)], [50.0, 100.0], 25.0, 60.0, 90.0)
    assert out.drops == () and out.unserved == (50.0, 100.0)
