from __future__ import annotations

from linkviz.analysis.compare import compare
from linkviz.analysis.findings import findings
from linkviz.analysis.setup import Setup
from linkviz.book.compare import PARTS, side_by_side
from linkviz.book.model import Whole
from linkviz.frozen import names_of


def test_every_value_of_a_setup_has_words() -> None:
    assert list(PARTS) == list(names_of(Setup))


def test_each_job_stands_in_the_state_it_is_in(whole: Whole) -> None:
    plain = Whole(whole.job.replace(customer="B. Sample"), Setup(lift=100.0), whole.vehicle)
    lines = {line.label: line for line in side_by_side(whole, plain, "in")}
    assert [cell.text for cell in lines["Customer"].cells] == ["A. Sample", "B. Sample"]
    assert [cell.text for cell in lines["Bracket drop"].cells] == ['3"', '0"']
    assert "Bar longer" not in lines
    rows = findings(compare(whole.vehicle, whole.setup), "in").rows
    for row in rows:
        assert lines[row.label].cells == (row.cells["corrected"], row.cells["lifted"])
        assert lines[row.label].plain == row.plain


def test_a_job_does_not_differ_from_itself_and_one_as_built_is_shown_so(whole: Whole) -> None:
    assert not any(line.differs for line in side_by_side(whole, whole))
    built = whole.replace(setup=Setup())
    lines = {line.label: line for line in side_by_side(built, whole)}
    assert lines["Lift"].differs
    row = findings(compare(built.vehicle, Setup()), "mm").rows[0]
    assert lines[row.label].cells[0] == row.cells["as built"]


def test_a_quantity_only_one_of_them_has_is_shown_all_the_same(whole: Whole) -> None:
    bare = whole.replace(vehicle=whole.vehicle.replace(driveshaft=None, envelopes=()))
    both, half = side_by_side(whole, whole), side_by_side(whole, bare)
    assert [line.label for line in half] == [line.label for line in both]
    assert any(line.cells[1].text in ("-", "\N{EN DASH}") for line in half)
