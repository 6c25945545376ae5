from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.analysis import fittings
from linkviz.analysis.build import Build
from linkviz.analysis.fittings import NotOnFile
from linkviz.analysis.setup import Setup
from linkviz.analysis.shortfalls import shortfalls
from linkviz.analysis.stance.springing import Load, Springing
from linkviz.analysis.stance.stance import (
    added_load,
    corner_load,
    from_springs,
    laden_rise,
    seats_of,
    springs_rise,
    stance,
)
from linkviz.analysis.stance.stance_words import source_words, stance_rows, stance_sentences
from linkviz.analysis.study import study
from linkviz.conventions import GRAVITY
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Coil, Vehicle
from linkviz.vehicle.read import read_vehicle

DEMOS = [read_vehicle(path) for path in demo_vehicle_paths()]
WAGON = DEMOS[0]
NAMES = [v.name for v in DEMOS]


def rise(vehicle: Vehicle, springing: Springing) -> float:
    found = springs_rise(vehicle, springing)
    assert found is not None
    return found


@pytest.mark.parametrize("vehicle", DEMOS, ids=NAMES)
def test_nothing_put_in_stands_as_built(vehicle: Vehicle) -> None:
    assert rise(vehicle, Springing()) == pytest.approx(0.0, abs=0.01)
    found = stance(vehicle, Setup())
    assert found.empty is not None and found.coil is not None
    assert found.empty.rise == pytest.approx(0.0, abs=0.01)
    assert found.coil.spacer == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize("vehicle", DEMOS, ids=NAMES)
def test_a_two_inch_spacer_gives_about_two_inches(vehicle: Vehicle) -> None:
    """Common practice, no published source."""
    assert rise(vehicle, Springing(spacer=50.8)) == pytest.approx(50.8, rel=0.08)


def test_springs_of_a_heavier_vehicle_give_three_to_four_inches() -> None:
    """Common practice, no published source; the demo vehicle's other springs are invented."""
    other = WAGON.other_springs[0]
    assert "heavier" in other.name
    got = rise(WAGON, Springing(springs=Coil(free_length=other.free_length, rate=other.rate)))
    assert 3 * 25.4 < got < 4 * 25.4


@pytest.mark.parametrize("vehicle", DEMOS, ids=NAMES)
def test_the_load_is_the_work_of_the_coils(vehicle: Vehicle) -> None:
    """Energy of the coil over a small travel at the lifted rest, from the poses, is the load times the travel."""
    springing = Springing(spacer=60.0)
    at = -rise(vehicle, springing)
    springs = vehicle.springs
    assert springs is not None and springs.rate is not None
    poses = study(Build.of(vehicle, Setup()), [at - 1.0, at + 1.0]).poses
    lengths = fittings.spring_lengths(Build.of(vehicle, Setup()), poses)
    energy = 0.5 * springs.rate * ((springs.free_length + 60.0 - lengths) ** 2).mean(axis=1)
    assert (energy[1] - energy[0]) / 2.0 == pytest.approx(corner_load(vehicle), rel=1e-3)


def test_load_ahead_of_and_behind_the_axle() -> None:
    base = WAGON.mass.wheelbase if WAGON.mass else 0.0
    cargo = added_load(WAGON, (Load(place="cargo", mass=100.0),))
    assert cargo == pytest.approx(100.0 * GRAVITY * (1.0 + 420.0 / base) / 2.0)
    assert added_load(WAGON, ()) == 0.0
    weightless = WAGON.replace(mass=None)
    assert added_load(weightless, (Load(place="cargo", mass=100.0),)) is None
    assert springs_rise(weightless, Springing(loads=(Load(place="cargo", mass=100.0),))) is None


def test_payload_sinks_it_and_lowers_the_frequency() -> None:
    found = stance(WAGON, Setup())
    assert found.empty is not None and found.laden is not None
    assert found.laden.rise == pytest.approx(-67.9, abs=0.1)
    assert found.laden.frequency < found.empty.frequency
    assert found.laden.rise == laden_rise(WAGON, Setup())
    carried = rise(WAGON, Springing(loads=(Load(place="cargo", mass=100.0),)))
    springs = WAGON.springs
    assert springs is not None and springs.rate is not None
    extra = added_load(WAGON, (Load(place="cargo", mass=100.0),))
    assert extra is not None
    assert carried == pytest.approx(-extra / springs.rate, rel=0.02)


def test_spacer_leaves_rate_load_and_free_coil_alone() -> None:
    springing = Springing(spacer=50.8)
    setup = Setup(lift=rise(WAGON, springing))
    built, now = stance(WAGON, Setup()), stance(WAGON, setup, springing)
    assert built.empty and now.empty and built.coil and now.coil
    assert now.empty.load == built.empty.load
    assert now.coil.rate == built.coil.rate
    assert now.empty.frequency == pytest.approx(built.empty.frequency, rel=0.02)
    # more room before the bump stop, by the lift
    assert built.ends.bump is not None and now.ends.bump is not None
    assert now.ends.bump - built.ends.bump == pytest.approx(setup.lift, rel=0.05)


