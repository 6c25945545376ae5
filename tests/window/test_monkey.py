"""Random use: no exception, no warning of Qt, nothing lost, memory flat; and a fault of each kind is noticed.

The long runs: ``python3 -m tests -m soak tests/window/test_monkey.py``; one by hand:
``python3 -m tests.window.rampage SEED ACTIONS``.
"""

from __future__ import annotations

import json
import logging
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import qWarning

from linkviz.resources import demo_vehicle_paths
from linkviz.session import files
from linkviz.session.session import Session
from linkviz.session.view import PAGES
from linkviz.window.actions import DEEDS
from linkviz.window.window import MainWindow
from tests.window.monkey import LEAVES
from tests.window.rampage import Rampage, every_dialog
from tests.window.watch import Jobs, Watch

MakeWindow = Callable[..., MainWindow]
LONG = 20_000
GROWTH = 0.05
"""How much the memory may grow over the last half of the long run."""
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def rampage(make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[..., Any]]:
    """Return a function that lets the monkey loose for some actions, watched."""
    monkeypatch.setenv("HOME", str(tmp_path))
    window = make_window()
    with Watch() as watch:

        def run(seed: int, acts: int) -> Any:
            rampage = Rampage(window, seed, tmp_path, monkeypatch.setattr, watch)
            try:
                return rampage.run(acts, samples=0)
            finally:
                rampage.attend.on = False

        yield run


@pytest.mark.parametrize("seed", [1, 2])
def test_sixty_random_actions(rampage: Callable[..., Any], seed: int) -> None:
    told = rampage(seed, 60)
    assert told.acts == 60


def _fails_in_a_slot(self: Session) -> None:
    raise ZeroDivisionError("in a slot")


def _warns(self: Session) -> None:
    qWarning("a timer of nobody")


def _logs(self: Session) -> None:
    logging.getLogger("linkviz").error("work off the painting thread failed")


@pytest.mark.parametrize(("fault", "words"), [(_fails_in_a_slot, "in a slot"), (_warns, "of nobody"), (_logs, "log:")])
def test_a_fault_is_noticed_with_its_seed(
    rampage: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, fault: Any, words: str
) -> None:
    monkeypatch.setattr(Session, "undo", fault)
    with pytest.raises(AssertionError, match=f"(?s)seed 3, action .*{words}"):
        rampage(3, 100)


def test_a_save_that_is_lost_is_noticed(window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    jobs = Jobs(window.session)
    file = tmp_path / "a.job.toml"
    window.session.save_as(str(file))
    window.session.edit_setup("lift it", lift=50.0)
    monkeypatch.setattr(files, "save", lambda document, path, known: known or "")
    jobs.check_open()
    window.session.save()
    with pytest.raises(AssertionError, match="not what was saved"):
        jobs.check_open()
    with pytest.raises(AssertionError, match="not what was saved"):
        jobs.check_all()


def test_work_that_is_left_without_a_question_is_noticed(window: MainWindow, tmp_path: Path) -> None:
    jobs = Jobs(window.session)
    window.session.edit_job("notes", notes="call on Friday")
    with pytest.raises(AssertionError, match="without a question"):
        window.session.new_from(str(demo_vehicle_paths()[1]))
    jobs.leave = "discard"
    window.session.new_from(str(demo_vehicle_paths()[1]))


def _long(seed: int, acts: int, environment: dict[str, str], told: Path) -> dict[str, Any]:
    command = [sys.executable, "-m", "tests.window.rampage", str(seed), str(acts), "--json", str(told)]
    subprocess.run(command, env=environment, cwd=ROOT, check=True)
    return dict(json.loads(told.read_text(encoding="utf-8")))


def _check(told: dict[str, Any]) -> None:
    assert told["acts"] == LONG
    assert told["growth"] < GROWTH, told["memory"]
    done, seen = set(told["count"]), set(told["seen"])
    assert {f"deed {deed.name}" for deed in DEEDS if deed.name not in LEAVES} <= done
    assert {f"page {name}" for name in PAGES} <= done
    assert {kind for kind in every_dialog() if not any(name.startswith(f"{kind} ") for name in seen)} == set()
    assert told["saves"] > 0


@pytest.mark.soak
@pytest.mark.timeout(10_800)
def test_twenty_thousand_random_actions(tmp_path: Path) -> None:
    _check(_long(11, LONG, dict(os.environ), tmp_path / "told.json"))


@pytest.mark.soak
@pytest.mark.screen
@pytest.mark.timeout(10_800)
def test_twenty_thousand_random_actions_on_a_screen(tmp_path: Path, screen_env: dict[str, str]) -> None:
    _check(_long(12, LONG, screen_env, tmp_path / "told.json"))
