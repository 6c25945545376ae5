"""The sense of a vehicle: absurd values are refused, and edits are checked the same way."""

from __future__ import annotations

from typing import Any

import pytest

from linkviz.errors import FileRefused, Problem
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.problems import MOST, problems_of
from linkviz.vehicle.read import parse_vehicle
from linkviz.vehicle.watching import PART_NAMES


def problems(text: str) -> list[Problem]:
    """Return the problems of a text."""
    with pytest.raises(FileRefused) as caught:
        parse_vehicle(text, "f")
    return list(caught.value.problems)


def test_inches_taken_for_millimetres_are_suspected(sound: str) -> None:
    (problem,) = problems(sound.replace("track = 1480", "track = 58.25"))
    assert problem.where == "axle.track"
    assert problem.found == "58.25 mm"
    assert problem.expected.startswith("800 to 2600 mm")
    assert 'write units = "in"' in problem.expected


def test_a_track_of_ten_inches_is_refused_in_inches(sound: str) -> None:
    found = {p.where: p for p in problems(sound.replace('"mm"', '"in"').replace("track = 1480", "track = 10"))}
    assert found["axle.track"].found == "10 in (254 mm)"
    assert 'check units = "in" (is the file in millimetres?)' in found["axle.track"].expected
    assert 'write units = "mm"' in found["axle.tyre_radius"].expected


@pytest.mark.parametrize(
    ("old", "new", "where", "words"),
    [
        ("tyre_radius = 370.0", "tyre_radius = 37.0", "axle.tyre_radius", "37 mm"),
        ("tyre_width = 255.0", "tyre_width = -255.0", "axle.tyre_width", "-255 mm"),
        ("centre = [0.0, 0.0, 370.0]", "centre = [0.0, 0.0, 3700.0]", "axle.centre", "3700"),
        ("[560.0, 420.0, 400.0]", "[56000.0, 420.0, 400.0]", "links.lower_left.frame", "56000"),
        ("frame = [-130.0, -440.0, 520.0]", "frame = [-130.0, 430.0, 440.0]", "links.lateral_bar", "ends 0 mm apart"),
        ("stiffness = 4000.0", "stiffness = -4000.0", "links.lower_left.stiffness", "-4000 N/mm"),
        ("stiffness = 4000.0", "stiffness = 4000000", "links.lower_left.stiffness", "4000000 N/mm"),
        ("radius = 38.0", "radius = 380.0", "driveshaft.radius", "380 mm"),
        ("[230.0, 0.0, 385.0]", "[1150.0, 0.0, 520.0]", "driveshaft", "ends 0 mm apart"),
        ("margin = 12.0", "margin = -1.0", "envelopes[0].margin", "-1 mm"),
        ('name = "exhaust"', 'name = "fuel tank"', "envelopes[1].name", "the name of envelopes[0] too"),
        ('name = "exhaust"', 'name = ""', "envelopes[1].name", "an empty name"),
        ("total = 1960.0", "total = 2.0", "mass.total", "2 kg"),
        ("rear_axle = 905.0", "rear_axle = 1960.0", "mass.rear_axle", "not less than the total"),
        ("wheelbase = 2720.0", "wheelbase = 272.0", "mass.wheelbase", "272 mm"),
        ("jounce = 85.0", "jounce = -85.0", "travel.jounce", "-85 mm"),
        ("u = 3.0", "u = -3.0", "measuring.u", "-3 mm"),
        (
            '"links.lateral_bar.frame" = 2',
            '"links.lateral_bar.fram" = 2',
            'measuring.points."links.lateral_bar.fram"',
            "unk",
        ),
        ("tyre_width = 255.0", "tyre_width = 255.0\npinion_angle_deg = 90", "axle.pinion_angle_deg", "90 deg"),
    ],
)
def test_absurd_values_are_refused_by_key(sound: str, old: str, new: str, where: str, words: str) -> None:
    assert old in sound
    found = [p for p in problems(sound.replace(old, new)) if p.where == where]
    assert len(found) == 1
    assert words in found[0].found


def test_links_on_the_wrong_sides_are_told(sound: str) -> None:
    text = sound.replace("lower_left", "tmp").replace("lower_right", "lower_left").replace("tmp", "lower_right")
    (problem,) = problems(text)
    assert problem.where == "links.lower_left"
    assert "y is + to the left" in problem.expected


def test_an_outline_with_too_few_corners_is_refused(sound: str) -> None:
    (problem,) = problems(sound.replace("[[-100.0, 300.0], [-150.0, 300.0], [-150.0, 350.0]]", "[[0, 1], [2, 3]]"))
    assert problem.where == "envelopes[1].rear"
    assert "at least 3 corners, [[y, z]" in problem.expected


@pytest.mark.parametrize(
    ("rear", "words"),
    [
        ("[[0, 300], [100, 400], [100, 300], [0, 400]]", "crosses itself at [50, 350] mm, edge 1 with edge 3"),
        ("[[0, 300], [100, 300], [200, 300]]", "crosses itself"),
        ("[[0, 300], [0, 300], [200, 300], [200, 400]]", "twice in a row"),
        ("[[0, 300], [200, 300], [200, 400], [0, 300]]", "twice in a row"),
        ("[[0, 300], [0.001, 300], [0.001, 300.001]]", "without area"),
        ("[[0, 300], [9000, 300], [0, 400]]", "[9000, 300] mm"),
        ("[[0, 900], [100, 900], [100, 950]]", "from z = 900 to 950 mm and side outline from z = 300 to 350 mm"),
        (str([[i, 300 + i * i] for i in range(500)]), "500 corners"),
    ],
)
def test_outlines_that_enclose_nothing_sound_are_refused(sound: str, rear: str, words: str) -> None:
    text = sound.replace("[[-100.0, 300.0], [-150.0, 300.0], [-150.0, 350.0]]", rear)
    (problem,) = problems(text)
    assert problem.where.startswith("envelopes[1]")
    assert words in problem.found


def _with(vehicle: Vehicle, table: str, **changes: Any) -> Vehicle:
    return vehicle.replace(**{table: getattr(vehicle, table).replace(**changes)})


def test_an_edited_vehicle_is_checked_by_the_same_rules(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    assert problems_of(_with(vehicle, "axle", track=1500.0)) == []
    edited = _with(_with(vehicle, "axle", track=254.0), "travel", rebound=-1.0).replace(name="")
    assert [p.where for p in problems_of(edited)] == ["name", "axle.track", "travel.rebound"]
    assert problems_of(edited.replace(units="in"))[1].found == "10 in (254 mm)"


def test_more_envelopes_than_can_be_watched_are_refused(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    box = vehicle.envelopes[0]
    many = tuple(box.replace(name=f"box {i}") for i in range(MOST["envelopes"] + 1))
    assert problems_of(vehicle.replace(envelopes=many[:-1], pairs=())) == []
    (problem,) = problems_of(vehicle.replace(envelopes=many, pairs=()))
    assert (problem.where, problem.found) == ("envelopes", "41 of them")


def test_an_envelope_is_not_called_like_a_part(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    envelope = vehicle.envelopes[0]
    for name in PART_NAMES:
        (problem,) = problems_of(vehicle.replace(envelopes=(envelope.replace(name=name),), pairs=()))
        assert problem.where == "envelopes[0].name"
        assert name in problem.found
    assert problems_of(vehicle.replace(envelopes=(envelope.replace(name="housing cover"),), pairs=())) == []
