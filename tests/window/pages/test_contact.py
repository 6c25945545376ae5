from __future__ import annotations

import math

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from linkviz.analysis.clearance.pairs import watched_pairs
from linkviz.window.pages.clearance import ClearancePage
from linkviz.window.pages.map_view import MapView, gap_at
from linkviz.window.window import MainWindow


@pytest.fixture
def page(window: MainWindow, qtbot: QtBot) -> ClearancePage:
    window.session.set_view(page="clearance", playing=False)
    window.session.edit_setup("lift", lift=100.0)
    window.frame_now()
    found = window.side.page("clearance")
    assert isinstance(found, ClearancePage)
    return found


def mapped(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> MapView:
    page.sheets.setCurrentWidget(page.map)
    window.frame_now()
    qtbot.waitUntil(lambda: page.map.view.map is not None and not page.map.view.stale, timeout=20000)
    return page.map.view


def pairs(page: ClearancePage, window: MainWindow, qtbot: QtBot):
    page.sheets.setCurrentWidget(page.pairs)
    qtbot.waitUntil(lambda: window.frame is not None and window.frame.answers is not None, timeout=20000)
    qtbot.waitUntil(lambda: not window.frame.stale, timeout=20000)
    window.frame_now()
    return page.pairs


def test_a_click_on_the_map_puts_the_axle_there(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    view = mapped(page, window, qtbot)
    spot = view._spot(-40.0, 3.0)
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=spot.toPoint())
    assert window.session.view.travel == pytest.approx(-40.0, abs=1.0)
    assert window.session.view.roll_deg == pytest.approx(3.0, abs=0.2)
    window.frame_now()
    assert view.at == (window.session.view.travel, window.session.view.roll_deg)
    qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert window.session.view.travel == pytest.approx(view.at[0] + 10.0)
    qtbot.keyClick(view, Qt.Key.Key_Home)
    assert (window.session.view.travel, window.session.view.roll_deg) == (0.0, 0.0)


def test_contact_is_drawn_where_it_is(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    """Around known contact the picture turns towards the colour of danger, elsewhere it does not."""
    view = mapped(page, window, qtbot)
    found = view.map
    assert found is not None and (found.gap < 0).any()
    picture = view.grab().toImage()
    danger = QColor(view._colours.danger)
    touched, clear = [], []
    for i in range(10, len(found.travel) - 10, 12):
        for j in range(6, len(found.roll) - 6, 6):
            near = found.gap[i - 6 : i + 7, j - 4 : j + 5]
            spot = view._spot(found.travel[i], math.degrees(found.roll[j]))
            colour = picture.pixelColor(QPointF(spot).toPoint())
            red = colour.red() - (colour.green() + colour.blue()) / 2.0
            if near.max() < 0:
                touched.append(red)
            elif near.min() > 45.0:
                clear.append(red)
    assert len(touched) > 3 and len(clear) > 10
    assert danger.red() > danger.green()
    assert min(touched) > max(clear) + 20.0


def test_the_map_follows_the_drop(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    view = mapped(page, window, qtbot)
    before = view.map
    assert before is not None
    window.session.preview(window.session.document.with_setup(drop=90.0))
    window.frame_now()
    assert view.stale
    qtbot.waitUntil(lambda: view.map is not before and not view.stale, timeout=20000)
    assert (view.map.gap < 0).sum() < (before.gap < 0).sum()
    assert {pair.other for pair in view.map.pairs} >= {"drop bracket"}


def test_what_is_said_of_the_place(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    view = mapped(page, window, qtbot)
    i, j = view.map.worst
    window.session.set_view(travel=float(view.map.travel[i]), roll_deg=math.degrees(view.map.roll[j]))
    window.frame_now()
    assert "contact" in page.map.here.text()
    assert gap_at(view.map, *view.at)[0] == pytest.approx(view.map.gap[i, j])


def test_pairs_are_listed_with_their_gaps(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    panel = pairs(page, window, qtbot)
    document = window.session.document
    assert panel.table.rowCount() == len(watched_pairs(document.vehicle, document.setup))
    assert "deep" in panel.table.item(0, 2).text()
    assert not panel.table.item(0, 0).icon().isNull()
    panel.table.setCurrentCell(0, 0)
    worst = window.frame.answers.worst[0]
    assert window.session.view.travel == pytest.approx(worst.travel)
    assert window.session.view.roll_deg == pytest.approx(math.degrees(worst.roll))


def test_a_margin_is_typed_and_undone(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    panel = pairs(page, window, qtbot)
    before = window.session.document.vehicle
    panel.table.item(3, 1).setText("22mm")
    assert [watch.margin for watch in window.session.document.vehicle.pairs] == [22.0]
    panel.table.item(3, 1).setText("nonsense")
    assert [watch.margin for watch in window.session.document.vehicle.pairs] == [22.0]
    window.session.undo()
    assert window.session.document.vehicle == before


def test_pairs_are_watched_and_left_out(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    panel = pairs(page, window, qtbot)
    count = panel.table.rowCount()
    panel.more.activated.emit(1)
    assert panel.table.rowCount() == count + 1
    panel.table.setCurrentCell(0, 0)
    panel.less.click()
    assert panel.table.rowCount() == count
    assert {watch.watch for watch in window.session.document.vehicle.pairs} == {"on", "off"}
    window.session.undo()
    window.session.undo()
    assert window.session.document.vehicle.pairs == ()


def test_the_shortest_line_of_the_worst_pair_is_drawn(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    window.session.edit_setup("drop", drop=110.0)
    window.frame_now()
    pairs(page, window, qtbot)
    worst = window.frame.answers.worst[0]
    assert worst.pair.words == "lateral bar to housing"
    window.session.set_view(travel=worst.travel, roll_deg=math.degrees(worst.roll))
    window.frame_now()
    between = window.frame.scene.between
    assert between is not None and between.words.startswith("lateral bar to housing")
    assert np.linalg.norm(np.subtract(between.one, between.other)) == pytest.approx(abs(worst.gap), abs=1e-6)
    window.session.set_view(page="counter")
    window.frame_now()
    assert window.frame.scene.between is None


def test_the_sweep_of_a_pair_is_drawn(page: ClearancePage, window: MainWindow, qtbot: QtBot) -> None:
    panel = pairs(page, window, qtbot)
    panel.sweep.click()
    assert window.session.view.swept == ""  # nothing is picked yet
    panel.table.setCurrentCell(0, 0)
    panel.sweep.click()
    assert window.session.view.swept == window.frame.answers.worst[0].pair.one
    window.frame_now()
    qtbot.waitUntil(lambda: bool(window.frame.scene.swept_rear and window.frame.scene.swept_side), timeout=20000)
    panel.sweep.click()
    window.frame_now()
    assert window.frame.scene.swept_rear == ()


def test_the_map_is_painted_again_only_where_something_changed(
    page: ClearancePage, window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    view = mapped(page, window, qtbot)
    asked: list[bool] = []
    monkeypatch.setattr(view, "update", lambda: asked.append(True))
    window.session.set_view(ghost="lifted")
    window.frame_now()
    assert not asked
    window.session.set_view(travel=20.0)
    window.frame_now()
    assert len(asked) == 1
    window.session.set_view(unit="in")
    window.frame_now()
    assert len(asked) == 2


def test_thin_lines_run_at_gaps_of_the_unit_of_the_screen(
    page: ClearancePage, window: MainWindow, qtbot: QtBot
) -> None:
    view = mapped(page, window, qtbot)
    assert page.map.legend.text().endswith("gaps of 5, 10, 20, 40 mm.")
    assert set(view._lines) == {0.0, 5.0, 10.0, 20.0, 40.0}
    window.session.set_view(unit="in")
    window.frame_now()
    assert page.map.legend.text().endswith("gaps of 1/4, 1/2, 1, 1 1/2 in.")
    assert sorted(view._lines) == pytest.approx([0.0, 6.35, 12.7, 25.4, 38.1])


def test_the_picked_pair_stays_picked_wherever_its_row_goes(
    page: ClearancePage, window: MainWindow, qtbot: QtBot
) -> None:
    panel = pairs(page, window, qtbot)
    sorted_by_gap = panel._rows
    panel._again()  # the answers are gone: the usual order
    row = next(i for i, (a, b) in enumerate(zip(sorted_by_gap, panel._rows, strict=True)) if a.words != b.words)
    panel._seen = ()
    window.frame_now()
    panel.table.setCurrentCell(row, 0)
    words = panel._rows[row].words
    assert words == sorted_by_gap[row].words
    panel._typed(row, 1, "7")
    now = panel.table.currentRow()
    assert now != row and panel._rows[now].words == words


def test_a_map_that_fails_is_said(
    page: ClearancePage, window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(page.map.work, "_work", lambda _: 1 / 0)
    page.sheets.setCurrentWidget(page.map)
    window.frame_now()
    qtbot.waitUntil(lambda: "report is in the log" in page.map.here.text())
    window.session.set_view(travel=10.0)
    window.frame_now()
    assert "report is in the log" in page.map.here.text()


def test_a_corner_that_was_let_go_of_is_not_deleted(page: ClearancePage, window: MainWindow) -> None:
    window.session.set_view(envelope=0, corner=("rear", 2))
    window.frame_now()
    assert page.corners.currentRow() == 2
    window.session.set_view(corner=None)
    window.frame_now()
    before = window.session.document
    page.remove_corner.click()
    assert page.corners.currentRow() == -1 and window.session.document == before
