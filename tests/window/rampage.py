"""Random use, watched: ``python3 -m tests.window.rampage SEED ACTIONS`` does it in a process of its own and tells.

It ends with 1 at the first exception, warning or lost job, and says which seed and which action it was.
"""

from __future__ import annotations

import argparse
import faulthandler
import gc
import json
import os
import shutil
import sys
import tempfile
import time
import traceback
import warnings
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog

from linkviz.analysis.setup import Setup
from linkviz.book.lock import lock_path, take
from linkviz.book.model import Job, Whole
from linkviz.book.write import dump_job
from linkviz.frozen import values_of
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.view import PAGES, View
from linkviz.vehicle.outline_files import write_outlines
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.sheet_lines import blank_measuring_sheet
from linkviz.window import dialogs
from linkviz.window.memory import give_back_holes
from linkviz.window.shop.folder import choose
from linkviz.window.window import MainWindow
from linkviz.window.work import LatestWork
from tests.window.attend import Attend
from tests.window.monkey import Monkey
from tests.window.watch import Jobs, Watch

SAMPLES = 20
"""How often the memory is looked at."""
HANGS_S = 300.0
"""An action that takes longer is written down with every thread's place."""
Put = Callable[[object, str, Any], None]


@dataclass
class Told:
    """What came of a run.

    Attributes
    ----------
    memory : list of int
        Bytes in use with everything at rest, at the start of each twentieth and at the end.
    acts, saves : int
    count, seen : dict
        How often each action was done; how often each dialog ended.
    """

    memory: list[int] = field(default_factory=list)
    acts: int = 0
    saves: int = 0
    count: dict[str, int] = field(default_factory=dict)
    seen: dict[str, int] = field(default_factory=dict)

    @property
    def growth(self) -> float:
        """Return by how much the memory grew over the last half, as a share."""
        return self.memory[-1] / self.memory[len(self.memory) // 2] - 1.0


def files_in(folder: Path) -> list[Path]:
    """Return copies of the demo vehicles, jobs, pictures, a catalogue, and files that are nothing of the kind."""
    folder.mkdir()
    files = [Path(shutil.copy(path, folder)) for path in (*demo_vehicle_paths(), demo_catalogue_path())]
    broken = folder / "broken.vehicle.toml"
    broken.write_text(files[0].read_text(encoding="utf-8")[:700], encoding="utf-8")
    vehicle = read_vehicle(files[0])
    job, damaged, held = (folder / f"{name}.job.toml" for name in ("a", "damaged", "held"))
    text = dump_job(Whole(Job(number="J-1"), Setup(lift=100.0), vehicle))
    job.write_text(text, encoding="utf-8")
    held.write_text(text, encoding="utf-8")
    damaged.write_text(text.replace("track", "trakc", 1), encoding="utf-8")
    take(held)
    lock = lock_path(held)
    lock.write_text(lock.read_text().replace(f'"pid": {os.getpid()}', f'"pid": {os.getppid()}'), encoding="utf-8")
    outlines = folder / "outlines.dxf"
    envelope = vehicle.envelopes[0]
    write_outlines(outlines, {"tank, rear": [envelope.rear], "tank, side": [envelope.side]})
    noise = folder / "noise.vehicle.toml"
    noise.write_bytes(bytes(range(256)) * 20)
    sheet = folder / "sheet.csv"
    sheet.write_text(blank_measuring_sheet("mm"), encoding="utf-8")
    pictures = [folder / "one.png", folder / "two.jpg"]
    for picture, tint in zip(pictures, (Qt.GlobalColor.gray, Qt.GlobalColor.darkYellow), strict=True):
        image = QImage(1600, 1200, QImage.Format.Format_RGB32)
        image.fill(tint)
        image.save(str(picture))
    return [*files, job, damaged, held, outlines, sheet, *pictures, broken, noise, folder / "gone.vehicle.toml"]


def resident() -> int:
    """Return the bytes of memory in use."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGESIZE")


def every_dialog() -> set[str]:
    """Return the names of all the dialogs of the program, each module loaded."""
    import importlib
    import pkgutil

    import linkviz.window

    for module in pkgutil.walk_packages(linkviz.window.__path__, "linkviz.window."):
        importlib.import_module(module.name)
    kinds, waiting = set[str](), [QDialog]
    while waiting:
        kind = waiting.pop()
        waiting += kind.__subclasses__()
        if kind.__module__.startswith("linkviz."):
            kinds.add(kind.__name__)
    return kinds


class Rampage:
    """A monkey on a window, with those who watch it.

    Parameters
    ----------
    window : MainWindow
    seed : int
    folder : Path
        Where its files lie.
    put : callable
        ``monkeypatch.setattr`` or ``setattr``.
    watch : Watch
        Entered.
    """

    def __init__(self, window: MainWindow, seed: int, folder: Path, put: Put, watch: Watch) -> None:
        self.window, self.seed, self.watch = window, seed, watch
        self.attend = Attend(seed, files_in(folder / "files"), folder / "saved")
        self.attend.answer_files(put)
        self.jobs = Jobs(window.session)
        put(dialogs, "ask_unsaved", self._left(dialogs.ask_unsaved))
        choose(window.session.store, folder / "saved")
        self.monkey = Monkey(window, seed, self.attend)

    def _left(self, ask: Callable[..., str]) -> Callable[..., str]:
        def asked(*what: Any) -> str:
            self.jobs.leave = ask(*what)
            return self.jobs.leave

        return asked

    def run(self, acts: int, tell: Callable[[Told], None] = lambda _: None, samples: int = SAMPLES) -> Told:
        """Do so many things, look at the memory so many times and at the end, and return what came of it.

        Raises
        ------
        AssertionError
            At the first trouble.
        """
        told = Told()
        self.attend.begin()
        for i in range(acts):
            if samples and i % max(acts // samples, 1) == 0:
                self.sample(told)
                tell(told)
            faulthandler.dump_traceback_later(HANGS_S)
            self.act(i)
            told.acts = i + 1
        self.check(acts)
        if samples:
            self.sample(told)
        self.attend.on = False
        tell(told)
        return told

    def act(self, i: int) -> None:
        """Do one thing and look whether all is well."""
        self.jobs.leave = ""
        try:
            self.monkey.act()
            self.jobs.check_open()
        except Exception as error:
            raise AssertionError(self._where(i, traceback.format_exc())) from error
        if self.watch.troubles:
            raise AssertionError(self._where(i, "\n".join(self.watch.troubles)))

    def check(self, i: int) -> None:
        """Make sure that all that was saved is there."""
        try:
            self.jobs.check_all()
        except Exception as error:
            raise AssertionError(self._where(i, repr(error))) from error

    def _where(self, i: int, what: str) -> str:
        return f"seed {self.seed}, action {i}, the last ones {list(self.monkey.done)[-6:]}: {what}"

    def sample(self, told: Told) -> None:
        """Check all that was saved, bring everything to rest, and take the memory."""
        self.check(told.acts)
        rest(self.window)
        told.memory.append(resident())
        told.saves, told.count, told.seen = self.jobs.saves, dict(self.monkey.count), dict(self.attend.seen)


def rest(window: MainWindow) -> None:
    """Bring a window to the state it began with, and wait for all that runs."""
    session = window.session
    window.stage.take_pencil(False)
    session.store.unsaved.wait()
    session.__class__._start(session, Document(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0)), None)
    for page in PAGES:  # a page that is hidden still holds what it showed last
        session.set_view(**{**values_of(View()), "page": page})
        window.frame_now()
    session.set_view(**values_of(View()))
    session.hold.drop()
    session.autosave()
    window.resize(1280, 720)
    for _ in range(3):
        window.frame_now()
        for work in window.findChildren(LatestWork):
            while work.busy:
                QTest.qWait(20)
    window.notice.clear()
    QApplication.processEvents()
    gc.collect()
    give_back_holes()  # as five quiet seconds do


def main() -> int:
    """Run it as the words on the command line say."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("seed", type=int)
    parser.add_argument("acts", type=int)
    parser.add_argument("--json", help="where to write what came of it")
    options = parser.parse_args()
    from linkviz.window.main import application

    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    warnings.simplefilter("error")
    faulthandler.enable()
    folder = Path(tempfile.mkdtemp(prefix="rampage"))
    for name in ("HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME"):
        os.environ[name] = str(folder / "home")
    app = application()
    began = time.monotonic()

    def tell(told: Told) -> None:
        print(
            f"{told.acts} {time.monotonic() - began:.0f} s {told.memory[-1] >> 20} MiB, {told.saves} saves", flush=True
        )

    try:
        with Watch() as watch:
            session = Session(
                Document(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0)), Store(folder / "state")
            )
            window = MainWindow(session)
            window.show()
            QTest.qWaitForWindowExposed(window)
            told = Rampage(window, options.seed, folder, setattr, watch).run(options.acts, tell)
            faulthandler.cancel_dump_traceback_later()
            window.files.may_leave = lambda: True  # type: ignore[method-assign]
            window.close()
            window.deleteLater()
            app.processEvents()
    except AssertionError as error:
        print(error, file=sys.stderr, flush=True)
        os._exit(1)  # dialogs may still wait
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    if options.json:
        Path(options.json).write_text(json.dumps({**vars(told), "growth": told.growth}, indent=1), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
