"""The weather of the tests: no screen, one style, one scale, and no trace of the person who runs them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest

os.environ["QT_QPA_PLATFORM"] = "offscreen"
os.environ["QT_SCALE_FACTOR"] = "1"
os.environ["QT_ENABLE_HIGHDPI_SCALING"] = "0"
os.environ["LC_ALL"] = "C.UTF-8"
for _name in ("QT_STYLE_OVERRIDE", "QT_QPA_PLATFORMTHEME", "DISPLAY", "WAYLAND_DISPLAY"):
    os.environ.pop(_name, None)

# no trace in the clone, which may be read-only; the same examples in every landing check; no race with a slow machine
hypothesis.settings.register_profile(
    "house", database=None, deadline=None, derandomize=bool(os.environ.get("LINKVIZ_CI")), print_blob=True
)
hypothesis.settings.load_profile("house")

SCREEN = "1920x1080x24"


@pytest.fixture(autouse=True)
def own_folders(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give each test folders of its own for state, settings and cache."""
    home = tmp_path_factory.mktemp("home")
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home / name.lower()))
    return home


@pytest.fixture(scope="session")
def qapp(qapp: Any) -> Any:
    """Give the application one look wherever the tests run."""
    from PySide6.QtCore import QStandardPaths
    from PySide6.QtGui import QFont

    QStandardPaths.setTestModeEnabled(True)
    qapp.setStyle("Fusion")
    font = QFont("DejaVu Sans")
    font.setPixelSize(13)
    qapp.setFont(font)
    return qapp


@pytest.fixture(autouse=True)
def clean_widgets() -> Iterator[None]:
    """Destroy every widget that a test leaves behind, so that none dies in another test."""
    yield
    widgets = sys.modules.get("PySide6.QtWidgets")
    if widgets is None or widgets.QApplication.instance() is None:
        return
    from PySide6.QtCore import QCoreApplication, QEvent

    for widget in widgets.QApplication.topLevelWidgets():
        # the list under a line of text is a window too, but whoever completes the text destroys it, once
        if isinstance(widget, widgets.QAbstractItemView):
            continue
        widget.hide()
        widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    QCoreApplication.processEvents()


def _without_screen(reason: str) -> None:
    if os.environ.get("LINKVIZ_CI"):
        pytest.fail(reason)
    pytest.skip(reason)


def _wait(process: subprocess.Popen[Any], command: list[str], environment: dict[str, str]) -> bool:
    """Tell whether a command succeeds within some seconds while a process runs."""
    end = time.monotonic() + 20
    while process.poll() is None and time.monotonic() < end:
        if subprocess.run(command, env=environment, capture_output=True, check=False).returncode == 0:
            return True
        time.sleep(0.05)
    return False


@pytest.fixture(scope="session")
def screen_display() -> Iterator[str]:
    """Start a virtual screen with a window manager; give its ``DISPLAY``."""
    lacking = [tool for tool in ("Xvfb", "openbox", "xdotool") if shutil.which(tool) is None]
    if lacking:
        _without_screen(
            f"{', '.join(lacking)} cannot be found; 'sudo apt-get install xvfb openbox xdotool' brings them"
        )
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", SCREEN, "-nolisten", "tcp", "-noreset"],
        pass_fds=[writing],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    manager = None
    try:
        os.close(writing)
        with os.fdopen(reading, encoding="ascii") as pipe:
            number = pipe.readline().strip()
        assert number, f"Xvfb gave no display and ended with {server.wait(timeout=10)}"
        environment = os.environ | {"DISPLAY": f":{number}"}
        manager = subprocess.Popen(
            ["openbox", "--sm-disable"], env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        assert _wait(manager, ["xdotool", "get_desktop"], environment), "the window manager did not come up"
        yield f":{number}"
    finally:
        for process in (manager, server):
            if process is not None:
                process.terminate()
                process.wait(timeout=10)


@pytest.fixture
def screen_env(screen_display: str, own_folders: Path) -> dict[str, str]:
    """Give the environment of a program that opens its window on the virtual screen."""
    environment = os.environ | {"DISPLAY": screen_display, "QT_QPA_PLATFORM": "xcb"}
    return environment
