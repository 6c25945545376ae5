"""How commands write what they say."""

from __future__ import annotations

import json

import numpy as np
import pytest

from linkviz.analysis.bracket.design import design
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Load, Springing
from linkviz.commands import bracket, stance
from linkviz.commands.text import json_text
from linkviz.frozen import Frozen
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

WAGON = str(demo_vehicle_paths()[0])


class Inner(Frozen):
    width: float
    sound: bool


class Outer(Frozen):
    holes: tuple[float, ...]
    inner: Inner | None


def test_what_numpy_makes_is_written_as_plain_json() -> None:
    inner = Inner(np.float64(1.5), np.bool_(True))  # type: ignore[arg-type]
    data = {"one": Outer((np.float64(2.0), np.float64(np.nan)), inner), "many": np.arange(2), "none": Outer((), None)}
    assert json.loads(json_text(data)) == {
        "one": {"holes": [2.0, None], "inner": {"width": 1.5, "sound": True}},
        "many": [0, 1],
        "none": {"holes": [], "inner": None},
    }
    with pytest.raises(NotImplementedError):
        json_text({"what": object()})


def test_a_stance_with_numbers_of_numpy_is_written() -> None:
    springing = Springing(spacer=np.float64(50.8), loads=(Load(place="cargo", mass=np.float64(80.0)),))
    found = json.loads(json_text(stance.as_data(read_vehicle(WAGON), Setup(lift=np.float64(50.0)), springing)))
    assert found["lift_mm"] == found["states"]["now"]["setup"]["lift"] == 50.0
    assert found["states"]["now"]["empty"]["load"] > found["states"]["as built"]["empty"]["load"]


def test_a_bracket_with_numbers_of_numpy_is_written() -> None:
    designed = design(read_vehicle(WAGON), Setup(lift=np.float64(100.0), drop=np.float64(90.0)))
    odd = designed.replace(bracket=designed.bracket.with_holes(np.float64(90.0)))
    found = json.loads(json_text(bracket.as_data(odd)))
    assert found["bracket"]["holes"] == [90.0]
    assert found["drop_within_bounds"] is True
