"""The weather of the tests itself, and of the Qt they run on."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from linkviz.session.store import state_dir

WINDOW = """
from PySide6.QtWidgets import QApplication, QLabel
from PySide6.QtCore import QTimer
app = QApplication([])
label = QLabel("shown")
label.setWindowTitle("weather trial")
label.show()
QTimer.singleShot(30000, app.quit)
app.exec()
"""


def test_state_is_kept_away_from_the_person_who_runs_the_tests(own_folders: Path) -> None:
    assert own_folders in state_dir().parents


@pytest.mark.parametrize("turn", [1, 2])
def test_no_widget_lives_into_the_next_test(qapp: Any, turn: int) -> None:
    from PySide6.QtWidgets import QWidget

    assert [widget for widget in qapp.topLevelWidgets() if widget.windowTitle() == "left behind"] == []
    widget = QWidget()
    widget.setWindowTitle("left behind")
    widget.show()
    qapp.left_behind = widget


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None cannot be lost from 3.12 on")
def test_this_qt_keeps_its_references(qapp: Any) -> None:
    from PySide6.QtWidgets import QWidget

    widget = QWidget()
    before = sys.getrefcount(None)
    for _ in range(2000):
        widget.update()
    assert sys.getrefcount(None) > before - 500


@pytest.mark.screen
def test_a_window_comes_up_on_the_virtual_screen(screen_env: dict[str, str]) -> None:
    with subprocess.Popen([sys.executable, "-c", WINDOW], env=screen_env, stderr=subprocess.PIPE) as program:
        try:
            search = ["xdotool", "search", "--sync", "--onlyvisible", "--name", "^weather trial$"]
            found = subprocess.run(search, env=screen_env, capture_output=True, text=True, check=False, timeout=60)
        finally:
            program.terminate()
            _, said = program.communicate(timeout=30)
    assert found.stdout.split(), said.decode()


def test_the_other_tests_have_no_screen() -> None:
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
    assert "DISPLAY" not in os.environ
