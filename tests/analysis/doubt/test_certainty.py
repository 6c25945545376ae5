from __future__ import annotations

import pytest

from linkviz.analysis.compare import compare
from linkviz.analysis.doubt.certainty import Estimate, between, blame_words, either_way, ranges, sentences
from linkviz.analysis.doubt.uncertainty import Uncertainty, run
from linkviz.analysis.findings import findings
from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle


@pytest.fixture(scope="module")
def found() -> Uncertainty:
    done = run(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0, drop=90.0), 100, 3)
    assert done is not None
    return done


def estimate(value: float, low: float, high: float, key: str = "worst_gap", unit: str = "mm") -> Estimate:
    return Estimate(key, "Gap", unit, value, value, 1.0, low, high, (), 1.0)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "low", "high", "unit", "short", "words"),
    [
        (6.0, 2.0, 10.0, "mm", "±4 mm", "between 2 mm and 10 mm"),
        # rounded outwards, to the farther end
        (6.0, 2.6, 6.2, "mm", "±4 mm", "between 2 mm and 7 mm"),
        (0.0, -3.2, 2.1, "mm", "±4 mm", "between 4 mm deep and 3 mm"),
        (25.4, 24.0, 25.4, "in", '±1/16"', 'between 15/16" and 1"'),
    ],
)
def test_ends_are_written_outwards(value: float, low: float, high: float, unit: str, short: str, words: str) -> None:
    one = estimate(value, low, high)
    assert either_way(one, unit) == short  # type: ignore[arg-type]
    assert between(one, unit) == words  # type: ignore[arg-type]


def test_what_is_so_by_definition_has_no_range(found: Uncertainty) -> None:
    assert either_way(found.cases["as built"].results["offset"], "mm") == ""
    assert "as built" not in ranges(found, "mm")["offset"]


def test_sides_and_angles_are_said_as_elsewhere() -> None:
    assert between(estimate(-15.4, -15.9, -15.0, "offset"), "mm") == "between 16 mm right and 15 mm right"
    assert between(estimate(3.3, 2.91, 3.59, "pinion_angle", "deg"), "mm") == "between 2.9° and 3.6°"


def test_every_figure_of_the_table_that_is_measured_has_a_range(found: Uncertainty) -> None:
    rows = findings(compare(found.vehicle, found.setup)).rows
    with_range = {row.key for row in rows if row.key}
    assert with_range == {
        "offset", "swing", "bar_angle", "pinion_angle", "wheelbase_change", "roll_centre", "joints", "worst_gap",
    }  # fmt: skip
    said = ranges(found, "mm")
    for key in with_range:
        assert set(said[key]) >= {"lifted", "corrected"}
        assert all("95 of 100" in one.plain for one in said[key].values())
    assert "front joint" in said["joints"]["lifted"].plain and "pinion joint" in said["joints"]["lifted"].plain


def test_a_gap_that_may_be_none_is_said_to_be_open(found: Uncertainty) -> None:
    case = found.cases["corrected"]

    def with_gap(value: float, low: float, high: float) -> Uncertainty:
        results = {**case.results, "worst_gap": case.results["worst_gap"].replace(value=value, low=low, high=high)}
        return found.replace(cases={**found.cases, "corrected": case.replace(results=results)})

    margin = found.vehicle.envelopes[0].margin
    open_, close, clear, touching = (
        sentences(with_gap(*gap), "mm", ("worst_gap",))
        for gap in ((2.0, -1.0, 5.0), (margin + 1, margin - 3, margin + 4), (50.0, 47.0, 53.0), (-9.0, -12.0, -6.0))
    )
    assert [len(one) for one in (open_, close, clear, touching)] == [1, 1, 1, 1]
    assert open_[0].icon == "warn" and "cannot tell" in open_[0].text
    assert close[0].icon == "warn" and "not sure to be kept" in close[0].text
    assert clear[0].icon == "" and clear[0].text.endswith("lie between 47 mm and 53 mm.")
    assert touching[0].icon == "hit" and "between 12 mm deep and 6 mm deep" in touching[0].text


def test_an_axle_that_may_be_stopped_is_told(found: Uncertainty) -> None:
    cases = {**found.cases, "corrected": found.cases["corrected"].replace(reached=0.97)}
    texts = [s.text for s in sentences(found.replace(cases=cases), "mm")]
    assert "In 3 of 100 such vehicles the axle does not get through its whole travel." in texts


def test_points_to_blame_become_cells(found: Uncertainty) -> None:
    label, causes = found.measure_again(("worst_gap",))
    assert "gap" in label
    words, share, u = blame_words(causes[0], "mm")
    assert words == "Driveshaft, pinion joint"
    assert share.endswith(" %") and u == "±3 mm"
    assert found.measure_again(("nothing",)) == ("", ())
