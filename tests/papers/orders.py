"""Orders of the demo vehicles for the tests of papers. All invented."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

from linkviz.analysis.setup import Setup
from linkviz.bracket.defaults import default_bracket
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket, Joggle
from linkviz.bracket.valve_plate import ValvePlate
from linkviz.papers.heading import Heading
from linkviz.papers.order import Order, order
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.part import values_of
from tests.picture.scenes import demos

SETUP = Setup(lift=100.0, drop=98.0, valve_rise=75.0)


def joggled(vehicle: Vehicle, shift: float = 0.0) -> DropBracket:
    """Return a bracket of two holes with a joggle, its plates set sideways below it if asked."""
    assert vehicle.frame_bracket and vehicle.bar_end
    frame = FrameBracket(**values_of(vehicle.frame_bracket))
    given = default_bracket(frame, BarEnd(**values_of(vehicle.bar_end)), (140.0, 180.0))
    joggle = Joggle(10.0, math.radians(35.0), 12.0, given.anchor + 30.0)
    return given.replace(joggle=joggle, shift=shift)


@lru_cache(maxsize=64)
def order_of(
    which: int = 0,
    unit: Any = "mm",
    paper: Any = "a4",
    kind: str = "plain",
    setup: Setup = SETUP,
) -> Order:
    """Return an order: "plain", "bent" (joggle, mirrored pair, several rises, angled), or "bare" (nothing measured)."""
    vehicle = demos()[which]
    heading = Heading("2026-114", "2026-11-25", "A. Customer, counter", vehicle.name, unit, paper)
    if kind == "bare":
        bare = vehicle.replace(frame_bracket=None, bar_end=None)
        return order(bare, setup, heading)
    if kind == "bent":
        valve = ValvePlate(42.0, (45.0, 60.0, 80.0), "5/16", lean=math.radians(20.0))
        return order(vehicle, setup, heading, joggled(vehicle, 8.0), valve)
    return order(vehicle, setup, heading)
