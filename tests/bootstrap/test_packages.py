"""System packages: installed by root, named to anybody else, never by sudo."""

from __future__ import annotations

import sys
from types import SimpleNamespace
from typing import Any

import pytest

from linkviz.bootstrap import packages, qt_libraries
from linkviz.bootstrap.messages import SetUpFailed

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="system packages are Linux's")


class System:
    """A system with some packages, on which apt-get is played."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, root: bool, apt: bool = True) -> None:
        self.libraries: set[str] = set()
        self.tools: set[str] = {"apt-get"} if apt else set()
        self.lists = True
        self.refused: set[str] = set()
        self.commands: list[list[str]] = []
        self.venv = True
        monkeypatch.setattr("linkviz.bootstrap.packages.os.geteuid", lambda: 0 if root else 1000)
        monkeypatch.setattr(
            "linkviz.bootstrap.packages.shutil.which", lambda name: name if name in self.tools else None
        )
        monkeypatch.setattr("linkviz.bootstrap.packages.subprocess.run", self.run)
        monkeypatch.setattr(
            "linkviz.bootstrap.packages.importlib.util.find_spec", lambda name: self if self.venv else None
        )
        loads = qt_libraries.missing_qt_libraries
        monkeypatch.setattr(qt_libraries, "missing_qt_libraries", lambda: loads(loads=self.libraries.__contains__))

    def run(self, command: list[str], **_: Any) -> SimpleNamespace:
        self.commands.append(command)
        assert command[0] == "apt-get"
        if "update" in command:
            self.lists = True
            return SimpleNamespace(returncode=0, stdout="")
        names = command[command.index("--no-install-recommends") + 1 :]
        if not self.lists or self.refused & set(names):
            return SimpleNamespace(returncode=100, stdout="Reading\nE: Unable to locate package\n")
        known = qt_libraries.DRAWING | qt_libraries.SCREEN
        self.libraries |= {library for library, package in known.items() if package in names}
        self.tools |= {tool for tool, package in packages.SCREEN_TOOLS.items() if package in names}
        self.venv = self.venv or any(name.endswith("-venv") for name in names)
        return SimpleNamespace(returncode=0, stdout="")

    def full(self) -> None:
        self.libraries = set(qt_libraries.DRAWING | qt_libraries.SCREEN)
        self.tools |= set(packages.SCREEN_TOOLS)


def test_a_whole_system_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    system = System(monkeypatch, root=True)
    system.full()
    packages.provide(new_environment=True, tests=True, window=True)
    assert system.commands == []


def test_root_gets_what_is_missing_from_old_lists(monkeypatch: pytest.MonkeyPatch) -> None:
    system = System(monkeypatch, root=True)
    system.lists = system.venv = False
    packages.provide(new_environment=True, tests=True, window=False)
    assert system.venv
    assert packages.look(True, True) == packages.Wants()
    assert ["update" in command for command in system.commands] == [False, True, False]


def test_one_package_that_is_not_to_be_had_keeps_no_needed_one_away(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    system = System(monkeypatch, root=True)
    system.refused = {"xvfb"}
    packages.provide(new_environment=True, tests=True, window=False)
    assert set(qt_libraries.DRAWING) <= system.libraries
    assert "Unable to locate package" in capsys.readouterr().err


def test_a_person_is_told_the_command_and_nothing_is_run(monkeypatch: pytest.MonkeyPatch) -> None:
    system = System(monkeypatch, root=False)
    system.venv = False
    with pytest.raises(SetUpFailed) as caught:
        packages.provide(new_environment=True, tests=False, window=True)
    assert system.commands == []
    text = str(caught.value)
    assert f"sudo apt-get install --no-install-recommends python3.{sys.version_info.minor}-venv " in text
    assert "libxcb-cursor0" in text


def test_a_person_without_a_screen_goes_on_without_libraries(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    System(monkeypatch, root=False)
    packages.provide(new_environment=True, tests=False, window=False)
    assert "Going on; the window and some pictures will need: sudo apt-get" in capsys.readouterr().err


def test_the_tests_do_not_go_on_without_the_libraries_of_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    System(monkeypatch, root=False)
    with pytest.raises(SetUpFailed, match="libgl1"):
        packages.provide(new_environment=False, tests=True, window=False)


def test_a_system_without_apt_is_told_names_only(monkeypatch: pytest.MonkeyPatch) -> None:
    System(monkeypatch, root=True, apt=False)
    with pytest.raises(SetUpFailed, match="libgl1") as caught:
        packages.provide(new_environment=False, tests=True, window=False)
    assert "apt-get" not in str(caught.value)
