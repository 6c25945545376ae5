from __future__ import annotations

import threading
from typing import Any

from PySide6.QtCore import QThread

from linkviz.window.work import LatestWork


def test_the_answer_comes_from_another_thread_to_this_one(qtbot: Any) -> None:
    where: list[int] = []

    def square(number: int) -> int:
        where.append(threading.get_ident())
        return number * number

    work = LatestWork(square, pause_ms=0)
    answers: list[tuple[object, object, bool]] = []
    here = QThread.currentThread()
    work.done.connect(lambda key, answer: answers.append((key, answer, QThread.currentThread() is here)))
    work.ask("seven", 7)
    assert work.busy
    qtbot.waitUntil(lambda: bool(answers))
    assert answers == [("seven", 49, True)]
    assert where[0] != threading.get_ident()
    assert not work.busy


def test_only_the_latest_of_many_requests_is_worked_on(qtbot: Any) -> None:
    seen: list[int] = []
    work = LatestWork(seen.append, pause_ms=30)
    answers: list[object] = []
    work.done.connect(lambda key, answer: answers.append(key))
    for i in range(20):
        work.ask(i, i)
    qtbot.waitUntil(lambda: bool(answers))
    assert seen == [19]
    assert answers == [19]


def test_an_answer_that_is_out_of_date_is_not_told(qtbot: Any) -> None:
    gate = threading.Event()
    started: list[int] = []

    def slow(number: int) -> int:
        started.append(number)
        gate.wait(5)
        return number

    work = LatestWork(slow, pause_ms=0)
    answers: list[object] = []
    work.done.connect(lambda key, answer: answers.append(answer))
    work.ask(1, 1)
    qtbot.waitUntil(lambda: started == [1])
    work.ask(2, 2)
    gate.set()
    qtbot.waitUntil(lambda: bool(answers))
    assert answers == [2]


def test_what_was_answered_is_not_worked_on_again(qtbot: Any) -> None:
    seen: list[int] = []
    work = LatestWork(seen.append, pause_ms=0)
    with qtbot.waitSignal(work.done):
        work.ask("a", 1)
    work.ask("a", 1)
    assert not work.busy
    assert seen == [1]


def test_work_that_fails_gives_nothing_and_the_next_goes_on(qtbot: Any, caplog: Any) -> None:
    def fail(number: int) -> float:
        return 1 / number

    work = LatestWork(fail, pause_ms=0)
    answers: list[tuple[object, object]] = []
    work.done.connect(lambda key, answer: answers.append((key, answer)))
    work.ask("zero", 0)
    qtbot.waitUntil(lambda: len(answers) == 1)
    work.ask("two", 2)
    qtbot.waitUntil(lambda: len(answers) == 2)
    assert answers == [("zero", None), ("two", 0.5)]
    assert "ZeroDivisionError" in caplog.text


def test_a_request_that_is_taken_back_while_it_runs_is_not_told(qtbot: Any) -> None:
    gate = threading.Event()
    started: list[int] = []

    def slow(number: int) -> int:
        started.append(number)
        if number == 2:
            gate.wait(5)
        return number

    work = LatestWork(slow, pause_ms=0)
    answers: list[object] = []
    work.done.connect(lambda key, answer: answers.append(answer))
    assert not work.ask(1, 1)
    qtbot.waitUntil(lambda: answers == [1])
    assert not work.ask(2, 2)
    qtbot.waitUntil(lambda: started == [1, 2])
    assert work.ask(1, 1)
    gate.set()
    qtbot.waitUntil(lambda: not work.busy)
    assert answers == [1]
    assert not work.ask(2, 2)
    qtbot.waitUntil(lambda: answers == [1, 2])
