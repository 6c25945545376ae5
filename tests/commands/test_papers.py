from __future__ import annotations

import io
from pathlib import Path

import ezdxf
import pytest

from linkviz.analysis.bracket.table import BracketTable
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.valve_bracket import ValveBracket
from linkviz.book.model import Job, Whole
from linkviz.book.write import write_job
from linkviz.bracket.parts import DropBracket
from linkviz.commands import main
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle
from tests.papers.look import words

WAGON, CRUISER, _ = map(str, demo_vehicle_paths())
Capture = pytest.CaptureFixture[str]
PARTS = ("--lift=100", "--drop=98mm")


def test_all_papers_into_a_folder(tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "papers"
    code = main(
        ["papers", WAGON, "--out", str(out), *PARTS, "--job", "J 17", "--customer", "counter", "--date", "2026-01-02"]
    )
    assert code == 0
    names = sorted(path.name for path in out.iterdir())
    assert names == [
        "j-17-customer-sheet.pdf",
        "j-17-cut-side-plate.dxf",
        "j-17-fitting-sheet.pdf",
        "j-17-packing-list.pdf",
        "j-17-shop-drawing.pdf",
        "j-17-templates.pdf",
    ]
    assert capsys.readouterr().out.count("wrote ") == 6
    text = words((out / "j-17-packing-list.pdf").read_bytes())[0]
    assert all(word in text for word in ("J 17", "counter", "2026-01-02", "millimetres"))


def test_only_some_and_in_inches_on_letter(tmp_path: Path) -> None:
    assert main(["papers", CRUISER, "--out", str(tmp_path), *PARTS, "--only", "cut,packing"]) == 0
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".dxf", ".pdf"]
    (dxf,) = tmp_path.glob("*.dxf")
    assert ezdxf.read(io.StringIO(dxf.read_text(encoding="utf-8"))).header["$INSUNITS"] == 1
    (pdf,) = tmp_path.glob("*.pdf")
    assert "inches" in words(pdf.read_bytes())[0]


def test_holes_valve_bracket_and_the_shops_own_k(tmp_path: Path, capsys: Capture) -> None:
    more = ["--holes", "98,4.5in", "--valve-rises", "40mm,2in", "--valve-spacing", "44", "--valve-bolt", "5/16"]
    more += ["--valve-lean", "25", "--k", "0.8", "--only", "cut,drawing"]
    assert main(["papers", WAGON, "--out", str(tmp_path), *PARTS, *more]) == 0
    assert "NOT MEASURED" not in capsys.readouterr().out
    plate = ezdxf.read(io.StringIO((tmp_path / "cut-side-plate.dxf").read_text()))
    drops = sorted(-e.dxf.center.y for e in plate.modelspace().query("CIRCLE"))
    assert drops == pytest.approx([0.0, 35.0, 98.0, 114.3])
    assert "the shop's own k; k = 0.800" in " ".join(words((tmp_path / "shop-drawing.pdf").read_bytes()))


def test_a_job_brings_its_number_bracket_and_valve_holes(tmp_path: Path, capsys: Capture) -> None:
    bracket = DropBracket("shop's own", (95.0, 120.0), bolt="M12", bar_bolt="M12", grade="10.9")
    job = Job(
        number="7",
        customer="A. Sample",
        units="in",
        bracket=BracketTable.of(bracket),
        valve_bracket=ValveBracket(holes=(38.0, 51.0)),
    )
    path = tmp_path / "a.job.toml"
    write_job(Whole(job, Setup(lift=100.0, drop=100.0), read_vehicle(WAGON)), path)
    out = tmp_path / "out"
    assert main(["papers", str(path), "--out", str(out), "--only", "cut,packing"]) == 0
    assert "the bracket has no hole there" in capsys.readouterr().out
    document = ezdxf.read(io.StringIO((out / "7-cut-side-plate.dxf").read_text()))
    drops = sorted(-e.dxf.center.y * 25.4 for e in document.modelspace().query("CIRCLE"))
    assert drops == pytest.approx([0.0, 45.0, 95.0, 120.0])
    valve = ezdxf.read(io.StringIO((out / "7-cut-valve-plate.dxf").read_text()))
    assert {round(e.dxf.center.y * 25.4, 3) for e in valve.modelspace().query("CIRCLE")} == {0.0, 38.0, 51.0}
    assert "A. Sample" in words((out / "7-packing-list.pdf").read_bytes())[0]


def test_what_is_there_is_not_written_over(tmp_path: Path, capsys: Capture) -> None:
    call = ["papers", WAGON, "--out", str(tmp_path), *PARTS, "--only", "packing"]
    assert main(call) == 0
    (path,) = tmp_path.iterdir()
    path.write_bytes(b"mine")
    assert main(call) == 1
    assert "--overwrite" in capsys.readouterr().err
    assert path.read_bytes() == b"mine"
    assert main([*call, "--overwrite"]) == 0
    assert path.read_bytes() != b"mine"


def test_without_parts_only_the_customer_sheet_is_made(tmp_path: Path, capsys: Capture) -> None:
    assert main(["papers", WAGON, "--out", str(tmp_path), "--lift=100"]) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["customer-sheet.pdf"]
    assert "left out: Templates 1:1, Cutting files" in capsys.readouterr().out
    assert main(["papers", WAGON, "--out", str(tmp_path / "x"), "--lift=100", "--only", "cut"]) == 1
    assert "neither a drop" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words_", "said"),
    [
        (("--only", "poster"), "no paper 'poster'"),
        (("--k", "much"), "--k: found much"),
        (("--k", "1.4"), "check which of the two"),
        (("--holes", "0,50"), "--holes"),
        (("--valve-spacing", "40"), "--valve-rises"),
        (("--valve-rises", "20", "--valve-spacing", "-4"), "--valve-spacing"),
        (("--valve-rises", "15", "--valve-lean", "30"), "lies in the bend"),
        (("--valve-rises", "50", "--valve-bolt", "M9"), "no clearance hole"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    words_: tuple[str, ...], said: str, tmp_path: Path, capsys: Capture
) -> None:
    assert main(["papers", WAGON, "--out", str(tmp_path / "out"), *PARTS, *words_]) == 1
    assert said in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
