"""Damaged files through the commands: an answer or a refusal in words; no traceback, no hang, no file touched.

The long run: ``python3 -m tests -m soak tests/commands/test_fuzz.py``.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.table import BracketTable
from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Whole
from linkviz.book.write import dump_job
from linkviz.commands import main
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.sheet_lines import blank_measuring_sheet
from tests.hang import no_hang
from tests.mutate import mutated

LONG = 20_000


def samples() -> list[tuple[str, str, list[str]]]:
    """Return (file name, sound text, words of the command; FILE stands for the file)."""
    vehicles = [Path(path).read_text(encoding="utf-8") for path in demo_vehicle_paths()]
    found = [("a.vehicle.toml", text, ["check", "FILE"]) for text in vehicles]
    found.append(("a.vehicle.toml", vehicles[0], ["explain", "FILE", "--lift", "4in"]))
    sheet = blank_measuring_sheet("mm")
    filled = "\n".join(f"{line}1{i},{i},2" if line.endswith(",") else line for i, line in enumerate(sheet.splitlines()))
    found += [("a.csv", text, ["sheet", "FILE", "--out", "made.vehicle.toml"]) for text in (sheet, filled)]
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    stock = read_catalogue(demo_catalogue_path())
    job = Job(
        number="J-1", customer="A. Sample", bracket=BracketTable.of(stock.brackets[0].bracket()), notes="two\nlines"
    )
    whole = dump_job(Whole(job, Setup(lift=100.0, drop=98.0), vehicle))
    found += [("a.job.toml", whole, ["check", "FILE"]), ("a.job.toml", whole, ["explain", "FILE"])]
    parts = demo_catalogue_path().read_text(encoding="utf-8")
    found.append(("a.parts.toml", parts, ["bracket", str(demo_vehicle_paths()[0]), "--lift=4in", "--parts", "FILE"]))
    return found


def run(seed: int, times: int, folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[int, int]:
    """Put damaged files through the commands; return how often each exit code came."""
    chance = random.Random(seed)
    codes: dict[int, int] = {}
    for i in range(times):
        name, text, words = chance.choice(SAMPLES)
        data = mutated(text, chance)
        path = folder / name
        path.write_bytes(data)
        (folder / "made.vehicle.toml").unlink(missing_ok=True)
        told = f"seed {seed}, file {i}"
        try:
            with no_hang():
                code = main([str(path) if word == "FILE" else word for word in words])
        except BaseException as error:
            raise AssertionError(f"{told}: {data[:3000]!r}") from error
        said = capsys.readouterr()
        codes[code] = codes.get(code, 0) + 1
        assert code in (0, 1), told
        assert "Traceback" not in said.out + said.err, told
        assert said.err.strip() if code else said.out.strip(), told
        assert not any(ord(letter) < 32 and letter not in "\n\t" for letter in said.out + said.err), told
        assert path.read_bytes() == data, told
        assert {entry.name for entry in folder.iterdir()} <= {
            "a.vehicle.toml",
            "a.csv",
            "a.job.toml",
            "a.parts.toml",
            "made.vehicle.toml",
        }, told
    return codes


SAMPLES = samples()


def test_damaged_files_are_answered_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    codes = run(1, 200, tmp_path, capsys)
    assert codes[0] > 5
    assert codes[1] > 50


@pytest.mark.soak
@pytest.mark.timeout(7200)
def test_twenty_thousand_damaged_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    run(2, LONG, tmp_path, capsys)
