"""The data that come with the program are found."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterable, Iterator
from importlib import metadata
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


def brought_along(lines: Iterable[str]) -> Iterator[str]:
    """Yield the names of installed packages that are required, and of those they require, extras left out."""
    for line in lines:
        name = re.split(r"[><=!~;\[\s(]", line)[0].lower().replace("_", "-")
        with contextlib.suppress(metadata.PackageNotFoundError):
            if "extra ==" not in line:
                further = metadata.requires(name) or ()
                yield name
                yield from brought_along(further)


def test_every_requirement_is_named_with_its_licence() -> None:
    named = {library.name.lower().replace("_", "-"): library for library in libraries()}
    wanted = set(brought_along(read_requirements(ROOT / "pyproject.toml")))
    assert len(wanted) > 13
    assert wanted <= set(named)
    assert all(library.version and library.licence for library in named.values())
