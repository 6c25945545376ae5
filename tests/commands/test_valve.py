from __future__ import annotations

import json

import pytest

from linkviz.commands import main
from linkviz.resources import demo_vehicle_paths

WAGON, CRUISER, PICKUP = map(str, demo_vehicle_paths())
Capture = pytest.CaptureFixture[str]


def test_data(capsys: Capture) -> None:
    assert main(["valve", WAGON, "--lift=100", "--valve-rise=100", "--holes=80mm,4in", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["rise_needed_mm"] == pytest.approx(101.9, abs=0.1)
    assert found["nearest_hole_mm"] == pytest.approx(101.6)
    states = {(s["state"], s["laden"]): s for s in found["states"]}
    assert len(states) == 6
    lifted = states["lifted", False]
    assert lifted["knee_mpa"] == pytest.approx(0.8)
    assert lifted["locks_first"]["dry"]["axle"] == "front"
    assert 0.5 < lifted["rear_braking_kept"] < 0.6
    assert states["raised", False]["pad_wear"]["front"] == pytest.approx(1.0, abs=0.01)
    half = next(row for row in lifted["balance"] if row["g"] == 0.5)
    assert half["rear_share"] == pytest.approx(0.13, abs=0.01)
    assert lifted["front_first_71_320_m1"]
    assert "kill" in found["cautions"][0]


def test_words(capsys: Capture) -> None:
    assert main(["valve", WAGON, "--lift=4in", "--units=in"]) == 0
    text = capsys.readouterr().out
    assert 'Lifted 4"' in text
    assert "lifted, laden" in text
    assert "licensed mechanic" in " ".join(text.split())
    assert "front pads worn out again and again" in " ".join(text.split())


def test_geometry_alone(capsys: Capture) -> None:
    assert main(["valve", PICKUP, "--lift=100", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["rise_needed_mm"] > 100
    assert found["states"][0]["knee_mpa"] is None
    assert found["missing"]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [([CRUISER], "[brake_valve]"), ([WAGON, "--holes=-3"], "--holes"), ([WAGON, "--valve-rise=x"], "--valve-rise")],
)
def test_refusals(arguments: list[str], says: str, capsys: Capture) -> None:
    assert main(["valve", *arguments]) == 1
    assert says in capsys.readouterr().err
