from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from linkviz.analysis.build import Build
from linkviz.analysis.compare import compare
from linkviz.analysis.findings import findings
from linkviz.analysis.fittings import NotOnFile
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.brake_valve import (
    Name,
    arm,
    brake_valve,
    nearest_hole,
    rise_needed,
    standing_of,
    wear,
)
from linkviz.analysis.stance.brake_words import (
    BRAKE_CAUTIONS,
    FORGOTTEN,
    counter_sentences,
    valve_rows,
    valve_sentences,
)
from linkviz.analysis.stance.springing import full_load
from linkviz.analysis.stance.stance import laden_rise
from linkviz.analysis.stance.valve_bracket import HOLES, ValveBracket, bracket_problems
from linkviz.conventions import GRAVITY
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.wording import Words

DEMOS = [read_vehicle(path) for path in demo_vehicle_paths()]
WAGON, CRUISER, PICKUP = DEMOS
LIFTED = Setup(lift=100.0)


def turn(vehicle: Vehicle, setup: Setup) -> float:
    build = Build.of(vehicle, setup)
    return float(arm(build, solve(build.layout, -setup.lift, 0.0)).turn[0])


@pytest.mark.parametrize("vehicle", [WAGON, PICKUP], ids=lambda v: v.name)
def test_the_rise_puts_the_arm_back_by_a_second_route(vehicle: Vehicle) -> None:
    for lift in (40.0, 100.0):
        setup = Setup(lift=lift, drop=80.0)
        rise = rise_needed(vehicle, setup)
        assert rise is not None
        root = brentq(lambda r, s=setup: turn(vehicle, s.with_(valve_rise=r)), lift - 15.0, lift + 30.0, xtol=1e-10)
        assert rise == pytest.approx(root, abs=1e-6)


def test_the_rise_is_about_the_lift() -> None:
    """Common practice, no published source: raise the pick-up by as much as the vehicle was lifted."""
    for vehicle in (WAGON, PICKUP):
        for lift in (50.0, 100.0):
            assert rise_needed(vehicle, Setup(lift=lift)) == pytest.approx(lift, rel=0.10)
        assert rise_needed(vehicle, Setup()) == pytest.approx(0.0, abs=1e-6)


def test_nearest_hole_is_the_lower_of_two_as_near() -> None:
    assert nearest_hole(62.5, (75.0, 50.0)) == 50.0
    assert nearest_hole(70.0, HOLES) == 75.0
    assert nearest_hole(70.0, ()) is None


def test_lifting_alone_takes_the_rear_brakes_away() -> None:
    result = brake_valve(WAGON, LIFTED)
    for laden in (False, True):
        built, lifted = result.state("as built", laden), result.state("lifted", laden)
        assert built and lifted and built.knee and lifted.knee and lifted.kept
        assert lifted.turn < built.turn
        assert lifted.knee < built.knee
        assert lifted.kept < 0.7
        assert built.dry and lifted.dry and lifted.dry.z < built.dry.z
        assert lifted.dry.axle == "front"
    worn = wear(result, "lifted")
    assert worn is not None and worn[0] > 1.0 > worn[1]
    assert result.state("raised") is None


def test_the_bracket_gives_them_back() -> None:
    rise = rise_needed(WAGON, LIFTED)
    assert rise is not None
    result = brake_valve(WAGON, LIFTED.with_(valve_rise=rise))
    built, raised = result.state("as built"), result.state("raised")
    assert built and raised and built.knee and raised.kept
    assert raised.turn == pytest.approx(0.0, abs=1e-9)
    assert raised.knee == pytest.approx(built.knee)
    # the body stands higher, which moves load forward in a stop and leaves the pressures as they were
    assert raised.kept == pytest.approx(1.0)
    assert raised.dry and raised.dry.axle == "front"


