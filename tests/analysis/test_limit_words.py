from __future__ import annotations

import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.limit_words import lift_sentences, limits_said, travel_sentences
from linkviz.analysis.limits import LinkLimits, run_out, travel_limits
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Travel, Vehicle
from linkviz.vehicle.read import read_vehicle


@pytest.fixture(scope="module")
def wagon() -> Vehicle:
    return read_vehicle(demo_vehicle_paths()[0])


def test_a_lift_within_the_limits_is_good_and_one_beyond_is_warned_of(wagon: Vehicle) -> None:
    found = run_out(wagon)
    assert found.first is not None
    low = lift_sentences(found, found.first.lift - 1.0, "mm")
    high = lift_sentences(found, found.first.lift + 1.0, "mm")
    assert low[0].text == high[0].text == found.said("mm")
    assert (low[0].icon, high[0].icon) == ("ok", "warn")
    assert len(high) == len(low) + 1 and "trailing links themselves" in high[1].text
    assert len(low) == len(found.crossings)


def test_links_without_a_limit_in_reach_say_so(wagon: Vehicle) -> None:
    said = lift_sentences(run_out(wagon, LinkLimits(89.0, 89.0, 5000.0)), 100.0, "mm")
    assert "reach" in {c.key for c in run_out(wagon, LinkLimits(89.0, 89.0, 5000.0)).crossings}
    assert len(said) == 1 and "no longer drops all of its" in said[0].text


def test_the_ends_of_travel_say_what_sets_them_and_what_is_lacking(wagon: Vehicle) -> None:
    limits = travel_limits(Build.of(wagon, Setup(lift=100.0)))
    down, up = travel_sentences(limits, "mm")
    assert limits.droop.words in down.text and limits.bump.words in up.text
    assert down.icon == up.icon == ""
    greedy = wagon.replace(travel=Travel(jounce=80.0, rebound=300.0))
    short = travel_sentences(travel_limits(Build.of(greedy, Setup(lift=100.0))), "mm")[0]
    assert short.icon == "hit" and "short of the travel" in short.text


def test_all_of_it_in_inches(wagon: Vehicle) -> None:
    texts = [sentence.text for sentence in limits_said(wagon, Setup(lift=101.6), "in")]
    assert len(texts) >= 3 and all(" mm" not in text for text in texts)
