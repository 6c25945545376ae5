from __future__ import annotations

import numpy as np

from linkviz.brakes import rules


def test_nothing_is_asked_outside_its_range() -> None:
    assert rules.efficient(0.01, 0.1)
    assert rules.efficient(0.01, 0.9)
    assert rules.front_first(0.1, 0.1, 0.9)
    assert rules.front_first(0.85, 0.1, 0.9)
    assert rules.front_first(0.55, 0.1, 0.9, "N1")
    assert rules.van_band(0.65, 0.1, 3.0)


def test_rear_ahead_is_refused() -> None:
    assert not rules.front_first(0.6, 0.5, 0.7)
    assert not rules.front_first(0.2, 0.15, 0.25)
    assert rules.front_first(0.6, 0.7, 0.5)
    assert list(rules.front_first(np.array([0.4, 0.5]), 0.3, 0.6)) == [False, False]
