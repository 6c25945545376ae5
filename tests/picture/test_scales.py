from __future__ import annotations

import numpy as np
import pytest

from linkviz.picture.scales import nice_step, span, ticks


@pytest.mark.parametrize(("wide", "step"), [(10.0, 2.0), (24.0, 5.0), (0.9, 0.2), (175.0, 50.0), (110.0, 25.0)])
def test_steps_are_round(wide: float, step: float) -> None:
    assert nice_step(wide) == pytest.approx(step)


def test_ticks_are_inside_and_evenly_apart() -> None:
    found = ticks(-17.0, 38.0, 6)
    assert found == [-10.0, 0.0, 10.0, 20.0, 30.0]


def test_everything_is_shown_with_room_and_zero_where_it_is_near() -> None:
    low, high = span([np.array([2.0, 12.0]), np.array([np.nan, -3.0])], 1.0)
    assert low < -3.0
    assert high > 12.0
    assert span([np.array([1.0, 12.0])], 1.0)[0] < 0.0
    low, high = span([np.array([500.0, 600.0])], 1.0)
    assert 480.0 < low < 500.0 < 600.0 < high < 620.0


def test_rounding_errors_are_no_hills() -> None:
    low, high = span([np.array([1e-12, -1e-12])], 2.0)
    assert high - low == pytest.approx(2.0)
    assert span([np.array([np.nan])], 2.0) == (-2.0, 2.0)


def test_what_runs_to_infinity_does_not_flatten_the_rest() -> None:
    values = np.array([1000.0, 2000.0, 4000.0, 300_000.0, -np.inf, -5000.0, -2000.0])
    low, high = span([values], 1.0, unbounded=True)
    assert -7000.0 < low < -5000.0
    assert 4000.0 < high < 6000.0
    assert span([values], 1.0)[1] > 300_000.0
