from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import Answers, FirstTouch, answers, guessed_sizes
from linkviz.analysis.clearance.pairs import pair_gap, pair_gaps, watched_pairs, with_pair
from linkviz.analysis.clearance.words import clearance_sentences, guessed_words, pair_row
from linkviz.analysis.compare import ROLLS, compare
from linkviz.analysis.setup import Setup
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

LIFTED, DROPPED = Setup(lift=100.0), Setup(lift=100.0, drop=90.0)


@pytest.fixture(params=demo_vehicle_paths(), ids=lambda path: path.name)
def build(request: pytest.FixtureRequest) -> Build:
    return Build.of(read_vehicle(request.param), LIFTED)


@pytest.fixture(scope="module")
def wagon() -> Build:
    return Build.of(read_vehicle(demo_vehicle_paths()[0]), DROPPED)


def test_all_pairs_at_once_are_as_one_by_one(build: Build) -> None:
    poses = solve(build.layout, np.linspace(-190.0, -20.0, 12), np.tile([0.06, 0.0, -0.06], 4))
    pairs = watched_pairs(build.vehicle, LIFTED)
    for found in pair_gaps(build, pairs, poses):
        assert found.distance == pytest.approx(pair_gap(build, found.pair, poses).distance, abs=1e-7)
        apart = np.linalg.norm(found.on_one - found.on_other, axis=1)
        assert apart == pytest.approx(np.abs(found.distance), abs=1e-6)


def test_driveshaft_is_worst_where_the_comparison_says(build: Build) -> None:
    worst = compare(build.vehicle, LIFTED).cases["lifted"].worst
    assert worst is not None
    name = build.vehicle.envelopes[worst.envelope].name
    mine = next(one for one in answers(build).worst if (one.pair.one, one.pair.other) == ("driveshaft", name))
    assert mine.gap == pytest.approx(worst.gap, abs=1e-6)
    assert (mine.travel, mine.roll) == pytest.approx((worst.travel, worst.roll))
    assert mine.sign == "hit"


def test_least_to_spare_comes_first(build: Build) -> None:
    found = answers(build).worst
    spare = [one.gap - one.pair.margin for one in found if one.sign != "hit"]
    assert spare == sorted(spare)
    assert [one.sign for one in found] == sorted((one.sign for one in found), key=["hit", "warn", "ok"].index)


def test_at_the_travel_left_the_pair_just_touches(build: Build) -> None:
    found = answers(build)
    assert found.down is not None
    for touch in (found.up, found.down):
        if touch is not None:
            poses = solve(build.layout, touch.travel - 100.0, touch.roll)
            assert pair_gap(build, touch.pair, poses).distance[0] == pytest.approx(0.0, abs=0.2)


@pytest.mark.parametrize("ahead", [0.0, 40.0])
def test_the_stop_holds_the_axle_where_margins_are_kept(wagon: Build, ahead: float) -> None:
    """Walk up from rest: as long as neither stop is as low as the height found, no pair is inside its margin.

    With the pads measured ahead of the stops it is the height between them that counts, not how far they are apart.
    """
    stops = wagon.vehicle.bump_stops
    assert stops is not None
    stops = stops.replace(axle=(stops.axle[0] + ahead, *stops.axle[1:]))
    wagon = Build.of(wagon.vehicle.replace(bump_stops=stops), DROPPED)
    found = answers(wagon)
    assert found.stop_height is not None
    travel = np.linspace(0.0, 140.0, 141)
    pairs = watched_pairs(wagon.vehicle, DROPPED)
    broken = False
    for roll in ROLLS:
        poses = solve(wagon.layout, travel - 100.0, np.full_like(travel, roll))
        # a stop is as high as its face is over the pad, by hand: both sides, the pads on the turned axle
        x, y, z = np.array(stops.axle) - wagon.layout.centre
        pads = poses.place(wagon.layout.centre, np.array([(x, y, z), (x, -y, z)]))[..., 2]
        room = (stops.body[2] - pads).min(axis=1)
        spare = np.min([gap.distance - gap.pair.margin for gap in pair_gaps(wagon, pairs, poses)], axis=0)
        assert (spare[room >= found.stop_height + 0.5] >= 0).all()
        broken = broken or bool((spare[room >= found.stop_height - 0.7] < 0).any())
    assert broken, "and with one a little lower some margin is not kept"
    assert any(worst.sign == "warn" for worst in found.worst)


def test_sentences(wagon: Build, build: Build) -> None:
    close = " ".join(s.text for s in clearance_sentences(wagon, answers(wagon), "mm"))
    assert "10 mm was asked for" in close
    assert "of rebound are left before" in close
    assert "bump stop" in close
    lifted = clearance_sentences(build, answers(build), "in")
    assert lifted[0].icon == "hit" and "touch" in lifted[0].text
    assert pair_row(answers(build).worst[0], "mm")[2].startswith("touches")
    assert "lateral bar, radius" in guessed_words(build)
    assert "bracket_lip" not in guessed_sizes(build)


def test_what_touches_at_rest_is_said_once_and_with_its_roll(wagon: Build) -> None:
    found = answers(wagon)
    pair = found.worst[0].pair
    for roll, words in ((0.0, "At rest "), (0.09, "Crossed up at rest height, ")):
        there = FirstTouch(pair, 0.0, roll)
        said = [s.text for s in clearance_sentences(wagon, found.replace(up=there, down=there), "mm")]
        assert [text for text in said if "already touch" in text] == [
            f"{words}{pair.one} and {pair.other} already touch."
        ]


def test_nothing_watched(wagon: Build) -> None:
    vehicle = wagon.vehicle
    for pair in watched_pairs(vehicle, DROPPED):
        vehicle = with_pair(vehicle, pair, watch=False, margin=None)
    bare = Build.of(vehicle, DROPPED)
    assert answers(bare) == Answers((), None, None, None)
    assert "No pair" in clearance_sentences(bare, answers(bare), "mm")[0].text
