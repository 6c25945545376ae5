from __future__ import annotations

import numpy as np
import pytest

from linkviz.brakes.valve import Valve, rear_pressure

VALVE = Valve(knee=3.0, per_rad=10.0, least=1.2, most=7.5, slope=0.3)


def test_knee_follows_the_arm_between_its_stops() -> None:
    assert VALVE.knee_at([-1.0, -0.1, 0.0, 0.1, 1.0]) == pytest.approx([1.2, 2.0, 3.0, 4.0, 7.5])


def test_no_jump_at_the_knee_and_never_above_the_front() -> None:
    front = np.linspace(0.0, 15.0, 301)
    for knee in (0.0, 1.2, 3.0, 7.5):
        rear = rear_pressure(front, knee, 0.3)
        assert np.all(rear <= front + 1e-12)
        assert np.all(np.diff(rear) >= 0)
        assert np.abs(np.diff(rear)).max() <= 0.05 + 1e-9
