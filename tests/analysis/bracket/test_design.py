from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from linkviz.analysis.bracket.bounds import axle_bound, ground_bound, links_bound
from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.changes import changes
from linkviz.analysis.bracket.design import Design, cases_said, design, follow, loads_said, look, raised_said
from linkviz.analysis.bracket.holes import band
from linkviz.analysis.bracket.loads import cases_at, frame_bracket_of
from linkviz.analysis.bracket.room import Room
from linkviz.analysis.bracket.rules import DEFAULT_RULES, Rules
from linkviz.analysis.bracket.stock import propose
from linkviz.analysis.build import Build
from linkviz.analysis.limits import LinkLimits
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.bracket.bolts import SIZES, find_size
from linkviz.bracket.loads import CASES, LoadCase
from linkviz.bracket.materials import STEELS
from linkviz.bracket.strength import distance_checks, strength_checks
from linkviz.conventions import GRAVITY, MM_PER_INCH
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.bar_mount import BOLTS
from linkviz.vehicle.model import Sizes, SteelName, Vehicle
from linkviz.vehicle.read import parse_vehicle, read_vehicle
from tests.vehicles import random_vehicle

WAGON, CRUISER, PICKUP = (read_vehicle(path) for path in demo_vehicle_paths())
LIFT = 101.6


@cache
def usual(index: int = 0) -> Design:
    """Return the proposed design of a demo vehicle at the usual lift."""
    return design((WAGON, CRUISER, PICKUP)[index], Setup(lift=LIFT))


def bare(vehicle: Vehicle) -> Vehicle:
    """Return the vehicle with only format, name, axle and links."""
    return Vehicle(name=vehicle.name, axle=vehicle.axle, links=vehicle.links)


def test_the_steels_of_a_file_are_those_of_the_tables() -> None:
    assert set(SteelName.__args__) == set(STEELS)  # type: ignore[attr-defined]


def test_every_bolt_a_file_may_name_is_in_the_tables() -> None:
    assert set(BOLTS) == set(SIZES)
    for bolt in BOLTS:
        assert find_size(bolt).key == bolt
        assert find_size(bolt.partition("-")[0]).diameter == find_size(bolt).diameter


def test_trade_fact_how_short_and_how_long() -> None:
    """Common practice, no published source: drop brackets run from about 2.5 in to about 6 in.

    From this vehicle's own measurements: the lip is in the way below, the trailing links run out above.
    """
    found = usual()
    assert found.drop_min is not None and found.drop_max is not None
    assert found.drop_min / MM_PER_INCH == pytest.approx(2.5, abs=0.3)
    assert found.drop_max / MM_PER_INCH == pytest.approx(6.0, abs=0.3)
    assert found.shortest[0].key == "lip"
    assert found.longest[0].key == "links"


def test_trade_fact_holes_an_inch_apart() -> None:
    """Common practice, no published source: holes stand 1 in apart (3 and 4 in, say)."""
    found = usual()
    first, second, third, *_ = found.holes.drops
    assert second - first == pytest.approx(25.4, abs=1.6)
    assert third - second == pytest.approx(25.4, abs=1.6)
    inches = [LIFT / 4.0 * n for n in (3.0, 4.0, 5.0)]
    exact = design(WAGON, Setup(lift=LIFT), rules=Rules(lifts=tuple(inches), bar_angle_deg=0.25))
    assert [round(d / MM_PER_INCH) for d in exact.holes.drops] == [3, 4, 5]
    assert [hole.serves for hole in exact.holes.holes] == [(lift,) for lift in inches]


def test_the_lip_sets_the_shortest_drop_and_moves_it_mm_for_mm() -> None:
    assert WAGON.frame_bracket is not None
    longer = WAGON.frame_bracket.replace(lip=WAGON.frame_bracket.lip + 6.0)
    found = design(WAGON.replace(frame_bracket=longer), Setup(lift=LIFT))
    assert found.drop_min == pytest.approx((usual().drop_min or 0.0) + 6.0)


def test_loads_are_those_of_the_bar_at_its_state() -> None:
    found = design(WAGON, Setup(lift=LIFT, drop=90.0))
    assert WAGON.mass is not None
    case, load = found.cases[1]
    assert case.key == "kerb"
    assert load.side == pytest.approx(2.0 * WAGON.mass.rear_axle * GRAVITY)
    assert load.angle == pytest.approx(study(Build.of(WAGON, found.setup), 0.0).bar_angle[0])
    assert load.anchor_force == pytest.approx(load.side * 90.0 / found.bracket.anchor)
    corner = found.cases[0][1]
    rolled = [study(Build.of(WAGON, found.setup), 0.0, way * 0.05235987755982988).bar_angle[0] for way in (-1, 1)]
    assert corner.angle == pytest.approx(max(rolled, key=abs))
    said = loads_said(found)
    assert len(said) == len(CASES)
    assert f"{load.anchor_force / load.force:.1f} times as much" in said[1]
    assert f"pushes with {load.force / 1e3:.1f} kN" in said[1]
    assert f"bears {load.anchor_force / 1e3:.1f} kN" in said[1]


