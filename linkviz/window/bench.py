"""Speed of the window: from a slider, or a point that is dragged, to the painted frame."""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QWidget

from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.session import edits
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.vehicle.read import read_vehicle
from linkviz.window.main import application, settle
from linkviz.window.window import MainWindow

SIZE = (1280, 720)
"""Size of the windows compared, px."""
BAR_END = "links.lateral_bar.frame"
"""The point that is dragged."""


def bench_frame(frames: int) -> dict[str, Any]:
    """Time drags of drop, lift, travel, roll and of a measured point, each to the painted frame.

    Beside it: an empty window of the same size, repainted as often in the same run; and what the painting thread took
    of the processor, which other work on the machine changes less.
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
    settle()
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

    def roll(i: int) -> None:
        session.set_view(roll_deg=5.0 * swing(i))

    frame_end = edits.point_of(vehicle, BAR_END)

    def point(i: int) -> None:
        moved = (frame_end[0], frame_end[1], frame_end[2] + 40.0 * swing(i))
        session.preview(session.document.with_vehicle(edits.move_point(vehicle, BAR_END, moved)))

    result: dict[str, Any] = {"window": f"{SIZE[0]}x{SIZE[1]}", "platform": app.platformName()}
    for name, move in (("drop", drop), ("lift", lift), ("travel", travel), ("roll", roll), ("point", point)):
        times, bare, worked = [], [], []
        for i in range(frames + 10):
            start, busy = time.perf_counter(), time.thread_time()
            move(i)
            window.refresh()
            app.processEvents()
            middle, idle = time.perf_counter(), time.thread_time()
            empty.repaint()
            app.processEvents()
            end = time.perf_counter()
            if i >= 10:
                times.append((middle - start) * 1e3)
                bare.append((end - middle) * 1e3)
                worked.append((idle - busy) * 1e3)
        session.drop_preview()
        session.set_view(travel=0.0, roll_deg=0.0)
        result[name] = {
            "p50_ms": statistics.median(times),
            "p99_ms": statistics.quantiles(times, n=100)[98],
            "empty_window_p99_ms": statistics.quantiles(bare, n=100)[98],
            "processor_p50_ms": statistics.median(worked),
            "processor_p99_ms": statistics.quantiles(worked, n=100)[98],
        }
    window.deleteLater()
    return result
