from __future__ import annotations

from typing import Any

import pytest

from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Springing
from linkviz.analysis.stance.stance import springs_rise
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.vehicle.read import read_vehicle
from linkviz.window.pages.lift import TYPED, LiftPage
from linkviz.window.window import MainWindow

WAGON, CRUISER, PICKUP = (read_vehicle(path) for path in demo_vehicle_paths())


def shown(window: MainWindow) -> LiftPage:
    window.session.set_view(page="lift")
    window.frame_now()
    page = window.side.page("lift")
    assert isinstance(page, LiftPage)
    return page


def type_into(box: Any, text: str) -> None:
    box.setText(text)
    box.setModified(True)
    box.returnPressed.emit()


def test_the_height_is_by_hand_until_it_is_taken_from_the_springs(window: MainWindow) -> None:
    page = shown(window)
    assert "set by hand" in page.source.texts()[0]
    type_into(page.spacer, "2 in")
    window.frame_now()
    assert window.session.document.setup.lift == 100.0
    assert not page.take.isHidden()
    page.take.click()
    window.frame_now()
    lift = window.session.document.setup.lift
    assert lift == pytest.approx(springs_rise(WAGON, Springing(spacer=50.8)))
    assert "from the springs" in page.source.texts()[0]
    assert page.take.isHidden()
    assert window.controls.lift.box.value == lift


def test_the_slider_follows_the_springs_until_it_is_moved_by_hand(window: MainWindow) -> None:
    page = shown(window)
    page.take.click()
    type_into(page.spacer, "40 mm")
    window.frame_now()
    assert window.session.document.setup.lift == pytest.approx(40.0, abs=2.0)
    window.session.edit_setup("ride height", lift=90.0)
    window.frame_now()
    assert "set by hand" in page.source.texts()[0]
    type_into(page.spacer, "30 mm")
    window.frame_now()
    assert window.session.document.setup.lift == 90.0


def test_undo_takes_spacer_and_height_back_together(window: MainWindow) -> None:
    page = shown(window)
    page.take.click()
    type_into(page.spacer, "40 mm")
    window.session.undo()
    window.frame_now()
    assert window.session.document.setup.lift == 0.0
    assert page.spacer.value == 0.0
    assert page.spacer.text() == "0 mm"


def test_other_springs_are_chosen_and_typed(window: MainWindow) -> None:
    page = shown(window)
    names = [page.choice.itemText(i) for i in range(page.choice.count())]
    assert names == ["As measured", "springs of a heavier wagon (invented)", TYPED]
    page.choice.setCurrentIndex(1)
    page.choice.activated.emit(1)
    window.frame_now()
    put_in = window.session.document.job.springing
    assert put_in is not None and put_in.springs is not None and put_in.springs.rate == 45.0
    assert page.boxes["rate"].text() == "45 N/mm"
    assert "89 mm" in page.source.texts()[0]
    page.choice.activated.emit(2)
    type_into(page.boxes["rate"], "38")
    window.frame_now()
    assert page.choice.currentText() == TYPED
    put_in = window.session.document.job.springing
    assert put_in is not None and put_in.springs is not None and put_in.springs.rate == 38.0
    page.choice.activated.emit(0)
    window.frame_now()
    assert page.choice.currentIndex() == 0
    assert page.boxes["free_length"].text() == "367 mm"


def test_the_measured_springs_are_the_vehicles(window: MainWindow) -> None:
    page = shown(window)
    type_into(page.boxes["free_length"], "372 mm")
    window.frame_now()
    springs = window.session.document.vehicle.springs
    assert springs is not None and springs.free_length == 372.0
    page.from_wire.click()
    window.frame_now()
    springs = window.session.document.vehicle.springs
    assert springs is not None and springs.rate is None
    assert page.boxes["rate"].text() == "26.08 N/mm"
    assert not page.from_wire.isEnabled()


def test_load_is_typed_and_refused_beyond_the_most(window: MainWindow) -> None:
    page = shown(window)
    said: list[str] = []
    page.refused.connect(said.append)
    page.loads.item(2, 2).setText("80 kg")
    window.frame_now()
    put_in = window.session.document.job.springing
    assert put_in is not None and [(load.place, load.mass) for load in put_in.loads] == [("cargo", 80.0)]
    page.loads.item(2, 2).setText("800")
    assert "cargo" in said[-1]
    assert page.loads.item(2, 2).text() == "80 kg"
    page.loads.item(2, 2).setText("much")
    assert "is not a number" in said[-1]
    page.loads.item(2, 2).setText("0")
    window.frame_now()
    put_in = window.session.document.job.springing
    assert put_in is not None and put_in.loads == ()


def test_results_are_those_of_the_job(window: MainWindow) -> None:
    page = shown(window)
    table = page.results
    texts = {table.item(i, 0).text(): table.item(i, 2).text() for i in range(table.rowCount())}
    assert texts["Damper left at full rebound"] == "79 mm too short"
    assert any("Dampers of 422 to 594 mm" in text for text in page.sentences.texts())
    row = next(i for i in range(table.rowCount()) if table.item(i, 0).text() == "Damper left at full rebound")
    assert not table.item(row, 2).icon().isNull()
    window.session.set_view(unit="in")
    window.frame_now()
    assert table.item(row, 2).text() == '3 1/8" too short'


def test_front_raised(window: MainWindow) -> None:
    page = shown(window)
    assert page.as_rear.isChecked() and not page.front.isEnabled()
    page.as_rear.click()
    type_into(page.front, "20 mm")
    window.frame_now()
    put_in = window.session.document.job.springing
    assert put_in is not None and put_in.front_rise == 20.0
    assert any("headlights aim" in text for text in page.sentences.texts())


def test_a_bad_value_is_refused_in_words(window: MainWindow) -> None:
    page = shown(window)
    said: list[str] = []
    page.refused.connect(said.append)
    type_into(page.boxes["coil"], "41 mm")
    assert "three times the wire" in said[-1]
    assert page.boxes["coil"].text() == "126 mm"
    assert window.session.document.vehicle == WAGON


@pytest.mark.parametrize("vehicle", [CRUISER, PICKUP, WAGON.replace(springs=None, load_places=())])
def test_other_vehicles(make_window: Any, vehicle: Any) -> None:
    window = make_window(document=Document(vehicle, Setup(lift=50.0)))
    page = shown(window)
    assert page.source.texts()
    assert page.loads.isHidden() == (not vehicle.load_places)
    assert page.spacer.isEnabled() == (vehicle.springs is not None)
    if vehicle.springs is not None and vehicle.springs.wire is None:
        assert page.boxes["wire"].text() == ""
        type_into(page.boxes["wire"], "14 mm")
        window.frame_now()
        assert window.session.document.vehicle.springs.wire == 14.0


def test_nothing_is_clipped(window: MainWindow) -> None:
    page = shown(window)
    inner = page.widget()
    assert inner.minimumSizeHint().width() <= page.viewport().width()
    for box in (page.spacer, page.front, *page.boxes.values()):
        assert box.fontMetrics().horizontalAdvance(box.text()) < box.width() - 6
