"""Whatever stands in a file, the answer is a vehicle or a refusal that names a place."""

from __future__ import annotations

import tomllib
from copy import deepcopy
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from linkviz.errors import FileRefused
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import parse_vehicle, vehicle_from_data
from linkviz.vehicle.sheet import parse_measuring_sheet

STRANGE = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
).filter(lambda value: value is not None)


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the ways to every value in nested data."""
    keys = value.keys() if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    return [way for key in keys for way in ((*path, key), *places(value[key], (*path, key)))]


def accepted_or_refused(take: Any, given_: Any) -> None:
    """Assert that a reader takes what it is given, or refuses it with places."""
    try:
        vehicle = take(given_)
    except FileRefused as refusal:
        assert refusal.problems
        assert all(problem.where and problem.found and problem.expected for problem in refusal.problems)
    else:
        assert not isinstance(vehicle, Vehicle) or problems_of(vehicle) == []


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data(), strange=STRANGE)
def test_any_value_may_be_replaced_by_anything(sound: str, data: st.DataObject, strange: Any) -> None:
    tables = tomllib.loads(sound)
    way = data.draw(st.sampled_from(places(tables)))
    spoilt = deepcopy(tables)
    inner: Any = spoilt
    for key in way[:-1]:
        inner = inner[key]
    inner[way[-1]] = strange
    accepted_or_refused(vehicle_from_data, spoilt)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(start=st.integers(0, 1500), length=st.integers(0, 40), patch=st.text(max_size=6))
def test_any_stretch_of_the_text_may_be_damaged(sound: str, start: int, length: int, patch: str) -> None:
    accepted_or_refused(parse_vehicle, sound[:start] + patch + sound[start + length :])


@settings(max_examples=100, deadline=None)
@given(rows=st.lists(st.lists(st.sampled_from(["track", "lower_left.frame", "x", "1", "a", '"', ""]), max_size=6)))
def test_any_lines_may_stand_on_a_sheet(rows: list[list[str]]) -> None:
    text = "units,mm\npoint,x,y,z,+-\n" + "\n".join(",".join(row) for row in rows)
    accepted_or_refused(parse_measuring_sheet, text)
