"""A session on an invented vehicle, its state in a folder of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle


@pytest.fixture(scope="session")
def wagon() -> Vehicle:
    return read_vehicle(demo_vehicle_paths()[0])


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "state")


@pytest.fixture
def session(wagon: Vehicle, store: Store) -> Session:
    return Session(Document(wagon, Setup(lift=100.0)), store)
