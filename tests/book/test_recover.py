from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from linkviz.analysis.setup import Setup
from linkviz.book.model import NO_JOB, Job, Whole
from linkviz.book.read import parse_job
from linkviz.book.recover import recover
from linkviz.book.write import dump_job, write_job
from linkviz.errors import MOST_LETTERS, MOST_PROBLEMS, FileRefused
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle
from tests.hang import no_hang

TEXT = dump_job(
    Whole(
        Job(number="7", customer="A. Sample", notes="first\nsecond", status="cut"),
        Setup(lift=100.0, drop=76.2),
        read_vehicle(demo_vehicle_paths()[0]),
    )
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "a.job.toml"


def test_a_sound_job_loses_nothing(whole: Whole, file: Path) -> None:
    write_job(whole, file)
    found = recover(file)
    assert found.whole == whole
    assert found.losses == ()


def test_a_line_that_cannot_be_read_is_the_only_loss(whole: Whole, file: Path) -> None:
    file.write_text(dump_job(whole).replace('customer = "A. Sample"', 'customer = "A. Sam'))
    found = recover(file)
    assert found.whole == Whole(whole.job.replace(customer=""), whole.setup, whole.vehicle)
    assert len(found.losses) == 1
    assert 'customer = "A. Sam' in found.losses[0]
    assert found.losses[0].startswith("Line ")


def test_values_that_make_no_sense_are_left_out_one_by_one(whole: Whole, file: Path) -> None:
    text = (
        dump_job(whole)
        .replace("lift = 100.0\ndrop = 76.2", "lift = nan\ndrop = 76.2")
        .replace('status = "designed"', "status = 5")
    )
    file.write_text(text.replace("[vehicle.travel]\njounce", "[vehicle.travel]\njonce"))
    found = recover(file)
    assert found.setup == Setup(drop=76.2)
    assert found.job == whole.job.replace(status="asked")
    assert found.vehicle is not None
    assert found.vehicle.links == whole.vehicle.links
    said = "\n".join(found.losses)
    for word in ("setup.lift", "status", "jonce"):
        assert word in said


@pytest.mark.parametrize(
    "line", ['units = "im"', 'units = "in', "uni\ufffds = 'in'", "units = 5", "'un\ufffdts' = 'in'"]
)
def test_lengths_whose_unit_is_lost_are_not_guessed(whole: Whole, file: Path, line: str) -> None:
    text = dump_job(whole.replace(job=whole.job.replace(units="in")))
    assert 'units = "in"\n' in text and "\nlift = 3.937" in text
    file.write_bytes(text.replace('units = "in"', line, 1).replace("\ufffd", "\0").encode())
    found = recover(file)
    assert found.vehicle == whole.vehicle
    assert found.setup == Setup()
    assert (found.job.number, found.job.states) == ("2026-014", ())
    assert "states, setup had to be left out" in "\n".join(found.losses)


def test_one_spoilt_envelope_does_not_take_the_others(whole: Whole, file: Path) -> None:
    first = whole.vehicle.envelopes[0]
    box = first.replace(name="skid plate")
    vehicle = whole.vehicle.replace(envelopes=(first, box))
    text = dump_job(Whole(whole.job, whole.setup, vehicle))
    at = text.index('name = "skid plate"')
    file.write_text(text[:at] + "margin = -1.0\n" + text[at:].replace("margin = ", "margen = ", 1))
    found = recover(file)
    assert found.vehicle is not None
    assert [e.name for e in found.vehicle.envelopes] == [first.name]


def test_without_its_links_there_is_no_vehicle_but_the_customer_is_known(whole: Whole, file: Path) -> None:
    text = dump_job(whole)
    file.write_text(text[: text.index("[vehicle.links.upper_right]")])
    found = recover(file)
    assert found.vehicle is None
    assert found.whole is None
    assert found.job == whole.job
    assert found.setup == whole.setup
    assert any("upper_right" in loss for loss in found.losses)


@pytest.mark.parametrize("text", ["hello", "x = [", 'colour = "red"', "\x00\x00", "[[[["])
def test_a_file_that_is_no_job_is_refused(file: Path, text: str) -> None:
    file.write_text(text)
    with pytest.raises(FileRefused):
        recover(file)


cuts = st.lists(
    st.tuples(st.integers(0, len(TEXT)), st.integers(0, 40), st.text(st.characters(codec="utf-8"), max_size=8)),
    min_size=1,
    max_size=4,
)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cuts=cuts, end=st.integers(0, len(TEXT)) | st.none())
def test_whatever_happened_to_a_file_the_rest_can_be_saved_again(
    tmp_path: Path, cuts: list[tuple[int, int, str]], end: int | None
) -> None:
    text = TEXT[:end]
    for at, length, more in cuts:
        text = text[:at] + more + text[at + length :]
    file = tmp_path / "spoilt.job.toml"
    file.write_text(text, encoding="utf-8", newline="")
    before = file.read_bytes()
    try:
        found = recover(file)
    except FileRefused as refused:
        assert refused.problems
        return
    assert file.read_bytes() == before
    if found.whole is not None:
        assert parse_job(dump_job(found.whole)).job == found.job
    try:
        parse_job(text)
    except FileRefused:
        assert found.losses


def test_nothing_of_the_job_is_still_a_job() -> None:
    assert parse_job(dump_job(Whole(NO_JOB, Setup(), read_vehicle(demo_vehicle_paths()[2])))).job == NO_JOB


@pytest.mark.parametrize("damage", [
    "".join(f"line {i} is no value\n" for i in range(40_000)),
    "".join(f"k{i} = {i}\n" for i in range(60_000)) + "]",
    "".join(f"[t{i}\n" for i in range(60_000)),
    "[[vehicle.envelopes]]\nname = 5\n" * 1900 + "]",
    "a" + ".a" * 200_000 + " = 1\n",
    "[" * 300_000,
])  # fmt: skip
def test_an_endless_damaged_job_is_looked_through_in_time(file: Path, damage: str) -> None:
    file.write_text(TEXT + "\n" + damage)
    with no_hang(10.0):
        found = recover(file)
    assert found.job.customer == "A. Sample"
    assert 0 < len(found.losses) <= MOST_PROBLEMS + 1
    assert all(loss.isprintable() and len(loss) <= MOST_LETTERS for loss in found.losses)


def test_many_spoilt_parts_are_left_out_together_and_the_sound_ones_stay(whole: Whole, file: Path) -> None:
    first = whole.vehicle.envelopes[0]
    boxes = tuple(first.replace(name=f"box {i}") for i in range(36))
    vehicle = whole.vehicle.replace(envelopes=boxes)
    text = dump_job(Whole(whole.job, whole.setup, vehicle))
    for i in range(0, 36, 3):
        text = text.replace(f'name = "box {i}"', f"name = {i}")
    file.write_text(text)
    found = recover(file)
    assert found.vehicle is not None
    assert [e.name for e in found.vehicle.envelopes] == [f"box {i}" for i in range(36) if i % 3]
    assert len(found.losses) == 12


@pytest.mark.parametrize("letter", ["\x1b", "\u202e", "\u2028"])
def test_letters_that_are_acted_on_are_a_loss_that_is_said(whole: Whole, file: Path, letter: str) -> None:
    escaped = f"\\u{ord(letter):04x}"
    file.write_text(dump_job(whole).replace('customer = "A. Sample"', f'customer = "A. {escaped}Sample"'))
    found = recover(file)
    assert found.job.customer == ""
    assert "customer" in found.losses[0]
    assert letter not in "".join(found.losses)
