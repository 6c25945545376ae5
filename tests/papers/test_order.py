from __future__ import annotations

import math

import pytest

from linkviz.analysis.setup import Setup
from linkviz.bracket.valve_plate import ValvePlate
from linkviz.papers.heading import Heading
from linkviz.papers.order import order
from linkviz.sheetmetal.neutral import Neutral
from tests.papers.orders import SETUP, order_of
from tests.picture.scenes import demos


def test_what_was_measured_is_used_and_nothing_is_taken() -> None:
    found = order(demos()[0], Setup(lift=100.0, drop=98.0), Heading())
    assert found.kit is not None
    assert found.assumed == ()
    # as in the file: 46 mm inside, plates of 5, bolt M12
    assert (found.kit.frame.inside_width, found.kit.frame.thickness, found.kit.bracket.bolt) == (46.0, 5.0, "M12")
    assert found.kit.plates[0].holes[-1].y == -98.0
    assert found.valve is None


def test_what_was_not_measured_is_taken_and_told() -> None:
    found = order_of(0, kind="bare")
    assert [text.split(":")[0] for text in found.assumed] == ["Frame bracket", "End of the bar", "Brake-valve bracket"]
    assert all("easure" in text and "before cutting" in text for text in found.assumed)


def test_a_valve_bracket_whose_bolts_were_measured_takes_nothing() -> None:
    valve = ValvePlate(44.0, (40.0, 60.0), "M6")
    assert order(demos()[0], SETUP, Heading(), valve=valve).assumed == ()


def test_several_holes_and_a_side_shift() -> None:
    found = order(demos()[0], Setup(lift=100.0, drop=98.0, shift=6.0), Heading(), holes=(98.0, 124.0))
    assert [plate.name for plate in found.plates] == ["side plate A", "side plate B"]
    assert [hole.y for hole in found.plates[0].holes] == [0.0, -35.0, -98.0, -124.0]
    assert {hole.x for hole in found.plates[1].holes} == {0.0, -6.0}


def test_the_shops_own_neutral_line_moves_the_holes_beyond_bends() -> None:
    bent = order_of(2, kind="bent")
    assert bent.kit is not None
    again = order(demos()[2], SETUP, Heading(), bent.kit.bracket, neutral=Neutral.of_shop(0.9))
    bend = bent.plates[0].profile.bends[0]
    more = 2.0 * bend.angle * (0.9 - bend.neutral.k) * bent.plates[0].thickness / 2.0
    moved = [a.y - b.y for a, b in zip(bent.plates[0].holes, again.plates[0].holes, strict=True)]
    assert moved == pytest.approx([0.0, 0.0, more, more], abs=1e-9)
    assert bend.angle == pytest.approx(math.radians(35.0))


def test_mass_of_an_order_is_that_of_its_parts() -> None:
    found = order_of()
    assert found.kit is not None and found.valve is not None
    # the bracket of the brake valve goes into the same box
    assert found.mass == pytest.approx(
        sum(p.count * p.mass for p in (*found.kit.plates, *found.kit.pieces, found.valve))
    )
    assert 1.0 < found.mass < 5.0


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("mm", ("98.0 mm", "1.25 kg", "126 N m", "76 kN (7.7 t)")),
        ("in", ("3.858 in", "1.25 kg (2.76 lb)", "93 lbf ft", "76 kN (8.5 US tons)")),
    ],
)
def test_units_of_a_heading(unit: str, expected: tuple[str, ...]) -> None:
    h = Heading(unit=unit)  # type: ignore[arg-type]
    assert (h.length(98.0), h.mass(1.25), h.torque(126_000.0), h.force(76.0)) == expected
