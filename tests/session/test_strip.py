"""The strip computes the chosen quantity only, and of it only what changed; what it keeps equals what is made anew."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from linkviz.analysis.compare import compare
from linkviz.analysis.quantities import BY_KEY
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.session import strip as module
from linkviz.session.strip import Strip, slow_curves
from linkviz.session.view import View
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])


def at(drop: float = 60.0, vehicle: Vehicle = WAGON) -> Any:
    return compare(vehicle, Setup(lift=100.0, drop=drop))


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the keys of the lines that are computed, and the names of the states that are studied."""
    done: list[str] = []
    line, studies = module.line, module.studies_over

    def counted_line(study: Any, quantity: Any) -> Any:
        done.append(quantity.key)
        return line(study, quantity)

    def counted_studies(comparison: Any, names: Any, axis: Any, x: Any, held: Any) -> Any:
        if axis == "roll" or held:
            done.extend(names)
        return studies(comparison, names, axis, x, held)

    monkeypatch.setattr(module, "line", counted_line)
    monkeypatch.setattr(module, "studies_over", counted_studies)
    return done


def test_what_does_not_change_is_the_same_object(counted: list[str]) -> None:
    strip = Strip()
    first = strip.curves(at(), View())
    assert strip.curves(at(), View(travel=30.0, unit="in", theme="dark")) is first
    assert counted == ["sway"] * 3


def test_a_drag_of_the_drop_computes_one_line(counted: list[str]) -> None:
    strip = Strip()
    before = strip.curves(at(60.0), View())
    counted.clear()
    after = strip.curves(at(61.0), View())
    assert counted == ["sway"]
    assert after.values["lifted"] is before.values["lifted"]
    assert not np.array_equal(after.values["corrected"], before.values["corrected"])


def test_over_roll_a_drag_of_the_drop_studies_one_state(counted: list[str]) -> None:
    strip = Strip()
    view = View(graph_axis="roll", graph="roll_centre", travel=20.0)
    strip.curves(at(60.0), view)
    assert counted == ["as built", "lifted", "corrected", *["roll_centre"] * 3]
    counted.clear()
    strip.curves(at(61.0), view)
    assert counted == ["corrected", "roll_centre"]
    counted.clear()
    strip.curves(at(61.0), view.with_(roll_deg=5.0))
    assert counted == []
    strip.curves(at(61.0), view.with_(travel=21.0))
    assert counted[:3] == ["as built", "lifted", "corrected"]


def test_what_is_kept_equals_what_is_made_anew() -> None:
    strip = Strip()
    views = (View(), View(roll_deg=4.0), View(graph_axis="roll"), View(graph="gap"), View(graph="gap", roll_deg=4.0))
    for view in (*views, *views):
        for drop in (60.0, 61.0, 0.0):
            kept, fresh = strip.curves(at(drop), view), Strip().curves(at(drop), view)
            assert kept.values.keys() == fresh.values.keys()
            assert all(np.array_equal(kept.values[name], fresh.values[name], equal_nan=True) for name in fresh.values)
            assert (kept.axis, kept.held, kept.quantity) == (fresh.axis, fresh.held, fresh.quantity)


def test_what_the_file_does_not_tell_is_not_computed(counted: list[str]) -> None:
    bare = Vehicle(name="Bare", axle=WAGON.axle, links=WAGON.links)
    found = Strip().curves(at(vehicle=bare), View(graph="anti_squat"))
    assert found.values == {}
    assert found.missing == BY_KEY["anti_squat"].missing(bare)
    assert counted == []


def test_a_slow_quantity_is_asked_for_and_the_last_answer_stays(counted: list[str]) -> None:
    strip, view = Strip(), View(graph="free_articulation", roll_deg=4.0)
    first = strip.curves(at(60.0), view)
    assert first.stale
    assert first.values == {}
    assert counted == []
    request = strip.request
    assert request is not None
    found = slow_curves(request)
    assert not found.stale
    strip.take(request, found)
    assert strip.curves(at(60.0), view.with_(roll_deg=7.0)) is found
    assert strip.request is None
    later = strip.curves(at(70.0), view)
    assert later.stale
    assert later.values is found.values
    assert strip.curves(at(71.0), view) is later
    assert strip.request is not None
    assert strip.request.setup.drop == 71.0
    # another quantity is not held up, and does not show the slow one's lines
    assert not strip.curves(at(71.0), View()).stale


def test_a_slow_answer_is_that_of_the_quantity() -> None:
    strip = Strip()
    strip.curves(at(60.0), View(graph="free_articulation"))
    assert strip.request is not None
    found = slow_curves(strip.request)
    for name, case in at(60.0).cases.items():
        assert np.array_equal(found.values[name], BY_KEY["free_articulation"].of(case.study))
