from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt

from linkviz.window import notice
from linkviz.window.window import MainWindow


def type_into(qtbot: Any, box: Any, text: str) -> None:
    """Type into a value box as a person does, and press Enter."""
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, text)
    qtbot.keyClick(box, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("text", "mm"),
    [("90", 90.0), ("90 mm", 90.0), ("3.5in", 88.9), ('3 1/2"', 88.9), ("3-1/2 in", 88.9), ("9cm", 90.0)],
)
def test_lengths_are_typed_with_units_and_fractions(window: MainWindow, qtbot: Any, text: str, mm: float) -> None:
    type_into(qtbot, window.controls.drop.box, text)
    assert window.session.document.setup.drop == pytest.approx(mm)
    window.frame_now()
    assert window.controls.drop.slider.real() == pytest.approx(mm, abs=0.05)
    assert window.session.undo_text == "bracket drop"


def test_a_bare_number_is_in_the_unit_on_the_screen(window: MainWindow, qtbot: Any) -> None:
    window.session.set_view(unit="in")
    window.frame_now()
    type_into(qtbot, window.controls.lift.box, "3 1/2")
    assert window.session.document.setup.lift == pytest.approx(88.9)
    window.frame_now()
    assert window.controls.lift.box.text() == '3 1/2"'


@pytest.mark.parametrize("text", ["ninety", "", "9000", "-5", "1/0"])
def test_what_is_not_a_length_that_fits_is_refused_in_words(window: MainWindow, qtbot: Any, text: str) -> None:
    box = window.controls.drop.box
    box.setFocus()
    box.selectAll()
    qtbot.keyClick(box, Qt.Key.Key_Delete)
    qtbot.keyClicks(box, text)
    qtbot.keyClick(box, Qt.Key.Key_Return)
    assert window.session.document.setup.drop == 0.0
    assert window.notice.isVisible()
    assert len(window.notice.text.text()) > 20
    qtbot.keyClick(box, Qt.Key.Key_Escape)
    assert box.text() == "0 mm"
    type_into(qtbot, box, "90")
    window.frame_now()
    assert not window.notice.isVisible()


def test_a_typed_angle(window: MainWindow, qtbot: Any) -> None:
    type_into(qtbot, window.controls.roll.box, "-2,5")
    assert window.session.view.roll_deg == pytest.approx(-2.5)


def test_a_drag_of_a_slider_is_one_step_and_shows_on_the_way(window: MainWindow, qtbot: Any) -> None:
    slider = window.controls.drop.slider
    seen = []
    window.session.subscribe(lambda event: seen.append(window.session.shown.setup.drop))
    start = slider.place_of(0.0).toPoint()
    qtbot.mousePress(slider, Qt.MouseButton.LeftButton, pos=start)
    for mm in (20.0, 50.0, 95.0):
        qtbot.mouseMove(slider, slider.place_of(mm).toPoint())
    qtbot.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=slider.place_of(95.0).toPoint())
    assert window.session.document.setup.drop == pytest.approx(95.0, abs=1.0)
    assert len(set(seen)) >= 3
    window.session.undo()
    assert window.session.document.setup.drop == 0.0
    assert window.session.undo_text == ""


def test_each_typed_value_is_a_step_of_its_own_and_arrows_after_it_are_one(window: MainWindow, qtbot: Any) -> None:
    box = window.controls.drop.box
    for text in ("50", "80"):
        type_into(qtbot, box, text)
    assert window.session.document.setup.drop == 80.0
    for _ in range(3):
        qtbot.keyClick(box, Qt.Key.Key_Up)
    assert window.session.document.setup.drop == 83.0
    window.session.undo()
    assert window.session.document.setup.drop == 80.0
    window.session.undo()
    assert window.session.document.setup.drop == 50.0
    window.session.undo()
    assert window.session.document.setup.drop == 0.0


def test_a_double_click_takes_the_stock_value(window: MainWindow, qtbot: Any) -> None:
    slider = window.controls.lift.slider
    qtbot.mouseDClick(slider, Qt.MouseButton.LeftButton, pos=QPoint(slider.width() // 2, 11))
    assert window.session.document.setup.lift == 0.0
    window.session.undo()
    assert window.session.document.setup.lift == 100.0


def test_arrows_are_fine_steps(window: MainWindow, qtbot: Any) -> None:
    slider = window.controls.drop.slider
    qtbot.keyClick(slider, Qt.Key.Key_Right)
    assert window.session.document.setup.drop == pytest.approx(1.0)
    qtbot.keyClick(slider, Qt.Key.Key_PageUp)
    assert window.session.document.setup.drop == pytest.approx(11.0)
    window.session.set_view(unit="in")
    window.frame_now()
    qtbot.keyClick(slider, Qt.Key.Key_Right)
    assert window.session.document.setup.drop == pytest.approx(11.0 + 25.4 / 16, abs=0.05)


def test_arrow_keys_in_a_value_box_step_too(window: MainWindow, qtbot: Any) -> None:
    box = window.controls.roll.box
    qtbot.keyClick(box, Qt.Key.Key_Up)
    assert window.session.view.roll_deg == pytest.approx(0.1)


def test_the_travel_slider_ends_where_the_vehicle_does(window: MainWindow) -> None:
    low, high = window.session.document.window
    slider = window.controls.travel.slider
    slider.setValue(slider.maximum())
    assert window.session.view.travel == pytest.approx(high)
    slider.setValue(slider.minimum())
    assert window.session.view.travel == pytest.approx(low)


def test_a_slider_is_read_out_in_words(window: MainWindow) -> None:
    slider = window.controls.lift.slider
    assert slider.accessibleName() == "Ride height, 100 mm"
    assert "how much the body" in slider.accessibleDescription().lower()
    window.session.edit_setup("lift", lift=127.0)
    window.session.set_view(unit="in", roll_deg=-2.5)
    window.frame_now()
    assert slider.accessibleName() == 'Ride height, 5"'
    assert window.controls.roll.slider.accessibleName() == "Axle roll, -2.5\N{DEGREE SIGN}"


def test_what_is_refused_is_announced(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[str] = []
    reader = SimpleNamespace(updateAccessibility=lambda event: told.append(event.message()))
    monkeypatch.setattr(notice, "QAccessible", reader)
    window.notice.stand("The axle is at its limit.", "hit")
    window.notice.refuse("That cannot be.")
    window.notice.clear()
    assert told == ["That cannot be."]


def test_a_step_goes_on_from_what_is_typed(window: MainWindow, qtbot: Any) -> None:
    box, said = window.controls.lift.box, []
    box.refused.connect(said.append)
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, "150")
    qtbot.keyClick(box, Qt.Key.Key_Up)
    assert window.session.document.setup.lift == 151.0
    box.selectAll()
    qtbot.keyClicks(box, "15o")
    qtbot.keyClick(box, Qt.Key.Key_Up)
    assert said and box.text() == "15o"
    assert window.session.document.setup.lift == 151.0
