from __future__ import annotations

import json
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Whole
from linkviz.book.write import write_job
from linkviz.commands import main
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

VEHICLE = str(demo_vehicle_paths()[0])


@pytest.fixture
def job_file(tmp_path: Path) -> str:
    path = tmp_path / "a.job.toml"
    write_job(Whole(Job(number="7", customer="A. Sample"), Setup(lift=100.0, drop=76.2), read_vehicle(VEHICLE)), path)
    return str(path)


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(arguments) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("command", ["sweep", "explain"])
def test_a_job_stands_for_its_vehicle_and_setup(
    command: str, job_file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    from_job = said(capsys, command, job_file)
    assert from_job == said(capsys, command, VEHICLE, "--lift", "100", "--drop", "3in")
    assert from_job != said(capsys, command, VEHICLE)


def test_the_command_line_has_the_last_word(job_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    other = said(capsys, "explain", job_file, "--json", "--drop", "0")
    assert json.loads(other) == json.loads(said(capsys, "explain", VEHICLE, "--json", "--lift", "100"))


def test_a_job_is_drawn(job_file: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "picture", job_file, "--out", str(tmp_path / "job.svg"))
    said(capsys, "picture", VEHICLE, "--lift", "100", "--drop", "3in", "--out", str(tmp_path / "vehicle.svg"))
    assert (tmp_path / "job.svg").read_text() == (tmp_path / "vehicle.svg").read_text()


def test_check_takes_jobs(job_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "good (7, A. Sample, " in said(capsys, "check", job_file, VEHICLE)
    text = Path(job_file).read_text().replace("lift = 100.0", 'lift = "four"')
    Path(job_file).write_text(text)
    assert main(["check", job_file]) == 1
    assert "setup.lift" in capsys.readouterr().err


def test_without_a_screen_a_job_is_told_and_drawn(
    job_file: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delenv("QT_QPA_PLATFORM")
    monkeypatch.chdir(tmp_path)
    out = said(capsys, job_file)
    assert "corrected" in out
    assert (tmp_path / "a-lifted.png").exists() or (tmp_path / "a-lifted.svg").exists()
