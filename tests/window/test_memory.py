"""The window gives memory back: holes are not kept, and what is opened, shown or undone leaves nothing behind."""

from __future__ import annotations

import gc
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from linkviz.resources import demo_vehicle_paths
from linkviz.window import dialogs
from linkviz.window import window as main_window
from linkviz.window.import_outlines import ImportDialog, TakeDialog, ask_unit
from linkviz.window.memory import give_back
from linkviz.window.window import MainWindow
from linkviz.window.work import LatestWork

LIGHT = ("counter", "vehicle", "lift", "clearance", "valve")
"""Pages whose work does not take seconds."""
HOLES = """
import sys
from pathlib import Path
import numpy as np
from linkviz.window.memory import give_back
if sys.argv[1] == "yes":
    assert give_back()
large, small = [], []
np.ones(4_000_000)  # freed at once: the library now keeps blocks as large as this
for i in range(150):
    large.append(np.ones(50_000))
    small.append(np.ones(1000))
large.clear()
print(int(Path("/proc/self/statm").read_text().split()[1]))
"""
"""Large blocks between small ones that stay; then the large ones go."""


@pytest.mark.skipif(sys.platform != "linux", reason="only the C library of Linux is asked")
def test_memory_between_blocks_that_stay_goes_back() -> None:
    def pages(asked: str) -> int:
        done = subprocess.run([sys.executable, "-c", HOLES, asked], capture_output=True, text=True, check=True)
        return int(done.stdout)

    # 60 MB of large blocks: given back they are gone, kept they are more than the whole of the rest
    assert pages("yes") < 0.7 * pages("no")


SCATTERED = """
import sys
from pathlib import Path
from linkviz.window.memory import give_back, give_back_holes
give_back()
blocks = [bytes(20_000) for _ in range(4000)]
kept = blocks[::10]  # each holds the heap above it
del blocks
if sys.argv[1] == "yes":
    assert give_back_holes()
print(int(Path("/proc/self/statm").read_text().split()[1]))
"""
"""Blocks too small to be taken from the system one by one; then nine of ten go."""


@pytest.mark.skipif(sys.platform != "linux", reason="only the C library of Linux is asked")
def test_what_is_free_between_blocks_goes_back_at_rest() -> None:
    def pages(asked: str) -> int:
        done = subprocess.run([sys.executable, "-c", SCATTERED, asked], capture_output=True, text=True, check=True)
        return int(done.stdout)

    assert pages("yes") < 0.6 * pages("no")


