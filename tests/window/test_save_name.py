"""Whatever is saved: a name without an ending gets one, and the file it is then is not written over unasked."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QFileDialog

from linkviz.book.read import read_job
from linkviz.book.write import write_job
from linkviz.window import dialogs
from linkviz.window.graph_file import ask_graph
from linkviz.window.save_name import ask_name
from linkviz.window.window import MainWindow

OLD = "what somebody made last week"
ASKS: dict[str, tuple[str, Any]] = {
    "job.toml": ("Jobs (*.job.toml)", lambda window: window.files.ask_save()),
    "vehicle.toml": ("Vehicles (*.vehicle.toml)", lambda window: window.files.ask_save()),
    "csv": ("Measuring sheets (*.csv *.txt)", lambda window: window.files.ask_blank()),
    "png": ("Picture (*.png)", lambda window: window.share.ask()),
    "svg": ("Drawings (*.svg)", ask_graph),
    "dxf": ("Drawing (*.dxf)", lambda window: window.envelopes.ask_export()),
}
"""Whatever asks for a name, by the ending that the chosen kind gives it."""


def choose(monkeypatch: pytest.MonkeyPatch, *answers: tuple[str, str]) -> list[str]:
    """Answer the file dialog; return the names that it began with."""
    began: list[str] = []

    def ask(parent: object, title: str, start: str, *_: object) -> tuple[str, str]:
        began.append(start)
        return answers[len(began) - 1]

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    return began


def answer(monkeypatch: pytest.MonkeyPatch, word: str) -> list[list[str]]:
    """Answer the question about a file that is there; return which files it was about."""
    asked: list[list[str]] = []
    monkeypatch.setattr(dialogs, "ask_overwrite", lambda _, folder, names, other: asked.append(names) or word)
    return asked


@pytest.mark.parametrize("ending", ASKS)
def test_a_file_under_the_whole_name_stays_unless_it_is_given_up(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str
) -> None:
    words, ask = ASKS[ending]
    file = tmp_path / f"old.{ending}"
    file.write_text(OLD, encoding="utf-8")
    asked = answer(monkeypatch, "stay")
    choose(monkeypatch, (str(tmp_path / "old"), words), (str(tmp_path / "old"), words))
    ask(window)
    assert asked == [[file.name]]
    assert file.read_text(encoding="utf-8") == OLD
    answer(monkeypatch, "over")
    choose(monkeypatch, (str(tmp_path / "old"), words))
    ask(window)
    assert OLD.encode() not in file.read_bytes()


def test_another_name_is_asked_for_beginning_with_the_one_before(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "old.png").touch()
    answer(monkeypatch, "other")
    kinds = {"png": "Pictures (*.png)", "svg": "Drawings (*.svg)"}
    old = str(tmp_path / "old")
    began = choose(monkeypatch, (old, kinds["png"]), (old, kinds["svg"]))
    assert ask_name(window, "Save", tmp_path / "first.png", kinds) == f"{old}.svg"
    assert began == [str(tmp_path / "first.png"), f"{old}.png"]


@pytest.mark.parametrize(("typed", "name"), [("a.SVG", "a.SVG"), ("a.b", "a.b.svg"), ("a", "a.svg"), ("", "")])
def test_an_ending_that_fits_is_left(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, typed: str, name: str
) -> None:
    kinds = {"png": "Pictures (*.png)", "svg": "Drawings (*.svg)"}
    choose(monkeypatch, (typed, ""))
    monkeypatch.chdir(tmp_path)
    assert ask_name(window, "Save", Path("x"), kinds, "svg") == name


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("X.JOB.TOML", "X.JOB.TOML"),
        ("x.Vehicle.toml", "x.Vehicle.toml"),
        ("x.toml", "x.job.toml"),
        ("x.b.TOML", "x.b.job.toml"),
        ("c.toml", "c.toml"),
        ("x", "x.job.toml"),
    ],
)
def test_half_an_ending_is_made_whole_and_ones_own_name_is_left(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, typed: str, name: str
) -> None:
    kinds = {"vehicle.toml": "Vehicles (*.vehicle.toml)", "job.toml": "Jobs (*.job.toml)"}
    monkeypatch.chdir(tmp_path)
    choose(monkeypatch, (typed, kinds["job.toml"]))
    assert ask_name(window, "Save as", Path("c.toml"), kinds) == name


def test_a_vehicle_saved_as_a_job_holds_the_setup(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.session.edit_setup("bracket drop", drop=77.0)
    choose(monkeypatch, (str(tmp_path / "smith.toml"), "Jobs (*.job.toml)"))
    assert window.files.ask_save()
    assert read_job(tmp_path / "smith.job.toml").setup.drop == 77.0
    choose(monkeypatch, (str(tmp_path / "Smith2.Job.TOML"), ""))
    assert window.files.ask_save()
    assert read_job(tmp_path / "Smith2.Job.TOML").setup.drop == 77.0


def test_a_job_that_would_be_lost_under_a_vehicle_is_told_in_a_dialog(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "c.vehicle.toml"
    write_job(window.session.document.whole, file)
    told: list[str] = []
    monkeypatch.setattr(dialogs, "tell", lambda error, parent: told.append(str(error)))
    choose(monkeypatch, (str(file), ""))
    assert not window.files.ask_save()
    assert "holds a job" in told[0]
    assert read_job(file) == window.session.document.whole
