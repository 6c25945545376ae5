"""Values and files nobody means, to every command and every option there is: words and an exit code, never a traceback.

Commands and options are read off the parser, so that a new one is covered by itself.
"""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.commands import main
from linkviz.commands.arguments import COMMANDS, MAY_BE_EMPTY, commands_parser
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths

WAGON = str(demo_vehicle_paths()[0])
ENDLESS = ("nan", "inf", "-inf", "1e308", "cargo=nan", "cargo=inf", "1:nan:1", "0,nan")
VALUES = (*ENDLESS, "-1", "", " ", "0x10", "1_0", "9" * 400, "\udcff")
OF_TEXTS = ("nan", "", "9" * 400, "\udcff")
TEXTS = {"PATH", "DIR", "NAME", "NAME.vehicle.toml", "JOB", "YYYY-MM-DD"}
"""What these options take may be called nan."""
Capture = pytest.CaptureFixture[str]


def kinds() -> dict[str, argparse.ArgumentParser]:
    """Return the parser of each command."""
    (sub,) = (action for action in commands_parser()._actions if isinstance(action, argparse._SubParsersAction))
    return dict(sub.choices)


def options_of(command: str) -> list[argparse.Action]:
    """Return the options of a command that take a value of their own."""
    return [a for a in kinds()[command]._actions if a.option_strings and a.nargs is None]


def takes_file(command: str) -> bool:
    return any(not a.option_strings for a in kinds()[command]._actions)


def needed(command: str, option: str, folder: Path) -> dict[str, str]:
    """Return the options, with sound values, without which a command does not come to look at an option."""
    company = {
        ("stance", "--rate"): {"--free-length": "430"},
        ("stance", "--free-length"): {"--rate": "28"},
        ("bracket", "--part"): {"--parts": str(demo_catalogue_path())},
        ("clearance", "--swept"): {"--out": str(folder / "swept.csv")},
        ("clearance", "--out"): {"--swept": "driveshaft"},
    }
    always = {
        "papers": {"--out": str(folder / "papers"), "--only": "cut", "--lift": "100", "--drop": "95"},
        "picture": {"--out": str(folder / "picture.svg")},
    }
    return always.get(command, {}) | company.get((command, option), {})


def hostile_paths(folder: Path) -> Iterator[str]:
    (folder / "zeros").write_bytes(bytes(4096))
    (folder / "folder").mkdir()
    (folder / "empty").write_bytes(b"")
    (folder / "loop").symlink_to(folder / "loop")
    (folder / "closed").mkdir(mode=0)
    for name in ("zeros", "folder", "empty", "loop", "missing", "zeros/beneath", "closed/beneath", "\udcff", "a\nb"):
        yield str(folder / name)
    yield from ("", ".", "/", "/dev/null", "nan", "x" * 300)


def answered(words: list[str], capsys: Capture) -> int:
    """Run a command; fail unless it says something and ends as it should. Return its exit code."""
    try:
        code = main(words)
    except BaseException as error:
        raise AssertionError(str(words)) from error
    said = capsys.readouterr()
    assert code in (0, 1, 2), words
    assert "Traceback" not in said.out + said.err, words
    assert said.err.strip() if code else said.out.strip() or "--out" in str(words), words
    return code


@pytest.mark.parametrize("command", COMMANDS)
def test_values_of_options(command: str, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert set(kinds()) == set(COMMANDS)
    for action in options_of(command):
        option = action.option_strings[0]
        shared = command != "sweep" and (action.dest == "longer" or hasattr(Setup(), action.dest))
        values = OF_TEXTS if action.metavar in TEXTS else ENDLESS if shared else VALUES
        for value in values:
            given = needed(command, option, tmp_path) | {option: value}
            words = [command, *([WAGON] if takes_file(command) else []), *(f"{k}={v}" for k, v in given.items())]
            code = answered([*words, "--overwrite"] if command == "papers" else words, capsys)
            if not value and action.dest not in MAY_BE_EMPTY:
                assert code == 2, words
            if value in ENDLESS and action.metavar not in TEXTS:
                assert code, words


@pytest.mark.parametrize("command", [name for name in COMMANDS if takes_file(name)])
def test_files(command: str, tmp_path: Path, capsys: Capture) -> None:
    for path in hostile_paths(tmp_path):
        words = [command, *(f"{k}={v}" for k, v in needed(command, "", tmp_path).items()), path]
        assert answered(words, capsys) == 1, words


def test_the_bare_command(tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    for path in hostile_paths(tmp_path):
        if path:
            assert answered([path], capsys) == 1, path


@pytest.mark.parametrize("command", COMMANDS)
def test_help_says_what_it_does_and_shows_how(command: str, capsys: Capture) -> None:
    assert main([command, "--help"]) == 0
    text = capsys.readouterr().out
    assert " ".join(COMMANDS[command].split()) in " ".join(text.split())
    assert f"examples:\n  linkviz {command}" in text
    told = [action for action in kinds()[command]._actions if not action.help]
    assert not told, "every option says what it is for"


def test_examples_of_the_help_are_taken(capsys: Capture) -> None:
    for command in COMMANDS:
        shown = kinds()[command].epilog or ""
        for line in shown.splitlines()[1:]:
            words = shlex.split(line.split(">")[0])[1:]
            assert commands_parser().parse_args(words).command, line
    assert not capsys.readouterr().err
