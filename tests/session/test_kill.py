"""A program that is killed in the middle of an editing run loses at most the last five seconds and spoils no file."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.lock import take
from linkviz.book.model import Job, Whole
from linkviz.book.read import read_job
from linkviz.book.write import write_job
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.vehicle.model import Vehicle

MOST_LOST_S = 5.0
RUN = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
from linkviz.session.edits import rename
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.document import Document
from linkviz.book.read import read_job
from linkviz.window.files import Files

state, path, saves = sys.argv[1:]
app = QApplication([])
parent = QWidget()
session = Session(Document(read_job(path).vehicle), Store(Path(state)))
files = Files(session, parent)
session.open(path)
count = 0

def edit():
    global count
    count += 1
    if count % 3 == 0:
        session.edit_setup("ride height", lift=float(count % 150), key="drag")
    session.edit_job("notes", notes=f"edit {count}")
    if count % 7 == 0:
        session.undo()
        session.redo()
    if int(saves) and count % int(saves) == 0:
        session.save()
    print(count, flush=True)

timer = QTimer()
timer.timeout.connect(edit)
timer.start(7)
app.exec()
"""


class Killed:
    """One editing run that is killed after a while."""

    def __init__(self, folder: Path, whole: Whole, after: float, saves: int) -> None:
        folder.mkdir()
        self.state = folder / "state"
        self.file = folder / "a.job.toml"
        write_job(whole, self.file)
        self.came: list[float] = []
        self.end = 0.0
        arguments = [sys.executable, "-c", RUN, str(self.state), str(self.file), str(saves)]
        self._process = subprocess.Popen(
            arguments, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=os.environ | {"PYTHONPATH": "."}
        )
        self._after = after
        self._thread = threading.Thread(target=self._watch)
        self._thread.start()

    def _watch(self) -> None:
        stdout = self._process.stdout
        assert stdout is not None
        for _ in stdout:
            self.came.append(time.monotonic())
            if self.came[-1] - self.came[0] >= self._after:
                self.end = time.monotonic()
                os.kill(self._process.pid, signal.SIGKILL)
                break
        # what was printed before the end but not yet read
        self.came += [self.end for _ in stdout]

    def check(self) -> None:
        """Look at what is left."""
        self._thread.join()
        assert self._process.wait(timeout=30) == -signal.SIGKILL, self._process.communicate()[1]
        for stream in (self._process.stdout, self._process.stderr):
            assert stream is not None
            stream.close()
        saved = read_job(self.file)  # raises if it is spoilt
        kept = [number(saved)]
        store = Store(self.state)
        for leftover in store.unsaved.leftovers():
            kept.append(number(leftover.document.whole))
            assert leftover.document.path == str(self.file)
        copies = list((self.state / "autosave").glob("*.toml"))
        assert len(copies) == len(kept) - 1, "a copy is there but cannot be read"
        first_lost = max(kept)
        if first_lost < len(self.came):
            assert self.end - self.came[first_lost] <= MOST_LOST_S
        # the job can be opened and the work gone on with
        session = Session(Document(saved.vehicle), store)
        session.open(str(self.file))
        for leftover in store.unsaved.leftovers():
            session.recover(leftover)
            assert number(session.document.whole) == number(leftover.document.whole)
        session.close()
        assert take(self.file) is not None


def number(whole: Whole) -> int:
    """Return the number of the edit that a job holds."""
    return int(whole.job.notes.removeprefix("edit ") or 0)


def runs(tmp_path: Path, vehicle: Vehicle, count: int, seed: int, longest: float) -> None:
    """Kill some runs at random moments, a few at a time."""
    dice = random.Random(seed)
    whole = Whole(Job(number="7"), Setup(lift=100.0), vehicle)
    for start in range(0, count, 4):
        group = [
            Killed(tmp_path / f"run-{start + i}", whole, dice.uniform(0.0, longest), dice.choice([0, 13, 200]))
            for i in range(min(4, count - start))
        ]
        for run in group:
            run.check()


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal")
def test_a_killed_program_loses_at_most_five_seconds_and_spoils_nothing(tmp_path: Path, wagon: Vehicle) -> None:
    runs(tmp_path, wagon, 4, 20261125, 3.5)


@pytest.mark.soak
@pytest.mark.timeout(3600)
@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal")
def test_two_hundred_times(tmp_path: Path, wagon: Vehicle) -> None:
    runs(tmp_path, wagon, 200, 1, 7.0)
