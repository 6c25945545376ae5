from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt

from linkviz.window.curves import curves_of
from linkviz.window.graph import nice_step
from linkviz.window.window import MainWindow


@pytest.mark.parametrize(("span", "step"), [(10.0, 2.0), (24.0, 5.0), (0.9, 0.2), (175.0, 50.0), (110.0, 25.0)])
def test_steps_are_round(span: float, step: float) -> None:
    assert nice_step(span) == pytest.approx(step)


def test_curves_are_those_of_the_comparison(window: MainWindow) -> None:
    window.session.edit_setup("bracket drop", drop=95.0)
    window.frame_now()
    assert window.frame is not None
    curves = curves_of(window.frame.comparison, "sway")
    assert set(curves.values) == {"as built", "lifted", "corrected"}
    for state, values in curves.values.items():
        x, y = window.graph._lines[state].getData()
        assert np.allclose(x, curves.travel)
        assert np.allclose(y, values)
        assert window.graph._lines[state].isVisible()
    # every state passes its own rest
    rest = int(np.argmin(np.abs(curves.travel)))
    assert all(abs(values[rest]) < 0.01 for values in curves.values.values())


def test_a_state_that_is_not_there_is_not_drawn(window: MainWindow) -> None:
    assert not window.graph._lines["corrected"].isVisible()
    assert not window.graph._names["corrected"].isVisible()


@pytest.mark.parametrize(("kind", "word"), [("pinion", "deg"), ("gap", "mm"), ("sway", "mm")])
def test_the_quantity_can_be_chosen(window: MainWindow, kind: str, word: str) -> None:
    window.graph.choice.setCurrentIndex(window.graph.choice.findData(kind))
    window.frame_now()
    assert window.session.view.graph == kind
    assert window.graph.note.text().startswith(word)
    assert window.graph.readout.text().startswith("at rest")


def test_a_click_in_the_graph_moves_the_axle(window: MainWindow, qtbot: Any) -> None:
    box = window.graph.plot.getViewBox()
    scene = box.mapViewToScene(QPointF(40.0, 0.0))
    place = window.graph.plot.mapFromScene(scene)
    qtbot.mouseClick(window.graph.plot.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert window.session.view.travel == pytest.approx(40.0, abs=1.0)


def test_the_cursor_can_be_dragged(window: MainWindow, qtbot: Any) -> None:
    plot = window.graph.plot

    def at(travel: float) -> QPoint:
        return plot.mapFromScene(plot.getViewBox().mapViewToScene(QPointF(travel, 0.0)))

    view = plot.viewport()
    qtbot.mouseMove(view, at(0.0))
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=at(0.0))
    for travel in (-10.0, -25.0, -40.0):
        qtbot.mouseMove(view, at(travel))
        qtbot.wait(20)
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=at(-40.0))
    assert window.session.view.travel == pytest.approx(-40.0, abs=2.0)
    assert not window.session.view.playing


def test_a_vehicle_with_nothing_to_touch_says_so(window: MainWindow) -> None:
    vehicle = window.session.document.vehicle
    window.session.edit_vehicle(vehicle.model_copy(update={"envelopes": ()}), "delete all")
    window.session.set_view(graph="gap")
    window.frame_now()
    assert window.graph.readout.text() == "nothing to keep clear of"
    assert not any(line.isVisible() for line in window.graph._lines.values())
