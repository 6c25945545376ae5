from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QAccessible, QAction, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QWidget

from linkviz.resources import demo_vehicle_paths
from linkviz.session import edits
from linkviz.session.motion import PERIOD_S
from linkviz.session.view import PAGES
from linkviz.window import dialogs, files
from linkviz.window.window import MainWindow


def cell(window: MainWindow, row: str, column: int) -> str:
    """Return a cell of the Counter table by its row's label."""
    table = window.side.page("counter").columns
    for i in range(table.rowCount()):
        if table.item(i, 0).text().startswith(row):
            return table.item(i, column).text()
    raise AssertionError(row)


def test_a_change_of_the_session_reaches_every_part(window: MainWindow) -> None:
    before = window.stage.rear.grab().toImage()
    assert cell(window, "Bar angle", 3) == "\N{EN DASH}"
    window.session.edit_setup("bracket drop", drop=95.0)
    window.session.set_view(travel=40.0)
    window.frame_now()
    assert window.controls.drop.box.text() == "95 mm"
    assert window.controls.drop.slider.real() == pytest.approx(95.0)
    assert window.controls.travel.box.text() == "40 mm"
    assert "bracket 95 mm" in window.title.text()
    assert cell(window, "Bar angle", 3).endswith("\N{DEGREE SIGN}")
    assert window.graph.plot.at == pytest.approx(40.0, abs=0.1)
    assert window.actions_by_name["undo"].text() == "&Undo bracket drop"
    assert window.stage.rear.grab().toImage() != before


def test_a_change_comes_to_the_screen_by_itself(window: MainWindow, qtbot: Any) -> None:
    window.session.edit_setup("bracket drop", drop=95.0)
    qtbot.waitUntil(lambda: window.controls.drop.box.text() == "95 mm")


