"""A length that is being typed means the same when the unit changes meanwhile: the tool bar leaves the keys there."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt

from linkviz.session import tables
from linkviz.window.window import MainWindow

RETURN = Qt.Key.Key_Return


def switch(window: MainWindow) -> None:
    """Press the button of the tool bar: what has the keys keeps them."""
    window.toolbar.widgetForAction(window.actions_by_name["units"]).click()
    window.frame_now()


def test_in_a_line_for_a_value(window: MainWindow, qtbot: Any) -> None:
    box = window.controls.lift.box
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, "127")
    switch(window)
    qtbot.keyClick(box, RETURN)
    assert window.session.document.setup.lift == pytest.approx(127.0)


def test_with_its_unit_it_stays_as_it_is_typed(window: MainWindow, qtbot: Any) -> None:
    box = window.controls.lift.box
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, "127 mm")
    switch(window)
    assert box.text() == "127 mm"
    qtbot.keyClick(box, RETURN)
    assert window.session.document.setup.lift == pytest.approx(127.0)


def test_in_the_holes_of_the_valve(window: MainWindow, qtbot: Any) -> None:
    window.session.set_view(page="valve")
    window.frame_now()
    page: Any = window.side.page("valve")
    page.holes.setFocus()
    page.holes.selectAll()
    qtbot.keyClicks(page.holes, "50.8, 127")
    switch(window)
    qtbot.keyClick(page.holes, RETURN)
    bracket = window.session.document.job.valve_bracket
    assert bracket is not None and bracket.holes == pytest.approx((50.8, 127.0))


def test_in_a_table_that_is_being_filled_in(window: MainWindow, qtbot: Any) -> None:
    session = window.session
    session.edit_vehicle(tables.remove(session.document.vehicle, ("springs",)), "none")
    session.set_view(page="vehicle")
    window.frame_now()
    page: Any = window.side.page("vehicle")
    page.tables.groups["springs"].head.click()
    form = page.tables.groups["springs"].forms[0]
    typed = {"body": ("0", "508", "762"), "axle": ("0", "508", "508"), "free_length": ("15 in",), "rate": ("25",)}
    for name, texts in typed.items():
        for entry, text in zip(form.entries[name], texts, strict=True):
            entry.setFocus()
            qtbot.keyClicks(entry, text)
    switch(window)
    form.button.click()
    springs = session.document.vehicle.springs
    assert springs is not None and springs.body == pytest.approx((0.0, 508.0, 762.0))
    assert springs.free_length == pytest.approx(381.0)


def test_of_a_corner_and_all_that_is_said_of_it(window: MainWindow, qtbot: Any) -> None:
    window.stage.take_pencil(True)
    window.frame_now()
    bar, grid = window.stage.bar, window.stage.bar.grid
    bar.begin_typing("2")
    qtbot.keyClicks(bar.boxes[0], "54")
    qtbot.keyClicks(bar.boxes[1], "508")
    switch(window)
    assert grid.itemText(grid.count() - 1).endswith('"') and '"' in bar.kinds.toolTip()
    qtbot.keyClick(bar.boxes[1], RETURN)
    assert window.stage.pencil.corners == (pytest.approx((254.0, 508.0)),)
    bar.way.setCurrentIndex(bar.way.findData("polar"))
    qtbot.keyClicks(bar.boxes[0], "4")
    qtbot.keyClicks(bar.boxes[1], "90")
    switch(window)
    qtbot.keyClick(bar.boxes[1], RETURN)
    assert window.stage.pencil.corners[1] == pytest.approx((254.0, 508.0 + 101.6))
    qtbot.keyClicks(bar.boxes[0], "101.6")
    qtbot.keyClicks(bar.boxes[1], "0")
    qtbot.keyClick(bar.boxes[1], RETURN)
    window.stage.pencil.close()
    window.frame_now()
    assert "102 mm high" in window.notice.text.text()
    switch(window)
    assert '4" high' in window.notice.text.text()
    window.stage.take_pencil(False)


def test_where_a_bar_is_away_nothing_is_hinted(window: MainWindow) -> None:
    window.stage.take_pencil(True)
    window.stage.take_pencil(False)
    switch(window)
    assert not window.notice.isVisible()
