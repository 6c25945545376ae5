from __future__ import annotations

import time
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QStandardItemModel
from PySide6.QtWidgets import QApplication

from linkviz.analysis.quantities import BY_KEY, QUANTITIES
from linkviz.vehicle.model import Vehicle
from linkviz.window.graph import Graph
from linkviz.window.window import MainWindow


def shown(window: MainWindow, **view: Any) -> Any:
    plot = window.graph.plot
    window.session.set_view(**view)
    window.frame_now()
    return plot


def test_curves_are_those_of_the_comparison(window: MainWindow) -> None:
    window.session.edit_setup("bracket drop", drop=95.0)
    plot = shown(window)
    assert window.frame is not None
    assert plot.shown == ("as built", "lifted", "corrected")
    for state, study in window.frame.comparison.studies.items():
        assert np.allclose(plot.line(state), study.sway)
    shown(window, unit="in")
    assert np.allclose(plot.line("lifted") * 25.4, window.frame.comparison.studies["lifted"].sway)


def test_each_line_is_painted_in_its_colour(window: MainWindow) -> None:
    plot = window.graph.plot
    picture = plot.grab().toImage()
    x = plot.x_of(-40.0)
    i = int(np.argmin(np.abs(plot.curves.x + 40.0)))
    y = plot.y_of(float(plot.line("lifted")[i]))
    near = [picture.pixelColor(round(x), round(y) + k).name() for k in range(-3, 4)]
    assert window.colours.lifted in near


def test_a_state_that_is_not_there_is_not_drawn(window: MainWindow) -> None:
    assert window.graph.plot.shown == ("as built", "lifted")


# -- what is chosen


@pytest.mark.parametrize("key", ["pinion_angle", "gap", "anti_squat", "static_stability", "bind"])
@pytest.mark.parametrize("axis", ["travel", "roll"])
def test_any_quantity_can_be_chosen(window: MainWindow, key: str, axis: str) -> None:
    graph = window.graph
    index = graph.choice.findData(key)
    graph.choice.setCurrentIndex(index)
    graph.choice.activated.emit(index)
    graph.axis.setCurrentIndex(graph.axis.findData(axis))
    graph.axis.activated.emit(graph.axis.currentIndex())
    window.frame_now()
    assert (window.session.view.graph, window.session.view.graph_axis) == (key, axis)
    assert graph.curves is not None
    assert graph.curves.quantity is BY_KEY[key]
    assert graph.plot.shown == ("as built", "lifted")
    assert graph.plot._y_unit.text() == BY_KEY[key].unit
    assert graph.plot._x_unit.text() == ("mm" if axis == "travel" else "deg")
    assert graph.readout.text.startswith("at rest: as built" if axis == "travel" else "level, at rest: as built")


def test_headings_cannot_be_picked_and_every_quantity_is_under_one(window: MainWindow) -> None:
    choice = window.graph.choice
    model = choice.model()
    assert isinstance(model, QStandardItemModel)
    heads = [i for i in range(choice.count()) if not choice.itemData(i)]
    assert [choice.itemText(i) for i in heads] == list(dict.fromkeys(q.group for q in QUANTITIES))
    assert not any(model.item(i).isEnabled() for i in heads)
    assert [choice.itemData(i) for i in range(choice.count()) if choice.itemData(i)] == [q.key for q in QUANTITIES]


def type_into(window: MainWindow, qtbot: Any, text: str, *keys: Qt.Key) -> None:
    line = window.graph.choice.lineEdit()
    window.graph.choice.setFocus(Qt.FocusReason.TabFocusReason)
    line.selectAll()
    qtbot.keyClicks(line, text)
    popup = window.graph.choice.completer().popup()
    for key in keys:
        qtbot.keyClick(popup if popup.isVisible() else line, key)
    window.frame_now()


OFFSCREEN = pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
"""A list that drops down cannot be raised on a screen that is not there."""


