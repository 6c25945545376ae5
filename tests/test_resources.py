"""The data that come with the program are found."""

from __future__ import annotations

import pytest

from linkviz.errors import LinkvizError
from linkviz.resources import data_dir, demo_vehicle_paths


def test_three_demo_vehicles_are_found() -> None:
    assert [path.name for path in demo_vehicle_paths()] == [
        "harbour-wagon.vehicle.toml",
        "hill-cruiser.vehicle.toml",
        "quarry-pickup.vehicle.toml",
    ]


def test_a_folder_that_is_not_there_is_named() -> None:
    with pytest.raises(LinkvizError, match="'no_such_folder' that belongs to the program is missing"):
        data_dir("no_such_folder")
