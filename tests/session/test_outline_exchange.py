from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.errors import LinkvizError
from linkviz.session.outline_exchange import Found, exported, found_in, paired, taken
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.outline_files import read_outlines, write_outlines

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


@pytest.mark.parametrize("ending", [".dxf", ".csv"])
def test_envelopes_go_to_a_file_as_they_are_seen_and_come_back(wagon: Vehicle, tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"a{ending}"
    named = exported(wagon, [0])
    tank = wagon.envelopes[0]
    # the rear view is seen from behind: what is on the vehicle's right, -y, is to the right
    assert named[f"{tank.name} rear"][0][0] == (-tank.rear[0][0], tank.rear[0][1])
    assert named[f"{tank.name} side"][0] == tank.side
    write_outlines(path, named)
    (back,) = paired(found_in(read_outlines(path)))
    assert back.name == tank.name
    for one, other in zip(back.rear + back.side, tank.rear + tank.side, strict=True):
        assert one == pytest.approx(other, abs=1e-6)


def test_a_file_of_other_names_is_not_paired() -> None:
    assert paired(found_in({"a rear": (SQUARE,), "b": (SQUARE,)})) == ()
    assert paired(found_in({"a rear": (SQUARE,)})) == ()
    crossed = (SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3])
    assert paired(found_in({"a rear": (SQUARE,), "a side": (crossed,)})) == ()
    assert "cross" in found_in({"a": (crossed,)})[0].fault
    assert [one.name for one in found_in({"a": (SQUARE, SQUARE)})] == ["a 1", "a 2"]


def test_one_outline_makes_an_envelope_with_a_plain_block(wagon: Vehicle) -> None:
    vehicle = taken(wagon, -1, "exhaust", Found("a", SQUARE), None)
    made = vehicle.envelopes[-1]
    assert made.rear == ((0.0, 0.0), (-100.0, 0.0), (-100.0, 100.0), (0.0, 100.0))
    assert {z for _, z in made.side} == {0.0, 100.0}
    assert made.margin == 25.0


def test_an_outline_takes_the_place_of_an_old_one(wagon: Vehicle) -> None:
    old = wagon.envelopes[0]
    kept = taken(wagon, 0, old.name, None, Found("a", SQUARE)).envelopes[0]
    assert (kept.rear, kept.side) == (old.rear, SQUARE)
    moved = taken(wagon, 0, old.name, None, Found("a", SQUARE), as_it_lies=False).envelopes[0]
    middle = [(min(v) + max(v)) / 2.0 for v in zip(*old.side, strict=True)]
    assert [(min(v) + max(v)) / 2.0 for v in zip(*moved.side, strict=True)] == pytest.approx(middle)


def test_nothing_and_faults_are_refused(wagon: Vehicle) -> None:
    with pytest.raises(LinkvizError, match="Choose an outline"):
        taken(wagon, 0, "x", None, None)
    with pytest.raises(LinkvizError, match="cross"):
        taken(wagon, 0, "x", Found("a", SQUARE, "Edges 1 and 3 cross each other."), None)