@OFFSCREEN
def test_a_quantity_is_found_by_typing_a_part_of_its_name(window: MainWindow, qtbot: Any) -> None:
    type_into(window, qtbot, "squat", Qt.Key.Key_Return)
    assert window.session.view.graph == "anti_squat"
    assert window.graph.choice.lineEdit().text() == "Anti-squat"
    type_into(window, qtbot, "ROLL", Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert window.session.view.graph == "roll_axis_slope"
    assert window.session.view.unit == "mm"


@OFFSCREEN
def test_what_finds_nothing_changes_nothing(window: MainWindow, qtbot: Any) -> None:
    type_into(window, qtbot, "zzz", Qt.Key.Key_Return)
    assert window.session.view.graph == "sway"
    assert window.graph.choice.lineEdit().text() == "Sway"


# -- values


def test_values_of_all_states_are_said_at_the_cursor(window: MainWindow) -> None:
    window.session.edit_setup("bracket drop", drop=95.0)
    shown(window, travel=-40.0, graph="pinion_angle")
    assert window.frame is not None
    said = window.graph.readout.text
    assert said.startswith("at -40 mm: ")
    for state, study in window.frame.comparison.studies.items():
        degrees = np.degrees(np.interp(-40.0, study.travel, study.pinion_angle))
        assert f"{state} {degrees:.1f}\N{DEGREE SIGN}" in said


def test_over_travel_the_lines_are_those_of_the_rolled_axle(window: MainWindow) -> None:
    plot = shown(window, travel=-40.0, roll_deg=5.0)
    assert window.graph.readout.text.startswith("at -40 mm, rolled 5.0\N{DEGREE SIGN}: as built")
    assert window.frame is not None
    live = float(window.frame.scene.live.sway[0])
    assert np.interp(-40.0, plot.curves.x, plot.line("lifted")) == pytest.approx(live, abs=0.01)


def test_over_roll_the_lines_are_those_at_the_present_travel(window: MainWindow) -> None:
    plot = shown(window, travel=30.0, roll_deg=4.0, graph="roll_centre", graph_axis="roll")
    assert window.frame is not None
    live = float(window.frame.scene.live.roll_centre[0])
    assert np.interp(4.0, plot.curves.x, plot.line("lifted")) == pytest.approx(live, abs=0.05)
    assert plot.at == pytest.approx(4.0)


def test_a_file_that_does_not_tell_it_says_what_to_measure(window: MainWindow) -> None:
    vehicle = window.session.document.vehicle
    bare = Vehicle(name="Bare", axle=vehicle.axle, links=vehicle.links)
    window.session.edit_vehicle(bare, "less")
    plot = shown(window, graph="anti_squat")
    assert plot.shown == ()
    assert "Anti-squat cannot be drawn. Find wheelbase" in plot.message.text()
    assert "type it under Vehicle, Mass ([mass] of the file)" in plot.message.text()
    assert plot.message.isVisible()
    shown(window, graph="sway")
    assert not plot.message.isVisible()
    assert plot.shown == ("as built", "lifted")


def test_an_infinite_value_is_a_gap_with_its_reason(window: MainWindow) -> None:
    plot = shown(window, graph="instant_centre_ahead")
    assert np.isnan(plot.line("as built")).any()
    assert "the links are parallel" in plot.message.text()


def test_a_line_ends_where_the_axle_stops(window: MainWindow) -> None:
    vehicle = window.session.document.vehicle
    far = vehicle.travel.replace(rebound=300.0)
    window.session.edit_vehicle(vehicle.replace(travel=far), "long travel")
    window.session.edit_setup("ride height", lift=240.0)
    plot = shown(window)
    assert window.frame is not None
    stopped = [name for name, study in window.frame.comparison.studies.items() if not study.reached.all()]
    assert stopped
    for name in stopped:
        assert np.isnan(plot.line(name)).any()
        assert f"{name}: line ends where" in plot.message.text()


# -- the cursor


def place(window: MainWindow, at: float) -> QPoint:
    plot = window.graph.plot
    return QPoint(round(plot.x_of(at)), plot.height() // 2)


def test_a_click_in_the_graph_moves_the_axle(window: MainWindow, qtbot: Any) -> None:
    qtbot.mouseClick(window.graph.plot.viewport(), Qt.MouseButton.LeftButton, pos=place(window, 40.0))
    assert window.session.view.travel == pytest.approx(40.0, abs=0.5)


def test_the_cursor_can_be_dragged_and_stops_at_the_ends(window: MainWindow, qtbot: Any) -> None:
    window.session.set_view(playing=True)
    plot = window.graph.plot
    qtbot.mousePress(plot.viewport(), Qt.MouseButton.LeftButton, pos=place(window, 0.0))
    for travel in (-10.0, -25.0, -40.0):
        qtbot.mouseMove(plot.viewport(), place(window, travel))
    assert window.session.view.travel == pytest.approx(-40.0, abs=0.5)
    assert not window.session.view.playing
    qtbot.mouseMove(plot.viewport(), QPoint(-50, 10))
    assert window.session.view.travel == window.session.document.window[0]
    qtbot.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(-50, 10))
    qtbot.mouseMove(plot.viewport(), place(window, 20.0))
    assert window.session.view.travel == window.session.document.window[0]


def test_over_roll_the_cursor_rolls_the_axle(window: MainWindow, qtbot: Any) -> None:
    plot = shown(window, graph_axis="roll")
    qtbot.mouseClick(plot.viewport(), Qt.MouseButton.LeftButton, pos=place(window, -6.0))
    assert window.session.view.roll_deg == pytest.approx(-6.0, abs=0.1)
    assert window.session.view.travel == 0.0


def test_the_tab_key_goes_through_the_strip(window: MainWindow, qtbot: Any) -> None:
    plot = shown(window)
    graph = window.graph
    graph.choice.setFocus(Qt.FocusReason.TabFocusReason)
    for part in (graph.axis, graph.save, plot):
        focus = QApplication.focusWidget()
        assert focus is not None
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is part


@pytest.mark.parametrize(
    ("view", "name", "small", "large"),
    [
        ({}, "travel", 1.0, 10.0),
        ({"unit": "in"}, "travel", 25.4 / 16, 25.4 / 2),
        ({"graph_axis": "roll"}, "roll_deg", 0.1, 1.0),
    ],
)
def test_arrow_keys_move_the_axle(
    window: MainWindow, qtbot: Any, view: dict[str, Any], name: str, small: float, large: float
) -> None:
    plot = shown(window, **view)
    plot.setFocus(Qt.FocusReason.TabFocusReason)
    assert plot.hasFocus()

    def press(key: Qt.Key, *modifiers: Qt.KeyboardModifier) -> float:
        qtbot.keyClick(plot, key, *modifiers)
        window.frame_now()
        return float(getattr(window.session.view, name))

    assert press(Qt.Key.Key_Right) == pytest.approx(small, abs=1e-6)
    assert press(Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier) == pytest.approx(small - large, abs=1e-6)
    assert press(Qt.Key.Key_Home) == 0.0
    for _ in range(25):
        last = press(Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert last == pytest.approx(window.session.document.window[1] if name == "travel" else 10.0)


def test_the_space_bar_still_plays_while_the_graph_has_the_keys(window: MainWindow, qtbot: Any) -> None:
    window.graph.plot.setFocus()
    playing = window.session.view.playing
    qtbot.keyClick(window.graph.plot, Qt.Key.Key_Space)
    assert window.session.view.playing is not playing


# -- intervals


def test_an_interval_is_drawn_behind_its_line_and_goes_with_the_quantity(window: MainWindow) -> None:
    graph, plot = window.graph, window.graph.plot
    x = plot.curves.x
    values = plot.curves.values["lifted"]
    before = plot.grab().toImage()
    low, high = values - 4.0, values + 4.0
    graph.show_band("lifted", x, low, high)
    assert plot.shaded == ("lifted",)
    bright = plot.grab().toImage()
    assert bright != before
    assert plot._low < low.min() < high.max() < plot._high
    graph.show_band("lifted", x, low, high, stale=True)
    assert plot.grab().toImage() != bright
    graph.show_band("lifted", None)
    assert plot.shaded == ()
    assert plot.grab().toImage() == before
    graph.show_band("lifted", x, low, high)
    shown(window, graph="roll_centre")
    assert plot.shaded == ()
    assert graph.bands == {}


def test_an_interval_given_before_the_plot_is_there_is_drawn_with_it(window: MainWindow) -> None:
    assert window.frame is not None
    graph = Graph(window.session)
    graph.show_state(window.frame, window.session.view)
    assert graph.curves is not None
    values = graph.curves.values["as built"]
    graph.show_band("as built", graph.curves.x, values - 1.0, values + 1.0)
    assert graph._plot is None
    graph.show()
    plot = graph.plot
    QApplication.processEvents()
    assert plot.shaded == ("as built",)
    assert plot.shown == ("as built", "lifted")


# -- slow ones


def wait_for(window: MainWindow, what: Any) -> None:
    until = time.monotonic() + 30.0
    while not what():
        assert time.monotonic() < until
        QApplication.processEvents()
        time.sleep(0.005)


def test_a_slow_quantity_comes_later_and_the_last_one_is_dimmed_meanwhile(window: MainWindow) -> None:
    graph, plot = window.graph, shown(window, graph="free_articulation")
    assert plot.shown == ()
    assert plot.message.text() == "Being worked out..."
    wait_for(window, lambda: not graph.curves.stale)
    assert plot.shown == ("as built", "lifted")
    there = graph.curves
    assert plot._drawn["lifted"].opacity() == 1.0
    window.session.edit_setup("bracket drop", drop=95.0)
    window.frame_now()
    assert graph.curves.stale
    assert plot._drawn["lifted"].opacity() < 1.0
    assert np.array_equal(graph.curves.values["lifted"], there.values["lifted"])
    wait_for(window, lambda: not graph.curves.stale)
    assert plot.shown == ("as built", "lifted", "corrected")
    assert plot._drawn["lifted"].opacity() == 1.0
    shown(window, graph_axis="roll")
    assert "look at it over wheel travel" in plot.message.text()


def test_work_that_fails_is_said(window: MainWindow) -> None:
    graph = window.graph
    shown(window, graph="free_articulation")
    request = graph.strip.request
    assert request is not None
    graph.strip.take(request, None)
    window.frame_now()
    assert "could not be worked out" in graph.plot.message.text()