def test_a_window_at_rest_gives_its_holes_back(window: MainWindow, qtbot: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[bool] = []
    monkeypatch.setattr(main_window, "give_back_holes", lambda: given.append(True))
    window._rest.setInterval(50)
    window.refresh()
    assert not given
    qtbot.waitUntil(lambda: bool(given), timeout=20_000)


def test_elsewhere_nothing_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    assert not give_back()


def living(window: MainWindow) -> Counter[str]:
    """Return how many objects of Qt and of ours there are, by kind, once all that is to go has gone."""
    while any(work.busy for work in window.findChildren(LatestWork)):
        QApplication.processEvents()
    window.frame_now()
    for _ in range(2):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QApplication.processEvents()
        gc.collect()
    widgets = Counter(f"widget {type(widget).__name__}" for widget in QApplication.allWidgets())
    children = Counter(f"child {type(child).__name__}" for child in window.findChildren(QWidget))
    kinds = (type(one) for one in gc.get_objects())
    ours = Counter(kind.__name__ for kind in kinds if str(kind.__module__).startswith("linkviz.window"))
    return widgets + children + ours


def leaves(window: MainWindow, do: Callable[[], object], before: int, after: int) -> dict[str, int]:
    """Return what is more after doing something often than after doing it a few times."""
    assert window.graph.plot is not None  # made late
    for _ in range(before):
        do()
    few = living(window)
    for _ in range(after):
        do()
    return {kind: count - few[kind] for kind, count in living(window).items() if count > few[kind]}


def close_soon() -> None:
    """Close the dialog that is about to open."""
    dialog: Any = QApplication.activeModalWidget()
    if dialog is None:
        QTimer.singleShot(5, close_soon)
    else:
        dialog.reject()


@pytest.mark.parametrize("name", ["about", "equations", "limits", "guide", "newjob", "book", "details"])
def test_dialogs_are_gone_when_they_are_closed(window: MainWindow, name: str) -> None:
    def look() -> None:
        QTimer.singleShot(0, close_soon)
        window.actions_by_name[name].trigger()

    assert leaves(window, look, 3, 12) == {}


def test_pages_themes_units_and_vehicles_leave_nothing(window: MainWindow) -> None:
    pages, themes, units = cycle(LIGHT), cycle(["dark", "light"]), cycle(["in", "mm"])
    demos = cycle(demo_vehicle_paths())

    def change() -> None:
        window.files.open_demo(str(next(demos)))
        window.session.set_view(page=next(pages), theme=next(themes), unit=next(units))
        window.frame_now()

    assert leaves(window, change, 10, 10) == {}


def test_undo_and_redo_leave_nothing(window: MainWindow) -> None:
    session = window.session
    for i in range(20):
        session.edit_setup("drop", drop=5.0 * i)

    def to_and_fro() -> None:
        for _ in range(10):
            session.undo()
        for _ in range(10):
            session.redo()
        window.refresh()

    assert leaves(window, to_and_fro, 5, 30) == {}


def test_tours_and_every_kind_of_question_leave_nothing(window: MainWindow, tmp_path: Path) -> None:
    window.session.edit_setup("drop", drop=5.0)
    envelope = window.session.document.vehicle.envelopes[0]
    (tmp_path / "a.job.toml").write_text("number = 1", encoding="utf-8")

    def ask() -> None:
        for question in (
            lambda: window.files.open_path(str(tmp_path / "a.job.toml")),
            lambda: window.files.open_path(str(tmp_path / "gone.vehicle.toml")),
            lambda: dialogs.ask_overwrite(window, tmp_path, ["a", "b"]),
            lambda: ask_unit(window, "a.dxf"),
            lambda: dialogs.run(TakeDialog("other", (envelope,), "mm", window)),
            lambda: dialogs.run(ImportDialog((), (envelope,), 0, "mm", window)),
            lambda: dialogs.run(dialogs.signs(window)),
        ):
            QTimer.singleShot(0, close_soon)
            question()
        window.desk.tour()
        window.desk.tour()
        window.desk.end_tour()
        for menu in (window.actions_by_name.recent, window.actions_by_name.demos):
            assert menu is not None
            menu.aboutToShow.emit()

    assert leaves(window, ask, 3, 12) == {}


def test_bars_notices_and_the_counter_view_leave_nothing(window: MainWindow) -> None:
    def use() -> None:
        window.stage.take_pencil(True)
        window.frame_now()
        window.stage.take_pencil(False)
        window.notice.refuse("no")
        window.session.set_view(counter=not window.session.view.counter)
        window.frame_now()
        window.notice.clear()

    assert leaves(window, use, 4, 20) == {}


def test_tables_of_a_list_that_come_and_go_leave_nothing(window: MainWindow) -> None:
    session = window.session
    session.set_view(page="vehicle")
    window.frame_now()
    page: Any = window.side.page("vehicle")
    page.tables.groups["hoses"].head.click()
    hoses = session.document.vehicle.hoses

    def change() -> None:
        for wanted in ((), hoses * 3, hoses):
            names = tuple(hose.replace(name=f"{hose.name} {i}") for i, hose in enumerate(wanted))
            session.edit_vehicle(session.document.vehicle.replace(hoses=names), "hoses")
            window.frame_now()

    assert leaves(window, change, 3, 12) == {}