def test_many_changes_in_a_turn_are_one_frame(window: MainWindow, qtbot: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    frames: list[float] = []
    frame = window.live.frame
    monkeypatch.setattr(window.live, "frame", lambda: frames.append(1) or frame())
    for travel in range(20):
        window.session.set_view(travel=float(travel))
    qtbot.waitUntil(lambda: window.controls.travel.box.text() == "19 mm")
    assert len(frames) == 1


def test_the_axle_runs_through_its_travel(window: MainWindow, qtbot: Any) -> None:
    """The clock is set by hand, so that nothing here waits for real time."""

    class Clock:
        now = 0

        def start(self) -> None:
            self.now = 0

        def elapsed(self) -> int:
            return self.now

    clock = Clock()
    window.running.clock = clock
    window.actions_by_name["play"].trigger()
    window.frame_now()
    assert window.session.view.playing
    assert window.actions_by_name["play"].iconText() == "Pause"
    low, high = window.session.document.window
    seen = []
    for i in range(17):
        clock.now = round(1000 * PERIOD_S * i / 16)
        window.running.tick()
        seen.append(window.session.view.travel)
    assert seen[0] == pytest.approx(0.0, abs=0.1)
    assert max(seen) > high - 10
    assert min(seen) < low + 10
    assert window.graph.plot.at == pytest.approx(seen[-1], abs=0.1)
    window.actions_by_name["play"].trigger()
    assert not window.session.view.playing


def test_moving_the_travel_slider_stops_the_axle(window: MainWindow) -> None:
    window.session.set_view(playing=True)
    window.controls.travel.slider.setValue(400)
    window.frame_now()
    assert not window.session.view.playing
    assert not window.running.ticker.isActive()


def test_undo_takes_everything_back_step_by_step(window: MainWindow) -> None:
    session = window.session
    start = session.document
    session.edit_setup("ride height", lift=50.0)
    session.edit_setup("bracket drop", drop=30.0)
    session.edit_vehicle(edits.rename(session.document.vehicle, "Other"), "rename vehicle")
    session.edit_vehicle(edits.remove_envelope(session.document.vehicle, 0), "delete fuel tank")
    end = session.document
    window.frame_now()
    texts = []
    while window.actions_by_name["undo"].isEnabled():
        texts.append(window.actions_by_name["undo"].text())
        window.actions_by_name["undo"].trigger()
        window.frame_now()
    assert texts == ["&Undo delete fuel tank", "&Undo rename vehicle", "&Undo bracket drop", "&Undo ride height"]
    assert session.document == start
    while window.actions_by_name["redo"].isEnabled():
        window.actions_by_name["redo"].trigger()
        window.frame_now()
    assert session.document == end


def test_inches_everywhere_at_once(window: MainWindow) -> None:
    window.actions_by_name["units"].trigger()
    window.frame_now()
    assert window.controls.lift.box.text() == '3 15/16"'
    assert cell(window, "Roll centre", 1).endswith('"')
    assert window.graph.plot._y_unit.text() == "in"
    assert 'lifted 3 15/16"' in window.title.text()
    for page in ("vehicle", "clearance"):
        window.session.set_view(page=page)
        window.frame_now()
    assert window.side.page("vehicle").boxes["track"].text() == '58 1/4"'
    assert window.side.page("clearance").table.item(0, 1).text().endswith('"')
    window.actions_by_name["units"].trigger()
    window.frame_now()
    assert window.controls.lift.box.text() == "100 mm"


def test_light_and_dark(window: MainWindow) -> None:
    def paper() -> float:
        return window.stage.side.grab().toImage().pixelColor(3, window.stage.side.height() - 3).lightnessF()

    assert paper() > 0.8
    window.actions_by_name["theme"].trigger()
    window.frame_now()
    assert paper() < 0.3
    assert QApplication.palette().window().color().lightnessF() < 0.3
    window.actions_by_name["theme"].trigger()
    window.frame_now()
    assert paper() > 0.8


def test_the_ghost_can_be_chosen(window: MainWindow) -> None:
    window.session.edit_setup("bracket drop", drop=95.0)
    for name, words in (("ghost_lifted", "lifted"), ("ghost_built", "as built")):
        window.actions_by_name[name].trigger()
        window.frame_now()
        assert window.frame is not None
        assert window.frame.scene.ghost_name == words
        assert window.actions_by_name[name].isChecked()
    window.actions_by_name["ghost_none"].trigger()
    window.frame_now()
    assert window.frame is not None
    assert window.frame.scene.ghost is None


def test_the_counter_view_shows_drawings_and_columns_only(window: MainWindow, qtbot: Any) -> None:
    window.actions_by_name["counter"].trigger()
    window.frame_now()
    shown = (window.stage.rear, window.stage.side, window.large)
    hidden = (window.menuBar(), window.toolbar, window.controls, window.graph, window.side, window.notice)
    assert all(part.isVisible() for part in shown)
    assert not any(part.isVisible() for part in hidden)
    columns = window.large.columns
    assert columns.fontMetrics().height() > 1.5 * window.side.page("counter").columns.fontMetrics().height()
    assert 3 <= columns.rowCount() <= 5
    assert 1 <= len(window.large.sentences.texts()) <= 3
    bottom = window.large.mapTo(window, QPoint(0, window.large.height())).y()
    assert bottom <= window.height()
    qtbot.keyClick(window.stage.rear, Qt.Key.Key_Escape)
    window.frame_now()
    assert window.menuBar().isVisible()
    assert not window.large.isVisible()


def test_a_screen_at_double_scale_still_holds_the_window(make_window: Any) -> None:
    """A screen of 1920x1080 at 200 % leaves 960x540 screen points."""
    window = make_window((960, 540))
    assert window.minimumSizeHint().width() <= 960
    assert (window.width(), window.height()) == (960, 540)
    window.session.set_view(counter=True)
    window.frame_now()
    assert (window.width(), window.height()) == (960, 540)
    assert window.stage.rear.height() >= 140


def test_a_limit_of_the_linkage_is_said_in_words(window: MainWindow) -> None:
    vehicle = window.session.document.vehicle
    long = vehicle.replace(travel=vehicle.travel.replace(rebound=300.0))
    window.session.edit_vehicle(long, "longer travel")
    window.session.set_view(travel=-300.0)
    window.frame_now()
    assert window.frame is not None
    stopped = window.frame.scene.live.stopped_by[0]
    assert stopped
    assert window.notice.isVisible()
    assert stopped in window.notice.text.text()
    window.session.set_view(travel=0.0)
    window.frame_now()
    assert not window.notice.isVisible()


def test_the_touched_zone_comes_after_the_frame(window: MainWindow, qtbot: Any) -> None:
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
    window.frame_now()
    assert window.frame is not None
    assert not window.frame.stale
    first = window.frame.scene.zones
    assert first
    window.session.edit_setup("bracket drop", drop=95.0)
    window.frame_now()
    # the last result stays until the new one is there
    assert window.frame.stale
    assert window.frame.scene.zones is first
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
    window.frame_now()
    assert window.frame.scene.zones is not first


def test_f6_goes_round_the_window_and_skips_what_is_hidden(window: MainWindow) -> None:
    window.activateWindow()
    window.side.page("counter").columns.setFocus()
    seen = []
    for _ in range(6):
        window.next_pane()
        seen.append(QApplication.focusWidget())
    assert seen[:2] == [window.stage.rear, window.stage.side]
    assert seen[5] is seen[0]
    assert len(set(map(id, seen))) == 5


def test_space_presses_the_button_that_has_the_focus(window: MainWindow, qtbot: Any) -> None:
    window.session.set_view(page="vehicle")
    window.frame_now()
    box = window.side.page("vehicle").mirrored
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Space)
    assert not window.session.view.mirrored
    assert not window.session.view.playing
    window.stage.rear.setFocus()
    qtbot.keyClick(window.stage.rear, Qt.Key.Key_Space)
    assert window.session.view.playing


