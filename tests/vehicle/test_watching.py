from __future__ import annotations

import pytest

from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Sizes, Vehicle, Watch
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.write import dump_vehicle, write_vehicle


@pytest.fixture
def vehicle() -> Vehicle:
    return read_vehicle(demo_vehicle_paths()[0])


def watching(vehicle: Vehicle, *pairs: Watch) -> Vehicle:
    return vehicle.replace(pairs=pairs)


def test_the_tables_come_back_as_written(vehicle: Vehicle, tmp_path) -> None:
    changed = watching(
        vehicle.replace(sizes=Sizes(bar_radius=17.5)),
        Watch(one="lateral bar", other="housing", margin=8.0),
        Watch(one="driveshaft", other="fuel tank", watch="off"),
    )
    path = tmp_path / "a.vehicle.toml"
    write_vehicle(changed, path)
    assert read_vehicle(path) == changed
    assert "[[pairs]]" in dump_vehicle(changed)


def test_sense_of_pairs(vehicle: Vehicle) -> None:
    def said(*pairs: Watch) -> str:
        return " ".join(f"{p.where} {p.found} {p.expected}" for p in problems_of(watching(vehicle, *pairs)))

    assert said(Watch(one="lateral bar", other="housing")) == ""
    assert '"housing", if that is meant' in said(Watch(one="lateral bar", other="houzing"))
    assert "against itself" in said(Watch(one="housing", other="housing"))
    assert "each pair once" in said(
        Watch(one="lateral bar", other="housing"), Watch(one="housing", other="lateral bar")
    )
    assert "pairs[0].margin" in said(Watch(one="lateral bar", other="housing", margin=-1.0))


def test_sense_of_sizes(vehicle: Vehicle) -> None:
    found = problems_of(vehicle.replace(sizes=Sizes(housing_radius=5.0)))
    assert [problem.where for problem in found] == ["sizes.housing_radius"]
