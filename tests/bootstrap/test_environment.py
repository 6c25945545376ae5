"""The environment of a clone: where it is, when it fits, what is done with one that does not."""

from __future__ import annotations

import os
import platform
from pathlib import Path

import pytest

from linkviz.bootstrap import environment
from linkviz.bootstrap.environment import BUSY, STAMP, Environment, environment_of
from linkviz.bootstrap.messages import SetUpFailed

PARTS = {"program": ["alpha>=1"]}


@pytest.fixture
def steps(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """Play the steps of a set-up instead of running them."""
    done: list[list[str]] = []

    def run(self: Environment, command: list[str], trouble: str) -> None:
        done.append(command[1:])
        if command[1:3] == ["-m", "venv"]:
            self.python.parent.mkdir(parents=True)
            self.python.write_text("", encoding="utf-8")
            (self.folder / "pyvenv.cfg").write_text("", encoding="utf-8")

    monkeypatch.setattr(Environment, "_run", run)
    monkeypatch.setattr(Environment, "_usable", lambda self: self.python.exists() and not (self.folder / BUSY).exists())
    return done


def test_a_new_one_is_made_filled_and_fits(tmp_path: Path, steps: list[list[str]]) -> None:
    made = Environment(tmp_path / ".venv")
    assert not made.fits(PARTS)
    made.set_up(PARTS)
    assert made.fits(PARTS)
    assert steps[0][:2] == ["-m", "venv"]
    assert steps[1][-1] == "alpha>=1"
    made.set_up(PARTS)
    assert len(steps) == 2, "one that fits is left alone"


def test_the_tests_bring_the_program_along(tmp_path: Path, steps: list[list[str]]) -> None:
    made = Environment(tmp_path / ".venv")
    made.set_up(PARTS | {"tests": ["alpha>=1", "beta"]})
    assert steps[-1][-2:] == ["alpha>=1", "beta"]
    assert made.fits(PARTS)
    assert not Environment(tmp_path / "other").fits(PARTS)


def test_other_requirements_bring_it_up_to_date_in_its_place(tmp_path: Path, steps: list[list[str]]) -> None:
    made = Environment(tmp_path / ".venv")
    made.set_up(PARTS)
    newer = {"program": ["alpha>=2"]}
    assert not made.fits(newer)
    made.set_up(newer)
    assert made.fits(newer)
    assert [step[1] for step in steps] == ["venv", "pip", "pip"]


def test_another_python_makes_it_unfit(tmp_path: Path, steps: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    made = Environment(tmp_path / ".venv")
    made.set_up(PARTS)
    monkeypatch.setattr(platform, "python_version", lambda: "3.99.0")
    assert not made.fits(PARTS)


@pytest.mark.parametrize("broken", ["unfinished", "no stamp", "stamp of nonsense", "no interpreter", "packages lost"])
def test_one_that_was_cut_short_is_made_whole(tmp_path: Path, steps: list[list[str]], broken: str) -> None:
    made = Environment(tmp_path / ".venv")
    made.set_up(PARTS)
    if broken == "unfinished":
        (made.folder / BUSY).touch()
    elif broken == "no stamp":
        (made.folder / STAMP).unlink()
    elif broken == "stamp of nonsense":
        (made.folder / STAMP).write_text("[1", encoding="utf-8")
    elif broken == "no interpreter":
        made.python.unlink()
    else:
        made.forget()
    assert not made.fits(PARTS)
    made.set_up(PARTS)
    assert made.fits(PARTS)
    anew = broken in ("unfinished", "no interpreter", "packages lost")
    assert [step[1] for step in steps[2:]] == (["venv", "pip"] if anew else ["pip"])


def test_a_failed_step_leaves_it_unfit(tmp_path: Path, steps: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    made = Environment(tmp_path / ".venv")
    made.set_up(PARTS)

    def fail(self: Environment, command: list[str], trouble: str) -> None:
        raise SetUpFailed(trouble)

    monkeypatch.setattr(Environment, "_run", fail)
    with pytest.raises(SetUpFailed, match="pip could not install"):
        made.set_up({"program": ["alpha>=2"]})
    assert not made.fits(PARTS)
    assert not made.fits({"program": ["alpha>=2"]})


def test_a_folder_of_somebody_else_is_not_touched(tmp_path: Path, steps: list[list[str]]) -> None:
    made = Environment(tmp_path / ".venv")
    made.folder.mkdir()
    (made.folder / "letters.txt").write_text("dear", encoding="utf-8")
    with pytest.raises(SetUpFailed, match="is not an environment made by this program"):
        made.set_up(PARTS)
    assert (made.folder / "letters.txt").read_text(encoding="utf-8") == "dear"
    assert steps == []


def test_a_link_to_elsewhere_is_not_emptied(tmp_path: Path, steps: list[list[str]]) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "pyvenv.cfg").write_text("", encoding="utf-8")
    made = Environment(tmp_path / ".venv")
    made.folder.symlink_to(elsewhere)
    with pytest.raises(SetUpFailed):
        made.set_up(PARTS)
    assert (elsewhere / "pyvenv.cfg").exists()


def test_a_disk_that_refuses_is_told(tmp_path: Path, steps: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(SetUpFailed, match="No space left on device"):
        Environment(tmp_path / ".venv").set_up(PARTS)


def test_it_lies_in_the_clone_if_that_can_be_written(tmp_path: Path) -> None:
    assert environment_of(tmp_path).folder == tmp_path / ".venv"


def test_it_lies_in_the_cache_of_the_user_if_not(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cache = Path(os.environ["XDG_CACHE_HOME" if os.name != "nt" else "LOCALAPPDATA"])
    monkeypatch.setattr(environment, "_writable", lambda folder: cache in [folder, *folder.parents])
    one, other = environment_of(tmp_path / "one").folder, environment_of(tmp_path / "other").folder
    assert cache in one.parents
    assert one != other
    assert environment_of(tmp_path / "one").folder == one


def test_with_no_place_at_all_both_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "_writable", lambda folder: False)
    with pytest.raises(SetUpFailed, match="can be written") as caught:
        environment_of(tmp_path / "one")
    assert str(tmp_path / "one") in str(caught.value)


@pytest.mark.parametrize(
    ("said", "advice"),
    [
        ("ERROR: Could not find a version that satisfies the requirement alpha\nNo matching distribution", "network"),
        ("ERROR: Could not install: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: something new", "See what pip says"),
    ],
)
def test_what_went_wrong_is_put_in_words(tmp_path: Path, said: str, advice: str) -> None:
    text = environment._explain("pip could not", said.splitlines(), tmp_path / "log")
    assert advice in text
    assert said.splitlines()[0] in text
    assert str(tmp_path / "log") in text
