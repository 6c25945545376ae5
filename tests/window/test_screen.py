"""The real window on a virtual screen, moved by real mouse and key events."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

pytestmark = pytest.mark.screen

PROGRAM = """
import json, os, sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from linkviz.picture.scene import to_view
from linkviz.window import main
from linkviz.window.window import MainWindow

def tell():
    for window in QApplication.topLevelWidgets():
        if isinstance(window, MainWindow) and window.isVisible():
            setup, view = window.session.shown.setup, window.session.view
            places = {}
            for name, control in (("drop", window.controls.drop), ("lift", window.controls.lift)):
                slider = control.slider
                for mm in (0.0, 50.0, 100.0, 200.0):
                    at = slider.mapToGlobal(slider.place_of(mm).toPoint())
                    places[f"{name} {mm:.0f}"] = (at.x(), at.y())
            rear = window.stage.rear
            for i, corner in enumerate(((-300, 800), (-300, 900), (-400, 900), (-400, 800))):
                at = rear.mapToGlobal(rear.place(corner).toPoint())
                places[f"corner {i}"] = (at.x(), at.y())
            for view_name, low, high in (("rear", -80, -200), ("side", 420, 840)):
                pane = window.stage.panes[view_name]
                for i, corner in enumerate(((low, 260), (high, 260), (high, 470), (low, 470))):
                    at = pane.mapToGlobal(pane.place(to_view(view_name, corner, setup.lift)).toPoint())
                    places[f"{view_name} {i}"] = (at.x(), at.y())
            page = window.side.page("clearance") if view.page == "clearance" else None
            words = [page.table.item(i, 2).text() for i in range(page.table.rowCount())] if page else []
            state = {"words": words, "page": view.page,
                     "names": [e.name for e in window.session.shown.vehicle.envelopes],
                     "envelopes": [(len(e.rear), len(e.side)) for e in window.session.shown.vehicle.envelopes],
                     "drawing": window.stage.drawing, "drop": setup.drop,
                     "lift": setup.lift, "travel": view.travel, "playing": view.playing,
                     "unit": view.unit, "counter": view.counter, "undo": window.session.undo_text, "places": places,
                     "active": window.isActiveWindow()}
            with open(sys.argv[1] + ".part", "w") as file:
                json.dump(state, file)
            os.replace(sys.argv[1] + ".part", sys.argv[1])

app = main.application()
timer = QTimer()
timer.timeout.connect(tell)
timer.start(30)
sys.exit(main.run(None))
"""


class Screen:
    """A running window: what it says about itself, and hands to work it."""

    def __init__(self, state: Path, environment: dict[str, str], process: subprocess.Popen[str]) -> None:
        self._state = state
        self._environment = environment
        self.process = process

    def state(self) -> dict:
        return json.loads(self._state.read_text()) if self._state.exists() else {}

    def wait(self, good: Callable[[dict], bool], seconds: float = 20.0) -> dict:
        """Wait until the window says so; return what it says."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            assert self.process.poll() is None, self.process.communicate()[1]
            state = self.state()
            if state and good(state):
                return state
            time.sleep(0.03)
        raise AssertionError(f"the window stayed at {self.state()}")

    def do(self, *words: str | int) -> None:
        """Move the mouse or press keys."""
        command = ["xdotool", *map(str, words)]
        subprocess.run(command, env=self._environment, check=True, capture_output=True, timeout=20)


@pytest.fixture
def screen(screen_env: dict[str, str], tmp_path: Path) -> Iterator[Screen]:
    state = tmp_path / "state.json"
    program = tmp_path / "program.py"
    program.write_text(PROGRAM)
    root = str(Path(__file__).resolve().parents[2])
    environment = screen_env | {"PYTHONPATH": root}
    process = subprocess.Popen(
        [sys.executable, str(program), str(state)], env=environment, stderr=subprocess.PIPE, text=True, cwd=tmp_path
    )
    screen = Screen(state, environment, process)
    try:
        screen.wait(lambda s: s["active"] and s["places"]["drop 0"][0] > 0, 40.0)
        yield screen
    finally:
        if process.poll() is None:
            process.terminate()
        process.communicate(timeout=10)


