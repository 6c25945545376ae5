"""The optional tables: shaft slip, springs, dampers, bump stops, hoses."""

from __future__ import annotations

import pytest

from linkviz.errors import FileRefused
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.part import values_of
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import parse_vehicle, read_vehicle
from linkviz.vehicle.write import dump_vehicle

DEMOS = [read_vehicle(path) for path in demo_vehicle_paths()]
WAGON = demo_vehicle_paths()[0].read_text(encoding="utf-8")


def refused(old: str, new: str) -> str:
    assert old in WAGON
    with pytest.raises(FileRefused) as caught:
        parse_vehicle(WAGON.replace(old, new, 1))
    return str(caught.value)


@pytest.mark.parametrize("vehicle", DEMOS, ids=[v.name for v in DEMOS])
def test_demos_have_every_table(vehicle) -> None:  # type: ignore[no-untyped-def]
    assert vehicle.driveshaft is not None
    assert vehicle.driveshaft.slip is not None
    assert vehicle.driveshaft.output_angle_deg is not None
    assert vehicle.springs and vehicle.dampers and vehicle.bump_stops and vehicle.hoses
    assert problems_of(vehicle) == []


@pytest.mark.parametrize("vehicle", DEMOS, ids=[v.name for v in DEMOS])
def test_written_and_read_again(vehicle) -> None:  # type: ignore[no-untyped-def]
    again = parse_vehicle(dump_vehicle(vehicle))
    for key in ("springs", "dampers", "bump_stops"):
        for name, value in values_of(getattr(vehicle, key)).items():
            assert getattr(getattr(again, key), name) == pytest.approx(value, abs=1e-9)
    assert [h.name for h in again.hoses] == [h.name for h in vehicle.hoses]
    assert again.driveshaft.slip.extend == pytest.approx(vehicle.driveshaft.slip.extend, abs=1e-9)
    assert again.driveshaft.output_angle_deg == vehicle.driveshaft.output_angle_deg


def test_inches_are_lengths_but_a_rate_is_not() -> None:
    springs = DEMOS[1].springs
    assert springs is not None
    assert springs.free_length == pytest.approx(14.875 * 25.4)
    assert springs.rate == 38.0


def test_an_edit_keeps_the_comments() -> None:
    wagon = DEMOS[0]
    assert wagon.springs is not None
    changed = wagon.replace(springs=wagon.springs.replace(rate=30.0))
    text = dump_vehicle(changed, WAGON)
    assert "rate = 30.0                     # N/mm" in text
    assert "# eye to eye" in text


@pytest.mark.parametrize(
    ("old", "new", "where", "says"),
    [
        ("free_length = 367.0", "free_length = 200.0", "springs.free_length", "carries the body"),
        ("free_length = 367.0", "free_length = 9000.0", "springs.free_length", "50 to 1000 mm"),
        ("rate = 26.0", "rate = 0.0", "springs.rate", "2 to 1000 N/mm"),
        ("body = [-20.0, 430.0, 610.0]", "body = [-20.0, 430.0, 310.0]", "springs", "above the one on the axle"),
        ("axle = [-15.0, 440.0, 385.0]", "axle = [-15.0, -440.0, 385.0]", "springs.axle", "the left one"),
        ("shortest = 310.0", "shortest = 600.0", "dampers.shortest", "less than the longest"),
        ("longest = 515.0", "longest = 400.0", "dampers", "apart at design height"),
        ("free_height = 75.0", "free_height = 1.0", "bump_stops.free_height", "5 to 300 mm"),
        ("axle = [40.0, 400.0, 440.0]", "axle = [40.0, 400.0, 640.0]", "bump_stops", "above the one on the axle"),
        ('name = "brake hose"', 'name = " "', "hoses[0].name", "a name to tell it by"),
        ("length = 275.0", "length = 100.0", "hoses[0].length", "between its ends"),
        ("length = 275.0", "length = nan", "hoses[0].length", "a finite number"),
        ("body = [180.0, 60.0, 560.0]", "body = [18000.0, 60.0, 560.0]", "hoses[0].body", "within"),
        ("extend = 35.0", "extend = -3.0", "driveshaft.slip.extend", "0 to 300 mm"),
        ("output_angle_deg = 5.0", "output_angle_deg = 95.0", "driveshaft.output_angle_deg", "falls towards the rear"),
        ("rate = 26.0", "rat = 26.0", "springs.rat", '"rate", if that is meant'),
        ("[bump_stops]", "[bump_stop]", "bump_stop", '"bump_stops"'),
    ],
)
def test_nonsense_is_refused_where_it_stands(old: str, new: str, where: str, says: str) -> None:
    text = refused(old, new)
    assert f"{where}:" in text
    assert says in text


def test_two_hoses_of_one_name() -> None:
    more = '\n[[hoses]]\nname = "brake hose"\nbody = [180.0, 60.0, 560.0]\naxle = [20.0, 80.0, 480.0]\nlength = 300.0\n'
    assert "hoses[1].name" in refused("\n[mass]", more + "\n[mass]")


def test_all_tables_are_optional() -> None:
    start = WAGON.index("# Springs, dampers")
    bare = parse_vehicle(WAGON[:start])
    assert bare.springs is None
    assert bare.hoses == ()
    assert problems_of(bare) == []


def test_uncertainty_of_a_point_needs_its_table() -> None:
    line = '"springs.body" = 4.0\n'
    assert ("springs.body", 4.0) in parse_vehicle(WAGON + line).measuring.points
    start, end = WAGON.index("# Springs, dampers"), WAGON.index("[dampers]")
    with pytest.raises(FileRefused, match=r"a table \[springs\] too"):
        parse_vehicle(WAGON[:start] + WAGON[end:] + line)


def test_a_left_part_that_a_file_would_round_to_the_middle_is_refused() -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    stops = vehicle.bump_stops
    assert stops is not None
    for y, problems in ((1e-12, 1), (0.0, 1), (-1.0, 1), (1.0, 0)):
        moved = vehicle.replace(bump_stops=stops.replace(axle=(stops.axle[0], y, stops.axle[2])))
        assert sum("the left one" in p.expected for p in problems_of(moved)) == problems
