from __future__ import annotations

import contextlib
import json
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import NO_JOB, Job, Whole
from linkviz.book.write import write_job
from linkviz.commands import main, papers, windowless
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


@pytest.mark.parametrize("command", ["explain", "bracket", "clearance", "stance", "valve"])
def test_figures_come_in_the_units_of_the_file_that_is_named(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.job.toml"
    write_job(Whole(Job(number="7", units="in"), Setup(lift=101.6, drop=76.2), read_vehicle(VEHICLE)), path)
    parts = ("--lift=4in", "--drop=3in")
    from_job, from_vehicle = said(capsys, command, str(path)), said(capsys, command, VEHICLE, *parts)
    assert from_job == said(capsys, command, VEHICLE, *parts, "--units=in")
    assert from_vehicle == said(capsys, command, str(path), "--units=mm")
    assert from_job != from_vehicle


def test_papers_pictures_and_what_is_told_without_a_screen_go_by_the_same_rule(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = Whole(Job(number="7", units="in"), Setup(lift=101.6, drop=76.2), read_vehicle(VEHICLE))
    assert (whole.units, Whole(NO_JOB, whole.setup, whole.vehicle).units) == ("in", "mm")
    path = tmp_path / "a.job.toml"
    write_job(whole, path)
    drawn, in_inches = tmp_path / "a.svg", tmp_path / "b.svg"
    said(capsys, "picture", str(path), "--out", str(drawn))
    said(capsys, "picture", VEHICLE, "--lift=4in", "--drop=3in", "--units=in", "--out", str(in_inches))
    assert drawn.read_text() == in_inches.read_text()
    told: list[str] = []
    monkeypatch.setattr(papers, "write_papers", lambda order, *_: told.append(order.heading.unit) or [])
    said(capsys, "papers", str(path), "--out", str(tmp_path / "out"))
    said(capsys, "papers", VEHICLE, "--lift=4in", "--drop=3in", "--out", str(tmp_path / "out"))
    assert told == ["in", "mm"]
    assert '4"' in windowless.report(whole)


def test_the_help_says_which_units(capsys: pytest.CaptureFixture[str]) -> None:
    for command in ("explain", "bracket", "clearance", "stance", "valve", "picture", "papers"):
        with contextlib.suppress(SystemExit):
            main([command, "--help"])
        assert "a job's own, not those of the vehicle in it" in " ".join(capsys.readouterr().out.split())
