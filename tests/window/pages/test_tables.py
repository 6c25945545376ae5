from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt

from linkviz.session import tables as table_edits
from linkviz.vehicle.part import values_of
from linkviz.window.pages.forms import Entry, PartForm
from linkviz.window.pages.tables import Group
from linkviz.window.window import MainWindow


@pytest.fixture
def page(window: MainWindow) -> Any:
    window.session.set_view(page="vehicle")
    window.frame_now()
    return window.side.page("vehicle")


def opened(window: MainWindow, page: Any, name: str) -> Group:
    group: Group = page.tables.groups[name]
    group.head.click()
    window.frame_now()
    return group


def type_into(qtbot: Any, entry: Entry, text: str) -> None:
    entry.setFocus()
    entry.selectAll()
    qtbot.keyClicks(entry, text)
    qtbot.keyClick(entry, Qt.Key.Key_Return)


def test_groups_are_closed_and_say_what_is_on_file(window: MainWindow, page: Any) -> None:
    heads = {name: group.head.text() for name, group in page.tables.groups.items()}
    assert "on file" in heads["springs"] and heads["hoses"].endswith("1 on file")
    assert all(group.forms == [] for group in page.tables.groups.values())
    assert "envelopes" not in heads


def test_a_value_is_typed_in_and_can_be_undone(window: MainWindow, page: Any, qtbot: Any) -> None:
    form = opened(window, page, "springs").forms[0]
    entry = form.entries["free_length"][0]
    assert entry.text() == "367 mm"
    type_into(qtbot, entry, '15"')
    window.frame_now()
    assert window.session.document.vehicle.springs.free_length == pytest.approx(381.0)
    assert entry.text() == "381 mm"
    assert "springs" in window.session.undo_text
    window.session.undo()
    window.frame_now()
    assert entry.text() == "367 mm"


@pytest.mark.parametrize(
    ("name", "text"), [("free_length", "long"), ("free_length", "5"), ("rate", "soft"), ("rate", "-3")]
)
def test_what_cannot_be_is_refused_in_words_and_put_back(
    window: MainWindow, page: Any, qtbot: Any, name: str, text: str
) -> None:
    form = opened(window, page, "springs").forms[0]
    entry = form.entries[name][0]
    before, shown = window.session.document, entry.text()
    type_into(qtbot, entry, text)
    window.frame_now()
    assert window.session.document == before
    assert entry.text() == shown
    assert window.notice.isVisible()


def test_a_table_is_removed_and_typed_in_again(window: MainWindow, page: Any, qtbot: Any) -> None:
    springs = window.session.document.vehicle.springs
    assert springs is not None
    group = opened(window, page, "springs")
    form = group.forms[0]
    form.button.click()
    window.frame_now()
    assert window.session.document.vehicle.springs is None
    assert "not on file" in group.head.text()
    assert form.button.text() == "Add springs" and form.entries["rate"][0].text() == ""
    form.button.click()
    assert window.notice.isVisible() and "still to be typed" in window.notice.text.text()
    for name, value in values_of(springs).items():
        if name in form.entries and value is not None:
            values = value if isinstance(value, tuple) else (value,)
            for entry, number in zip(form.entries[name], values, strict=True):
                type_into(qtbot, entry, f"{number:g}")
    form.button.click()
    window.frame_now()
    assert window.session.document.vehicle.springs == springs
    assert form.button.text() == "Remove springs"
    window.session.undo()
    window.frame_now()
    assert window.session.document.vehicle.springs is None


def test_a_list_grows_and_shrinks(window: MainWindow, page: Any, qtbot: Any) -> None:
    group = opened(window, page, "hoses")
    assert [form.button.text() for form in group.forms] == ["Remove hoses 1", "Add hoses 2"]
    new = group.forms[1]
    type_into(qtbot, new.entries["name"][0], "vent")
    for name, values in (("body", (150, 50, 560)), ("axle", (10, 80, 480)), ("length", (300,))):
        for entry, value in zip(new.entries[name], values, strict=True):
            type_into(qtbot, entry, str(value))
    new.button.click()
    window.frame_now()
    assert [hose.name for hose in window.session.document.vehicle.hoses] == ["brake hose", "vent"]
    assert len(group.forms) == 3 and group.head.text().endswith("2 on file")
    group.forms[0].button.click()
    window.frame_now()
    assert [hose.name for hose in window.session.document.vehicle.hoses] == ["vent"]
    assert group.forms[0].entries["name"][0].text() == "vent"
    assert group.forms[1].entries["name"][0].text() == ""


def test_a_table_in_a_table_comes_and_goes_alone(window: MainWindow, page: Any, qtbot: Any) -> None:
    form = opened(window, page, "driveshaft").forms[0]
    slip: PartForm = form.inner["slip"]
    assert slip.entries["extend"][0].text() == "35 mm"
    slip.button.click()
    window.frame_now()
    assert window.session.document.vehicle.driveshaft.slip is None
    type_into(qtbot, slip.entries["extend"][0], "20")
    type_into(qtbot, slip.entries["compress"][0], "25")
    slip.button.click()
    window.frame_now()
    assert values_of(window.session.document.vehicle.driveshaft.slip) == {"extend": 20.0, "compress": 25.0}
    angle = form.entries["output_angle_deg"][0]
    angle.setFocus()
    angle.selectAll()
    qtbot.keyClick(angle, Qt.Key.Key_Delete)
    qtbot.keyClick(angle, Qt.Key.Key_Return)
    assert window.session.document.vehicle.driveshaft.output_angle_deg is None


def test_points_of_tables_are_listed_picked_and_moved(window: MainWindow, page: Any) -> None:
    row = page._names.index("springs.axle")
    page.table.item(row, 1).setText("-17")
    assert window.session.document.vehicle.springs.axle[0] == -17.0
    window.session.set_view(point="springs.axle")
    window.frame_now()
    assert page.table.currentRow() == row
    assert window.frame is not None and "seat" in page.how.text()


def test_how_far_a_point_may_be_off_is_typed(window: MainWindow, page: Any, qtbot: Any) -> None:
    row = page._names.index("links.lower_left.frame")
    page.table.item(row, 4).setText("7")
    assert dict(window.session.document.vehicle.measuring.points)["links.lower_left.frame"] == 7.0
    window.frame_now()
    assert page.table.item(row, 4).text() == "7"
    page.table.item(row, 4).setText("")
    assert "links.lower_left.frame" not in dict(window.session.document.vehicle.measuring.points)
    type_into(qtbot, page.boxes["u"], "5")
    assert window.session.document.vehicle.measuring.u == 5.0
    type_into(qtbot, page.boxes["pinion_angle_deg"], "6.5")
    assert window.session.document.vehicle.axle.pinion_angle_deg == pytest.approx(6.5)


def test_every_line_has_a_name_and_a_tip(window: MainWindow, page: Any) -> None:
    for name in page.tables.groups:
        opened(window, page, name)
    entries = page.tables.findChildren(Entry)
    assert len(entries) > 30
    assert all(entry.accessibleName() and entry.toolTip() for entry in entries)
    assert len({entry.accessibleName() for entry in entries}) == len(entries)


def test_drafts_need_all_three_of_a_point(window: MainWindow, page: Any, qtbot: Any) -> None:
    bare = table_edits.remove(window.session.document.vehicle, ("bump_stops",))
    window.session.edit_vehicle(bare, "remove")
    form = opened(window, page, "bump_stops").forms[0]
    type_into(qtbot, form.entries["body"][0], "40")
    form.button.click()
    assert "x, y and z" in window.notice.text.text()
    assert form.entries["body"][0].text() == "40"
