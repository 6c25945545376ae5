from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.brake_words import BRAKE_CAUTIONS, FORGOTTEN
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.vehicle.read import read_vehicle
from linkviz.window.pages.valve import SHORT_CAUTION, ValvePage
from linkviz.window.window import MainWindow

WAGON, CRUISER, PICKUP = (read_vehicle(path) for path in demo_vehicle_paths())


def shown(window: MainWindow) -> ValvePage:
    window.session.set_view(page="valve")
    window.frame_now()
    page = window.side.page("valve")
    assert isinstance(page, ValvePage)
    return page


def graphs(page: ValvePage, qtbot: Any) -> Any:
    qtbot.waitUntil(lambda: page.graphs is not None)
    return page.graphs


def test_the_caution_stays_in_view(window: MainWindow) -> None:
    page = shown(window)
    assert "kill" in SHORT_CAUTION and "licensed mechanic" in SHORT_CAUTION and "local law" in SHORT_CAUTION
    for down in (0, page.verticalScrollBar().maximum()):
        page.verticalScrollBar().setValue(down)
        place = page.caution.geometry()
        assert place.top() == 0
        assert place.height() >= page.caution.heightForWidth(page.width())
        assert page.viewport().geometry().top() >= place.bottom()
        assert page.caution.text() == SHORT_CAUTION
    assert all(words in page.cautions.text() for words in BRAKE_CAUTIONS)
    assert page.forgotten.text() == FORGOTTEN


def test_the_slider_raises_the_rod_and_undo_lowers_it(window: MainWindow) -> None:
    page = shown(window)
    assert "the rear brakes do about 56 %" in page.sentences.texts()[0]
    page.rise.slider.began.emit()
    for value in (40.0, 80.0, 100.0):
        page.rise.slider.setValue(round(value / 0.05))
    page.rise.slider.ended.emit()
    window.frame_now()
    assert window.session.document.setup.valve_rise == pytest.approx(100.0)
    assert "98 %" in page.sentences.texts()[0]
    window.session.undo()
    window.frame_now()
    assert window.session.document.setup.valve_rise == 0.0
    assert page.rise.box.text() == "0 mm"


def test_too_much_is_danger_in_words(window: MainWindow) -> None:
    window.session.edit_setup("raise", valve_rise=160.0)
    page = shown(window)
    assert page.sentences.texts()[0].startswith("DANGER: the rear wheels lock first")


def test_nearest_hole_is_taken(window: MainWindow) -> None:
    page = shown(window)
    said: list[str] = []
    page.refused.connect(said.append)
    page.holes.setText("60, 95 mm, 130")
    page.holes.setModified(True)
    QTest.keyClick(page.holes, Qt.Key.Key_Return)
    window.frame_now()
    bracket = window.session.document.job.valve_bracket
    assert bracket is not None and bracket.holes == (60.0, 95.0, 130.0)
    assert page.nearest.text() == "Take 95 mm"
    page.nearest.click()
    window.frame_now()
    assert window.session.document.setup.valve_rise == 95.0
    assert not page.nearest.isEnabled()
    for bad in ("a few", "-5", " "):
        page.holes.setText(bad)
        page.holes.setModified(True)
        QTest.keyClick(page.holes, Qt.Key.Key_Return)
        assert said.pop()
        assert page.holes.text() == "60, 95, 130"


def test_the_lever_moves_with_the_axle(window: MainWindow) -> None:
    page = shown(window)
    before = page.sketch.drawings
    window.session.set_view(travel=40.0)
    window.frame_now()
    assert page.sketch.drawings != before
    assert page.sketch.drawings[0].extent == before[0].extent


def test_table_and_graphs_of_either_load(window: MainWindow, qtbot: Any) -> None:
    page = shown(window)
    drawn = graphs(page, qtbot)
    assert [line.name for line in drawn.adhesion.lines] == ["ideal", "as built", "lifted"]
    assert [line.name for line in drawn.pressure.lines] == ["as built", "lifted"]
    knee = [page.results.item(i, 1).text() for i in range(page.results.rowCount())][1]
    page.laden.click()
    assert [page.results.item(i, 1).text() for i in range(page.results.rowCount())][1] != knee
    window.session.edit_setup("raise", valve_rise=100.0)
    window.frame_now()
    assert page.results.columnCount() == 4
    lines = {line.name: line for line in drawn.share.lines}
    assert set(lines) == {"ideal", "as built", "lifted", "rod raised"}
    assert len({line.dash for line in lines.values()}) == 4
    assert lines["lifted"].y[20] < lines["rod raised"].y[20]


def test_geometry_alone(make_window: Any, qtbot: Any) -> None:
    window = make_window(document=Document(PICKUP, Setup(lift=100.0)))
    page = shown(window)
    qtbot.wait(20)
    assert page.graphs is None
    assert any("[brake_valve.law]" in text for text in page.sentences.texts())
    assert any("Raising the rod 108 mm" in text for text in page.sentences.texts())
    assert page.results.rowCount() == 1


def test_no_valve_at_all(make_window: Any) -> None:
    window = make_window(document=Document(CRUISER, Setup(lift=100.0)))
    page = shown(window)
    assert page.content.isHidden() and not page.absent.isHidden()
    assert "under Vehicle, Brake valve" in page.absent.text()
    assert not page.caution.isHidden()


def test_no_springs_no_laden(make_window: Any) -> None:
    window = make_window(document=Document(WAGON.replace(springs=None), Setup(lift=100.0)))
    assert not shown(window).laden.isEnabled()


def test_inches_and_the_dark_theme(window: MainWindow, qtbot: Any) -> None:
    page = shown(window)
    drawn = graphs(page, qtbot)
    window.session.set_view(unit="in", theme="dark")
    window.frame_now()
    assert page.holes.text() == "1 9/16, 1 15/16, 2 15/16, 3 15/16"
    assert 'Lifted 3 15/16"' in page.sentences.texts()[0]
    assert drawn.share.lines


def test_keys_reach_the_slider(window: MainWindow, qtbot: Any) -> None:
    page = shown(window)
    assert page.first_widget() is page.rise.slider
    qtbot.keyClick(page.rise.slider, Qt.Key.Key_Right)
    assert window.session.document.setup.valve_rise == pytest.approx(1.0)


def test_nothing_is_clipped(window: MainWindow, qtbot: Any) -> None:
    page = shown(window)
    graphs(page, qtbot)
    window.session.edit_setup("raise", valve_rise=100.0)
    window.frame_now()
    assert page.widget().minimumSizeHint().width() <= page.viewport().width()


def test_the_page_brings_no_graphs_by_itself() -> None:
    code = "import sys, linkviz.window.pages.valve as v; sys.exit('pyqtgraph' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
