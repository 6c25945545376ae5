"""Several envelopes with margins of their own: the nearest one is not the one whose margin matters most."""

from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.bracket.goals import goals
from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import answers
from linkviz.analysis.clearance.pairs import Pair, watched_pairs, with_pair
from linkviz.analysis.clearance.sure_drop import spares
from linkviz.analysis.clearance.swept import swept
from linkviz.analysis.compare import clearance_states, compare, zones
from linkviz.analysis.counter import spoken
from linkviz.analysis.doubt.certainty import sentences
from linkviz.analysis.doubt.measured import drawn, inputs
from linkviz.analysis.doubt.propagate import draws
from linkviz.analysis.doubt.uncertainty import run
from linkviz.analysis.findings import findings
from linkviz.analysis.goals import clear_drop
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.analysis.tightness import MARGIN, margins, rank, shaft_margins, sign_of, tightest
from linkviz.picture.notes import gap_words
from linkviz.picture.scenes import scene_of
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle, Watch
from linkviz.vehicle.read import read_vehicle

SETUP = Setup(lift=100.0, drop=110.0)
FAR = "spare tank"


@pytest.fixture(scope="module")
def vehicle() -> Vehicle:
    """Return the wagon with a copy of its tank 6 mm higher, whose margin is 60 mm: never nearest, first inside."""
    wagon = read_vehicle(demo_vehicle_paths()[0])
    tank = wagon.envelopes[0]
    rear, side = (tuple((u, z + 6.0) for u, z in outline) for outline in (tank.rear, tank.side))
    return wagon.replace(envelopes=(tank, tank.replace(name=FAR, rear=rear, side=side, margin=60.0)))


@pytest.mark.parametrize("margin", [4.0, 30.0])
def test_what_is_said_for_a_pair_is_its_margin_everywhere(vehicle: Vehicle, margin: float) -> None:
    tank = vehicle.envelopes[0]
    pair = Pair("driveshaft", tank.name, tank.margin)
    said = with_pair(vehicle.replace(envelopes=(tank,)), pair, watch=True, margin=margin)
    same = vehicle.replace(envelopes=(tank.replace(margin=margin),))
    build, other = Build.of(said, SETUP), Build.of(same, SETUP)
    assert shaft_margins(said) == [margin]
    assert [one.margin for one in watched_pairs(said, SETUP) if one.words == pair.words] == [margin]
    assert [one.margin for one in watched_pairs(said, SETUP) if one.other == tank.name].count(tank.margin) > 3
    assert findings(compare(said, SETUP)) == findings(compare(same, SETUP))
    worst = compare(said, SETUP).cases["corrected"].worst
    assert worst is not None
    assert (worst.margin, worst.sign) == (margin, "ok" if margin < tank.margin else "warn")
    drawn_gap = gap_words(scene_of(said, SETUP, worst.travel, worst.roll))
    assert drawn_gap == gap_words(scene_of(same, SETUP, worst.travel, worst.roll))
    assert drawn_gap[1] == worst.sign
    drop = clear_drop(said, SETUP.lift)
    assert drop is not None
    assert drop == clear_drop(same, SETUP.lift)
    assert [one.spare for one in goals(said, SETUP)] == [one.spare for one in goals(same, SETUP)]
    assert zones(build) == zones(other)
    assert swept(build, "driveshaft").zones == swept(other, "driveshaft").zones
    off = with_pair(said, pair, watch=False, margin=margin)
    assert swept(Build.of(off, SETUP), "driveshaft").zones == swept(other, "driveshaft").zones
    everyone = drawn(said, draws(inputs(said), 20, 1))
    assert spares(said, SETUP, everyone) == pytest.approx(spares(same, SETUP, everyone))


def test_parts_without_an_envelope_have_the_usual_margin(vehicle: Vehicle) -> None:
    tank = vehicle.envelopes[0].replace(margin=33.0)
    assert margins(vehicle, [("lateral bar", "housing"), ("lateral bar", tank)]) == [MARGIN, 33.0]
    own = vehicle.replace(pairs=(Watch(one="housing", other="lateral bar", margin=0.0),))
    assert margins(own, [("lateral bar", "housing")]) == [0.0]