def test_too_much_of_it_locks_the_rear_first_and_says_so() -> None:
    result = brake_valve(WAGON, LIFTED.with_(valve_rise=150.0))
    raised = result.state("raised")
    assert raised and raised.dry and raised.dry.axle == "rear"
    first = valve_sentences(result, "mm")[0]
    assert first.icon == "hit"
    assert "DANGER" in first.text and "the tail comes round" in first.text and "Raise the rod less" in first.text
    assert counter_sentences(result, "mm")[0] == first
    assert "its arm stands 18\N{DEGREE SIGN} towards laden" in valve_sentences(result, "mm")[1].text
    assert "its arm stands 39\N{DEGREE SIGN} towards empty" in valve_sentences(result, "mm")[2].text


def test_nearest_hole_and_what_is_left() -> None:
    result = brake_valve(WAGON, LIFTED, None, (50.0, 90.0, 130.0))
    assert (result.hole, result.rise) == (90.0, pytest.approx(101.9, abs=0.1))
    assert result.left == pytest.approx(turn(WAGON, LIFTED.with_(valve_rise=90.0)))
    text = " ".join(s.text for s in valve_sentences(result, "mm"))
    assert "nearest hole 90 mm, 12 mm short" in text
    assert "towards empty" in text


def test_laden_stands_where_its_springs_let_it() -> None:
    result = brake_valve(WAGON, LIFTED)
    state, rise = result.state("lifted", True), laden_rise(WAGON, LIFTED)
    assert state is not None and rise is not None
    assert state.heave == pytest.approx(-rise)
    assert state.system is not None
    mass = sum(load.mass for load in full_load(WAGON)) + 1960.0
    assert state.system.standing.weight == pytest.approx(mass * GRAVITY)


def test_loads_move_the_centre_of_gravity() -> None:
    empty, full = standing_of(WAGON, (), 0.0, 0.0), standing_of(WAGON, full_load(WAGON), 0.0, 0.0)
    assert empty and full
    assert empty.to_front == pytest.approx(2720.0 * 905.0 / 1960.0)
    assert empty.height == 690.0
    places = {p.name: p for p in WAGON.load_places}
    total = 1960.0 + sum(p.most for p in places.values())
    height = (1960.0 * 690.0 + sum(p.most * p.z for p in places.values())) / total
    assert full.height == pytest.approx(height)
    # moments about the rear axle, where x begins
    ahead = (1960.0 * (2720.0 - empty.to_front) + sum(p.most * p.x for p in places.values())) / total
    assert full.to_front == pytest.approx(2720.0 - ahead)
    assert full.to_front > empty.to_front


def test_the_pickup_answers_the_geometry_and_says_what_it_cannot() -> None:
    result = brake_valve(PICKUP, LIFTED)
    lifted = result.state("lifted")
    assert lifted is not None and lifted.knee is None and lifted.kept is None
    assert not lifted.reached
    assert result.rise == pytest.approx(107.7, abs=0.1)
    text = " ".join(s.text for s in valve_sentences(result, "mm"))
    assert "[brake_valve.law]" in text and "[brakes]" in text
    assert "pulls the arm straight already at rest" in text
    assert "rear brakes do about" not in text
    assert {row.key for row in valve_rows(result)} == {"arm"}
    overdone = valve_sentences(brake_valve(PICKUP, LIFTED.with_(valve_rise=160.0)), "mm")[0]
    assert "raised too far" in overdone.text and overdone.icon == "hit"


def test_no_springs_means_no_laden_state() -> None:
    bare = WAGON.replace(springs=None)
    result = brake_valve(bare, LIFTED)
    assert result.state("lifted", True) is None
    assert any("[springs]" in words for words in result.missing)


def test_no_valve() -> None:
    with pytest.raises(NotOnFile):
        brake_valve(CRUISER, LIFTED)


def test_reach_over_the_travel() -> None:
    straight = brake_valve(WAGON, LIFTED).straight
    assert straight is not None
    low, high = straight
    build = Build.of(WAGON, LIFTED)
    reached = arm(build, solve(build.layout, np.array([low, low - 5.0, high]) - 100.0, 0.0)).reached
    assert list(reached) == [True, False, True]
    assert brake_valve(WAGON, Setup()).straight is None


