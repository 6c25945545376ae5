from __future__ import annotations

import copy
import pickle
from typing import Any, Literal

import numpy as np
import pytest

from linkviz.vehicle.model import Coil, Driveshaft, Envelope, Length, Link, Outline, Slip, Springs
from linkviz.vehicle.part import REQUIRED, Part, Unfit, default_of, is_length, kinds_of, names_of, values_of
from tests.vehicles import random_vehicle


class Inner(Part):
    at: tuple[Length, Length] = (0.0, 0.0)
    corners: Outline | None = None


class Outer(Part):
    name: str
    count: int = 1
    on: bool = True
    side: Literal["left", "right"] = "left"
    inner: Inner = Inner()
    own: tuple[tuple[str, Length], ...] = ()


class Wider(Outer):
    width: Length


def test_fields_of_a_base_come_first_and_keep_their_defaults() -> None:
    assert names_of(Wider) == ("name", "count", "on", "side", "inner", "own", "width")
    assert names_of(Outer) == names_of(Wider)[:-1]
    assert default_of(Wider, "count") == 1 and default_of(Wider, "width") is REQUIRED
    assert is_length(kinds_of(Wider)["width"]) and not is_length(kinds_of(Wider)["name"])


def test_values_are_held_as_the_class_says() -> None:
    made = Wider(name="a", width=np.float64(2.5), own=[("x", 1)], inner={"at": [1, 2]})  # type: ignore[arg-type]
    assert type(made.width) is float and made.own == (("x", 1.0),) and type(made.own[0][1]) is float
    assert made.inner == Inner(at=(1.0, 2.0)) and made.inner is not Inner(at=(1.0, 2.0))
    assert list(values_of(made)) == list(names_of(Wider))


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"name": 1}, "name: expected `str`, got `int`"),
        ({"name": "a", "count": True}, "count: expected `int`, got `bool`"),
        ({"name": "a", "count": 1.0}, "count: expected `int`, got `float`"),
        ({"name": "a", "on": 1}, "on: expected `bool`, got `int`"),
        ({"name": "a", "side": "up"}, "side: invalid enum value 'up'"),
        ({"name": "a", "inner": 1}, "inner: expected `object`, got `int`"),
        ({"name": "a", "inner": {"at": (1.0,)}}, "inner.at: expected `array` of length 2, got 1"),
        ({"name": "a", "inner": {"at": (1.0, float("nan"))}}, "inner.at: a finite number is needed"),
        ({"name": "a", "inner": {"at": (1.0, 10**400)}}, "inner.at[1]: number out of range"),
        ({"name": "a", "inner": {"at": (1.0, "2")}}, "inner.at[1]: expected `float`, got `str`"),
        ({"name": "a", "inner": {"corners": ((0.0, 0.0),) * 2}}, "inner.corners: expected `array` of length >= 3"),
        ({"name": "a", "inner": {"ta": 1.0}}, "inner: object contains unknown field `ta`"),
        ({"name": "a", "own": None}, "own: expected `array`, got `null`"),
    ],
)
def test_what_a_field_does_not_take_is_refused_by_name(values: dict[str, Any], said: str) -> None:
    with pytest.raises(Unfit) as error:
        Outer(**values)
    assert str(error.value) == said


def test_a_value_that_is_missing_or_of_no_field_is_refused() -> None:
    with pytest.raises(TypeError, match="name"):
        Outer()  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="nmae"):
        Outer(name="a", nmae="a")  # type: ignore[call-arg]


def test_a_copy_with_changes_checks_them_and_leaves_the_first_alone() -> None:
    coil = Springs(free_length=300.0, body=(0.0, 400.0, 500.0), axle=(0.0, 400.0, 200.0))
    other = coil.replace(rate=20, free_length=310.0)
    assert (coil.rate, coil.free_length) == (None, 300.0) and (other.rate, other.free_length) == (20.0, 310.0)
    assert other.body == coil.body and type(other) is Springs and list(values_of(other)) == list(names_of(Springs))
    with pytest.raises(Unfit, match="rate: a finite number"):
        coil.replace(rate=float("inf"))
    with pytest.raises(TypeError, match="lenght"):
        coil.replace(lenght=1.0)


def test_parts_are_values() -> None:
    link = Link(frame=(0.0, 1.0, 2.0), axle=(3.0, 4.0, 5.0))
    same = Link(frame=(0.0, 1.0, 2.0), axle=(3.0, 4.0, 5.0))
    assert link == same and hash(link) == hash(same) and {link: 1}[same] == 1
    assert link != link.replace(stiffness=1.0) and link != values_of(link)
    assert Coil(free_length=1.0) != Springs(free_length=1.0, body=(0.0, 0.0, 0.0), axle=(0.0, 0.0, 0.0))
    with pytest.raises(AttributeError):
        link.stiffness = 2.0  # type: ignore[misc]
    with pytest.raises(AttributeError):
        del link.frame
    assert repr(link) == "Link(frame=(0.0, 1.0, 2.0), axle=(3.0, 4.0, 5.0), stiffness=None)"


def test_a_part_survives_the_way_to_another_process() -> None:
    wagon = random_vehicle(np.random.default_rng(3))
    again = pickle.loads(pickle.dumps(wagon))
    assert again == wagon and hash(again) == hash(wagon) and copy.deepcopy(wagon) == wagon


def test_parts_inside_parts_are_taken_as_they_are() -> None:
    slip = Slip(extend=1.0, compress=2.0)
    shaft = Driveshaft(front_joint=(0.0, 0.0, 0.0), pinion_joint=(1.0, 0.0, 0.0), radius=40.0, slip=slip)
    assert shaft.slip is slip
    box = Envelope(name="b", rear=((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), side=((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)))
    assert box.margin == 10.0
