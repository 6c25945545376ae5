"""Finding the system libraries that Qt lacks, and saying how to get them."""

from __future__ import annotations

import sys

import pytest

from linkviz.bootstrap import qt_libraries

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the libraries are Linux's")


@linux
def test_missing_libraries_are_those_that_do_not_load() -> None:
    gone = {"libGL.so.1", "libxcb-cursor.so.0"}
    found = qt_libraries.missing_qt_libraries(loads=lambda name: name not in gone)
    assert set(found) == gone


@linux
def test_a_picture_needs_no_library_of_the_screen() -> None:
    found = qt_libraries.missing_qt_libraries(screen=False, loads=lambda name: False)
    assert set(found) == set(qt_libraries.DRAWING)


@linux
def test_a_library_that_nobody_has_does_not_load() -> None:
    assert not qt_libraries._loads("libnobody-has-this.so.7")
    assert qt_libraries._loads("libc.so.6")


def test_nothing_is_asked_of_other_systems(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "win32")
    assert qt_libraries.missing_qt_libraries(loads=lambda name: False) == []
    assert qt_libraries.has_screen({})


@linux
def test_a_screen_is_known_by_its_name() -> None:
    assert not qt_libraries.has_screen({})
    assert not qt_libraries.has_screen({"DISPLAY": ""})
    assert qt_libraries.has_screen({"DISPLAY": ":0"})
    assert qt_libraries.has_screen({"WAYLAND_DISPLAY": "wayland-0"})


def test_the_advice_is_a_command_to_copy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda name: "/usr/bin/" + name)
    text = qt_libraries.advice(["libGL.so.1", "libxcb-cursor.so.0"])
    assert "sudo apt-get install --no-install-recommends libgl1 libxcb-cursor0" in text
    assert qt_libraries.advice([]) == ""


def test_the_advice_names_no_command_that_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda name: None)
    text = qt_libraries.advice(["libGL.so.1"])
    assert "libGL.so.1" in text
    assert "apt-get" not in text
