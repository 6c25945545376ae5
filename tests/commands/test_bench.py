from __future__ import annotations

import json

import numpy as np
import pytest

from linkviz.commands import main
from linkviz.commands.bench import residuals
from linkviz.linkage.solve import solve
from tests.layouts import bench_layout


def test_residuals_are_those_of_the_solve() -> None:
    layout = bench_layout()
    poses = solve(layout, -40.0, 0.04)
    q = np.array([poses.x[0], poses.y[0], poses.pitch[0], poses.yaw[0]])
    assert residuals(q, layout, -40.0, 0.04) == pytest.approx(np.sqrt(layout.stiffness) * poses.stretch[0], abs=1e-6)


def test_solve_figures(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", "--only=solve", "--states=20000"]) == 0
    found = json.loads(capsys.readouterr().out)["solve"]
    assert found["largest_difference_mm"] < 1e-3
    assert found["scipy_per_state_over_ours"] > 100.0


def test_too_few_states(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", "--states=3"]) == 1
    assert "--states" in capsys.readouterr().err
