from __future__ import annotations

import pytest

from linkviz.analysis.bracket.fitting_parts import fitting_parts
from linkviz.analysis.compare import compare
from linkviz.analysis.counter import PLAIN, spoken
from linkviz.analysis.findings import Findings, findings
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.units import format_length
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

VEHICLES = [read_vehicle(path) for path in demo_vehicle_paths()]
JARGON = ("pinion", "jounce", "rebound", "roll centre", "lateral bar", "heave", "pitch", "deg")


def told(vehicle: Vehicle, setup: Setup) -> Findings:
    comparison = compare(vehicle, setup)
    return spoken(findings(comparison, "in"), comparison, "in")


@pytest.mark.parametrize("vehicle", VEHICLES, ids=lambda v: v.name)
@pytest.mark.parametrize("lift", [0.0, 50.8, 101.6, 152.4])
@pytest.mark.parametrize("parts", [False, True])
def test_what_is_said_is_short_and_plain(vehicle: Vehicle, lift: float, parts: bool) -> None:
    setup = fitting_parts(vehicle, lift).setup if parts else Setup(lift=lift)
    found = told(vehicle, setup)
    assert 1 <= len(found.sentences) <= 3
    assert {row.label for row in found.rows} <= set(PLAIN.values())
    text = " ".join([s.text for s in found.sentences] + [row.label for row in found.rows]).lower()
    assert not [word for word in JARGON if word in text]
    assert all(len(s.text) < 170 for s in found.sentences)


def test_a_touch_is_said_and_so_is_its_cure() -> None:
    vehicle = VEHICLES[0]
    lifted = told(vehicle, Setup(lift=101.6))
    assert any("touches the fuel tank" in s.text and s.icon == "hit" for s in lifted.sentences)
    assert any(c.text == "touches" for row in lifted.rows for c in row.cells.values())
    cured = told(vehicle, fitting_parts(vehicle, 101.6).setup)
    assert "stays clear of the fuel tank" in cured.sentences[-1].text
    assert cured.sentences[-1].icon == "ok"
    assert format_length(fitting_parts(vehicle, 101.6).setup.drop, "in") in cured.sentences[-1].text