def test_a_bracket_without_a_weld_says_so() -> None:
    """The proposed one stands outside the frame bracket, its tube loose; without its brace nothing is welded."""
    found = usual()
    bolted = found.bracket.replace(brace=False)
    assert not bolted.tube_welded
    assert "weld" not in {check.where for check in look(WAGON, found.setup, bolted).checks}
    assert cases_said(found.cases, bolted)[-1].startswith("No weld to look at")
    assert not any("weld" in words for words in loads_said(found))


def test_strength_binds_where_links_and_ground_do_not() -> None:
    free = Rules(links=LinkLimits(80.0, 80.0, 500.0))
    found = design(CRUISER, Setup(lift=LIFT), rules=free)
    assert found.longest[0].key == "strength"
    longest = found.longest[0].drop
    for drop, passes in ((longest - 0.05, True), (longest + 0.05, False)):
        at_drop = cases_at(CRUISER, found.setup, found.bracket, [drop])[0]
        assert strength_checks(found.bracket, found.frame, at_drop)[0].passes is passes


def test_heavier_cases_make_it_shorter() -> None:
    cases = (LoadCase("hit", "hit, 4 g", 4.0),)
    assert (design(WAGON, Setup(lift=LIFT), rules=Rules(cases=cases)).drop_max or 0.0) < 100.0


def test_ground_and_axle_bind_where_they_must() -> None:
    found = usual()
    low = ground_bound(WAGON, found.setup, found.bracket, Room(ground=400.0))
    assert low.drop == pytest.approx(ground_bound(WAGON, found.setup, found.bracket, Room(ground=300.0)).drop - 100.0)
    # behind the axle tube; with the bar's bracket right above the tube it comes down on it
    assert axle_bound(WAGON, found.setup, found.bracket, Room()) is None
    bar = WAGON.links.lateral_bar
    over = bar.replace(frame=(0.0, *bar.frame[1:]), axle=(0.0, *bar.axle[1:]))
    above = WAGON.replace(links=WAGON.links.replace(lateral_bar=over))
    bound = axle_bound(above, found.setup, found.bracket, Room())
    assert bound is not None
    # the tube's top on the rolled-up side, by hand
    tube = 0.115 * WAGON.axle.tyre_radius + 15.0
    top = WAGON.axle.centre[2] + WAGON.travel.jounce - LIFT + abs(over.frame[1]) * 0.08715574 + tube
    assert bound.drop == pytest.approx(over.frame[2] - found.bracket.end_bottom - top, abs=1.0)
    thicker = above.replace(sizes=Sizes(tube_radius=0.115 * WAGON.axle.tyre_radius + 10.0))
    measured = axle_bound(thicker, found.setup, found.bracket, Room())
    assert measured is not None and measured.drop == pytest.approx(bound.drop - 10.0, abs=1e-6)
    lifted_more = axle_bound(above, found.setup.with_(lift=LIFT + 20), found.bracket, Room())
    assert lifted_more is not None and lifted_more.drop == pytest.approx(bound.drop + 20.0, abs=1.0)


def test_what_the_room_to_the_axle_assumes_is_said_with_it() -> None:
    bracket, setup = usual().bracket, Setup(lift=LIFT)
    bar = WAGON.links.lateral_bar
    over = bar.replace(frame=(0.0, *bar.frame[1:]), axle=(0.0, *bar.axle[1:]))
    above = WAGON.replace(links=WAGON.links.replace(lateral_bar=over), sizes=None)

    def said(vehicle: Vehicle) -> str:
        bound = axle_bound(vehicle, setup, bracket, Room())
        assert bound is not None
        return bound.words.partition(", with ")[2]

    want = " assumed for want of a measured one"
    assert said(above) == f"the tube's radius{want}"
    bare = above.replace(frame_bracket=None)
    assert said(bare) == f"the tube's radius and the bracket's length fore and aft{want}"
    assert said(bare.replace(sizes=Sizes(tube_radius=40.0))) == f"the bracket's length fore and aft{want}"
    assert said(above.replace(sizes=Sizes(tube_radius=40.0))) == ""
    assert said(bare.replace(sizes=Sizes(tube_radius=40.0, bracket_length=90.0))) == ""


