from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from linkviz import commands
from linkviz.analysis.doubt import apart
from linkviz.analysis.doubt.uncertainty import run
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON, SETUP = read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0)


def test_the_answers_are_those_of_this_process() -> None:
    shares: list[float] = []
    answers = list(apart.work_out(WAGON, SETUP, (100, 120), shares.append, lambda: False))
    assert [answer.trials for answer in answers] == [100, 120, 120]
    assert answers[1].sure is None and answers[2].sure is not None
    assert shares[0] == 0.0 and shares == sorted(shares) and shares[-1] == pytest.approx(1.0)
    here = run(WAGON, SETUP, 120)
    assert here is not None
    assert answers[-1].cases["lifted"].results == here.cases["lifted"].results
    assert answers[-1].vehicle is WAGON and answers[-1].setup is SETUP


def test_a_program_built_into_a_folder_starts_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """There `sys.executable` is the program itself: it gets its own command line and knows no ``-m``."""
    start = tmp_path / "start.py"
    start.write_text("import sys\nfrom linkviz.commands import main\nsys.exit(main(sys.argv[1:]))\n")
    program = tmp_path / "linkviz"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" "{start}" "$@"\n')
    program.chmod(0o755)
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    monkeypatch.setattr(sys, "executable", str(program))
    answers = list(apart.work_out(WAGON, SETUP, (100,), lambda share: None, lambda: False))
    assert [answer.trials for answer in answers] == [100, 100]
    assert answers[1].sure is not None


def test_the_word_is_the_one_the_command_line_knows() -> None:
    assert apart.WORD == commands.APART


def test_what_is_cancelled_ends_the_process(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[subprocess.Popen[bytes]] = []
    start = apart._started

    def kept() -> subprocess.Popen[bytes]:
        started.append(start())
        return started[-1]

    monkeypatch.setattr(apart, "_started", kept)
    told: list[float] = []
    answers = list(apart.work_out(WAGON, SETUP, (1_000_000,), told.append, lambda: True))
    assert answers == [] and told == []
    assert started[0].poll() is not None


def test_a_process_that_dies_is_told_of(monkeypatch: pytest.MonkeyPatch) -> None:
    code = "import sys; sys.stdin.buffer.read(); sys.exit(3)"
    pipe = subprocess.PIPE
    monkeypatch.setattr(
        apart, "_started", lambda: subprocess.Popen([sys.executable, "-c", code], stdin=pipe, stdout=pipe)
    )
    with pytest.raises(RuntimeError, match="ended too soon"):
        list(apart.work_out(WAGON, SETUP, (100,), lambda share: None, lambda: False))


def test_a_process_that_says_nothing_is_ended_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    code = "import sys, time; sys.stdin.buffer.read(); time.sleep(600)"
    pipe = subprocess.PIPE
    made: list[subprocess.Popen[bytes]] = []

    def mute() -> subprocess.Popen[bytes]:
        made.append(subprocess.Popen([sys.executable, "-c", code], stdin=pipe, stdout=pipe))
        return made[-1]

    monkeypatch.setattr(apart, "_started", mute)
    asked = iter([False, False])
    assert list(apart.work_out(WAGON, SETUP, (100,), lambda share: None, lambda: next(asked, True))) == []
    assert made[0].poll() is not None
