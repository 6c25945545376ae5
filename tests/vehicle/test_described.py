from __future__ import annotations

import pytest

from linkviz.book.describe import said_of
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle import described
from linkviz.vehicle.described import (
    fields_of,
    key_of,
    name_of,
    on_axle,
    path_of,
    point_words,
    table_points,
    tables,
    typed_at,
)
from linkviz.vehicle.field_words import WORDS
from linkviz.vehicle.model import Driveshaft, Length, Mass, Point, Springs, Vehicle
from linkviz.vehicle.part import Part
from linkviz.vehicle.points import FITTING_POINTS
from linkviz.vehicle.read import read_vehicle


@pytest.fixture(scope="module")
def wagon() -> Vehicle:
    return read_vehicle(demo_vehicle_paths()[0])


def test_tables_that_may_be_left_out_are_found_by_themselves() -> None:
    names = {table.name for table in tables()}
    assert names >= {"driveshaft", "envelopes", "springs", "dampers", "bump_stops", "hoses", "mass"}
    assert not names & {"axle", "links", "travel", "measuring"}


def test_every_field_of_every_table_says_what_it_is() -> None:
    silent = [
        f"{table.name}.{field.name}"
        for table in tables()
        if table.part is not None and table.name != "envelopes"
        for field in fields_of(table.part)
        if not field.tip and field.kind not in ("text", "choice")
    ]
    assert silent == []


def test_a_number_has_its_unit_and_a_length_that_of_the_screen() -> None:
    kinds = {field.name: (field.kind, field.unit, field.optional) for field in fields_of(Springs)}
    assert kinds["free_length"] == ("length", "", False)
    assert kinds["rate"][:2] == ("number", "N/mm")
    assert {f.name: f.unit for f in fields_of(Mass)} == {
        "wheelbase": "", "total": "kg", "rear_axle": "kg", "cg_height": "",
    }  # fmt: skip
    shaft = {field.name: field for field in fields_of(Driveshaft)}
    assert shaft["output_angle_deg"].label == "Output angle" and shaft["output_angle_deg"].unit == "deg"
    assert shaft["slip"].kind == "part" and shaft["slip"].optional
    assert shaft["front_joint"].kind == "point"


def test_a_table_is_found_in_the_window_and_in_the_file() -> None:
    assert typed_at("mass") == "Vehicle, Mass ([mass] of the file)"
    assert typed_at("load_places") == "Vehicle, Load places ([[load_places]] of the file)"
    assert typed_at("brake_valve.law") == "Vehicle, Brake valve, Law ([brake_valve.law] of the file)"
    angle = typed_at("driveshaft.output_angle_deg")
    assert angle == "Vehicle, Driveshaft, Output angle (output_angle_deg of [driveshaft] in the file)"
    assert typed_at("envelopes") == "Clearance, Envelopes ([[envelopes]] of the file)"


class Base(Part):
    """A base."""

    wide: Length
    """How wide,
    in all."""


class Newer(Base):
    """A table nobody thought of."""

    at: Point
    pressure: float = 0.0
    """Of the air, MPa."""


def test_fields_of_a_base_come_along(monkeypatch: pytest.MonkeyPatch) -> None:
    for part in (Base, Newer):
        monkeypatch.setitem(WORDS, key_of(part), said_of(part))
    assert described.descriptions(Newer) == {"wide": "How wide, in all.", "pressure": "Of the air, MPa."}
    fields = {field.name: field for field in fields_of(Newer)}
    assert fields["wide"].kind == "length" and fields["wide"].tip == "How wide, in all."
    assert fields["pressure"].unit == "MPa" and fields["pressure"].optional


def test_points_of_tables_have_names_words_and_a_side(wagon: Vehicle) -> None:
    points = table_points(wagon)
    assert set(FITTING_POINTS) <= set(points)
    assert points["hoses[0].axle"] == wagon.hoses[0].axle
    assert point_words(wagon, "hoses[0].axle") == "brake hose, axle"
    assert point_words(wagon, "springs.body") == "left spring, upper seat"
    assert {name for name in points if on_axle(name)} >= {
        "driveshaft.pinion_joint", "springs.axle", "dampers.axle", "bump_stops.axle", "hoses[0].axle",
    }  # fmt: skip
    assert not any(on_axle(name) for name in ("driveshaft.front_joint", "springs.body", "hoses[0].body"))


@pytest.mark.parametrize("name", ["springs.body", "hoses[12].axle", "driveshaft.slip.extend"])
def test_names_and_paths_are_the_same_place(name: str) -> None:
    assert name_of(path_of(name)) == name