@pytest.mark.parametrize(
    ("ends", "where"),
    [
        ((-40.0, 85.0), "straight beyond 40 mm of rebound:"),
        ((-90.0, 60.0), "straight beyond 60 mm of jounce:"),
        ((-40.0, 60.0), "straight beyond 40 mm of rebound and beyond 60 mm of jounce:"),
        ((10.0, 85.0), "straight already at rest:"),
        ((0.0, 0.0), "straight already at rest:"),
    ],
)
def test_the_end_of_the_travel_that_pulls_the_rod_straight_is_named(ends: tuple[float, float], where: str) -> None:
    result = brake_valve(WAGON, LIFTED).replace(straight=ends)
    assert result.window == (-90.0, 85.0)
    assert sum(where in sentence.text for sentence in valve_sentences(result, "mm")) == 1


def test_the_counter_hears_of_it_only_if_there_is_a_valve() -> None:
    heard = " ".join(s.text for s in findings(compare(WAGON, LIFTED)).sentences)
    assert "the rear brakes do about 56 % of what they did" in heard
    assert "Raising the rod 102 mm" in heard
    assert "valve" not in " ".join(s.text for s in findings(compare(CRUISER, LIFTED)).sentences)
    assert "valve" not in " ".join(s.text for s in findings(compare(WAGON, Setup())).sentences)
    raised = " ".join(s.text for s in findings(compare(WAGON, LIFTED.with_(valve_rise=100.0))).sentences)
    assert "With the brake valve's rod raised 100 mm" in raised


def test_words_are_in_the_readers_unit() -> None:
    text = " ".join(s.text for s in valve_sentences(brake_valve(WAGON, Setup(lift=101.6)), "in"))
    assert 'Lifted 4"' in text
    assert " mm" not in text


def test_rows_name_every_state() -> None:
    rows = {row.key: row for row in valve_rows(brake_valve(WAGON, LIFTED.with_(valve_rise=150.0)))}
    assert list(rows["arm"].cells) == [
        f"{name}, {load}" for name in ("as built", "lifted", "rod raised") for load in ("unladen", "laden")
    ]
    assert rows["lock"].cells["rod raised, unladen"].icon == "hit"
    assert rows["kept"].cells["as built, laden"].text == "100 %"
    stops = {name: float(cell.text.split()[0]) for name, cell in rows["stop"].cells.items()}
    # v^2 / (2 z g) from 80 km/h at the deceleration told in the row above
    assert stops["as built, unladen"] == pytest.approx((80 / 3.6) ** 2 / (2 * 0.71 * 9.81), abs=0.6)
    assert stops["lifted, laden"] > stops["as built, laden"]


def test_cautions_say_what_they_must() -> None:
    joined = " ".join(BRAKE_CAUTIONS)
    for word in ("kill", "licensed mechanic", "on the road", "local law", "qualified", "hanging or tied up", "no heat"):
        assert word in joined
    assert "front pads" in FORGOTTEN and "rear linings look new" in FORGOTTEN


def test_holes_of_a_bracket() -> None:
    assert list(bracket_problems(ValveBracket(), Words("mm"))) == []
    bad = list(bracket_problems(ValveBracket(holes=(40.0, -3.0)), Words("mm")))
    assert [p.where for p in bad] == ["valve_bracket.holes[1]"]
    assert [p.where for p in bracket_problems(ValveBracket(holes=()), Words("mm"))] == ["valve_bracket.holes"]


@pytest.mark.parametrize("name", ["as built", "lifted"])
def test_knee_follows_the_law(name: Name) -> None:
    law = WAGON.brake_valve.law if WAGON.brake_valve else None
    state = brake_valve(WAGON, LIFTED).state(name)
    assert law is not None and state is not None
    expected = min(max(law.knee + law.per_deg * math.degrees(state.turn), law.least), law.most)
    assert state.knee == pytest.approx(expected)


def test_a_vehicle_that_was_not_lifted_is_offered_no_hole() -> None:
    found = brake_valve(WAGON, Setup(), None, (0.0, 100.0))
    assert found.rise == pytest.approx(0.0, abs=1e-6) and found.hole is None
    assert brake_valve(WAGON, LIFTED, None, (0.0, 100.0)).hole == 100.0
