from __future__ import annotations

import gc
import sys

import pytest

from linkviz.commands import open as opening
from linkviz.commands import windowless


def test_no_garbage_is_looked_for_while_the_window_starts(monkeypatch: pytest.MonkeyPatch) -> None:
    main = pytest.importorskip("linkviz.window.main")
    monkeypatch.setattr(opening, "no_screen", lambda: "")
    monkeypatch.setattr(main, "run", lambda path: int(gc.isenabled()))
    try:
        assert opening.open_window(None) == 0
    finally:
        gc.enable()


def test_where_the_window_lacks_something_all_goes_on_as_before(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(opening, "no_screen", lambda: "")
    monkeypatch.setattr(windowless, "_write", lambda *_: "")
    monkeypatch.setitem(sys.modules, "linkviz.window.main", None)
    assert opening.open_window(None) == 0
    assert gc.isenabled()
    assert "system library that is missing" in capsys.readouterr().out
