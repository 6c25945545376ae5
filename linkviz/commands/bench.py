"""`linkviz bench`: the program's speed, as ratios of two things measured in the same run."""

from __future__ import annotations

import argparse
import json
import os
import statistics
import time
from collections.abc import Callable
from importlib import import_module
from types import ModuleType
from typing import Any

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.doubt.measured import drawn, inputs
from linkviz.analysis.doubt.propagate import draws
from linkviz.analysis.setup import Setup
from linkviz.commands.open import no_screen
from linkviz.commands.values import MOST_STATES
from linkviz.errors import LinkvizError
from linkviz.linkage.batch import solve_batch
from linkviz.linkage.layout import Array, Layout
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

AIMS = {
    "solve": "scipy_per_state_over_ours >= 800",
    "uncertainty": "scipy_per_state_over_ours >= 800",
    "scalar": "ours_over_compiled <= 1.5",
    "map": "ours_ms < 150 and library_over_ours >= 50",
    "frame": "p99_ms < 16",
    "start": "ratio < 2",
    "memory": "ratio < 1.5",
}
"""What each figure should reach."""
USUAL = ("solve", "frame", "start", "memory", "open")
"""What is measured if nothing is asked for; the others need libraries of their own or take long."""
MOST_FRAMES = 100_000
BUILDS, HEIGHTS = 5000, 41
"""Random builds of the uncertainty figure, and heights of each."""


def command(options: argparse.Namespace) -> int:
    """Measure and print JSON."""
    if not (1000 <= options.states <= MOST_STATES and 20 <= options.frames <= MOST_FRAMES):
        raise LinkvizError(
            f"--states takes 1000 to {MOST_STATES}, and --frames 20 to {MOST_FRAMES}: fewer mean nothing, more take "
            "too long"
        )
    wanted = options.only or USUAL
    result: dict[str, Any] = {}
    if "solve" in wanted:
        result["solve"] = bench_solve(options.states)
    if "uncertainty" in wanted:
        result["uncertainty"] = bench_uncertainty()
    if "scalar" in wanted:
        result["scalar"] = bench_scalar(options.states)
    if "map" in wanted:
        from linkviz.commands.bench_map import bench_map

        result["map"] = bench_map(_usual())
    if "frame" in wanted:
        result["frame"] = _window("bench").bench_frame(options.frames)
    if "start" in wanted:
        result["start"] = _window("bench_start").bench_start()
    if "memory" in wanted:
        result["memory"] = _window("bench_start").bench_memory()
    if "open" in wanted:
        from linkviz.commands.bench_open import bench_open

        result["open"] = bench_open()
    result["aims"] = {name: AIMS[name] for name in AIMS if name in result}
    print(json.dumps(result, indent=2))
    return 0


def _window(name: str) -> ModuleType:
    """Return a part that measures the window; where there is no screen it paints into memory."""
    if no_screen():
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    try:
        return import_module(f"linkviz.window.{name}")
    except ImportError as error:
        raise LinkvizError(f"The window cannot be measured here: {error}. Use --only solve.") from None


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """Return the median time of some runs, s."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def _usual() -> Build:
    return Build.of(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0, drop=95.0))


def _states(count: int) -> tuple[Array, Array]:
    """Return random heaves and rolls of the usual build, mm and rad."""
    random = np.random.default_rng(20260101)
    return random.uniform(-185.0, -15.0, count), random.uniform(-0.1, 0.1, count)


def bench_solve(states: int) -> dict[str, Any]:
    """Compare the full solve per state with `scipy.optimize.least_squares` on the same residuals."""
    layout = _usual().layout
    heave, roll = _states(states)
    ours = seconds(lambda: solve(layout, heave, roll)) / states
    result: dict[str, Any] = {"states": states, "ours_per_state_us": ours * 1e6}
    few = 200
    poses = solve(layout, heave[:few], roll[:few])
    return result | _against_scipy(
        [(layout, h, r) for h, r in zip(heave[:few], roll[:few], strict=True)],
        np.stack([poses.x, poses.y], axis=1),
        ours,
    )


def bench_uncertainty() -> dict[str, Any]:
    """Solve many builds, their points off as measuring leaves them, over many heights in one call; against scipy."""
    build = _usual()
    setup = build.setup
    random_builds = drawn(build.vehicle, draws(inputs(build.vehicle), BUILDS, 20260101)).batch
    batch = random_builds.with_bar(setup.drop, setup.shift, setup.bar_longer, setup.axle_raise)
    low, high = build.window
    heave = np.linspace(low, high, HEIGHTS) - setup.lift
    count = BUILDS * HEIGHTS
    poses = solve_batch(batch, heave)
    ours = seconds(lambda: solve_batch(batch, heave)) / count
    picks = [(i, j) for i in range(0, BUILDS, BUILDS // 20) for j in range(0, HEIGHTS, 4)]
    result = {"builds": BUILDS, "heights": HEIGHTS, "seconds": ours * count, "ours_per_state_us": ours * 1e6}
    return result | _against_scipy(
        [(batch.layout(i), float(heave[j]), 0.0) for i, j in picks],
        np.array([[poses.x[pick], poses.y[pick]] for pick in picks]),
        ours,
    )


def bench_scalar(states: int) -> dict[str, Any]:
    """Compare the full solve with the same equations compiled to scalar code by numba."""
    layout = _usual().layout
    heave, roll = _states(states)
    try:
        from linkviz.commands.scalar import compiled

        theirs = compiled(layout)
    except ImportError:
        return {"ours_over_compiled": None, "note": "numba is not installed: there is nothing to compare with"}
    (q, _), poses = theirs(heave, roll), solve(layout, heave, roll)  # compiles, too
    # in turn, so that both meet the same machine
    pairs = [
        (seconds(lambda: solve(layout, heave, roll), 1), seconds(lambda: theirs(heave, roll), 1)) for _ in range(7)
    ]
    ours, compiled_s = (statistics.median(times) / states for times in zip(*pairs, strict=True))
    return {
        "states": states,
        "ours_per_state_us": ours * 1e6,
        "compiled_per_state_us": compiled_s * 1e6,
        "ours_over_compiled": statistics.median(a / b for a, b in pairs),
        "largest_difference_mm": float(np.abs(q[:2] - np.stack([poses.x, poses.y])).max()),
    }


def _against_scipy(states: list[tuple[Layout, float, float]], places: Array, ours: float) -> dict[str, Any]:
    """Solve some states with scipy one by one; `places` are our (x, y) of them, `ours` our time per state, s."""
    try:
        from scipy.optimize import least_squares
    except ImportError:
        return {"scipy_per_state_over_ours": None, "note": "install scipy to compare with it"}

    def theirs() -> list[Array]:
        return [least_squares(residuals, np.zeros(4), x_scale=(1.0, 1.0, 1e-3, 1e-3), args=state).x for state in states]

    apart = np.abs(np.array(theirs())[:, :2] - places).max()
    per_state = seconds(theirs, 3) / len(states)
    return {
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
