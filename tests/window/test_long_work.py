from __future__ import annotations

import logging
import threading
from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import QThread

from linkviz.window.long_work import Cancelled, LongWork, Report


def test_stages_come_one_after_the_other_with_progress(qtbot: Any) -> None:
    def work(what: int, report: Report, cancelled: Cancelled) -> Iterator[int]:
        report(0.25)
        yield what
        report(1.0)
        yield what * 10

    long = LongWork(work, still_ms=0)
    came: list[tuple[object, object, bool]] = []
    shares: list[float | None] = []
    here = QThread.currentThread()
    long.came.connect(lambda key, answer: came.append((key, answer, QThread.currentThread() is here)))
    long.changed.connect(lambda: shares.append(long.share))
    long.progressed.connect(shares.append)
    long.ask("seven", 7)
    assert long.busy
    qtbot.waitUntil(lambda: not long.busy)
    assert came == [("seven", 7, True), ("seven", 70, True)]
    assert shares == [0.0, 0.25, 1.0, None]
    long.ask("seven", 7)
    assert not long.busy, "what was answered is not worked out again"


def test_another_request_stops_the_present_one_at_once(qtbot: Any) -> None:
    started: list[int] = []
    stopped: list[int] = []

    def work(what: int, report: Report, cancelled: Cancelled) -> Iterator[int]:
        started.append(what)
        while what == 1 and not cancelled():
            threading.Event().wait(0.005)
        if what == 1:
            stopped.append(what)
        yield what

    long = LongWork(work, still_ms=0)
    came: list[object] = []
    long.came.connect(lambda key, answer: came.append(answer))
    long.ask(1, 1)
    qtbot.waitUntil(lambda: started == [1])
    long.ask(2, 2)
    qtbot.waitUntil(lambda: not long.busy)
    assert stopped == [1]
    assert came == [2]


def test_what_was_cancelled_stays_so_until_something_changes(qtbot: Any) -> None:
    def work(what: int, report: Report, cancelled: Cancelled) -> Iterator[int]:
        while not cancelled():
            threading.Event().wait(0.005)
        yield what

    long = LongWork(work, still_ms=0)
    came: list[object] = []
    long.came.connect(lambda key, answer: came.append(answer))
    long.ask(1, 1)
    qtbot.waitUntil(lambda: long.share is not None)
    long.cancel()
    assert not long.busy and long.share is None
    long.ask(1, 1)
    assert not long.busy
    long.forget()
    long.ask(1, 1)
    assert long.busy
    long.wait()
    assert came == []


def test_a_failure_is_logged_and_ends_the_work(qtbot: Any, caplog: pytest.LogCaptureFixture) -> None:
    def work(what: int, report: Report, cancelled: Cancelled) -> Iterator[int]:
        yield what
        raise ValueError("no more")

    long = LongWork(work, still_ms=0)
    with caplog.at_level(logging.ERROR, "linkviz"):
        long.ask(1, 1)
        qtbot.waitUntil(lambda: not long.busy)
    assert "no more" in caplog.text
