"""A window on an invented vehicle, its state in a folder of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.view import View
from linkviz.vehicle.read import read_vehicle
from linkviz.window import dialogs, doubts
from linkviz.window.window import MainWindow

MakeWindow = Callable[..., MainWindow]


@pytest.fixture
def make_window(qtbot: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[MakeWindow]:
    """Return a function that opens a window; unsaved work is thrown away when it closes."""
    windows: list[MainWindow] = []
    # a question nobody answers would stop the tests for good
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: "discard")
    # it takes a core for seconds; a test that wants it has Doubts of its own
    monkeypatch.setattr(doubts, "STILL_MS", 3_600_000)

    def make(size: tuple[int, int] = (1280, 720), document: Document | None = None, **view: Any) -> MainWindow:
        document = document or Document(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0))
        window = MainWindow(Session(document, Store(tmp_path / "state"), View(**view)))
        windows.append(window)
        window.resize(*size)
        window.show()
        qtbot.waitExposed(window)
        window.frame_now()
        return window

    yield make
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: "discard")
    for window in windows:
        window.close()


@pytest.fixture
def window(make_window: MakeWindow) -> MainWindow:
    return make_window()
