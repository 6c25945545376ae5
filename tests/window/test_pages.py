from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from linkviz.vehicle.model import Watch
from linkviz.window.icons import SIGN_WORDS
from linkviz.window.pages.sentences import Sentences
from linkviz.window.window import MainWindow


def show(window: MainWindow, page: str, **view: Any) -> None:
    window.session.set_view(page=page, **view)
    window.frame_now()


# -- Counter


def test_columns_and_sentences_follow_the_findings(window: MainWindow) -> None:
    assert window.frame is not None
    page = window.side.page("counter")
    assert page.heading.text() == "What a lift of 100 mm changes"
    for _ in range(2):
        found = window.frame.findings
        for i, row in enumerate(found.rows):
            shown = [page.columns.item(i, j).text() for j in range(4)]
            states = ("as built", "lifted", "corrected")
            wanted = [row.cells[s].text if s in row.cells else "\N{EN DASH}" for s in states]
            assert shown == [row.label, *wanted]
        assert page.sentences.texts() == tuple(s.text for s in found.sentences)
        for text in found.cautions:
            assert text in page.cautions.text()
        window.session.edit_setup("bracket drop", drop=95.0)
        window.frame_now()


def test_a_sign_stands_beside_what_is_wrong_and_is_read_out(window: MainWindow) -> None:
    table = window.side.page("counter").columns
    assert window.frame is not None
    signs = [(i, row.cells["lifted"].icon) for i, row in enumerate(window.frame.findings.rows)]
    assert {sign for _, sign in signs} >= {"warn", "hit"}
    for i, sign in signs:
        item = table.item(i, 2)
        assert item.icon().isNull() == (sign == "")
        words = item.data(Qt.ItemDataRole.AccessibleTextRole)
        assert words == ", ".join(filter(None, (item.text(), SIGN_WORDS.get(sign))))


def test_at_design_height_the_heading_says_so(window: MainWindow) -> None:
    window.session.edit_setup("ride height", lift=0.0)
    window.frame_now()
    assert window.side.page("counter").heading.text() == "The axle as it was built"


def test_advice_of_before_the_last_change_stays_and_is_marked_until_the_new_one_is_there(
    window: MainWindow, qtbot: Any
) -> None:
    sentences = window.side.page("counter").sentences

    def advice() -> QLabel:
        labels = [label for label in sentences.findChildren(QLabel) if "gives the bar back" in label.text()]
        return labels[0]

    def now() -> bool:
        return window.frame is not None and not window.frame.stale

    qtbot.waitUntil(now, timeout=20000)
    before = advice().text()
    assert advice().isEnabled() and not advice().toolTip()
    window.session.edit_setup("ride height", lift=60.0)
    window.frame_now()
    assert advice().text() == before
    assert not advice().isEnabled()
    assert advice().toolTip().startswith("Of before the last change")
    # what the columns and the first sentence say is of this very moment
    assert "60 mm" in sentences.texts()[0]
    qtbot.waitUntil(now, timeout=20000)
    assert advice().text() != before
    assert advice().isEnabled() and not advice().toolTip()


# -- Vehicle


def test_points_are_typed(window: MainWindow) -> None:
    show(window, "vehicle")
    table = window.side.page("vehicle").table
    table.item(0, 1).setText('24"')
    links = window.session.document.vehicle.links
    assert links.lower_left.frame[0] == pytest.approx(609.6)
    assert links.lower_right.frame[0] == pytest.approx(609.6)
    window.frame_now()
    assert table.item(0, 1).text() == "610"
    assert table.item(2, 1).text() == "610"
    window.session.undo()
    window.frame_now()
    assert table.item(0, 1).text() == "600"


def test_without_the_mirror_a_point_moves_alone(window: MainWindow, qtbot: Any) -> None:
    show(window, "vehicle")
    window.side.page("vehicle").mirrored.click()
    window.side.page("vehicle").table.item(0, 1).setText("610")
    links = window.session.document.vehicle.links
    assert links.lower_left.frame[0] == 610.0
    assert links.lower_right.frame[0] == 600.0