def test_a_bracket_nobody_measured_reaches_as_far_as_its_size_in_the_file() -> None:
    bracket, setup = usual().bracket, Setup(lift=LIFT)
    bar, bare = WAGON.links.lateral_bar, WAGON.replace(frame_bracket=None)

    def meets(x: float, long: float) -> bool:
        moved = bar.replace(frame=(x, *bar.frame[1:]), axle=(x, *bar.axle[1:]))
        vehicle = bare.replace(
            links=bare.links.replace(lateral_bar=moved), sizes=Sizes(tube_radius=40.0, bracket_length=long)
        )
        return axle_bound(vehicle, setup, bracket, Room(axle=15.0)) is not None

    # beside the tube: 40 mm of tube, 15 mm of room, 12 mm of bolt head and half the bracket, the axle a little forward
    assert meets(-95.0, 100.0) and not meets(-95.0, 40.0)


def test_the_longest_drop_itself_is_within_the_bounds() -> None:
    found = usual()
    assert found.drop_max is not None and found.drop_min is not None
    for drop, within in ((found.drop_max, True), (found.drop_max + 0.01, False), (found.drop_min, True),
                         (found.drop_min - 0.01, False)):  # fmt: skip
        assert found.replace(setup=found.setup.with_(drop=drop)).within is within


def test_a_lift_that_hardly_turns_the_bar_is_served_without_a_drop() -> None:
    """2 mm of lift turn the bar by a tenth of a degree: no drop at all serves it, and so does the least one."""
    found = band(WAGON, 2.0)
    assert found is not None and found[0] == 0.0 < found[1]


def test_links_that_never_run_out_bind_nothing() -> None:
    assert links_bound(PICKUP, LinkLimits(80.0, 80.0, 500.0)) is None
    bound = links_bound(PICKUP)
    assert bound is not None and "forward" in bound.words


def test_what_to_change_is_found_by_trying() -> None:
    found = design(WAGON, Setup(lift=LIFT, drop=100.0))
    weak = found.bracket.replace(thickness=3.0, steel="S235")
    tried = changes(WAGON, found.setup, weak)
    assert tried and any("thick" in change.words for change in tried)
    for change in tried:
        assert change.passes
        at_drop = cases_at(WAGON, found.setup, change.bracket, [100.0])[0]
        assert strength_checks(change.bracket, change.frame, at_drop)[0].passes
        assert all(check.passes for check in distance_checks(change.bracket, change.frame))
    assert changes(WAGON, found.setup, found.bracket) == ()


def test_a_bolt_is_not_changed_for_the_same_bolt() -> None:
    """A thin tube would be cured by the thicker tube that comes with a larger bolt: the hole stays as it is then."""
    found = design(WAGON, Setup(lift=LIFT, drop=100.0))
    thin = found.bracket.replace(tube_outer=16.0, tube_wall=3.0)
    now = frame_bracket_of(WAGON)
    assert not next(c for c in strength_checks(thin, now, found.cases) if c.key == "tube_crush").passes
    for change in changes(WAGON, found.setup, thin):
        if "drilled up" in change.words:
            assert SIZES[change.bracket.bolt].diameter > SIZES[thin.bolt].diameter


def test_changes_add_up_where_one_is_not_enough() -> None:
    found = design(WAGON, Setup(lift=LIFT, drop=100.0))
    weak = found.bracket.replace(thickness=3.0, anchor_bolt="M10", grade="8.8", threads="in", steel="S235")
    tried = changes(WAGON, found.setup, weak)
    assert len(tried) > 1
    used = [change.worst.utilisation for change in tried]
    assert used == sorted(used, reverse=True)
    assert tried[-1].passes


def test_a_longer_anchor_distance_helps_where_there_is_room() -> None:
    rows = usual().anchors
    amplified = [row.amplified for row in rows]
    assert amplified == sorted(amplified, reverse=True)
    for row in rows:
        assert row.amplified == pytest.approx(99.97 / row.anchor, abs=0.01)
    assert any(row.allowed for row in rows) and not rows[-1].allowed


@pytest.mark.parametrize("index", [0, 1, 2])
def test_the_proposed_bracket_keeps_its_rules(index: int) -> None:
    found = usual(index)
    assert found.proposed and all(check.passes for check in (*found.checks, *found.distances)) and found.within
    assert found.bracket.holes == (found.setup.drop,)


def test_a_bare_file_says_what_to_measure() -> None:
    found = design(bare(WAGON), Setup(lift=LIFT))
    assert found.drop_min is None and found.checks == () and found.anchors == ()
    assert found.goal("restore").setup is not None
    told = " ".join(found.missing)
    for table in ("[frame_bracket]", "[bar_end]", "[mass]", "[driveshaft]"):
        assert table in told
    assert usual().missing == ()


