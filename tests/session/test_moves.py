from __future__ import annotations

import pytest

from linkviz.session.moves import Move, OutlineRefused, moved_envelope, with_outline
from linkviz.vehicle.model import Envelope, Vehicle

BOX = Envelope(
    name="box",
    rear=((0.0, 300.0), (102.0, 300.0), (102.0, 400.0), (0.0, 400.0)),
    side=((400.0, 300.0), (500.0, 300.0), (500.0, 400.0)),
)
OTHER = BOX.replace(name="other", rear=((201.0, 303.0), (250.0, 300.0), (250.0, 400.0)))
MOVE = Move(0, "rear", "corner", 1, (58.0, -39.0), "snap", 5.0, 1.0)


@pytest.fixture
def boxes(wagon: Vehicle) -> Vehicle:
    return wagon.replace(envelopes=(BOX, OTHER))


def test_a_corner_goes_to_the_grid_to_others_and_anywhere(boxes: Vehicle) -> None:
    vehicle, found = moved_envelope(boxes, MOVE)
    assert vehicle.envelopes[0].rear[1] == (160.0, 260.0)
    assert found is not None
    assert moved_envelope(boxes, MOVE.replace(by=(97.0, 1.0)))[0].envelopes[0].rear[1] == (201.0, 303.0)
    assert moved_envelope(boxes, MOVE.replace(how="free"))[0].envelopes[0].rear[1] == (160.0, 261.0)
    assert moved_envelope(boxes, MOVE.replace(how="straight"))[0].envelopes[0].rear[1] == (160.0, 300.0)


def test_an_edge_and_the_whole_keep_their_shape(boxes: Vehicle) -> None:
    edge, _ = moved_envelope(boxes, MOVE.replace(kind="edge"))
    assert edge.envelopes[0].rear == ((0.0, 300.0), (162.0, 260.0), (162.0, 360.0), (0.0, 400.0))
    whole, _ = moved_envelope(boxes, MOVE.replace(kind="whole", number=-1))
    assert whole.envelopes[0].rear == tuple((y + 60.0, z - 40.0) for y, z in BOX.rear)
    assert whole.envelopes[0].side == tuple((x, z - 40.0) for x, z in BOX.side)
    onto, _ = moved_envelope(boxes, MOVE.replace(kind="whole", by=(97.0, 1.0)))
    assert onto.envelopes[0].rear[1] == (201.0, 303.0)
    level, _ = moved_envelope(boxes, MOVE.replace(kind="whole", how="straight"))
    assert level.envelopes[0].rear[0] == (60.0, 300.0)


def test_an_outline_that_cannot_be_comes_with_its_fault(boxes: Vehicle) -> None:
    with pytest.raises(OutlineRefused, match="cross") as caught:
        moved_envelope(boxes, MOVE.replace(number=0, by=(150.0, 50.0)))
    assert caught.value.view == "rear"
    assert caught.value.corners[0] == (150.0, 350.0)
    assert len(caught.value.fault.edges) == 2
    with pytest.raises(OutlineRefused, match="3 corners"):
        with_outline(boxes, 0, "side", BOX.side[:2])
