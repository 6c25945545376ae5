"""What the mouse does in the drawings the keys do too; none of these tests has a mouse."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from linkviz.session.edits import point_of
from linkviz.window.reading_order import in_reading_order
from linkviz.window.tour import Tour
from linkviz.window.window import MainWindow

K = Qt.Key


def press(qtbot: Any, *keys: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    """Press keys where the keys are, as a person does."""
    for key in keys:
        focus = QApplication.focusWidget()
        assert focus is not None
        qtbot.keyClick(focus, key, modifier)


def types(qtbot: Any, text: str) -> None:
    for letter in text:
        focus = QApplication.focusWidget()
        assert focus is not None
        qtbot.keyClicks(focus, letter)


def go_to(window: MainWindow, part: QWidget) -> None:
    for _ in range(6):
        window.next_pane()
        focus = QApplication.focusWidget()
        if focus is part or (focus is not None and part.isAncestorOf(focus)):
            return
    raise AssertionError("F6 does not get there")


@pytest.fixture
def ready(window: MainWindow, qtbot: Any) -> MainWindow:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.stage.rear.setFocus()
    return window


def test_a_tank_is_drawn_moved_and_its_corners_are_pulled_inserted_and_taken_away(
    ready: MainWindow, qtbot: Any
) -> None:
    window = ready
    window.actions_by_name["draw"].trigger()
    for key in (K.Key_Space, K.Key_Left, K.Key_Left, K.Key_Space, K.Key_Down, K.Key_Down, K.Key_Space, K.Key_Return):
        press(qtbot, key, modifier=Qt.KeyboardModifier.ShiftModifier if "ow" in key.name else Qt.KeyboardModifier(0))
        if key in (K.Key_Left, K.Key_Down):
            press(qtbot, key, key, key, key)
    window.frame_now()
    assert window.stage.drawing
    press(qtbot, K.Key_Return)  # a plain block in the other view
    window.frame_now()
    assert not window.stage.drawing
    envelopes = window.session.document.vehicle.envelopes
    assert len(envelopes) == 2 and len(envelopes[1].rear) == 3

    go_to(window, window.stage.rear)
    press(qtbot, K.Key_Up)
    moved = window.session.document.vehicle.envelopes[1]
    assert moved.rear[0][1] > envelopes[1].rear[0][1]
    press(qtbot, K.Key_PageDown, K.Key_Insert)
    assert len(window.session.document.vehicle.envelopes[1].rear) == 4
    press(qtbot, K.Key_Left)
    pulled = window.session.document.vehicle.envelopes[1].rear
    assert pulled[1][0] != pytest.approx((moved.rear[0][0] + moved.rear[1][0]) / 2.0)
    press(qtbot, K.Key_Delete)
    assert len(window.session.document.vehicle.envelopes[1].rear) == 3
    press(qtbot, K.Key_PageUp, modifier=Qt.KeyboardModifier.ControlModifier)
    assert window.session.view.envelope == 0


def test_a_point_is_picked_and_moved(ready: MainWindow, qtbot: Any) -> None:
    window = ready
    window.session.set_view(page="vehicle")
    window.frame_now()
    press(qtbot, K.Key_PageDown)
    first = window.session.view.point
    assert first
    press(qtbot, K.Key_PageDown, K.Key_PageUp)
    assert window.session.view.point == first
    before = point_of(window.session.document.vehicle, first)
    press(qtbot, K.Key_Up)
    after = point_of(window.session.document.vehicle, first)
    assert after[2] == pytest.approx(before[2] + 1.0)
    assert window.session.undo_text.startswith("move ")


def test_with_nothing_picked_the_arrows_shift_the_drawing_and_plus_zooms(ready: MainWindow, qtbot: Any) -> None:
    window = ready
    camera = window.stage.camera
    u, v, scale = camera.u["rear"], camera.v, camera.scale
    press(qtbot, K.Key_Right, K.Key_Up)
    assert camera.u["rear"] > u and camera.v > v
    press(qtbot, K.Key_Left, K.Key_Down)
    assert camera.u["rear"] == pytest.approx(u) and camera.v == pytest.approx(v)
    press(qtbot, K.Key_Plus)
    assert camera.scale > scale


def test_lift_drop_travel_and_roll_are_stepped_and_taken_back(ready: MainWindow, qtbot: Any) -> None:
    window = ready
    for name, value in (("lift", 101.0), ("drop", 1.0), ("travel", 1.0), ("roll", 0.1)):
        slider = getattr(window.controls, name).slider
        go_to(window, window.controls)
        while QApplication.focusWidget() is not slider:
            press(qtbot, K.Key_Tab)
        press(qtbot, K.Key_Right)
        assert slider.real() == pytest.approx(value)
        press(qtbot, K.Key_Backspace)
        assert slider.real() == pytest.approx(0.0)


def test_the_handles_between_the_parts_are_moved(ready: MainWindow, qtbot: Any) -> None:
    across, lower = ready._across.splitter, ready._lower
    for parts, keys in ((across, (K.Key_Left, K.Key_Right)), (lower, (K.Key_Up, K.Key_Down))):
        handle = parts.handle(1)
        assert handle in in_reading_order(ready)
        handle.setFocus()
        before = parts.sizes()
        press(qtbot, keys[0])
        assert parts.sizes()[1] == before[1] + 24
        press(qtbot, keys[1])
        assert parts.sizes() == before


def test_f6_goes_through_all_parts_and_shift_f6_back(ready: MainWindow) -> None:
    seen, back = [], []
    for met, name in ((seen, "next_pane"), (back, "previous_pane")):
        for _ in range(5):
            met.append(QApplication.focusWidget())
            ready.actions_by_name[name].trigger()
    assert len(set(map(id, seen))) == 5
    assert back == [seen[0], *seen[:0:-1]]


def test_esc_ends_the_tour_wherever_the_keys_are(ready: MainWindow, qtbot: Any, tmp_path: Path) -> None:
    ready.desk.tour()
    assert ready.findChildren(Tour)
    ready.stage.rear.setFocus()
    press(qtbot, K.Key_Escape)
    qtbot.waitUntil(lambda: not ready.findChildren(Tour))