def test_bolts_are_taken_as_people_write_them() -> None:
    text = demo_vehicle_paths()[1].read_text(encoding="utf-8").replace('bolt = "5/8-18"', 'bolt = "5/8"')
    frame = frame_bracket_of(parse_vehicle(text))
    assert frame is not None and frame.bolt == "5/8-11"


def test_the_same_bracket_on_the_axle() -> None:
    """The same lever arm and nearly the same bar angle: the same forces, the frame bracket left out."""
    found = usual()
    up = found.goal("raise").setup
    assert up is not None and found.raised
    assert {check.where for check in found.raised} == {"bolt", "bracket", "weld"}
    at_axle = cases_at(WAGON, up, found.bracket, [up.axle_raise], end="axle")[0][1][1]
    assert WAGON.mass is not None
    side = 2.0 * WAGON.mass.rear_axle * GRAVITY
    assert at_axle.anchor_force == pytest.approx(side * up.axle_raise / found.bracket.anchor)
    assert at_axle.angle == pytest.approx(study(Build.of(WAGON, up), 0.0).bar_angle[0])


@pytest.mark.parametrize("seed", range(5))
def test_any_vehicle_gets_an_answer(seed: int) -> None:
    """Random plausible vehicles, tables left out at random: bounds in order, finite figures."""
    draw = np.random.default_rng(seed)
    vehicle = random_vehicle(draw, bare=0.4)
    lift = float(draw.uniform(0.0, 200.0))
    found = design(vehicle, Setup(lift=lift, drop=float(draw.choice([0.0, 10.0, 220.0]))))
    assert [b.drop for b in found.shortest] == sorted((b.drop for b in found.shortest), reverse=True)
    assert [b.drop for b in found.longest] == sorted(b.drop for b in found.longest)
    assert all(np.isfinite(check.utilisation) for check in (*found.checks, *found.distances))
    assert bool(found.checks) == (vehicle.mass is not None)
    assert (found.drop_min is None) == (vehicle.frame_bracket is None or vehicle.bar_end is None)
    served = {lift for hole in found.holes.holes for lift in hole.serves}
    assert served | set(found.holes.unserved) == set(DEFAULT_RULES.lifts)
    look_again = look(vehicle, found.setup, found.bracket)
    assert look_again.checks == found.checks and look_again.distances == found.distances
    propose(vehicle, lift, read_catalogue(demo_catalogue_path()))


@pytest.mark.parametrize("drop", [75.0, 110.0, 180.0])
def test_a_drop_that_is_dragged_is_followed_as_it_would_be_designed(drop: float) -> None:
    for given in (None, usual().bracket.with_holes(80.0, 110.0)):
        start = design(WAGON, Setup(lift=LIFT, drop=98.0), given)
        moved = follow(start, Setup(lift=LIFT, drop=drop))
        exact = design(WAGON, Setup(lift=LIFT, drop=drop), given)
        assert moved is not None
        assert (moved.bracket, moved.checks, moved.distances) == (exact.bracket, exact.checks, exact.distances)
        assert (moved.drilled, moved.within) == (exact.drilled, exact.within)
        assert moved.drop_min == exact.drop_min
        for bound, own in zip(moved.longest, exact.longest, strict=True):
            assert bound.key == own.key and bound.drop == pytest.approx(own.drop, abs=0.5)
        assert loads_said(moved) == loads_said(exact)


def test_nothing_but_the_drop_is_followed() -> None:
    start = design(WAGON, Setup(lift=LIFT, drop=98.0))
    for other in (Setup(lift=LIFT), Setup(lift=90.0, drop=98.0), Setup(lift=LIFT, drop=98.0, shift=5.0)):
        assert follow(start, other) is None
    assert follow(start, Setup(lift=LIFT, drop=90.0, valve_rise=30.0)) is not None


def test_a_raise_that_is_set_is_looked_at_and_said() -> None:
    set_so = design(WAGON, Setup(lift=LIFT, drop=50.0, axle_raise=60.0))
    own = set_so.bracket.replace(shift=0.0)
    at_rise = cases_at(WAGON, set_so.setup, own, [60.0], end="axle")[0]
    assert set_so.raised[0].utilisation == pytest.approx(strength_checks(own, None, at_rise)[0].utilisation)
    assert "by 60 mm: at most" in raised_said(set_so)[0]
    little = design(WAGON, Setup(lift=LIFT, drop=80.0, axle_raise=20.0))
    assert not little.raised and "not looked at: a drop bracket needs more" in raised_said(little)[0]
    light = WAGON.replace(mass=None)
    assert "mass on the rear axle is not known" in raised_said(design(light, little.setup))[0]
    both = raised_said(usual())
    higher = usual().goal("raise").roll_centre - usual().goal("restore").roll_centre
    assert higher > 0 and f"{higher:.0f} mm higher" in both[0] and "not looked at" in both[1]
