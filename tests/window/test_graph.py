from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt

from linkviz.window.curves import curves_of
from linkviz.window.scales import nice_step
from linkviz.window.window import MainWindow


@pytest.mark.parametrize(("span", "step"), [(10.0, 2.0), (24.0, 5.0), (0.9, 0.2), (175.0, 50.0), (110.0, 25.0)])
def test_steps_are_round(span: float, step: float) -> None:
    assert nice_step(span) == pytest.approx(step)


def test_curves_are_those_of_the_comparison(window: MainWindow) -> None:
    window.session.edit_setup("bracket drop", drop=95.0)
    window.frame_now()
    assert window.frame is not None
    curves = curves_of(window.frame.comparison, "sway")
    plot = window.graph.plot
    assert plot.shown == ("as built", "lifted", "corrected")
    for state, values in curves.values.items():
        assert np.allclose(plot.line(state), values)
    # every state passes its own rest
    rest = int(np.argmin(np.abs(curves.travel)))
    assert all(abs(values[rest]) < 0.01 for values in curves.values.values())
    window.session.set_view(unit="in")
    window.frame_now()
    assert np.allclose(plot.line("lifted") * 25.4, curves.values["lifted"])


def test_each_line_is_painted_in_its_colour(window: MainWindow) -> None:
    plot = window.graph.plot
    picture = plot.grab().toImage()
    x = plot.x_of(-60.0)
    i = int(np.argmin(np.abs(plot.curves.travel + 60.0)))
    y = plot.y_of(float(plot.line("lifted")[i]))
    near = [picture.pixelColor(round(x), round(y) + k).name() for k in range(-3, 4)]
    assert window.colours.lifted in near


def test_a_state_that_is_not_there_is_not_drawn(window: MainWindow) -> None:
    assert window.graph.plot.shown == ("as built", "lifted")


def test_names_of_lines_that_end_together_are_kept_apart(window: MainWindow) -> None:
    plot = window.graph.plot
    area = plot.area()
    for ends in ([(50.0, "a"), (51.0, "b"), (52.0, "c")], [(area.bottom(), "a"), (area.bottom(), "b")]):
        places = [y for y, _ in plot._apart(ends, area)]
        gaps = np.diff(places)
        assert (gaps >= plot.fontMetrics().height() - 1).all()
        assert max(places) <= area.bottom()


@pytest.mark.parametrize(("kind", "word"), [("pinion", "deg"), ("gap", "mm"), ("sway", "mm")])
def test_the_quantity_can_be_chosen(window: MainWindow, kind: str, word: str) -> None:
    window.graph.choice.setCurrentIndex(window.graph.choice.findData(kind))
    window.frame_now()
    assert window.session.view.graph == kind
    assert window.graph.note.text().startswith(word)
    assert window.graph.readout.text().startswith("at rest")


def test_the_roll_of_the_axle_is_said_beside_what_it_reads(window: MainWindow) -> None:
    assert "rolled" not in window.graph.readout.text()
    window.session.set_view(travel=-40.0, roll_deg=5.0)
    window.frame_now()
    assert window.graph.readout.text().startswith("at -40 mm, rolled 5.0")


def place(window: MainWindow, travel: float) -> QPoint:
    plot = window.graph.plot
    return QPoint(round(plot.x_of(travel)), plot.height() // 2)


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


def test_a_vehicle_with_nothing_to_touch_says_so(window: MainWindow) -> None:
    vehicle = window.session.document.vehicle
    window.session.edit_vehicle(vehicle.model_copy(update={"envelopes": ()}), "delete all")
    window.session.set_view(graph="gap")
    window.frame_now()
    assert window.graph.readout.text() == "nothing to keep clear of"
    assert window.graph.plot.shown == ()
