"""A job on an invented vehicle."""

from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Printed, State, Whole
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

OLD = Path(__file__).parent / "old"


@pytest.fixture(scope="session")
def wagon() -> Vehicle:
    return read_vehicle(demo_vehicle_paths()[0])


@pytest.fixture
def whole(wagon: Vehicle) -> Whole:
    job = Job(
        number="2026-014",
        name="drop bracket",
        customer="A. Sample",
        contact="555 0100",
        status="designed",
        opened="2026-11-25",
        notes="Rides with four.\nWants it by spring.",
        states=(State(name="level", lift=100.0, drop=95.0),),
        printed=(Printed(when="2026-11-25T10:00", papers=("template", "fitting sheet")),),
    )
    return Whole(job, Setup(lift=100.0, drop=76.2), wagon)
