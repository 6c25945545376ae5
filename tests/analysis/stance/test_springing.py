from __future__ import annotations

import pytest

from linkviz.analysis.stance.springing import (
    Load,
    Springing,
    full_load,
    placed_loads,
    rate_of,
    solid_length_of,
    springing_problems,
)
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Coil
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.wording import Words

WAGON = read_vehicle(demo_vehicle_paths()[0])


def test_rate_as_given_or_from_the_wire() -> None:
    assert rate_of(Coil(free_length=367.0, rate=26.0, wire=14.0, coil=126.0, turns=5.0)) == 26.0
    # 14^4 * 79300 / (8 * 126^3 * 7.3): the demo's wire says what its maker says
    assert rate_of(Coil(free_length=367.0, wire=14.0, coil=126.0, turns=9.3)) == pytest.approx(26.077, abs=0.001)
    with pytest.raises(ValueError, match="without"):
        rate_of(Coil(free_length=367.0, wire=14.0))


def test_solid_length_where_the_wire_is_known() -> None:
    assert solid_length_of(Coil(free_length=367.0, wire=14.0, turns=9.3)) == pytest.approx(130.2)
    assert solid_length_of(Coil(free_length=367.0, rate=26.0)) is None


def test_loads_go_to_their_places() -> None:
    assert {load.place for load in full_load(WAGON)} == {"front seats", "rear seats", "cargo", "fuel"}
    found = list(placed_loads(WAGON, (Load(place="cargo", mass=60.0), Load(place="roof", mass=50.0))))
    assert found == [(60.0, -420.0, 770.0)]


@pytest.mark.parametrize(
    ("springing", "says"),
    [
        (Springing(spacer=500.0), "springing.spacer"),
        (Springing(front_rise=900.0), "springing.front_rise"),
        (Springing(springs=Coil(free_length=5.0, rate=26.0)), "springing.springs.free_length"),
        (Springing(springs=Coil(free_length=400.0)), "springing.springs.rate"),
        (Springing(loads=(Load(place="cargo", mass=-5.0),)), "springing.loads[0].mass"),
        (Springing(loads=(Load(place=" ", mass=5.0),)), "springing.loads[0].place"),
    ],
)
def test_nonsense_is_told(springing: Springing, says: str) -> None:
    assert says in "\n".join(map(str, springing_problems(springing, Words("mm"))))


def test_sense_is_not() -> None:
    sound = Springing(
        spacer=50.8,
        springs=Coil(free_length=395.0, rate=45.0),
        loads=(Load(place="cargo", mass=60.0),),
        front_rise=40.0,
    )
    assert list(springing_problems(sound, Words("in"))) == []
