from __future__ import annotations

import pytest

from linkviz.analysis.bracket.table import BracketTable
from linkviz.errors import LinkvizError
from linkviz.session import edits, tables
from linkviz.vehicle.described import Field, fields_of
from linkviz.vehicle.model import Driveshaft, Hose, Mass, Springs, Vehicle
from linkviz.vehicle.part import values_of


def field(part: type, name: str) -> Field:
    return next(one for one in fields_of(part) if one.name == name)


def test_single_values_are_put_and_nothing_else_changes(wagon: Vehicle) -> None:
    changed = tables.put(wagon, ("springs", "rate"), 31.0)
    assert changed.springs is not None and changed.springs.rate == 31.0
    assert wagon.springs is not None and changed.springs.replace(rate=wagon.springs.rate) == wagon.springs
    assert tables.put(changed, ("springs", "rate"), wagon.springs.rate) == wagon
    deep = tables.put(wagon, ("driveshaft", "slip", "extend"), 20.0)
    assert deep.driveshaft is not None and deep.driveshaft.slip is not None and deep.driveshaft.slip.extend == 20.0
    listed = tables.put(wagon, ("hoses", 0, "length"), 301.0)
    assert listed.hoses[0].length == 301.0
    assert tables.value_at(listed, ("hoses", 0, "length")) == 301.0
    assert tables.value_at(listed, ("hoses", 7)) is None


def test_tables_come_and_go(wagon: Vehicle) -> None:
    bare = tables.remove(wagon, ("springs",))
    assert bare.springs is None
    assert wagon.springs is not None
    assert tables.add(bare, ("springs",), values_of(wagon.springs)) == wagon
    two = tables.add(wagon, ("hoses", 1), {**values_of(wagon.hoses[0]), "name": "vent"})
    assert [hose.name for hose in two.hoses] == ["brake hose", "vent"]
    assert tables.remove(two, ("hoses", 0)).hoses == two.hoses[1:]


def test_what_goes_takes_its_measuring_error_along(wagon: Vehicle) -> None:
    marked = edits.set_point_u(wagon, "springs.body", 6.0)
    assert dict(marked.measuring.points)["springs.body"] == 6.0
    bare = tables.remove(marked, ("springs",))
    assert bare.measuring == wagon.measuring
    assert edits.set_point_u(marked, "springs.body", None).measuring == wagon.measuring


def test_a_value_in_a_table_that_is_not_there_is_refused_in_words(wagon: Vehicle) -> None:
    bare = tables.remove(wagon, ("springs",))
    with pytest.raises(LinkvizError, match="Add the table first"):
        tables.put(bare, ("springs", "rate"), 3.0)
    with pytest.raises(LinkvizError, match="free length: a value is needed"):
        tables.add(bare, ("springs",), {"rate": 3.0})


@pytest.mark.parametrize(
    ("part", "name", "text", "unit", "value"),
    [
        (Springs, "free_length", "367", "mm", 367.0),
        (Springs, "free_length", '14 1/2"', "mm", 368.3),
        (Springs, "free_length", "14.5", "in", 368.3),
        (Springs, "rate", "26,5 N/mm", "mm", 26.5),
        (Springs, "rate", "26.5 n/mm", "mm", 26.5),
        (Mass, "total", "1960 kg", "mm", 1960.0),
        (Driveshaft, "output_angle_deg", "-2.5°", "mm", -2.5),
        (Driveshaft, "output_angle_deg", "", "mm", None),
        (Hose, "name", " vent ", "mm", "vent"),
    ],
)
def test_values_are_read_as_they_are_typed(part: type, name: str, text: str, unit: str, value: object) -> None:
    got = tables.read(field(part, name), text, unit)  # type: ignore[arg-type]
    assert got == (pytest.approx(value) if isinstance(value, float) else value)
    if value is not None and unit == "mm":
        again = tables.shown(field(part, name), got, "mm")
        back = tables.read(field(part, name), again, "mm")
        assert back == (pytest.approx(got) if isinstance(got, float) else got)


@pytest.mark.parametrize(
    ("part", "name", "text"),
    [(Springs, "free_length", "long"), (Springs, "rate", "stiff"), (Springs, "rate", "nan"), (Hose, "name", "  ")],
)
def test_what_is_no_value_is_refused_with_the_name_of_the_field(part: type, name: str, text: str) -> None:
    with pytest.raises(LinkvizError, match=f"^{field(part, name).label}: "):
        tables.read(field(part, name), text, "mm")


def test_lengths_keep_the_digits_they_were_typed_with() -> None:
    assert tables.length_shown(13.5, "mm") == "13.5 mm"
    assert tables.length_shown(367.0, "mm") == "367 mm"
    assert tables.length_shown(25.4 * 3.5, "in") == '3 1/2"'
    assert tables.length_shown(13.5, "in") == '0.531"'
    assert tables.needed(Springs, {"body": (0, 0, 0), "axle": (0, 0, 0)})[0] == "free length"


def test_a_list_of_lengths_may_have_decimal_commas_and_is_no_guess() -> None:
    holes = field(BracketTable, "holes")
    assert tables.read(holes, "76,2; 90", "mm") == (76.2, 90.0)
    assert tables.read(holes, "76.2, 90", "mm") == (76.2, 90.0)
    with pytest.raises(LinkvizError, match=r"Bar holes, drops: '76,2, 90' may mean two lists"):
        tables.read(holes, "76,2, 90", "mm")
    with pytest.raises(LinkvizError, match=r"'1,000' may mean two numbers. Write 1000 or 1.0."):
        tables.read(field(Mass, "wheelbase"), "1,000", "mm")
