from __future__ import annotations

from linkviz.session.kinds import KINDS, kind_of
from linkviz.vehicle.watching import MARGIN


def test_every_kind_has_a_margin_a_file_takes() -> None:
    assert len({kind.name for kind in KINDS}) == len(KINDS) >= 6
    for kind in KINDS:
        assert kind.margin > 0.0 and MARGIN.holds(kind.margin)
        assert kind.why


def test_a_name_tells_its_kind() -> None:
    assert kind_of("Exhaust 2").name == "exhaust"
    assert kind_of("something else") == KINDS[-1]