@pytest.mark.parametrize("text", ["far", "", "nan", "99999"])
def test_a_point_that_cannot_be_is_refused_and_put_back(window: MainWindow, text: str) -> None:
    show(window, "vehicle")
    before = window.session.document
    window.side.page("vehicle").table.item(0, 1).setText(text)
    assert window.session.document is before
    assert window.notice.isVisible()
    assert window.side.page("vehicle").table.item(0, 1).text() == "600"


def test_a_picked_row_is_marked_in_the_drawing_and_the_reverse(window: MainWindow) -> None:
    show(window, "vehicle")
    table = window.side.page("vehicle").table
    table.setCurrentCell(8, 1)
    window.frame_now()
    assert window.session.view.point == "links.lateral_bar.frame"
    assert window.frame is not None
    assert window.frame.scene.point == "links.lateral_bar.frame"
    assert "bolt" in window.side.page("vehicle").how.text()
    window.session.set_view(point="links.lower_left.frame")
    window.frame_now()
    assert table.currentRow() == 0
    window.session.set_view(point="")
    window.frame_now()
    assert table.selectedItems() == []


def test_name_and_sizes_are_typed(window: MainWindow, qtbot: Any) -> None:
    show(window, "vehicle")
    page = window.side.page("vehicle")
    page.name.setFocus()
    page.name.selectAll()
    qtbot.keyClicks(page.name, "Green van")
    qtbot.keyClick(page.name, Qt.Key.Key_Return)
    assert window.session.document.vehicle.name == "Green van"
    for key, text, mm in (("track", "60in", 1524.0), ("jounce", "100", 100.0)):
        box = page.boxes[key]
        box.setFocus()
        box.selectAll()
        qtbot.keyClicks(box, text)
        qtbot.keyClick(box, Qt.Key.Key_Return)
        part = window.session.document.vehicle.travel if key == "jounce" else window.session.document.vehicle.axle
        assert getattr(part, key) == pytest.approx(mm)
    window.frame_now()
    assert window.session.document.window[1] == 100.0
    assert window.controls.travel.slider.maximum() == round(100.0 / 0.05)
    assert "Green van *" in window.title.text()


def test_a_vehicle_without_a_name_is_refused(window: MainWindow, qtbot: Any) -> None:
    show(window, "vehicle")
    name = window.side.page("vehicle").name
    was = name.text()
    name.setFocus()
    name.clear()
    qtbot.keyClick(name, Qt.Key.Key_Return)
    assert name.text() == was
    assert "name" in window.notice.text.text()


# -- Clearance


def test_the_smallest_gap_is_said_with_its_place(window: MainWindow) -> None:
    show(window, "clearance")
    first = window.side.page("clearance").sentences.texts()[0]
    assert "fuel tank" in first
    assert "of rebound" in first or "of jounce" in first or "rest height" in first


def test_touched_and_clear_are_said_in_words(window: MainWindow, qtbot: Any) -> None:
    show(window, "clearance")
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
    window.frame_now()
    assert window.side.page("clearance").table.item(0, 2).text() == "touches"
    assert any("Hatched" in text for text in window.side.page("clearance").sentences.texts())
    window.session.edit_setup("bracket drop", drop=140.0)
    window.frame_now()
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
    window.frame_now()
    assert window.side.page("clearance").table.item(0, 2).text() in ("clear", "in margin")


def test_names_and_margins_are_typed(window: MainWindow) -> None:
    show(window, "clearance")
    table = window.side.page("clearance").table
    table.item(0, 0).setText("long range tank")
    table.item(0, 1).setText("1/2 in")
    tank = window.session.document.vehicle.envelopes[0]
    assert tank.name == "long range tank"
    assert tank.margin == pytest.approx(12.7)
    window.frame_now()
    assert table.item(0, 1).text() == "13 mm"
    table.item(0, 1).setText("wide")
    table.item(0, 0).setText(" ")
    assert window.session.document.vehicle.envelopes[0] == tank
    assert table.item(0, 0).text() == "long range tank"
    assert table.item(0, 1).text() == "13 mm"


def test_a_margin_of_the_pair_is_named_where_that_of_the_envelope_stands(window: MainWindow) -> None:
    show(window, "clearance")
    vehicle = window.session.document.vehicle
    sentences = window.side.page("clearance").sentences
    assert "Pairs" not in " ".join(sentences.texts())
    pair = Watch(one="driveshaft", other=vehicle.envelopes[0].name, margin=25.4)
    window.session.edit_vehicle(vehicle.replace(pairs=(pair,)), "margin")
    window.frame_now()
    text = " ".join(sentences.texts())
    assert f"under Pairs and used for the shaft instead of the margin below: 25 mm to the {pair.other}." in text


