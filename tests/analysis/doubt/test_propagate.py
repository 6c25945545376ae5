from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.doubt.propagate import Input, draws, propagate, shares, shortest, summary, symmetric

PAIR = [Input("a", 1.0, 2.0), Input("b", -3.0, 0.5, "normal")]


def test_the_seed_tells_everything() -> None:
    assert np.array_equal(draws(PAIR, 50, 3), draws(PAIR, 50, 3))
    assert not np.array_equal(draws(PAIR, 50, 3), draws(PAIR, 50, 4))


def test_an_input_more_leaves_the_others_alone() -> None:
    assert np.array_equal(draws([*PAIR, Input("c", 0.0, 1.0)], 50, 3)[:, :2], draws(PAIR, 50, 3))


def test_rectangular_draws_stay_within_their_limits() -> None:
    column = draws(PAIR, 10_000, 1)[:, 0]
    assert -1.0 <= column.min() < -0.99
    assert 2.99 < column.max() <= 3.0


def test_no_spread_is_the_value() -> None:
    assert (draws([Input("a", 4.0, 0.0)], 10, 0) == 4.0).all()


def test_portions_do_not_show() -> None:
    values = propagate(lambda rows: rows.sum(axis=1), PAIR, 250_000, 2)
    assert np.array_equal(values, draws(PAIR, 250_000, 2).sum(axis=1))


def test_several_results_at_once() -> None:
    assert propagate(lambda rows: rows[:, [1, 0, 1]], PAIR, 7, 2).shape == (7, 3)


def test_symmetric_interval_leaves_as_many_below_as_above() -> None:
    values = np.random.default_rng(0).permutation(np.arange(1, 1001)).astype(float)
    low, high = symmetric(values)
    assert (values < low).sum() == 24 and (values > high).sum() == 25
    assert ((values >= low) & (values <= high)).sum() == 951


def test_symmetric_interval_along_curves() -> None:
    values = np.random.default_rng(1).normal(size=(400, 3))
    low, high = symmetric(values)
    for i in range(3):
        assert (low[i], high[i]) == symmetric(values[:, i])


def test_whole_coverage_is_every_value() -> None:
    values = np.array([3.0, 1.0, 2.0])
    assert symmetric(values, 1.0) == (1.0, 3.0)
    assert shortest(values, 1.0) == (1.0, 3.0)


def test_shortest_is_no_longer_and_leans_to_where_values_crowd() -> None:
    values = np.random.default_rng(2).exponential(size=20_000)
    low, high = symmetric(values)
    short = shortest(values)
    assert short[1] - short[0] < high - low
    assert short[0] < 0.01 < low


def test_shares_of_what_does_not_vary() -> None:
    rows = draws([*PAIR, Input("still", 5.0, 0.0)], 300, 1)
    share, explained = shares(rows, np.full(300, 8.0))
    assert (share == 0.0).all() and explained == 1.0
    share, explained = shares(rows, rows[:, 0] + 10.0 * rows[:, 2])
    assert share == pytest.approx([1.0, 0.0, 0.0], abs=1e-9)
    assert explained == pytest.approx(1.0)


def test_shares_admit_what_a_line_does_not_explain() -> None:
    rows = draws([Input("a", 0.0, 1.0), Input("b", 0.0, 1.0)], 5000, 1)
    share, explained = shares(rows, rows[:, 0] ** 2)
    assert explained < 0.02
    assert (share < 0.02).all()


def test_too_few_trials() -> None:
    with pytest.raises(ValueError, match="two trials"):
        propagate(lambda rows: rows[:, 0], PAIR, 1, 0)
    with pytest.raises(ValueError, match="two trials"):
        summary(np.array([1.0]))
