"""Random use: no exception, no warning of Qt (both fail a window test by themselves), nothing lost, memory flat.

The long run: ``python3 -m tests -m soak tests/window/test_monkey.py``.
"""

from __future__ import annotations

import gc
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Whole
from linkviz.book.read import parse_job
from linkviz.book.write import dump_job, quick_text
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.vehicle.outline_files import write_outlines
from linkviz.vehicle.read import read_vehicle
from linkviz.window.window import MainWindow
from tests.window.monkey import Monkey

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
"""A window that is not on a screen can neither be raised nor grab the keys, and says so."""
MakeWindow = Callable[..., MainWindow]
LONG = 20_000
GROWTH = 0.05
"""How much the memory may grow over the last half of the long run."""


def files_in(folder: Path) -> list[Path]:
    """Return copies of the demo vehicles, and files that are no vehicles."""
    folder.mkdir()
    files = [Path(shutil.copy(path, folder)) for path in demo_vehicle_paths()]
    broken = folder / "broken.vehicle.toml"
    broken.write_text(files[0].read_text(encoding="utf-8")[:700], encoding="utf-8")
    job = folder / "a.job.toml"
    vehicle = read_vehicle(files[0])
    job.write_text(dump_job(Whole(Job(number="J-1"), Setup(lift=100.0), vehicle)), encoding="utf-8")
    damaged = folder / "damaged.job.toml"
    damaged.write_text(job.read_text(encoding="utf-8").replace("track", "trakc", 1), encoding="utf-8")
    outlines = folder / "outlines.dxf"
    envelope = vehicle.envelopes[0]
    write_outlines(outlines, {"tank, rear": [envelope.rear], "tank, side": [envelope.side]})
    noise = folder / "noise.vehicle.toml"
    noise.write_bytes(bytes(range(256)) * 20)
    return [*files, job, damaged, outlines, broken, noise, folder / "gone.vehicle.toml"]


def resident() -> int:
    """Return the pages of memory in use."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])


def run(make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int, acts: int) -> list[int]:
    """Let the monkey loose and return the memory in use at twenty times."""
    monkeypatch.setenv("HOME", str(tmp_path))
    window = make_window()
    monkey = Monkey(window, seed, files_in(tmp_path / "files"), tmp_path / "saved")
    monkey.answer_files(monkeypatch)
    memory = []
    for i in range(acts):
        try:
            monkey.act()
        except Exception as error:
            raise AssertionError(f"seed {seed}, action {i}: {monkey.done[-5:]}") from error
        if i % max(acts // 20, 1) == 0:
            gc.collect()
            memory.append(resident())
    window.session.set_view(playing=False, counter=False)
    document = window.session.document
    unsaved = window.session.store.unsaved
    unsaved.keep(document)
    kept = Document.of(parse_job(unsaved.file.read_text(encoding="utf-8"), "the copy"), document.path)
    # as text: inches come back from a file to the last digit written
    assert quick_text(kept.whole) == quick_text(document.whole)
    return memory


@pytest.mark.parametrize("seed", [1, 2])
def test_a_few_hundred_random_actions(
    make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    run(make_window, tmp_path, monkeypatch, seed, 100)


@pytest.mark.soak
@pytest.mark.timeout(7200)
@pytest.mark.parametrize("seed", [11, 12])
def test_twenty_thousand_random_actions_and_memory_stays_flat(
    make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    memory = run(make_window, tmp_path, monkeypatch, seed, LONG // 2)
    half = memory[len(memory) // 2]
    assert memory[-1] < half * (1.0 + GROWTH), memory
