from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.fitting_parts import fitting_parts
from linkviz.analysis.setup import Setup
from linkviz.conventions import MM_PER_INCH
from linkviz.resources import demo_catalogue_path
from linkviz.vehicle.model import Vehicle
from linkviz.window.counter_view import KEYS, LIFTS
from linkviz.window.window import MainWindow


def wanted_for(vehicle: Vehicle, lift: float) -> Setup:
    """Return the stock part that fits, or the bracket made to measure."""
    return fitting_parts(vehicle, lift, read_catalogue(demo_catalogue_path())).setup


class Hands:
    """Presses keys where the keys go now, and counts."""

    def __init__(self, window: MainWindow, qtbot: Any) -> None:
        self._window, self._qtbot = window, qtbot
        self.count = 0

    def press(self, key: Qt.Key) -> None:
        self.count += 1
        self._qtbot.keyClick(self._window.focusWidget() or self._window, key)
        self._window.frame_now()


@pytest.fixture
def hands(make_window: Any, qtbot: Any) -> Hands:
    """Return hands on a window as it is on a fresh start."""
    window = make_window(playing=True)
    return Hands(window, qtbot)


def test_the_first_picture_needs_no_key(make_window: Any) -> None:
    window = make_window(playing=True)
    assert window.frame is not None
    assert window.stage.rear.drawing is not None
    assert window.session.document.setup.lift > 0


def test_this_vehicle_lifted_four_inches_with_its_part_is_three_keys(hands: Hands, qtbot: Any) -> None:
    window = hands._window
    hands.press(Qt.Key.Key_F11)
    hands.press(Qt.Key.Key_4)
    hands.press(Qt.Key.Key_P)
    wanted = wanted_for(window.session.document.vehicle, 4 * MM_PER_INCH)
    qtbot.waitUntil(lambda: window.session.document.setup == wanted, timeout=20000)
    window.frame_now()
    assert hands.count <= 4
    assert window.large.isVisible()
    assert any("bracket" in text for text in window.large.sentences.texts())
    assert "stock part INV-101 (invented), hole 100 mm" in window.large.title.text()


def test_each_lift_has_a_key_and_the_parts_follow_it(hands: Hands, qtbot: Any) -> None:
    window = hands._window
    vehicle = window.session.document.vehicle
    hands.press(Qt.Key.Key_F11)
    for lift in LIFTS:
        hands.press(Qt.Key(Qt.Key.Key_0 + lift))
        assert window.session.document.setup.lift == pytest.approx(lift * MM_PER_INCH)
        assert window.actions_by_name[f"lift{lift}"].isChecked()
        assert not window.session.document.setup.corrected
    hands.press(Qt.Key.Key_P)
    for lift in (6, 2):
        qtbot.waitUntil(lambda: not window.counter_keys.work.busy, timeout=20000)
        hands.press(Qt.Key(Qt.Key.Key_0 + lift))
        wanted = wanted_for(vehicle, lift * MM_PER_INCH)
        qtbot.waitUntil(lambda wanted=wanted: window.session.document.setup == wanted, timeout=20000)
    window.frame_now()
    assert window.actions_by_name["parts"].isChecked()
    hands.press(Qt.Key.Key_P)
    assert not window.session.document.setup.corrected
    assert window.session.document.setup.lift == pytest.approx(2 * MM_PER_INCH)
    assert window.session.undo_text == "parts off"


def test_parts_that_were_looked_for_are_put_on_in_the_same_turn(hands: Hands, qtbot: Any) -> None:
    window = hands._window
    hands.press(Qt.Key.Key_F11)
    qtbot.waitUntil(lambda: not window.counter_keys.work.busy and bool(window.counter_keys._known), timeout=20000)
    hands.press(Qt.Key.Key_4)
    hands.press(Qt.Key.Key_P)
    assert window.session.document.setup == wanted_for(window.session.document.vehicle, 4 * MM_PER_INCH)


def test_a_wish_of_before_does_not_come_after_another_key(hands: Hands, qtbot: Any) -> None:
    window = hands._window
    hands.press(Qt.Key.Key_F11)
    window.actions_by_name["lift6"].trigger()
    window.actions_by_name["parts"].trigger()
    window.actions_by_name["lift2"].trigger()
    qtbot.waitUntil(lambda: not window.counter_keys.work.busy, timeout=20000)
    assert window.session.document.setup == Setup(lift=2 * MM_PER_INCH)


def test_the_axle_runs_with_the_space_bar_and_the_view_is_left_with_one_key(hands: Hands) -> None:
    window = hands._window
    hands.press(Qt.Key.Key_F11)
    assert window.session.view.playing
    hands.press(Qt.Key.Key_Space)
    assert not window.session.view.playing
    hands.press(Qt.Key.Key_Escape)
    assert not window.session.view.counter


def test_the_keys_mean_nothing_elsewhere(hands: Hands) -> None:
    window = hands._window
    before = window.session.document
    for key in (Qt.Key.Key_2, Qt.Key.Key_6, Qt.Key.Key_P):
        hands.press(key)
    assert window.session.document == before
    assert not any(window.actions_by_name[name].isEnabled() for name in KEYS)


def test_the_same_can_be_clicked(make_window: Any, qtbot: Any) -> None:
    window = make_window(counter=True)
    for name in ("lift3", "parts"):
        qtbot.mouseClick(window.large.buttons[name], Qt.MouseButton.LeftButton)
        window.frame_now()
    qtbot.waitUntil(lambda: window.session.document.setup.corrected, timeout=20000)
    assert window.session.document.setup.lift == pytest.approx(3 * MM_PER_INCH)
    qtbot.mouseClick(window.large.buttons["counter"], Qt.MouseButton.LeftButton)
    window.frame_now()
    assert not window.large.isVisible()


def test_the_letters_are_large_and_nothing_is_cut_off(make_window: Any) -> None:
    window = make_window(counter=True)
    window.actions_by_name["lift4"].trigger()
    window.frame_now()
    plain = window.fontMetrics().height()
    for label in window.large.sentences.findChildren(QLabel):
        if label.text() and label.isVisible():
            assert label.fontMetrics().height() > 1.3 * plain
            assert label.height() >= label.heightForWidth(label.width())
    assert window.stage.rear.height() > 0.4 * window.height()