def test_corners_are_typed_added_and_deleted(window: MainWindow) -> None:
    show(window, "clearance", envelope=0)
    page = window.side.page("clearance")
    tank = window.session.document.vehicle.envelopes[0]
    assert page.corners.rowCount() == len(tank.rear)
    page.corners.item(0, 2).setText("230")
    assert window.session.document.vehicle.envelopes[0].rear[0] == (tank.rear[0][0], 230.0)
    window.session.undo()
    window.frame_now()
    page.which.setCurrentIndex(1)
    assert page.corners.rowCount() == len(tank.side)
    page.corners.setCurrentCell(2, 1)
    page.add_corner.click()
    window.frame_now()
    assert len(window.session.document.vehicle.envelopes[0].side) == len(tank.side) + 1
    assert page.corners.currentRow() == 3
    page.remove_corner.click()
    window.frame_now()
    assert window.session.document.vehicle.envelopes[0] == tank


def test_a_typed_crossing_is_refused(window: MainWindow) -> None:
    show(window, "clearance", envelope=0)
    page = window.side.page("clearance")
    before = window.session.document
    z = page.corners.item(0, 2).text()
    page.corners.item(0, 2).setText("900")
    assert window.session.document is before
    assert "cross" in window.notice.text.text()
    assert page.corners.item(0, 2).text() == z


def test_an_envelope_is_deleted_and_comes_back(window: MainWindow) -> None:
    show(window, "clearance")
    page = window.side.page("clearance")
    assert not page.delete_button.isEnabled()
    page.table.setCurrentCell(0, 0)
    window.frame_now()
    assert page.delete_button.isEnabled()
    page.delete_button.click()
    window.frame_now()
    assert page.table.rowCount() == 0
    assert page.corners.rowCount() == 0
    assert "Nothing is drawn yet" in page.sentences.texts()[0]
    window.session.undo()
    window.frame_now()
    assert page.table.rowCount() == 1


def test_the_button_takes_the_pencil_and_puts_it_away(window: MainWindow) -> None:
    show(window, "clearance")
    page = window.side.page("clearance")
    page.draw_button.click()
    window.frame_now()
    assert window.stage.drawing
    assert page.draw_button.isChecked()
    page.draw_button.click()
    window.frame_now()
    assert not window.stage.drawing
    assert not page.draw_button.isChecked()


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_value_of_a_point_is_clipped(window: MainWindow, unit: str) -> None:
    show(window, "vehicle")
    window.session.set_view(unit=unit)
    window.frame_now()
    table = window.side.page("vehicle").table
    for i in range(table.rowCount()):
        for j in range(table.columnCount()):
            needed = table.fontMetrics().horizontalAdvance(table.item(i, j).text())
            # the delegate keeps a margin on both sides
            assert needed + 8 <= table.columnWidth(j), table.item(i, j).text()


def test_typing_into_a_row_that_is_gone_does_nothing(window: MainWindow) -> None:
    show(window, "clearance", envelope=0)
    page, vehicle = window.side.page("clearance"), window.session.document.vehicle
    window.session.edit_vehicle(vehicle.replace(envelopes=()), "delete all")
    bare = window.session.document
    page.corners.item(0, 1).setText("10")
    page.table.item(0, 0).setText("another tank")
    assert window.session.document == bare
    window.frame_now()
    assert page.table.rowCount() == 0


def test_no_line_of_a_sentence_breaks_inside_a_figure(qtbot: Any) -> None:
    sentences = Sentences()
    qtbot.addWidget(sentences)
    sentences.show_sentences((('By 3 15/16" or 100 mm, 64 % of it.', ""),))
    text = sentences.findChildren(QLabel)[1].text()
    assert text.replace("\N{NO-BREAK SPACE}", "_") == 'By 3_15/16" or 100_mm, 64_% of it.'
    assert sentences.texts() == ('By 3 15/16" or 100 mm, 64 % of it.',)
