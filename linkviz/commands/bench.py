"""`linkviz bench`: the program's speed, as ratios of two things measured in the same run."""

from __future__ import annotations

import argparse
import json
import os
import statistics
import time
from collections.abc import Callable
from types import ModuleType
from typing import Any

import numpy as np

from linkviz.commands.open import no_screen
from linkviz.errors import LinkvizError
from linkviz.job.build import Build
from linkviz.job.setup import Setup
from linkviz.linkage.layout import Array, Layout
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

AIMS = {"solve": "scipy_per_state_over_ours >= 800", "frame": "p99_ms < 16", "start": "ratio < 2"}
"""What each figure should reach."""


def command(options: argparse.Namespace) -> int:
    """Measure and print JSON."""
    if options.states < 1000 or options.frames < 20:
        raise LinkvizError("--states needs at least 1000 and --frames at least 20 to mean anything")
    wanted = options.only or ["solve", "frame", "start"]
    result: dict[str, Any] = {}
    if "solve" in wanted:
        result["solve"] = bench_solve(options.states)
    if "frame" in wanted or "start" in wanted:
        window = _window()
        if "frame" in wanted:
            result["frame"] = window.bench_frame(options.frames)
        if "start" in wanted:
            result["start"] = window.bench_start()
    result["aims"] = {name: AIMS[name] for name in AIMS if name in result}
    print(json.dumps(result, indent=2))
    return 0


def _window() -> ModuleType:
    """Return the part that measures the window; where there is no screen it paints into memory."""
    if no_screen():
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    try:
        from linkviz.window import bench
    except ImportError as error:
        raise LinkvizError(f"The window cannot be measured here: {error}. Use --only solve.") from None
    return bench


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """Return the median time of some runs, s."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def bench_solve(states: int) -> dict[str, Any]:
    """Compare the full solve per state with `scipy.optimize.least_squares` on the same residuals."""
    layout = Build.of(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0, drop=95.0)).layout
    random = np.random.default_rng(20260101)
    heave = random.uniform(-185.0, -15.0, states)
    roll = random.uniform(-0.1, 0.1, states)
    ours = seconds(lambda: solve(layout, heave, roll)) / states
    result: dict[str, Any] = {"states": states, "ours_per_state_us": ours * 1e6}
    try:
        from scipy.optimize import least_squares
    except ImportError:
        return result | {"scipy_per_state_over_ours": None, "note": "install scipy to compare with it"}
    few = 200

    def theirs() -> list[Array]:
        return [
            least_squares(residuals, np.zeros(4), x_scale=(1.0, 1.0, 1e-3, 1e-3), args=(layout, h, r)).x
            for h, r in zip(heave[:few], roll[:few], strict=True)
        ]

    answers = np.array(theirs())
    poses = solve(layout, heave[:few], roll[:few])
    apart = np.abs(answers[:, :2] - np.stack([poses.x, poses.y], axis=1)).max()
    per_state = seconds(theirs, 3) / few
    return result | {
        "scipy_per_state_us": per_state * 1e6,
        "scipy_per_state_over_ours": per_state / ours,
        "largest_difference_mm": float(apart),
    }


def residuals(q: Array, layout: Layout, heave: float, roll: float) -> Array:
    """Return sqrt(k_i) e_i of one state, written out by hand and not from the derived equations."""
    x, y, pitch, yaw = q
    cr, sr, cp, sp, cy, sy = np.cos(roll), np.sin(roll), np.cos(pitch), np.sin(pitch), np.cos(yaw), np.sin(yaw)
    turn = np.array(
        [
            [cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr],
            [sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr],
            [-sp, cp * sr, cp * cr],
        ]
    )
    vector = layout.axle @ turn.T + layout.centre + np.array([x, y, heave]) - layout.frame
    result: Array = np.sqrt(layout.stiffness) * (np.sqrt((vector * vector).sum(axis=1)) - layout.length)
    return result