def test_it_starts_lifted_and_moving_and_the_mouse_drags_the_drop(screen: Screen) -> None:
    first = screen.wait(lambda s: s["playing"])
    assert (first["lift"], first["drop"]) == (100.0, 0.0)
    screen.wait(lambda s: abs(s["travel"] - first["travel"]) > 5.0)

    places = screen.state()["places"]
    screen.do("mousemove", *places["drop 0"], "mousedown", 1)
    screen.do("mousemove", *places["drop 50"])
    screen.wait(lambda s: 40.0 < s["drop"] < 60.0)
    screen.do("mousemove", *places["drop 100"], "mouseup", 1)
    dragged = screen.wait(lambda s: 95.0 < s["drop"] < 105.0)
    assert dragged["undo"] == "bracket drop"
    screen.do("key", "Right")
    screen.wait(lambda s: s["drop"] == pytest.approx(dragged["drop"] + 1.0, abs=0.06))
    screen.do("key", "ctrl+z", "ctrl+z")
    undone = screen.wait(lambda s: s["drop"] == 0.0)
    assert undone["undo"] == ""
    screen.do("key", "ctrl+shift+z")
    screen.wait(lambda s: s["drop"] == pytest.approx(dragged["drop"]))


def test_an_envelope_is_drawn_with_the_mouse(screen: Screen) -> None:
    before = screen.state()["envelopes"]
    screen.do("key", "space", "key", "d")
    # the drawing may still be fitted until the axle stands
    state = screen.wait(lambda s: s["drawing"] and not s["playing"])
    for i in (0, 1, 2, 3, 0):
        screen.do("mousemove", *state["places"][f"corner {i}"], "click", 1)
    screen.do("key", "Return")
    state = screen.wait(lambda s: len(s["envelopes"]) > len(before))
    assert state["envelopes"] == [*before, [4, 4]]
    assert not state["drawing"]
    screen.do("key", "ctrl+z")
    screen.wait(lambda s: s["envelopes"] == before)


def test_a_newcomer_draws_a_tank_sees_the_contact_drags_the_drop_until_it_clears_and_undoes_it(screen: Screen) -> None:
    before = screen.state()["names"]
    screen.do("key", "space", "key", "d")
    state = screen.wait(lambda s: s["drawing"] and not s["playing"])
    for view in ("rear", "side"):
        for i in (0, 1, 2, 3, 0):
            screen.do("mousemove", *state["places"][f"{view} {i}"], "click", 1)
    state = screen.wait(lambda s: len(s["names"]) > len(before))
    assert state["names"] == [*before, "fuel tank 2"]
    assert state["envelopes"][-1] == [4, 4]
    # the page says it in words, the drawing hatches it
    state = screen.wait(lambda s: s["page"] == "clearance" and s["words"][-1:] == ["touches"])
    screen.do("mousemove", *state["places"]["drop 0"], "mousedown", 1)
    screen.do("mousemove", *state["places"]["drop 100"])
    screen.wait(lambda s: 95.0 < s["drop"] < 105.0)
    screen.do("mousemove", *state["places"]["drop 200"], "mouseup", 1)
    screen.wait(lambda s: 190.0 < s["drop"] < 210.0 and s["words"][-1:] == ["clear"])
    screen.do("key", "ctrl+z")
    screen.wait(lambda s: s["drop"] == 0.0 and s["words"][-1:] == ["touches"])
    screen.do("key", "ctrl+z")
    undone = screen.wait(lambda s: s["names"] == before)
    assert undone["undo"] == ""


def test_keys_work_the_window_and_it_ends_well(screen: Screen) -> None:
    screen.do("key", "i")
    screen.wait(lambda s: s["unit"] == "in")
    screen.do("key", "F11")
    screen.wait(lambda s: s["counter"])
    screen.do("key", "Escape")
    screen.wait(lambda s: not s["counter"])
    screen.do("key", "space")
    screen.wait(lambda s: not s["playing"])
    screen.do("key", "ctrl+q")
    assert screen.process.wait(timeout=20) == 0