def test_contact_comes_first_then_the_least_to_spare() -> None:
    gaps = np.array([[5.0, 5.0, -3.0, -1.0], [3.0, -0.5, -2.0, -2.0]])
    assert tightest(gaps, np.array([[50.0], [2.0]])).tolist() == [0, 1, 0, 1]
    assert sorted([(5.0, 50.0), (3.0, 2.0), (-1.0, 0.0), (-3.0, 0.0)], key=lambda one: rank(*one)) == [
        (-3.0, 0.0), (-1.0, 0.0), (5.0, 50.0), (3.0, 2.0),
    ]  # fmt: skip
    assert [sign_of(gap, 10.0) for gap in (0.0, 9.9, 10.0)] == ["hit", "warn", "ok"]


def test_what_is_spared_counts_each_envelope_by_its_own_margin(vehicle: Vehicle) -> None:
    build = Build.of(vehicle, SETUP)
    found = study(build, *clearance_states(build))
    alone = [
        study(Build.of(vehicle.replace(envelopes=(envelope,)), SETUP), found.travel, found.roll).gap - envelope.margin
        for envelope in vehicle.envelopes
    ]
    assert found.spare == pytest.approx(np.min(alone, axis=0), abs=1e-9)
    smallest = [gaps.distance == found.gap for gaps in found.gaps]
    assert smallest[0][found.spare.argmin()] and smallest[0][found.gap.argmin()]
    assert (found.tightest.envelope == 1).all()
    assert found[3:5].spare == pytest.approx(found.spare[3:5])


def test_everything_that_is_said_names_the_margin_that_is_broken(vehicle: Vehicle) -> None:
    comparison = compare(vehicle, SETUP)
    worst = comparison.cases["corrected"].worst
    assert worst is not None
    assert (worst.envelope, worst.margin, worst.sign) == (1, 60.0, "warn")
    assert worst.gap > vehicle.envelopes[0].margin
    words = findings(comparison)
    cell = next(row for row in words.rows if row.key == "worst_gap").cells["corrected"]
    assert cell.icon == "warn"
    assert any(FAR in s.text and "60 mm was asked for" in s.text and s.icon == "warn" for s in words.sentences)
    assert any(FAR in s.text and "comes as near as" in s.text for s in spoken(words, comparison, "mm").sentences)
    drawn = scene_of(vehicle, SETUP)
    text, icon = gap_words(drawn)
    assert icon == "warn"
    assert text == f"gap {drawn.live.gaps[1].distance[0]:.0f} mm"


def test_a_drop_clears_only_when_every_margin_is_kept(vehicle: Vehicle) -> None:
    asked = vehicle.replace(envelopes=(vehicle.envelopes[0], vehicle.envelopes[1].replace(margin=30.0)))
    drop = clear_drop(asked, SETUP.lift)
    alone = [clear_drop(asked.replace(envelopes=(envelope,)), SETUP.lift) for envelope in asked.envelopes]
    assert alone[0] is not None and alone[1] is not None
    assert drop == max(alone[0], alone[1]) > min(alone[0], alone[1])
    clear = next(goal for goal in goals(vehicle, SETUP) if goal.key == "set")
    build = Build.of(vehicle, SETUP)
    assert clear.spare == pytest.approx(study(build, *clearance_states(build)).spare.min())
    assert clear.spare < -20.0


def test_the_measuring_error_is_that_of_the_gap_that_is_shown(vehicle: Vehicle) -> None:
    found = run(vehicle, SETUP, 100, 3)
    assert found is not None
    worst = compare(vehicle, SETUP).cases["corrected"].worst
    assert worst is not None
    estimate = found.cases["corrected"].results["worst_gap"]
    assert estimate.value == worst.gap
    assert estimate.low < worst.gap < estimate.high
    assert found.cases["corrected"].margin == 60.0
    assert "not sure" not in sentences(found, "mm", ("worst_gap",))[0].text


def test_a_pair_that_touches_comes_before_one_with_less_to_spare(vehicle: Vehicle) -> None:
    low = vehicle.envelopes[0].replace(margin=0.0)
    found = answers(Build.of(vehicle.replace(envelopes=(low, vehicle.envelopes[1])), Setup(lift=100.0))).worst
    shaft = [one for one in found if one.pair.one == "driveshaft"]
    assert shaft[0].gap == min(one.gap for one in shaft)
    assert [one.sign for one in found] == sorted((one.sign for one in found), key=["hit", "warn", "ok"].index)