def test_by_hand_or_from_the_springs() -> None:
    springing = Springing(spacer=50.8)
    at = rise(WAGON, springing)
    assert from_springs(WAGON, Setup(lift=at), springing)
    assert not from_springs(WAGON, Setup(lift=at + 1.0), springing)
    assert not from_springs(WAGON, Setup(lift=at), None)
    assert "from the springs" in source_words(WAGON, Setup(lift=at), springing, "mm").text
    by_hand = source_words(WAGON, Setup(lift=100.0), springing, "mm")
    assert "set by hand" in by_hand.text and "52 mm" in by_hand.text
    sunk = Springing(loads=(Load(place="cargo", mass=100.0),))
    assert from_springs(WAGON, Setup(), sunk)
    words = source_words(WAGON, Setup(), sunk, "mm")
    assert (words.text.split(",")[0], words.icon) == ("Ride height: 22 mm less than as built", "warn")
    bare = WAGON.replace(springs=None)
    assert "[springs]" in source_words(bare, Setup(lift=100.0), None, "mm").text
    assert "No height" in source_words(WAGON, Setup(), Springing(springs=Coil(free_length=60.0, rate=3.0)), "mm").text


@pytest.mark.parametrize("lift", [0.0, 100.0])
def test_ends_say_what_the_shortfalls_say(lift: float) -> None:
    found = shortfalls(study(Build.of(WAGON, Setup(lift=lift)), np.linspace(-90.0, 85.0, 9)))
    ends = stance(WAGON, Setup(lift=lift)).ends
    assert ends.damper_room is not None
    told = {s.words: s.by for s in found}
    assert told.get("the dampers are {by} too short for full rebound", 0.0) == pytest.approx(
        max(-ends.damper_room[1], 0.0), abs=1e-9
    )
    assert told.get("the brake hose is {by} too short", 0.0) == pytest.approx(max(-ends.hoses[0][1], 0.0), abs=1e-9)


def test_a_coil_that_hangs_loose_and_one_that_goes_solid() -> None:
    stiff = Springing(springs=Coil(free_length=395.0, rate=45.0, wire=16.0, coil=127.0, turns=9.0))
    at = rise(WAGON, stiff)
    ends = stance(WAGON, Setup(lift=at), stiff).ends
    lengths = fittings.spring_lengths(Build.of(WAGON, Setup()), study(Build.of(WAGON, Setup()), -at - 90.0).poses)
    assert ends.pressed == pytest.approx(395.0 - lengths.max(), abs=0.01)
    assert ends.pressed is not None and ends.pressed < -10.0
    said = " ".join(s.text for s in stance_sentences(WAGON, Setup(lift=at), stiff, "mm"))
    assert "loose" in said
    thick = Springing(spacer=50.8, springs=Coil(free_length=367.0, rate=26.0, wire=14.0, coil=126.0, turns=14.0))
    ends = stance(WAGON, Setup(lift=rise(WAGON, thick)), thick).ends
    # seats as near as they come, less the spacer, less 14 turns of 14 mm
    high = 85.0 - rise(WAGON, thick)
    lengths = fittings.spring_lengths(Build.of(WAGON, Setup()), study(Build.of(WAGON, Setup()), high).poses)
    assert ends.bind == pytest.approx(lengths.min() - 50.8 - 14.0 * 14.0, abs=0.01)
    assert ends.bind is not None and ends.bind < 0
    said = " ".join(s.text for s in stance_sentences(WAGON, Setup(lift=rise(WAGON, thick)), thick, "mm"))
    assert "turn on turn" in said


def test_headlights_and_stability() -> None:
    both, rear = stance(WAGON, Setup(lift=100.0)), stance(WAGON, Setup(lift=100.0), Springing(front_rise=0.0))
    assert both.pitch == 0.0
    assert rear.pitch == pytest.approx(math.atan(100.0 / 2720.0))
    assert both.stability == pytest.approx(1480.0 / (2 * 790.0))
    assert rear.stability == pytest.approx(1480.0 / (2 * (690.0 + 100.0 * 905.0 / 1960.0)))
    said = " ".join(s.text for s in stance_sentences(WAGON, Setup(lift=100.0), Springing(front_rise=0.0), "mm"))
    assert "2.1\N{DEGREE SIGN} down" in said and "tips sooner" in said


def test_springs_that_cannot_be_are_doubted() -> None:
    springs = WAGON.springs
    assert springs is not None
    soft = WAGON.replace(springs=springs.replace(rate=8.0))
    assert any("Measure free length" in s.text for s in stance_sentences(soft, Setup(), None, "mm"))
    assert not any("Measure free length" in s.text for s in stance_sentences(WAGON, Setup(), None, "mm"))


def test_a_bare_vehicle() -> None:
    bare = WAGON.replace(springs=None, dampers=None, bump_stops=None, hoses=(), mass=None, load_places=())
    found = stance(bare, Setup(lift=100.0))
    assert (found.coil, found.empty, found.laden, found.pitch, found.stability) == (None, None, None, None, None)
    assert stance_rows(bare, Setup(lift=100.0), None, "mm") == ()
    assert stance_sentences(bare, Setup(lift=100.0), None, "mm") == ()
    with pytest.raises(NotOnFile):
        corner_load(bare)


def test_seats_end_where_the_axle_ends() -> None:
    seats = seats_of(DEMOS[1])
    assert seats.heave[0] > -300.0
    assert np.all(np.diff(seats.length) < 0)


def test_rows_in_inches() -> None:
    rows = {row.key: row for row in stance_rows(WAGON, Setup(lift=101.6), None, "in")}
    assert rows["rise"].cells["now"].text == '4" higher'
    assert rows["damper_out"].cells["now"].icon == "hit"
    assert not any(" mm" in c.text for key, row in rows.items() if key != "wheel_rate" for c in row.cells.values())
