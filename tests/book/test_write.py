from __future__ import annotations

import math
import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Load, Springing
from linkviz.analysis.stance.valve_bracket import ValveBracket
from linkviz.book.model import Job, Printed, State, Whole
from linkviz.book.problems import job_problems
from linkviz.book.read import parse_job, read_job
from linkviz.book.write import dump_job, quick_text, write_job
from linkviz.errors import LinkvizError
from linkviz.frozen import names_of
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Coil, Envelope
from linkviz.vehicle.outlines import MOST_CORNERS
from linkviz.vehicle.problems import MOST, problems_of
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.tables import same
from linkviz.vehicle.texts import LONGEST_TEXT
from tests.vehicles import SHOWN

line = st.text(SHOWN, max_size=30)
length = st.floats(-900.0, 900.0)
jobs = st.builds(
    Job,
    number=line,
    name=line,
    customer=line,
    status=line.map(lambda text: f"x{text}"),
    units=st.sampled_from(["mm", "in"]),
    notes=st.text(SHOWN | st.sampled_from("\n\r\t"), max_size=200),
    states=st.lists(st.builds(State, name=line, drop=length, shift=length), max_size=3).map(tuple),
    printed=st.lists(st.builds(Printed, when=line, papers=st.lists(line, max_size=3).map(tuple)), max_size=3).map(
        tuple
    ),
)
coils = st.builds(Coil, free_length=st.floats(60.0, 900.0), rate=st.floats(3.0, 900.0), wire=st.floats(6.0, 30.0))
springings = st.builds(
    Springing,
    spacer=st.floats(0.0, 199.0),
    springs=st.none() | coils,
    loads=st.lists(
        st.builds(Load, place=line.map(lambda text: f"x{text}"), mass=st.floats(0.0, 900.0)), max_size=3
    ).map(tuple),
    front_rise=st.none() | st.floats(-100.0, 200.0),
)
brackets = st.builds(ValveBracket, holes=st.lists(st.floats(0.0, 299.0), min_size=1, max_size=4).map(tuple))
setups = st.builds(Setup, lift=st.floats(0.0, 900.0), drop=length, shift=length, axle_raise=length, valve_rise=length)
VEHICLE = read_vehicle(demo_vehicle_paths()[1])


def agree(one: Whole, other: Whole) -> bool:
    lengths = [abs(getattr(one.setup, n) - getattr(other.setup, n)) for n in names_of(Setup)]
    return same(one.job, other.job) and max(lengths) <= 1e-9 and same(one.vehicle, other.vehicle)


@given(job=jobs, setup=setups, before=jobs)
def test_any_job_comes_back_alone_over_an_old_text_and_from_the_quick_text(job: Job, setup: Setup, before: Job) -> None:
    whole = Whole(job, setup, VEHICLE)
    old = dump_job(Whole(before, Setup(), VEHICLE))
    for text in (dump_job(whole), dump_job(whole, old), quick_text(whole)):
        assert agree(parse_job(text), whole)


@settings(max_examples=25)
@given(springing=st.none() | springings, bracket=st.none() | brackets, units=st.sampled_from(["mm", "in"]))
def test_springs_and_the_holes_of_the_valve_come_back(
    springing: Springing | None, bracket: ValveBracket | None, units: str
) -> None:
    job = Job(units=units, springing=springing, valve_bracket=bracket)
    text = dump_job(Whole(job, Setup(lift=60.0, valve_rise=50.0), VEHICLE))
    again = parse_job(text)
    assert same(again.job, job)
    assert again.setup.valve_rise == pytest.approx(50.0)


def test_comments_and_order_survive_a_save(whole: Whole, tmp_path: Path) -> None:
    file = tmp_path / "a.job.toml"
    write_job(whole, file)
    text = file.read_text()
    text = text.replace('status = "designed"', 'status = "designed"   # told her on the phone')
    text = text.replace("[vehicle.axle]", "# measured twice\n[vehicle.axle]")
    text = text.replace("lift = 100.0\ndrop = 76.2", "drop = 76.2\nlift = 100.0  # spacer")
    file.write_text(text)
    changed = Whole(whole.job.replace(status="cut"), Setup(lift=80.0, drop=76.2), whole.vehicle)
    write_job(changed, file)
    now = file.read_text()
    assert now == text.replace('"designed"', '"cut"').replace("lift = 100.0  # spacer", "lift = 80.0  # spacer")
    assert read_job(file) == changed


def test_saving_what_is_there_changes_nothing(whole: Whole) -> None:
    text = dump_job(whole)
    assert dump_job(whole, text) == text


@pytest.mark.parametrize("old", ["", "hello", 'format = "linkviz-vehicle/1"', "x = [", 'format = "linkviz-job/1"'])
def test_an_old_text_of_another_kind_is_written_anew(whole: Whole, old: str) -> None:
    assert parse_job(dump_job(whole, old)) == whole


def test_a_failed_save_leaves_the_old_file(whole: Whole, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "a.job.toml"
    write_job(whole, file)
    before = file.read_bytes()

    def broken(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", broken)
    with pytest.raises(LinkvizError, match="No space"):
        write_job(Whole(whole.job, Setup(lift=1.0), whole.vehicle), file)
    assert file.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["a.job.toml"]


def test_the_largest_job_there_may_be_is_opened_again(whole: Whole, tmp_path: Path) -> None:
    """As many envelopes as there may be, each of as many corners, every length with all its digits, and long notes."""
    turns = [2.0 * math.pi * i / MOST_CORNERS for i in range(MOST_CORNERS)]

    def ring(across: float, up: float) -> tuple[tuple[float, float], ...]:
        return tuple((across + 50.7 * math.cos(turn), up + 50.7 * math.sin(turn)) for turn in turns)

    one = Envelope(name="", rear=ring(-1200.123456, 1450.0), side=ring(-1500.0, 1450.0))
    envelopes = tuple(one.replace(name=f"envelope {i}") for i in range(MOST["envelopes"]))
    vehicle = whole.vehicle.replace(envelopes=envelopes, note="\N{BENZENE RING}" * LONGEST_TEXT)
    large = whole.replace(vehicle=vehicle, job=whole.job.replace(notes="\N{BENZENE RING}" * LONGEST_TEXT))
    assert not problems_of(vehicle) and not job_problems(large.job)
    write_job(large, tmp_path / "a.job.toml")
    assert (tmp_path / "a.job.toml").stat().st_size > 1_500_000
    assert same(read_job(tmp_path / "a.job.toml").vehicle, vehicle)
