from __future__ import annotations

import re

import pytest

from linkviz.analysis.bracket.design import missing
from linkviz.analysis.quantities import QUANTITIES
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.brake_valve import brake_valve
from linkviz.analysis.stance.stance_words import source_words
from linkviz.analysis.telling import depth_words, gap_words
from linkviz.resources import demo_vehicle_paths
from linkviz.units import Unit
from linkviz.vehicle.described import typed_at
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle


@pytest.mark.parametrize(
    ("gap", "unit", "words"),
    [
        (-3.0, "mm", ", 3 mm deep"),
        (-12.7, "in", ', 1/2" deep'),
        (-0.3, "mm", ""),
        (-0.3, "in", ""),
        (0.0, "mm", ""),
    ],
)
def test_a_contact_without_depth_only_touches(gap: float, unit: Unit, words: str) -> None:
    assert depth_words(gap, unit) == words


def test_what_is_not_fully_known_is_at_least_so_deep() -> None:
    assert depth_words(-3.0, "mm", least=True) == ", at least 3 mm deep"


def test_whatever_is_missing_is_found_in_the_window_and_in_the_file() -> None:
    wagon = read_vehicle(demo_vehicle_paths()[0])
    assert wagon.brake_valve is not None
    bare = Vehicle(name="Bare", axle=wagon.axle, links=wagon.links)
    part = bare.replace(
        driveshaft=wagon.driveshaft.replace(output_angle_deg=None, slip=None),  # type: ignore[union-attr]
        brake_valve=wagon.brake_valve.replace(law=None),
    )
    setup = Setup(lift=100.0)
    said = [
        *(why for vehicle in (bare, part) for quantity in QUANTITIES if (why := quantity.missing(vehicle))),
        *missing(bare),
        *brake_valve(part, setup).missing,
        source_words(bare, setup, None, "mm").text,
    ]
    tables = [(text, mark) for text in said for mark in re.findall(r"\[+[a-z_.]+\]+", text)]
    assert len({mark for _, mark in tables}) > 12
    for text, mark in tables:
        name = mark.strip("[]")
        assert typed_at(name) in text or typed_at(f"{name}.output_angle_deg") in text


@pytest.mark.parametrize(
    ("gap", "unit", "words"),
    [
        (7.2, "mm", "7 mm"),
        (0.5, "mm", "1 mm"),
        (0.3, "mm", "under 1 mm"),
        (0.3, "in", 'under 1/16"'),
        (0.9, "in", '1/16"'),
        (0.0, "mm", "touches"),
    ],
)
def test_a_gap_that_reads_as_none_is_not_called_0(gap: float, unit: Unit, words: str) -> None:
    assert gap_words(gap, unit) == words
