"""Speed of the window: slider to painted frame, and start to first painted frame."""

from __future__ import annotations

import gc
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QWidget

from linkviz.errors import LinkvizError
from linkviz.job.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.vehicle.read import read_vehicle
from linkviz.window.main import application
from linkviz.window.window import MainWindow

SIZE = (1280, 720)
"""Size of the windows compared, px."""

_PAINTED = """
window.show()
while not window.windowHandle().isExposed():
    app.processEvents()
app.processEvents()
print(time.monotonic(), flush=True)
import os
os._exit(0)
"""
_BARE = f"""
import sys, time
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication(sys.argv)
window = QMainWindow()
window.resize({SIZE[0]}, {SIZE[1]})
{_PAINTED}"""
_OURS = f"""
import gc, sys, time
gc.disable()  # as `linkviz.commands.open` does
from linkviz.window.main import application, first_session
from linkviz.window.window import MainWindow
from linkviz.session.session import Session
from linkviz.session.store import Store
import pathlib, tempfile
app = application()
window = MainWindow(first_session(None, Store(pathlib.Path(tempfile.mkdtemp())))[0])
window.resize({SIZE[0]}, {SIZE[1]})
{_PAINTED}"""


def bench_frame(frames: int) -> dict[str, Any]:
    """Time a drag of the drop slider, a swing of the travel and a drag of the lift, each to the painted frame.

    Beside it: an empty window of the same size, repainted as often in the same run.
    """
    app = application()
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    session = Session(Document(vehicle, Setup(lift=100.0)), Store(Path(tempfile.mkdtemp())))
    window = MainWindow(session)
    window.resize(*SIZE)
    window.show()
    empty = QWidget()
    empty.resize(*SIZE)
    empty.show()
    for _ in range(20):
        app.processEvents()
    while window.work.busy:
        app.processEvents()
    gc.collect()
    gc.freeze()  # as the program does once it has started
    low, high = session.document.window

    def swing(i: int) -> float:
        """Go from 0 to 1 and back, as a hand does, never twice over the same places."""
        return abs((i * 0.0203) % 2.0 - 1.0)

    def drop(i: int) -> None:
        session.preview(session.document.with_setup(drop=40.0 + 60.0 * swing(i)))

    def lift(i: int) -> None:
        session.preview(session.document.with_setup(lift=60.0 + 80.0 * swing(i) + i * 1e-4))

    def travel(i: int) -> None:
        session.set_view(travel=low + (high - low) * swing(i))

    result: dict[str, Any] = {"window": f"{SIZE[0]}x{SIZE[1]}", "platform": app.platformName()}
    for name, move in (("drop", drop), ("lift", lift), ("travel", travel)):
        times, bare = [], []
        for i in range(frames + 10):
            start = time.perf_counter()
            move(i)
            window.refresh()
            app.processEvents()
            middle = time.perf_counter()
            empty.repaint()
            app.processEvents()
            end = time.perf_counter()
            if i >= 10:
                times.append((middle - start) * 1e3)
                bare.append((end - middle) * 1e3)
        session.drop_preview()
        result[name] = {
            "p50_ms": statistics.median(times),
            "p99_ms": statistics.quantiles(times, n=100)[98],
            "empty_window_p99_ms": statistics.quantiles(bare, n=100)[98],
        }
    window.deleteLater()
    return result


def bench_start(runs: int = 5) -> dict[str, Any]:
    """Time from starting Python to the first painted frame: our window against a bare one."""
    taken: dict[str, list[float]] = {"bare": [], "ours": []}
    # As on a desktop: what was compiled once stays compiled. Some test machines forbid that.
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    for i in range(runs + 1):
        for name, source in (("bare", _BARE), ("ours", _OURS)):
            start = time.monotonic()
            done = subprocess.run(
                [sys.executable, "-c", source], capture_output=True, text=True, timeout=120, env=environment
            )
            lines = done.stdout.strip().splitlines()
            if done.returncode or not lines:
                raise LinkvizError(f"The {name} window did not start: {done.stderr.strip()[-300:]}")
            if i:
                taken[name].append(float(lines[0]) - start)
    bare, ours = (statistics.median(taken[name]) for name in ("bare", "ours"))
    return {"bare_window_s": bare, "ours_s": ours, "ratio": ours / bare}