# -- names, shortcuts, room


def test_every_focusable_widget_has_a_name(window: MainWindow) -> None:
    nameless = []
    for page in PAGES:
        window.session.set_view(page=page)
        window.frame_now()
        for widget in window.findChildren(QWidget):
            if widget.focusPolicy() == Qt.FocusPolicy.NoFocus or not widget.isVisibleTo(window):
                continue
            if widget.objectName().startswith("qt_scrollarea"):
                continue
            interface = QAccessible.queryAccessibleInterface(widget)
            if not interface.text(QAccessible.Text.Name):
                nameless.append(f"{type(widget).__name__} {widget.objectName()}")
    assert nameless == []


def test_no_two_actions_share_a_shortcut(window: MainWindow) -> None:
    seen: dict[str, str] = {}
    for action in {id(a): a for a in window.findChildren(QAction)}.values():
        for key in action.shortcuts():
            text = key.toString()
            assert text not in seen, f"{text}: {action.text()} and {seen[text]}"
            seen[text] = action.text()
    assert len(seen) > 15


def test_shortcuts_stand_in_the_tool_tips(window: MainWindow) -> None:
    for action in window.actions_by_name.of.values():
        if not action.shortcut().isEmpty():
            assert action.shortcut().toString() in action.toolTip()


def test_every_action_has_a_place_in_a_menu(window: MainWindow) -> None:
    in_menus: set[str] = set()
    for top in window.menuBar().actions():
        in_menus |= {action.objectName() for action in top.menu().actions()}
    assert set(window.actions_by_name.of) <= in_menus


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("page", PAGES)
def test_nothing_is_clipped_on_a_small_screen(make_window: Any, page: str, unit: str) -> None:
    window = make_window(page=page, unit=unit)
    window.session.edit_setup("bracket drop", drop=98.0)
    window.frame_now()
    QApplication.processEvents()
    clipped = []
    for widget in window.findChildren(QWidget):
        if not widget.isVisible() or not isinstance(widget, (QLabel, QAbstractButton, QComboBox, QLineEdit)):
            continue
        where = f"{type(widget).__name__} {widget.accessibleName() or widget.objectName()}"
        if isinstance(widget, QLineEdit):
            room = widget.fontMetrics().horizontalAdvance(widget.text()) + 10
            if room > widget.width():
                clipped.append(f"{where} {widget.text()!r}")
            continue
        hint = widget.sizeHint()
        if isinstance(widget, QLabel) and widget.wordWrap():
            if widget.heightForWidth(widget.width()) > widget.height():
                clipped.append(f"{where} {widget.text()[:30]!r}")
        elif hint.width() > widget.width() or hint.height() > widget.height():
            clipped.append(f"{where} {hint} {widget.size()}")
    assert clipped == []
    right = window.side.mapTo(window, QPoint(window.side.width(), 0)).x()
    assert right <= window.width()


def test_no_cell_of_the_columns_is_clipped(window: MainWindow) -> None:
    """Each cell is measured as a label with the same room beside its sign would be."""
    window.session.edit_setup("bracket drop", drop=98.0)
    window.frame_now()
    table = window.side.page("counter").columns
    clipped = []
    for i in range(table.rowCount()):
        for j in range(table.columnCount()):
            item = table.item(i, j)
            room = table.columnWidth(j) - 6 - (0 if item.icon().isNull() else table.iconSize().width() + 6)
            label = QLabel(item.text())
            label.setFont(item.font())
            label.setWordWrap(True)
            longest = max(label.fontMetrics().horizontalAdvance(word) for word in item.text().split())
            if longest > room or label.heightForWidth(room) > table.rowHeight(i):
                clipped.append((item.text(), longest, room, label.heightForWidth(room), table.rowHeight(i)))
    assert clipped == []
    assert table.verticalScrollBar().maximum() == 0


# -- files


