"""The data that come with the program are found."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from linkviz.bootstrap.requirements import read_requirements
from linkviz.errors import LinkvizError
from linkviz.resources import data_dir, demo_vehicle_paths, libraries

ROOT = Path(__file__).resolve().parents[1]


def test_three_demo_vehicles_are_found() -> None:
    assert [path.name for path in demo_vehicle_paths()] == [
        "harbour-wagon.vehicle.toml",
        "hill-cruiser.vehicle.toml",
        "quarry-pickup.vehicle.toml",
    ]


def test_a_folder_that_is_not_there_is_named() -> None:
    with pytest.raises(LinkvizError, match="'no_such_folder' that belongs to the program is missing"):
        data_dir("no_such_folder")


def test_every_requirement_is_named_with_its_licence() -> None:
    named = {library.name.lower().replace("_", "-"): library for library in libraries()}
    wanted = {re.split(r"[><=;\s]", line)[0].lower() for line in read_requirements(ROOT / "pyproject.toml")}
    assert wanted <= set(named)
    assert all(library.version and library.licence for library in named.values())
