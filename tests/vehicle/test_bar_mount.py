"""The tables for the frame bracket and the end of the bar."""

from __future__ import annotations

import pytest

from linkviz.errors import FileRefused
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import parse_vehicle, read_vehicle
from linkviz.vehicle.write import dump_vehicle

DEMOS = [read_vehicle(path) for path in demo_vehicle_paths()]
WAGON = demo_vehicle_paths()[0].read_text(encoding="utf-8")


@pytest.mark.parametrize("vehicle", DEMOS, ids=[v.name for v in DEMOS])
def test_demos_have_both_and_keep_them(vehicle) -> None:  # type: ignore[no-untyped-def]
    assert vehicle.frame_bracket is not None and vehicle.bar_end is not None
    assert problems_of(vehicle) == []
    again = parse_vehicle(dump_vehicle(vehicle))
    assert again.frame_bracket.lip == pytest.approx(vehicle.frame_bracket.lip, abs=1e-9)
    assert (again.frame_bracket.bolt, again.frame_bracket.steel) == (
        vehicle.frame_bracket.bolt,
        vehicle.frame_bracket.steel,
    )
    assert again.bar_end.eye_diameter == pytest.approx(vehicle.bar_end.eye_diameter, abs=1e-9)


@pytest.mark.parametrize(
    ("old", "new", "where", "words"),
    [
        ("lip = 49.0 ", "lip = 490.0 ", "frame_bracket.lip", "5 to 250 mm"),
        ("lip = 49.0 ", "lip = 5.5 ", "frame_bracket.lip", "more than half of the M12 bolt"),
        ('bolt = "M12"', 'bolt = "M13"', "frame_bracket.bolt", "a bolt such as M14"),
        ('bolt = "M12"', 'bolt = "M12x9"', "frame_bracket.bolt", "one of M8"),
        ('bolt = "M12"', 'bolt = "M6"', "frame_bracket.bolt", "one of M8"),
        ('steel = "S355"', 'steel = "good"', "frame_bracket.steel", '"unknown" or "A36"'),
        ("eye_width = 46.0 ", "eye_width = 60.0 ", "bar_end.eye_width", "inside the frame bracket"),
        ("eye_diameter = 36.0", "eye_diameter = 3.6", "bar_end.eye_diameter", "measure it again"),
        ("eye_diameter = 36.0", "eye_size = 36.0", "bar_end.eye_size", "unknown key"),
    ],
)
def test_what_makes_no_sense_is_told(old: str, new: str, where: str, words: str) -> None:
    assert old in WAGON
    with pytest.raises(FileRefused) as caught:
        parse_vehicle(WAGON.replace(old, new, 1))
    assert where in str(caught.value) and words in str(caught.value)
