"""The optional tables: load places, brake valve, brakes, and the wire of coils."""

from __future__ import annotations

import pytest

from linkviz.errors import FileRefused
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import parse_vehicle, read_vehicle
from linkviz.vehicle.write import dump_vehicle

WAGON = demo_vehicle_paths()[0].read_text(encoding="utf-8")


def test_a_bare_file_has_none_of_it() -> None:
    bare = parse_vehicle(WAGON[: WAGON.index("# Springs, dampers")])
    assert (bare.brake_valve, bare.brakes, bare.load_places, bare.other_springs) == (None, None, (), ())


def test_a_valve_without_its_law() -> None:
    start, end = WAGON.index("[brake_valve.law]"), WAGON.index("[brakes.front]")
    vehicle = parse_vehicle(WAGON[:start] + WAGON[end:])
    assert vehicle.brake_valve is not None and vehicle.brake_valve.law is None


@pytest.mark.parametrize("path", demo_vehicle_paths(), ids=lambda p: p.name)
def test_written_in_inches_and_read_again(path) -> None:  # type: ignore[no-untyped-def]
    vehicle = read_vehicle(path)
    again = parse_vehicle(dump_vehicle(vehicle.replace(units="in")))
    if vehicle.brake_valve is not None and again.brake_valve is not None:
        assert again.brake_valve.pivot == pytest.approx(vehicle.brake_valve.pivot, abs=1e-9)
        assert again.brake_valve.law == vehicle.brake_valve.law
    if vehicle.brakes is not None and again.brakes is not None:
        assert again.brakes.rear.cylinder == pytest.approx(vehicle.brakes.rear.cylinder, abs=1e-9)
        assert again.brakes.rear.factor == vehicle.brakes.rear.factor
    assert [(p.name, p.most) for p in again.load_places] == [(p.name, p.most) for p in vehicle.load_places]
    assert [c.rate for c in again.other_springs] == [c.rate for c in vehicle.other_springs]
    if vehicle.springs is not None and again.springs is not None and vehicle.springs.wire is not None:
        assert again.springs.wire == pytest.approx(vehicle.springs.wire, abs=1e-9)
        assert again.springs.turns == vehicle.springs.turns


@pytest.mark.parametrize(
    ("old", "new", "where", "says"),
    [
        ("rate = 26.0                     # N/mm\nwire = 14.0\n", "", "springs.rate", "wire is missing"),
        ("wire = 14.0", "wire = 60.0", "springs.wire", "5 to 40 mm"),
        ("coil = 126.0", "coil = 41.0", "springs.coil", "three times the wire"),
        ("turns = 9.3", "turns = 2.0", "springs.turns", "all turns counted"),
        ("free_length = 395.0", "free_length = 5.0", "other_springs[0].free_length", "50 to 1000 mm"),
        ('name = "springs of a heavier wagon (invented)"', 'name = ""', "other_springs[0].name", "a name"),
        ('name = "rear seats"', 'name = "front seats"', "load_places[1].name", "a name of its own for each place"),
        ("most = 100.0", "most = 0.0", "load_places[2].most", "1 to 5000 kg"),
        ("x = -420.0", "x = -42000.0", "load_places[2].x", "-4000 to 6000 mm"),
        ("tip = [90.0, -150.0, 600.0]", "tip = [250.0, -150.0, 590.0]", "brake_valve (pivot to tip)", "15 to 800 mm"),
        ("tip = [90.0, -150.0, 600.0]", "tip = [162.5, -150.0, 510.0]", "brake_valve", "that the rod can turn"),
        ("axle = [75.0, -155.0, 430.0]", "axle = [-75.0, -155.0, 600.0]", "brake_valve.axle", "a level rod"),
        ("knee = 3.0", "knee = 12.0", "brake_valve.law.knee", "between the least, 0.8 MPa"),
        ("slope = 0.25", "slope = 1.0", "brake_valve.law.slope", "0 to below 1"),
        ("per_deg = 0.13", "per_deg = 0.0", "brake_valve.law.per_deg", "MPa per deg"),
        ("factor = 0.38", "factor = 3.8", "brakes.front.factor", "for a disc"),
        ('kind = "drum"', 'kind = "band"', "brakes.rear.kind", '"disc" or "drum"'),
        ("radius = 127.0", "radius = 1270.0", "brakes.rear.radius", "50 to 300 mm"),
        ("threshold = 0.3", "threshold = 300.0", "brakes.rear.threshold", "0 to 20 MPa"),
    ],
)
def test_nonsense_is_refused_where_it_stands(old: str, new: str, where: str, says: str) -> None:
    assert old in WAGON
    with pytest.raises(FileRefused) as caught:
        parse_vehicle(WAGON.replace(old, new, 1))
    assert f"{where}:" in str(caught.value)
    assert says in str(caught.value)


def test_a_rate_from_the_wire_alone_is_enough() -> None:
    vehicle = parse_vehicle(WAGON.replace("rate = 26.0                     # N/mm\n", "", 1))
    assert vehicle.springs is not None and vehicle.springs.rate is None
