from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.analysis import fittings
from linkviz.analysis.build import Build
from linkviz.analysis.compare import travel_grid
from linkviz.analysis.setup import Setup
from linkviz.analysis.shortfalls import checked, joint_angles, shortfalls, too_steep
from linkviz.analysis.study import Study, study
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Hose, Vehicle
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])


def over(vehicle: Vehicle, lift: float = 0.0) -> Study:
    build = Build.of(vehicle, Setup(lift=lift))
    return study(build, travel_grid(build))


def words(vehicle: Vehicle, lift: float = 0.0) -> list[str]:
    return [s.words for s in shortfalls(over(vehicle, lift))]


@pytest.mark.parametrize("path", demo_vehicle_paths(), ids=lambda p: p.name)
def test_demos_reach_as_built(path) -> None:  # type: ignore[no-untyped-def]
    assert words(read_vehicle(path)) == []


def test_each_thing_that_can_fall_short() -> None:
    assert WAGON.springs and WAGON.dampers and WAGON.driveshaft and WAGON.driveshaft.slip
    stands = math.dist(WAGON.springs.body, WAGON.springs.axle)
    loose = WAGON.replace(springs=WAGON.springs.replace(free_length=stands + 40.0))
    found = shortfalls(over(loose))
    assert [s.words for s in found] == ["the coils come loose by {by}"]
    assert found[0].by == pytest.approx(50.0, abs=3.0)  # 90 of rebound, 40 to give
    assert found[0].travel == -90.0
    assert found[0].said("mm") == f"the coils come loose by {found[0].by:.0f} mm"

    short = WAGON.replace(dampers=WAGON.dampers.replace(longest=450.0))
    assert words(short) == ["the dampers are {by} too short for full rebound"]
    long = WAGON.replace(dampers=WAGON.dampers.replace(shortest=380.0))
    assert words(long) == ["the dampers bottom {by} before full jounce"]
    hose = WAGON.replace(hoses=(WAGON.hoses[0].replace(length=190.0),))
    assert words(hose) == ["the brake hose is {by} too short"]
    shaft = WAGON.driveshaft.replace(slip=WAGON.driveshaft.slip.replace(compress=1.0))
    assert words(WAGON.replace(driveshaft=shaft)) == ["the driveshaft's slip joint is {by} short of travel"]


def test_the_amount_is_the_worst_over_the_travel() -> None:
    whole = over(WAGON, 100.0)
    _, pull = fittings.damper_room(whole.build, whole.poses)
    assert shortfalls(whole)[0].by == pytest.approx(-pull.min())


def test_a_name_with_braces_is_no_trouble() -> None:
    hose = Hose(name="hose {0} {by}", body=(180.0, 60.0, 560.0), axle=(20.0, 80.0, 480.0), length=185.0)
    found = shortfalls(over(WAGON.replace(hoses=(hose,))))
    assert "hose" in found[0].said("in")


def test_nothing_on_file_is_nothing_checked() -> None:
    bare = Vehicle(name="Bare", axle=WAGON.axle, links=WAGON.links)
    assert not checked(over(bare))
    assert shortfalls(over(bare)) == ()
    assert joint_angles(over(bare), 0) == ()
    assert not too_steep((), ())
    assert checked(over(WAGON))


def test_too_steep_is_beyond_the_rule_and_worse_than_built() -> None:
    two, four, six = np.radians([2.0, 4.0, 6.0])
    assert too_steep((four,), (two,))
    assert not too_steep((two,), (0.0,))
    assert not too_steep((four, six), (six, four))
