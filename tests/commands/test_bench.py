from __future__ import annotations

import json
import sys

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


def test_many_builds_in_one_call(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", "--only=uncertainty"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert list(found) == ["uncertainty", "aims"]
    assert found["uncertainty"]["builds"] * found["uncertainty"]["heights"] == 205_000
    assert found["uncertainty"]["largest_difference_mm"] < 1e-3
    assert found["uncertainty"]["scipy_per_state_over_ours"] > 100.0


def test_compiled_scalar_code_finds_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    pytest.importorskip("numba")
    assert main(["bench", "--only=scalar", "--states=20000"]) == 0
    found = json.loads(capsys.readouterr().out)["scalar"]
    assert found["largest_difference_mm"] < 1e-6
    assert 0.1 < found["ours_over_compiled"] < 20.0


def test_without_numba_the_bench_says_so(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "numba", None)
    assert main(["bench", "--only=scalar", "--states=1000"]) == 0
    found = json.loads(capsys.readouterr().out)["scalar"]
    assert found["ours_over_compiled"] is None and "numba" in found["note"]


def test_contact_map_against_a_library_asked_state_by_state(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", "--only=map"]) == 0
    found = json.loads(capsys.readouterr().out)["map"]
    assert found["states"] == 201 * 81
    assert found["pairs"] > 15
    assert found["largest_difference_mm"] < 1e-2  # the library's own cylinders are good to that
    assert found["library_over_ours"] > 50.0


def test_opening_a_job_against_parsing_its_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", "--only=open"]) == 0
    found = json.loads(capsys.readouterr().out)["open"]
    assert found["bytes"] > 1000
    # a job is parsed and then checked: more than parsing alone, and not out of all proportion
    assert 1.0 < found["ratio"] < 50.0
