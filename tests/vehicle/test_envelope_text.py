from __future__ import annotations

from typing import Any

import pytest

from linkviz.errors import FileRefused
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.envelope_text import dump_envelopes, envelopes_of, parse_envelopes
from linkviz.vehicle.model import Envelope
from linkviz.vehicle.read import read_vehicle
from tests.hang import no_hang

PLATE = Envelope(
    name="skid plate",
    rear=((-100.0, 200.0), (100.0, 200.0), (100.0, 206.35)),
    side=((0.0, 190.0), (400.0, 200.0), (0.0, 210.0)),
    margin=8.0,
)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_envelopes_come_back_from_their_text(unit: Any) -> None:
    other = PLATE.replace(name="exhaust")
    text = dump_envelopes((PLATE, other), unit)
    assert f'units = "{unit}"' in text
    assert text.count("[[envelopes]]") == 2
    back = parse_envelopes(text)
    assert [e.name for e in back] == ["skid plate", "exhaust"]
    assert back[0].margin == pytest.approx(8.0, abs=1e-9)
    for a, b in zip(back[0].rear + back[0].side, PLATE.rear + PLATE.side, strict=True):
        assert a == pytest.approx(b, abs=1e-9)


def test_a_whole_vehicle_file_will_do() -> None:
    for path in demo_vehicle_paths():
        assert parse_envelopes(path.read_text(encoding="utf-8")) == read_vehicle(path).envelopes


@pytest.mark.parametrize("text", ["a" + ".a" * 20_000 + " = 1", "[" * 200_000, "k = 1\n" * 1_000_000])
def test_what_else_lies_on_a_clipboard_is_refused_in_time(text: str) -> None:
    with no_hang(), pytest.raises(FileRefused, match="no envelopes"):
        parse_envelopes(text)


def test_envelopes_are_picked_by_name() -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    assert envelopes_of(vehicle) == vehicle.envelopes
    assert envelopes_of(vehicle, ["none of this name"]) == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("good morning", "no envelopes"),
        ('units = "mm"', "no envelopes"),
        ('units = "furlong"\n[[envelopes]]\nname = "a"', "mm"),
        ('[[envelopes]]\nname = "a"', "rear"),
        ("envelopes = [1]", "no table"),
        ('[[envelopes]]\nname="a"\nrear=[[0,0],[1,1],[1,0],[0,1]]\nside=[[0,0],[9,0],[9,9]]', "crosses itself"),
    ],
)
def test_other_text_is_refused_with_the_reason(text: str, words: str) -> None:
    with pytest.raises(FileRefused, match=words):
        parse_envelopes(text)
