from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from linkviz.commands import main
from linkviz.commands.sweep import COLUMNS, MORE
from linkviz.resources import demo_vehicle_paths

WAGON = str(demo_vehicle_paths()[0])
Capture = pytest.CaptureFixture[str]


def test_check_good_files(capsys: Capture) -> None:
    assert main(["check", *map(str, demo_vehicle_paths())]) == 0
    out = capsys.readouterr()
    assert out.out.count(": good (") == 3
    assert out.err == ""


def spoilt(tmp_path: Path, old: str, new: str) -> str:
    text = Path(WAGON).read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "spoilt.vehicle.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return str(path)


BAD = [
    ("centre = [0.0, 0.0, 370.0]", "centre = [0.0, nan, 370.0]", "axle.centre"),
    ("frame = [-130.0, -440.0, 523.0]\n", "", "links.lateral_bar.frame"),
    ("track = 1480.0", "track = 10.0", "axle.track"),
    ('units = "mm"', 'units = "in"', "axle"),
    (
        "rear = [[-94.0, 225.0], [-94.0, 520.0],",
        "rear = [[-94.0, 520.0], [-285.0, 300.0], [-94.0, 225.0],",
        "envelopes",
    ),
    ("track = 1480.0", 'track = "wide"', "axle.track"),
    ("[axle]", "[axel]", "axel"),
    ("radius = 38.0", "radius = 38.0\ncolour = 3", "driveshaft.colour"),
]


@pytest.mark.parametrize(("old", "new", "where"), BAD)
def test_check_says_where(old: str, new: str, where: str, tmp_path: Path, capsys: Capture) -> None:
    path = spoilt(tmp_path, old, new)
    before = Path(path).read_bytes()
    assert main(["check", path]) == 1
    err = capsys.readouterr().err
    assert where in err
    assert "expected" in err
    assert "Traceback" not in err
    assert Path(path).read_bytes() == before


def test_check_tells_all_files(tmp_path: Path, capsys: Capture) -> None:
    assert main(["check", WAGON, str(tmp_path / "none.toml"), str(tmp_path)]) == 1
    out = capsys.readouterr()
    assert "good" in out.out
    assert out.err.count("expected") == 2


def test_check_notes_travel_that_is_not_reached(tmp_path: Path, capsys: Capture) -> None:
    path = spoilt(tmp_path, "rebound = 90.0", "rebound = 320.0")
    code = main(["check", path])
    out = capsys.readouterr()
    assert ("does not get to" in out.out and code == 0) or (code == 1 and "travel.rebound" in out.err)


