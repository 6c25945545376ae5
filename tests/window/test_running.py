"""Calm motion: nothing moves by itself, playing goes stop by stop, and the system's own setting is heeded."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from linkviz.session.motion import STOPS, next_stop
from linkviz.window import system_motion
from linkviz.window.running import Running
from linkviz.window.window import MainWindow
from tests.window.conftest import MakeWindow

WINDOW = (-90.0, 85.0)


def test_the_stops_go_through_the_whole_travel_and_come_round() -> None:
    stop, travel, seen = 0, -2.5, []
    for _ in range(STOPS):
        stop, travel = next_stop(stop, travel, WINDOW)
        seen.append(travel)
    assert max(seen) == pytest.approx(85.0)
    assert min(seen) == pytest.approx(-90.0)
    assert seen[-1] == pytest.approx(-2.5)
    assert len({round(t, 1) for t in seen}) == STOPS // 2 + 1


@pytest.mark.parametrize(("at", "goes"), [(-80.0, -2.5), (30.0, 59.37), (70.0, 85.0), (85.0, 59.37)])
def test_an_axle_that_was_moved_by_hand_goes_on_from_there(at: float, goes: float) -> None:
    _, travel = next_stop(5, at, WINDOW)
    assert travel == pytest.approx(goes, abs=0.01)


def test_in_calm_motion_nothing_runs_and_playing_goes_one_stop_each_time(window: MainWindow, qtbot: Any) -> None:
    window.session.set_view(playing=True)
    window.frame_now()
    assert window.running.ticker.isActive()
    window.actions_by_name["calm"].trigger()
    window.frame_now()
    assert not window.running.ticker.isActive()
    assert not window.session.view.playing
    window.session.set_view(playing=True, travel=0.0)
    window.frame_now()
    assert not window.running.ticker.isActive()
    assert window.controls.play.text() == "Step travel"
    assert window.controls.play.accessibleName() == "Step travel"
    seen = []
    for _ in range(STOPS):
        window.controls.play.click()
        window.frame_now()
        assert not window.controls.play.isChecked()
        before = window.session.view.travel
        qtbot.wait(40)
        assert window.session.view.travel == before
        seen.append(before)
    low, high = window.session.document.window
    assert (min(seen), max(seen)) == (pytest.approx(low), pytest.approx(high))


def test_calm_motion_stills_what_the_toolkit_moves_and_gives_it_back(window: MainWindow) -> None:
    effects = (Qt.UIEffect.UI_General, Qt.UIEffect.UI_AnimateMenu)
    for effect in effects:
        QApplication.setEffectEnabled(effect, True)
    usual = Running(window.session, window)
    flash = QApplication.cursorFlashTime()
    usual.show(False, True)
    assert not QApplication.isEffectEnabled(Qt.UIEffect.UI_AnimateMenu)
    assert QApplication.cursorFlashTime() == 0
    usual.show(False, False)
    assert QApplication.isEffectEnabled(Qt.UIEffect.UI_AnimateMenu)
    assert QApplication.cursorFlashTime() == flash
    for effect in effects:
        QApplication.setEffectEnabled(effect, False)


def test_what_was_chosen_is_remembered_apart_from_what_the_system_says(make_window: MakeWindow) -> None:
    window = make_window()
    assert Running.chosen(window.session) is None
    window.actions_by_name["calm"].trigger()
    assert Running.chosen(window.session) is True
    window.actions_by_name["calm"].trigger()
    assert Running.chosen(window.session) is False
    window.session.store.remember("motion.json", {"calm": "perhaps"})
    assert Running.chosen(window.session) is None


@pytest.fixture
def system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CURRENT_DESKTOP", "")
    monkeypatch.setattr(sys, "platform", "linux")
    return tmp_path


def test_a_system_that_says_nothing_moves(system: Path) -> None:
    assert system_motion.ask()() is False


@pytest.mark.parametrize(
    ("name", "text", "calm"),
    [
        ("kdeglobals", "[KDE]\nAnimationDurationFactor=0\n", True),
        ("kdeglobals", "[KDE]\nAnimationDurationFactor=0.5\n", False),
        ("kdeglobals", "neither a section nor a key", False),
        ("gtk-3.0/settings.ini", "[Settings]\ngtk-enable-animations=0\n", True),
        ("gtk-4.0/settings.ini", "[Settings]\ngtk-enable-animations=true\n", False),
    ],
)
def test_the_files_of_desktops_are_read(system: Path, name: str, text: str, calm: bool) -> None:
    file = system / name
    file.parent.mkdir(exist_ok=True)
    file.write_text(text)
    assert system_motion.ask()() is calm


@pytest.mark.skipif(os.name != "posix", reason="a script stands in for the command")
@pytest.mark.parametrize(
    ("platform", "command", "says", "calm"),
    [
        ("linux", "gsettings", "echo false", True),
        ("linux", "gsettings", "echo true", False),
        ("linux", "gsettings", "exit 1", False),
        ("linux", "gsettings", "exec sleep 5", False),
        ("darwin", "defaults", "echo 1", True),
        ("darwin", "defaults", "echo 0", False),
    ],
)
def test_the_commands_of_systems_are_asked(
    system: Path, monkeypatch: pytest.MonkeyPatch, platform: str, command: str, says: str, calm: bool
) -> None:
    monkeypatch.setattr(sys, "platform", platform)
    monkeypatch.setenv("XDG_CURRENT_DESKTOP", "GNOME")
    script = system / command
    script.write_text(f"#!/bin/sh\n{says}\n")
    script.chmod(0o755)
    monkeypatch.setenv("PATH", f"{system}:/usr/bin:/bin")
    monkeypatch.setattr(system_motion, "_WAIT_S", 0.3)
    assert system_motion.ask()() is calm


def test_without_the_command_it_moves(system: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CURRENT_DESKTOP", "GNOME")
    monkeypatch.setenv("PATH", str(system))
    assert system_motion.ask()() is False
