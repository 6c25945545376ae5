from __future__ import annotations

import json

import pytest

from linkviz.commands import main
from linkviz.resources import demo_vehicle_paths

WAGON, CRUISER, PICKUP = map(str, demo_vehicle_paths())
Capture = pytest.CaptureFixture[str]


def data(capsys: Capture, *arguments: str) -> dict:  # type: ignore[type-arg]
    assert main([*arguments, "--json"]) == 0
    found: dict = json.loads(capsys.readouterr().out)  # type: ignore[type-arg]
    return found


def test_spacer_in_inches(capsys: Capture) -> None:
    found = data(capsys, "stance", WAGON, "--spacer=2in")
    assert found["from_springs"]
    assert found["lift_mm"] == pytest.approx(51.9, abs=0.1)
    assert found["states"]["now"]["coil"]["spacer"] == pytest.approx(50.8)
    assert found["cautions"]


def test_height_by_hand(capsys: Capture) -> None:
    found = data(capsys, "stance", WAGON, "--spacer=2in", "--lift=100")
    assert not found["from_springs"]
    assert found["lift_mm"] == 100.0


def test_other_springs_load_and_words(capsys: Capture) -> None:
    arguments = ["--springs=heavier", "--load", "cargo=80", "--load=front seats=75", "--front=2in"]
    assert main(["stance", WAGON, *arguments]) == 0
    text = capsys.readouterr().out
    assert "from the springs" in text
    assert "other springs and 155 kg carried always" in text
    assert "headlights aim" in text
    assert "local law" in text


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--springs=feather"], "springs of a heavier wagon"),
        (["--rate=30"], "give both"),
        (["--free-length=400", "--rate=stiff"], "--rate"),
        (["--free-length=400", "--rate=0.1"], "2 to 1000 N/mm"),
        (["--load=roof=50"], "front seats, rear seats, cargo, fuel"),
        (["--load=cargo"], "PLACE=KG"),
        (["--spacer=-10"], "0 to 200 mm"),
    ],
)
def test_refusals(options: list[str], says: str, capsys: Capture) -> None:
    assert main(["stance", WAGON, *options]) == 1
    assert says in capsys.readouterr().err


def test_units(capsys: Capture) -> None:
    assert main(["stance", CRUISER, "--spacer=2in"]) == 0
    assert '2 1/8" higher' in capsys.readouterr().out
