from __future__ import annotations

import pytest

from linkviz.session import edits
from linkviz.vehicle import described, outlines
from linkviz.vehicle.model import Envelope, Vehicle, Watch
from linkviz.vehicle.problems import problems_of

BOX = Envelope(
    name="box",
    rear=((0.0, 300.0), (100.0, 300.0), (100.0, 400.0)),
    side=((400.0, 300.0), (500.0, 300.0), (500.0, 400.0)),
)

TABLES = [table.name for table in described.tables() if table.kind == "part"]


def test_every_point_has_words_and_a_place(wagon: Vehicle) -> None:
    names = edits.point_names(wagon)
    assert names[:11] == edits.point_names(wagon.replace(**({name: None for name in TABLES} | {"hoses": ()})))
    assert {"springs.axle", "dampers.body", "bump_stops.axle", "hoses[0].body", "driveshaft.front_joint"} <= set(names)
    for name in names:
        assert edits.point_words(wagon, name)
        assert len(edits.point_of(wagon, name)) == 3


def test_without_a_shaft_its_points_are_not_offered(wagon: Vehicle) -> None:
    bare = wagon.replace(driveshaft=None)
    assert set(edits.point_names(wagon)) - set(edits.point_names(bare)) == {
        "driveshaft.front_joint", "driveshaft.pinion_joint",
    }  # fmt: skip
    with pytest.raises(KeyError):
        edits.point_of(bare, "driveshaft.front_joint")


def test_a_moved_point_takes_its_mirror_along(wagon: Vehicle) -> None:
    moved = edits.move_point(wagon, "links.lower_left.frame", (610.0, 441.0, 402.0))
    assert moved.links.lower_left.frame == (610.0, 441.0, 402.0)
    assert moved.links.lower_right.frame == (610.0, -441.0, 402.0)
    assert moved.links.lower_left.axle == wagon.links.lower_left.axle
    assert moved.links.lower_left.stiffness == wagon.links.lower_left.stiffness


def test_a_point_moves_alone_if_asked(wagon: Vehicle) -> None:
    moved = edits.move_point(wagon, "links.upper_right.axle", (11.0, -301.0, 501.0), mirrored=False)
    assert moved.links.upper_right.axle == (11.0, -301.0, 501.0)
    assert moved.links.upper_left == wagon.links.upper_left


def test_the_lateral_bar_has_no_mirror(wagon: Vehicle) -> None:
    assert edits.mirror_of("links.lateral_bar.frame") == ""
    moved = edits.move_point(wagon, "links.lateral_bar.frame", (-130.0, -450.0, 500.0))
    assert moved.links.lateral_bar.axle == wagon.links.lateral_bar.axle


@pytest.mark.parametrize("name", ["axle.centre", "driveshaft.front_joint", "driveshaft.pinion_joint"])
def test_every_kind_of_point_can_be_moved(wagon: Vehicle, name: str) -> None:
    moved = edits.move_point(wagon, name, (1.0, 2.0, 3.0))
    assert edits.point_of(moved, name) == (1.0, 2.0, 3.0)


def test_envelopes_come_change_and_go(wagon: Vehicle) -> None:
    more = edits.add_envelope(wagon, BOX)
    assert more.envelopes[-1] == BOX
    changed = edits.change_envelope(more, 1, margin=25.0, name="skid plate")
    assert (changed.envelopes[1].margin, changed.envelopes[1].name) == (25.0, "skid plate")
    assert changed.envelopes[0] == wagon.envelopes[0]
    assert edits.remove_envelope(changed, 1) == wagon
    assert edits.outline_of(more, 1, "rear") == BOX.rear
    assert edits.outline_of(more, 1, "side") == BOX.side


def test_a_new_envelope_gets_a_name_of_its_own(wagon: Vehicle) -> None:
    assert edits.free_name(wagon, "skid plate") == "skid plate"
    assert edits.free_name(wagon, "fuel tank") == "fuel tank 2"


def test_an_envelope_is_duplicated_and_mirrored(wagon: Vehicle) -> None:
    once = edits.duplicate_envelope(wagon, 0, (25.0, -10.0, 5.0))
    tank, copy = once.envelopes
    assert copy.name == f"{tank.name} 2"
    assert copy.rear[0] == (tank.rear[0][0] - 10.0, tank.rear[0][1] + 5.0)
    assert copy.side[0] == (tank.side[0][0] + 25.0, tank.side[0][1] + 5.0)
    mirrored = edits.mirror_envelope(once, 1)
    assert set(mirrored.envelopes[1].rear) == {(-y, z) for y, z in copy.rear}
    assert edits.mirror_envelope(mirrored, 1) == once
    assert outlines.area(mirrored.envelopes[1].rear) == pytest.approx(outlines.area(copy.rear))


def test_a_renamed_envelope_keeps_its_pairs_and_a_deleted_one_takes_them_along(wagon: Vehicle) -> None:
    name = wagon.envelopes[0].name
    pairs = (Watch(one="lateral bar", other=name, margin=20.0), Watch(one="left tyre", other="axle tube", watch="off"))
    watched = wagon.replace(pairs=pairs)
    renamed = edits.change_envelope(watched, 0, name="long tank")
    assert next((pair.one, pair.other, pair.margin) for pair in renamed.pairs) == ("lateral bar", "long tank", 20.0)
    assert renamed.pairs[1] == pairs[1]
    assert problems_of(renamed) == []
    gone = edits.remove_envelope(watched, 0)
    assert gone.pairs == pairs[1:]
    assert problems_of(gone) == []