def drop_on(window: MainWindow, path: str) -> bool:
    """Drop a file on the window; return whether it was taken."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(path)])
    where, keys, buttons = QPoint(50, 50), Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton
    enter = QDragEnterEvent(where, Qt.DropAction.CopyAction, mime, buttons, keys)
    window.dragEnterEvent(enter)
    if not enter.isAccepted():
        return False
    window.dropEvent(QDropEvent(QPointF(where), Qt.DropAction.CopyAction, mime, buttons, keys))
    return True


def test_a_dropped_file_is_opened(window: MainWindow, qtbot: Any, tmp_path: Any) -> None:
    file = tmp_path / "other.vehicle.toml"
    window.session.save_as(str(file))
    file.write_text(file.read_text().replace("Harbour Wagon", "Dropped Wagon"))
    assert drop_on(window, str(file))
    qtbot.waitUntil(lambda: "Dropped Wagon" in window.title.text())
    assert window.session.store.recent() == [str(file)]


def test_a_dropped_picture_is_not_taken(window: MainWindow) -> None:
    assert not drop_on(window, "/tmp/picture.png")


def test_a_bad_dropped_file_shows_its_problems_and_loses_nothing(
    window: MainWindow, qtbot: Any, tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "bad.vehicle.toml"
    file.write_text('format = "linkviz-vehicle/1"\nname = 5\n[axle]\ntrack = nan\n')
    shown: list[list[str]] = []

    def read(dialog: dialogs.ProblemsDialog) -> int:
        assert dialog.table is not None
        shown.append([dialog.table.item(i, 0).text() for i in range(dialog.table.rowCount())])
        return 0

    monkeypatch.setattr(dialogs.ProblemsDialog, "exec", read)
    window.session.edit_setup("bracket drop", drop=95.0)
    before = window.session.document
    assert drop_on(window, str(file))
    qtbot.waitUntil(lambda: bool(shown))
    assert len(shown[0]) >= 3
    assert any("track" in where for where in shown[0])
    assert window.session.document is before
    assert window.session.undo_text == "bracket drop"


def test_unsaved_changes_are_asked_for_before_another_file(
    window: MainWindow, tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "other.vehicle.toml"
    window.session.save_as(str(file))
    window.session.edit_vehicle(edits.rename(window.session.document.vehicle, "Half done"), "rename")
    monkeypatch.setattr(files.dialogs, "ask_unsaved", lambda parent, name: "stay")
    assert not window.files.open_path(str(file))
    assert window.session.document.vehicle.name == "Half done"
    monkeypatch.setattr(files.dialogs, "ask_unsaved", lambda parent, name: "save")
    assert window.files.open_path(str(file))
    assert window.session.document.vehicle.name == "Half done"
    assert not window.session.dirty


def test_a_job_is_not_left_when_only_its_vehicle_was_saved(
    window: MainWindow, tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.session.edit_job("notes", notes="call on Friday")
    file = tmp_path / "only.vehicle.toml"
    monkeypatch.setattr(files.QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    monkeypatch.setattr(files.dialogs, "ask_unsaved", lambda parent, name: "save")
    assert not window.files.open_demo(str(demo_vehicle_paths()[1]))
    assert file.exists()
    assert window.session.document.job.notes == "call on Friday"


def test_closing_with_unsaved_changes_can_be_called_off(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    window.session.edit_vehicle(edits.rename(window.session.document.vehicle, "Half done"), "rename")
    window.frame_now()
    assert window.isWindowModified()
    monkeypatch.setattr(files.dialogs, "ask_unsaved", lambda parent, name: "stay")
    assert not window.close()
    assert window.isVisible()
    monkeypatch.setattr(files.dialogs, "ask_unsaved", lambda parent, name: "discard")
    assert window.close()


def test_the_window_comes_back_as_it_was_left(make_window: Any) -> None:
    first = make_window()
    first.session.set_view(theme="dark", unit="in", page="vehicle", graph="gap", graph_axis="roll")
    first.frame_now()
    first.close()
    second = make_window()
    view = second.session.view
    assert (view.theme, view.unit, view.page, view.graph, view.graph_axis) == ("dark", "in", "vehicle", "gap", "roll")
    assert (second.graph.choice.currentText(), second.graph.axis.currentText()) == ("Shaft gap", "over roll")


def test_a_spoilt_layout_is_passed_over(make_window: Any) -> None:
    first = make_window()
    layout = {"theme": "purple", "unit": ["x"], "geometry": "\N{SNOWMAN}", "across": 5, "page": None, "graph": "pinion"}
    layout["graph_axis"] = "depth"
    first.session.store.keep_layout(layout)
    view = make_window().session.view
    assert (view.theme, view.unit, view.page, view.graph) == ("light", "mm", "counter", "sway")
    assert view.graph_axis == "travel"
