from __future__ import annotations

import math

import pytest

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.fitting_parts import fitting_parts
from linkviz.analysis.bracket.stock import propose
from linkviz.analysis.goals import rest_angle
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

VEHICLES = [read_vehicle(path) for path in demo_vehicle_paths()]


@pytest.mark.parametrize("vehicle", VEHICLES, ids=lambda v: v.name)
def test_the_parts_give_the_bar_its_angle_back_to_the_millimetre(vehicle: Vehicle) -> None:
    setup = fitting_parts(vehicle, 101.6).setup
    off = abs(rest_angle(vehicle, setup) - rest_angle(vehicle, Setup()))
    assert off < math.radians(0.1)
    for other in (setup.drop - 1.0, setup.drop + 1.0):
        assert abs(rest_angle(vehicle, setup.with_(drop=other)) - rest_angle(vehicle, Setup())) > off
    assert fitting_parts(vehicle, 0.0).setup == Setup()


def test_the_stock_part_that_fits_comes_before_one_made_to_measure() -> None:
    catalogue = read_catalogue(demo_catalogue_path())
    fitting = fitting_parts(VEHICLES[0], 101.6, catalogue, "in")
    best = propose(VEHICLES[0], 101.6, catalogue).best
    assert best is not None
    assert fitting.setup == Setup(lift=101.6, drop=best.hole or 0.0, shift=best.part.shift)
    assert best.part.number in fitting.words
    none = fitting_parts(VEHICLES[0], 50.8, catalogue, "in")
    assert propose(VEHICLES[0], 50.8, catalogue).best is None
    assert none.setup == fitting_parts(VEHICLES[0], 50.8).setup
    assert "no stock part fits" in none.words
