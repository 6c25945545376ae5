from __future__ import annotations

import pytest

from linkviz.session.motion import PERIOD_S, time_of, travel_at

WINDOW = (-90.0, 85.0)


def test_a_cycle_touches_both_ends_and_comes_back() -> None:
    assert travel_at(PERIOD_S / 4, WINDOW) == pytest.approx(85.0)
    assert travel_at(3 * PERIOD_S / 4, WINDOW) == pytest.approx(-90.0)
    assert travel_at(PERIOD_S, WINDOW) == pytest.approx(travel_at(0.0, WINDOW))


@pytest.mark.parametrize("travel", [-90.0, -40.0, 0.0, 33.0, 85.0])
def test_play_goes_on_from_where_the_axle_stands(travel: float) -> None:
    assert travel_at(time_of(travel, WINDOW), WINDOW) == pytest.approx(travel)


def test_travel_outside_the_window_counts_as_its_end() -> None:
    assert travel_at(time_of(500.0, WINDOW), WINDOW) == pytest.approx(85.0)


def test_a_window_without_width_stands_still() -> None:
    assert time_of(5.0, (0.0, 0.0)) == 0.0
    assert travel_at(1.0, (0.0, 0.0)) == 0.0
