from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.sure_drop import SureDrop, spares, sure_drop
from linkviz.analysis.clearance.words import sure_words
from linkviz.analysis.compare import clearance_states
from linkviz.analysis.doubt.measured import drawn, inputs
from linkviz.analysis.doubt.propagate import draws
from linkviz.analysis.goals import clear_drop
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import tube_gaps
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Measuring, Vehicle
from linkviz.vehicle.read import read_vehicle

TRIALS = 120


@pytest.fixture(scope="module")
def wagon() -> Vehicle:
    return read_vehicle(demo_vehicle_paths()[0])


def some(vehicle: Vehicle):
    return drawn(vehicle, draws(inputs(vehicle), TRIALS, 5))


def test_at_the_sure_drop_nineteen_in_twenty_are_clear(wagon: Vehicle) -> None:
    everyone = some(wagon)
    found = sure_drop(wagon, 100.0, everyone)
    assert found is not None and found.drop is not None and found.plain is not None
    assert found.plain == clear_drop(wagon, 100.0)
    assert found.plain + 2.0 < found.drop < found.plain + 40.0
    for drop, enough in ((found.drop, True), (found.drop - 0.5, False)):
        share = (spares(wagon, Setup(lift=100.0, drop=drop), everyone) >= 0).mean()
        assert (share >= 0.95) == enough


def test_spares_are_those_of_every_vehicle_solved_by_itself(wagon: Vehicle) -> None:
    everyone, setup = some(wagon)[:6], Setup(lift=100.0, drop=90.0)
    found = spares(wagon, setup, everyone)
    build = Build.of(wagon, setup)
    travel, roll = clearance_states(build)
    for i in range(6):
        layout = everyone.batch.layout(i).with_bar(drop=90.0)
        poses = solve(layout, travel - 100.0, roll)
        pinion = poses.place(layout.centre, (everyone.pinion[i] - layout.centre)[None])[:, 0]
        front = np.broadcast_to(everyone.front[i], pinion.shape)
        gaps = tube_gaps(wagon.envelopes, front, pinion, wagon.driveshaft.radius)[0]
        assert found[i] == pytest.approx(gaps.distance.min() - wagon.envelopes[0].margin, abs=1e-6)


def test_measured_without_error_the_plain_drop_is_sure(wagon: Vehicle) -> None:
    exact = wagon.replace(measuring=Measuring(u=0.0))
    found = sure_drop(exact, 100.0, some(exact))
    assert found is not None and found.drop == found.plain


def test_nothing_to_clear(wagon: Vehicle) -> None:
    assert sure_drop(wagon.replace(envelopes=()), 100.0) is None
    assert sure_drop(wagon, 100.0, some(wagon), cancelled=lambda: True) is None


def test_words() -> None:
    assert "95 % confidence" in sure_words(SureDrop(101.2, 90.0, 600), "mm").text
    assert sure_words(SureDrop(None, 90.0, 600), "mm").icon == "warn"
    assert sure_words(SureDrop(None, None, 600), "mm").icon == "hit"
    assert sure_words(SureDrop(0.0, 0.0, 600), "in").icon == "ok"
