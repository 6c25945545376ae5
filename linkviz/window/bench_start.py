"""What the window costs before anybody works with it: time to the first painted frame, and memory."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
from typing import Any

from linkviz.errors import LinkvizError
from linkviz.window.bench import SIZE

_PAINTED = """
window.show()
while not window.windowHandle().isExposed():  # the event that exposes a window paints it
    app.processEvents()
print(time.process_time(), flush=True)
"""
_BARE = f"""
import sys, time
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication(sys.argv)
window = QMainWindow()
window.resize({SIZE[0]}, {SIZE[1]})
{_PAINTED}"""
_PLOT = f"""
import sys, time
import pyqtgraph
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication(sys.argv)
window = QMainWindow()
window.setCentralWidget(pyqtgraph.PlotWidget())
settle = gc.collect
window.resize({SIZE[0]}, {SIZE[1]})
{_PAINTED}"""
_OURS = f"""
import sys, time
import linkviz.commands.run, linkviz.commands.open
gc.disable()  # as `linkviz.commands.open` does
from linkviz.window.main import application, first_session, settle
from linkviz.window.window import MainWindow
from linkviz.session.session import Session
from linkviz.session.store import Store
import pathlib, tempfile
app = application()
window = MainWindow(first_session(None, Store(pathlib.Path(tempfile.mkdtemp())))[0])
window.resize({SIZE[0]}, {SIZE[1]})
{_PAINTED}"""
_SETTLED = """
end = time.monotonic() + 3.0
while time.monotonic() < end:
    app.processEvents()
settle()
with open("/proc/self/statm") as file:
    print(int(file.read().split()[1]) * os.sysconf("SC_PAGE_SIZE"), flush=True)
"""
_LEAVE = "\nos._exit(0)\n"
"""Nothing is asked and nothing is put away."""


def bench_start(runs: int = 5) -> dict[str, Any]:
    """Measure the processor's time from starting Python to the first painted frame: our window against a bare one."""
    taken: dict[str, list[float]] = {"bare": [], "ours": []}
    for i in range(runs + 1):
        for name, source in (("bare", _BARE), ("ours", _OURS)):
            used = float(_printed(name, source)[0])
            if i:  # the first run of each reads the disk
                taken[name].append(used)
    bare, ours = (statistics.median(taken[name]) for name in ("bare", "ours"))
    return {"bare_window_s": bare, "ours_s": ours, "ratio": ours / bare}


def bench_memory(runs: int = 3) -> dict[str, Any]:
    """Measure the memory of our window against one that shows an empty plot of pyqtgraph.

    Both have been open for three seconds: ours moves, and what is worked out beside the frame is there. The measuring
    error is not counted: it is worked out in a process of its own that ends with its answer.
    """
    if not os.path.exists("/proc/self/statm"):
        return {"ratio": None, "note": "memory is read from /proc, which this system has not"}
    held = {
        name: statistics.median(float(_printed(name, source + _SETTLED)[1]) / 2**20 for _ in range(runs))
        for name, source in (("plot", _PLOT), ("ours", _OURS))
    }
    return {"plot_window_mib": held["plot"], "ours_mib": held["ours"], "ratio": held["ours"] / held["plot"]}


def _printed(name: str, source: str) -> list[str]:
    """Run a window in a process of its own and return the lines it prints."""
    if getattr(sys, "frozen", False):
        raise LinkvizError(
            "Start and memory are measured by starting Python anew, and a folder made of the program holds none. "
            "Measure them where the program is installed, or something else here, such as --only=solve."
        )
    # As on a desktop: what was compiled once stays compiled. Some test machines forbid that.
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    code = "import gc, os\n" + source + _LEAVE
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, env=environment)
    lines = done.stdout.strip().splitlines()
    if done.returncode or not lines:
        raise LinkvizError(f"The {name} window did not start: {done.stderr.strip()[-300:]}")
    return lines