def test_sweep_csv(capsys: Capture) -> None:
    assert main(["sweep", WAGON, "--travel=-100:100:50", "--roll=0,3", "--lift=4in", "--drop=3 1/2in"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert tuple(rows[0])[: len(COLUMNS)] == COLUMNS
    assert len(rows) == 10
    assert [float(r["heave_mm"]) for r in rows[:5]] == pytest.approx([-201.6, -151.6, -101.6, -51.6, -1.6])
    assert {r["roll_deg"] for r in rows} == {"0.0", "3.0"}
    assert {r["reached"] for r in rows} == {"true"}


def test_sweep_has_every_quantity_behind_the_fixed_columns(capsys: Capture) -> None:
    assert main(["sweep", WAGON, "--travel=-40mm,0mm", "--lift=4in", "--format=json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert tuple(rows[0]) == (*COLUMNS, *(q.column for q in MORE))
    assert all(value is not None for value in rows[1].values())
    assert rows[1]["wheelbase_change_mm"] == -rows[1]["x_mm"]
    assert rows[1]["sway_mm"] == 0.0
    assert rows[1]["lower_left_force_n"] != 0.0


def test_sweep_with_a_limit_of_force(capsys: Capture) -> None:
    found = []
    for limit in ("6 kN", "12000"):
        assert main(["sweep", WAGON, "--travel=-60", "--lift=4in", "--roll=0,3", f"--force-limit={limit}"]) == 0
        rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
        assert list(rows[0])[-1] == "free_articulation_deg"
        assert rows[0]["free_articulation_deg"] == rows[1]["free_articulation_deg"]
        found.append(float(rows[0]["free_articulation_deg"]))
    assert 0 < found[0] < found[1]
    assert main(["sweep", WAGON, "--force-limit=-3"]) == 1
    assert "--force-limit" in capsys.readouterr().err


def test_sweep_of_a_bare_file_leaves_columns_empty(tmp_path: Path, capsys: Capture) -> None:
    text = Path(WAGON).read_text(encoding="utf-8")
    path = tmp_path / "bare.vehicle.toml"
    path.write_text(text[: text.index("[driveshaft]")], encoding="utf-8")
    assert main(["sweep", str(path), "--travel=0"]) == 0
    row = next(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert row["slip_mm"] == row["anti_squat_percent"] == row["gap_mm"] == row["hose_slack_mm"] == ""
    assert row["roll_steer_percent"] != ""


def test_explain(capsys: Capture) -> None:
    assert main(["explain", WAGON, "--lift=4in", "--drop=3 7/8in", "--units=in"]) == 0
    out = capsys.readouterr().out
    assert "Harbour Wagon (invented)" in out
    assert "gives the bar back the angle" in out
    for words in ("as built", "lifted", "corrected", "Anti-squat", "Roll steer", "local law", '4"'):
        assert words in out
    assert " mm" not in out


def test_explain_says_what_the_file_does_not_tell(tmp_path: Path, capsys: Capture) -> None:
    text = Path(WAGON).read_text(encoding="utf-8")
    path = tmp_path / "bare.vehicle.toml"
    path.write_text(text[: text.index("[driveshaft]")], encoding="utf-8")
    assert main(["explain", str(path)]) == 0
    out = capsys.readouterr().out
    assert "Not told: Anti-squat, Static stability factor. Find wheelbase" in " ".join(out.split())
    assert "nan" not in out
    assert main(["explain", str(path), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    kinds = {q["key"]: q for q in data["quantities"]}
    assert "[mass] of the file" in kinds["anti_squat"]["missing"]
    assert kinds["bar_angle"]["at_rest"]["as built"] == pytest.approx(5.449, abs=0.01)
    assert data["sentences"] and data["cautions"]


def test_sweep_beyond_the_links(capsys: Capture) -> None:
    assert main(["sweep", WAGON, "--travel=-350:0:350", "--format=json"]) == 0
    out = capsys.readouterr()
    rows = json.loads(out.out)
    assert [row["reached"] for row in rows] == [False, True]
    assert rows[0]["y_mm"] is None
    assert "1 of 2 states are not reached: the upper links" in out.err


def test_sweep_to_a_file(tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "rows.csv"
    assert main(["sweep", WAGON, "--out", str(out)]) == 0
    assert capsys.readouterr().out == ""
    assert len(out.read_text().splitlines()) == 42


@pytest.mark.parametrize(
    ("options", "code", "says"),
    [
        (["--lift=nan"], 1, "--lift"),
        (["--lift=-20"], 1, "0 or more"),
        (["--drop=3 furlongs"], 1, "--drop"),
        (["--travel=5"], 0, ""),
        (["--travel=100:-100:5"], 1, "A below B"),
        (["--travel=0:100:0"], 1, "step above 0"),
        (["--travel=-500:500:0.0001"], 1, "states"),
        (["--roll=90"], 1, "30 deg"),
        (["--roll=0,x"], 1, "--roll"),
        (["--roll=0;2,5"], 0, ""),
        (["--roll=0,3"], 0, ""),
        (
            ["--roll=2,5"],
            1,
            "--roll: '2,5' may mean two lists: its comma stands between numbers or in one. Write 2.5 for",
        ),
        (["--roll=2.0,5.0"], 0, ""),
        (["--travel=12,5"], 1, "Write 12.5 for one number, or 12.0,5.0 for two."),
        (["--travel=1,250"], 1, "Write 1250 or 1.25 for one number, or 1.0,250.0 for two."),
        (["--roll=2,5, 3"], 1, "--roll: '2,5, 3' may mean two lists"),
        (["--travel=1,000"], 1, "--travel: '1,000' may mean two lists"),
        (["--lift=1,000"], 1, "--lift: '1,000' may mean two numbers. Write 1000 or 1.0."),
        (["--lift=12,5"], 0, ""),
        (["--force-limit=10,000"], 1, "--force-limit: '10,000' may mean two numbers. Write 10000 or 10.0."),
        (["--format=xml"], 2, "invalid choice"),
        (["--fast"], 2, "unrecognized"),
    ],
)
def test_sweep_values(options: list[str], code: int, says: str, capsys: Capture) -> None:
    assert main(["sweep", WAGON, *options]) == code
    assert says in capsys.readouterr().err


def test_sweep_of_another_format(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "holiday.jpg"
    path.write_bytes(b"\xff\xd8\xff\xe0" + bytes(range(256)))
    assert main(["sweep", str(path)]) == 1
    assert "vehicle file" in capsys.readouterr().err


@pytest.mark.parametrize("kind", ["png", "svg", "gif"])
def test_picture(kind: str, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("linkviz.picture.scenes.FRAMES", 4)
    out = tmp_path / f"axle.{kind}"
    arguments = ["picture", WAGON, "--out", str(out), "--lift=100", "--size=640x360", "--travel=-40"]
    assert main(arguments) == 0
    assert str(out) in capsys.readouterr().out
    data = out.read_bytes()
    starts = {"png": b"\x89PNG", "gif": b"GIF8", "svg": b"<"}
    assert data.startswith(starts[kind])
    if kind == "svg":
        assert ET.fromstring(data.decode()).tag.endswith("svg")


@pytest.mark.parametrize(
    ("options", "says"),
    [(["--out=a.bmp"], ".png"), (["--out=a.png", "--size=big"], "--size"), (["--out=/nowhere/at/all.svg"], "folder")],
)
def test_picture_refusals(options: list[str], says: str, capsys: Capture) -> None:
    assert main(["picture", WAGON, *options]) == 1
    assert says in capsys.readouterr().err


def test_sheet_there_and_back(tmp_path: Path, capsys: Capture) -> None:
    assert main(["sheet", "--units=in"]) == 0
    empty = capsys.readouterr().out
    path = tmp_path / "sheet.csv"
    path.write_text(empty, encoding="utf-8")
    assert main(["sheet", str(path)]) == 1
    err = capsys.readouterr().err
    assert "lateral bar" in err
    assert "Traceback" not in err


def test_usage(capsys: Capture) -> None:
    assert main(["--version"]) == 0
    assert main(["--help"]) == 0
    assert main(["sweep"]) == 2
    assert main(["--nonsense"]) == 2
    assert "usage" in capsys.readouterr().err


def run_bare(arguments: list[str], cwd: Path) -> subprocess.CompletedProcess[str]:
    code = "import sys; from linkviz.commands import main; sys.exit(main())"
    env = {"PATH": "/usr/bin:/bin", "PYTHONPATH": str(Path(__file__).resolve().parents[2]), "HOME": str(cwd)}
    return subprocess.run(
        [sys.executable, "-c", code, *arguments], cwd=cwd, env=env, capture_output=True, text=True, timeout=100
    )


def test_bare_command_without_a_screen(tmp_path: Path) -> None:
    done = run_bare([], tmp_path)
    assert done.returncode == 0, done.stderr
    assert "Harbour Wagon (invented)" in done.stdout
    assert "touches" in done.stdout
    assert "needs a screen" in done.stdout
    assert "local law" in done.stdout
    pictures = list(tmp_path.glob("*-lifted.*"))
    assert len(pictures) == 1
    assert pictures[0].stat().st_size > 5000


def test_bare_command_on_a_bad_file(tmp_path: Path) -> None:
    done = run_bare(["nothing.toml"], tmp_path)
    assert done.returncode == 1
    assert "nothing.toml" in done.stderr
    assert "Traceback" not in done.stderr


def test_closed_pipe_is_no_error(tmp_path: Path) -> None:
    code = "import sys; from linkviz.commands import main; sys.exit(main())"
    command = f"'{sys.executable}' -c '{code}' sweep '{WAGON}' --travel=-100:100:0.01 | head -1"
    env = {"PATH": "/usr/bin:/bin", "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
    done = subprocess.run(command, shell=True, env=env, capture_output=True, text=True, timeout=100)
    assert "travel_mm" in done.stdout
    assert "Traceback" not in done.stderr


def test_an_empty_sheet_makes_no_vehicle(tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "a.vehicle.toml"
    assert main(["sheet", "--out", str(out)]) == 1
    said = capsys.readouterr()
    assert "--out" in said.err and not said.out and not out.exists()
