from __future__ import annotations

import json

import pytest

from linkviz.commands import main
from linkviz.resources import demo_vehicle_paths

FILE = str(demo_vehicle_paths()[0])


def test_text(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["clearance", FILE, "--lift=100", "--drop=90", "--units=mm"]) == 0
    said = capsys.readouterr().out
    for words in (
        "lateral bar to housing",
        "of rebound are left before",
        "95 % confidence",
        "Not measured",
        "licensed mechanic",
    ):
        assert words in said.replace("\n", " ")


def test_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["clearance", FILE, "--lift=4in", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    shaft = next(p for p in found["pairs"] if (p["one"], p["other"]) == ("driveshaft", "fuel tank"))
    assert shaft["gap_mm"] < 0 and shaft["sign"] == "hit"
    assert found["travel_left"]["down"]["travel_mm"] < 0
    assert found["clearing_drop"]["with_95_percent_mm"] > found["clearing_drop"]["as_measured_mm"] > 50
    assert "bar_radius" in found["sizes_not_measured"]


def test_explain_tells_it_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", FILE, "--lift=100", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["clearance"]["pairs"]) > 15
    assert main(["explain", FILE, "--lift=100"]) == 0
    assert "How near the parts come" in capsys.readouterr().out


def test_what_is_swept_is_written(tmp_path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "zone.dxf"
    assert main(["clearance", FILE, "--lift=100", "--swept=driveshaft", f"--out={out}"]) == 0
    assert "fuel tank touched, side view" in capsys.readouterr().out
    assert out.stat().st_size > 1000
    assert main(["clearance", FILE, "--swept=driveshafts", f"--out={out}"]) != 0
    assert "expected one of driveshaft" in capsys.readouterr().err
    assert main(["clearance", FILE, "--swept=driveshaft"]) != 0
