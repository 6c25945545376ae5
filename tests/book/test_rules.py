"""What the brackets of a job are designed by."""

from __future__ import annotations

from itertools import pairwise

import pytest

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.design import design
from linkviz.analysis.bracket.room import LIFTS, lifts_between
from linkviz.analysis.bracket.rules import DEFAULT_RULES
from linkviz.analysis.bracket.stock import propose
from linkviz.analysis.bracket.table import LoadCaseTable, RulesTable
from linkviz.analysis.limits import LinkLimits
from linkviz.analysis.setup import Setup
from linkviz.book.model import Job
from linkviz.book.rules import rules_of
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = read_vehicle(demo_vehicle_paths()[0])


def test_a_job_that_says_nothing_goes_by_the_usual_rules() -> None:
    assert rules_of(Job()) == DEFAULT_RULES
    assert rules_of(Job(rules=RulesTable())) == DEFAULT_RULES
    assert [lift / 25.4 for lift in LIFTS] == pytest.approx([2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0])


@pytest.mark.parametrize("ends", [(50.0, 100.0), (0.0, 12.7), (76.2, 76.2), (60.0, 61.0)])
def test_lifts_reach_from_end_to_end_in_even_steps(ends: tuple[float, float]) -> None:
    lifts = lifts_between(*ends)
    assert (lifts[0], lifts[-1]) == ends
    steps = [b - a for a, b in pairwise(lifts)]
    assert all(0.0 < step <= 12.7 + 1e-9 for step in steps)
    assert steps == pytest.approx([steps[0]] * len(steps)) if steps else len(lifts) == 1
    with pytest.raises(ValueError, match="ends before"):
        lifts_between(60.0, 50.0)


def test_every_rule_of_a_job_reaches_the_design() -> None:
    setup, links = Setup(lift=101.6, drop=98.0), LinkLimits(link_angle_deg=20.0)
    usual = design(WAGON, setup)
    job = Job(
        load_cases=(LoadCaseTable(name="ditch", lateral_g=3.0),),
        rules=RulesTable(
            lowest_lift=90.0, highest_lift=110.0, bar_angle_deg=1.5, room_to_ground=300.0, room_to_axle=40.0
        ),
    )
    found = design(WAGON, setup, rules=rules_of(job, links))
    assert [case.name for case, _ in found.cases] == ["ditch"]
    served = [lift for hole in found.holes.holes for lift in hole.serves]
    assert sorted([*served, *found.holes.unserved]) == pytest.approx([90.0, 100.0, 110.0])
    bounds = {bound.key: bound.drop for bound in found.longest}
    before = {bound.key: bound.drop for bound in usual.longest}
    assert bounds["ground"] == pytest.approx(before["ground"] - 120.0)
    if "axle" in before:
        assert bounds["axle"] < before["axle"]
    assert bounds["links"] < before["links"]
    tight = design(WAGON, setup, rules=rules_of(Job(rules=RulesTable(bar_angle_deg=0.1))))
    assert len(tight.holes.unserved) > len(usual.holes.unserved)


def test_the_stock_is_chosen_by_the_same_rules() -> None:
    catalogue = read_catalogue(demo_catalogue_path())
    assert propose(WAGON, 101.6, catalogue).best is not None
    heavy = Job(load_cases=(LoadCaseTable(name="ditch", lateral_g=9.0),))
    assert propose(WAGON, 101.6, catalogue, rules_of(heavy)).best is None
    low = Job(rules=RulesTable(room_to_ground=480.0))
    refused = propose(WAGON, 101.6, catalogue, rules_of(low))
    assert refused.best is None
    assert any("hangs too low" in reason for tried in refused.tried for reason in tried.reasons)
    near = Job(rules=RulesTable(bar_angle_deg=0.05))
    assert any(
        "0.1\N{DEGREE SIGN} is allowed" in r
        for t in propose(WAGON, 101.6, catalogue, rules_of(near)).tried
        for r in t.reasons
    )
