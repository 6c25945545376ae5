"""Checks of the tables for load, the load-sensing brake valve and the brakes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from linkviz.errors import Problem
from linkviz.vehicle.fittings import named
from linkviz.vehicle.model import AxleBrakes, BrakeValve, LoadPlace, ValveLaw
from linkviz.vehicle.wording import Parts, Range, Words, ends, far, short

ALONG: Final = Range(-4000.0, 6000.0)
"""Where load goes, forward of the rear axle, mm."""
HIGH: Final = Range(100.0, 3000.0)
"""Height of load, mm."""
LOAD: Final = Range(1.0, 5000.0)
"""Greatest load in one place, kg."""
ROD: Final = Range(15.0, 800.0)
"""Arm and rod of a brake valve, mm."""
CYLINDER: Final = Range(10.0, 120.0)
"""Bore of a piston or wheel cylinder, mm."""
RADIUS: Final = Range(50.0, 300.0)
"""Effective radius of a disc, inner radius of a drum, mm."""
COUNT: Final = Range(1.0, 6.0)
"""Pistons on one pad or cylinders in one drum."""
FACTOR: Final = {"disc": Range(0.1, 0.8), "drum": Range(0.5, 8.0)}
"""Friction of pads, brake factor of drums."""
PRESSURE: Final = Range(0.0, 20.0)
"""Line pressures, MPa."""
PER_DEG: Final = Range(0.001, 5.0)
"""MPa per deg."""


def check_load_places(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the places where load goes."""
    first: dict[str, str] = {}
    for key, place in parts.items():
        if not isinstance(place, LoadPlace):
            continue
        yield from named(key, place.name, first, "place")
        yield from say.outside(f"{key}.x", place.x, ALONG)
        yield from say.outside(f"{key}.z", place.z, HIGH)
        yield from _outside(f"{key}.most", place.most, LOAD, "kg")


def check_valve(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the brake valve and its law."""
    valve = parts.get("brake_valve")
    if isinstance(valve, BrakeValve):
        for key in ("pivot", "tip", "axle"):
            yield from far(say, f"brake_valve.{key}", getattr(valve, key))
        yield from ends(say, "brake_valve (pivot to tip)", valve.pivot, valve.tip, ROD)
        yield from ends(say, "brake_valve (tip to axle)", valve.tip, valve.axle, ROD)
        (px, _, pz), (tx, _, tz), (ax, _, az) = valve.pivot, valve.tip, valve.axle
        turn = abs((tx - px) * (az - tz) - (tz - pz) * (ax - tx))
        if turn < 0.02 * math.dist(valve.pivot, valve.tip) * math.dist(valve.tip, valve.axle):
            yield Problem(
                "brake_valve",
                "arm and rod in one line, seen from the side",
                "an arm that the rod can turn; measure pivot, tip and axle again",
            )
        elif abs(az - tz) < 1.0:
            yield Problem("brake_valve.axle", "a level rod", "a rod that goes up or down to the axle; measure again")
    law = parts.get("brake_valve.law")
    if isinstance(law, ValveLaw):
        for key in ("knee", "least", "most"):
            yield from _outside(f"brake_valve.law.{key}", getattr(law, key), PRESSURE, "MPa")
        yield from _outside("brake_valve.law.per_deg", law.per_deg, PER_DEG, "MPa per deg")
        if not 0.0 <= law.slope < 1.0:
            yield Problem("brake_valve.law.slope", short(law.slope), "0 to below 1")
        if not law.least <= law.knee <= law.most:
            yield Problem(
                "brake_valve.law.knee",
                f"{short(law.knee)} MPa",
                f"between the least, {short(law.least)} MPa, and the most, {short(law.most)} MPa",
            )


def check_brakes(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the brakes of each axle."""
    for key, brakes in parts.items():
        if not isinstance(brakes, AxleBrakes):
            continue
        yield from say.outside(f"{key}.cylinder", brakes.cylinder, CYLINDER)
        yield from say.outside(f"{key}.radius", brakes.radius, RADIUS)
        yield from _outside(f"{key}.count", brakes.count, COUNT, "")
        yield from _outside(f"{key}.factor", brakes.factor, FACTOR[brakes.kind], f"for a {brakes.kind}")
        yield from _outside(f"{key}.threshold", brakes.threshold, PRESSURE, "MPa")


def _outside(where: str, value: float, allowed: Range, unit: str) -> Iterator[Problem]:
    if not allowed.holds(value):
        yield Problem(where, f"{short(value)} {unit}".strip(), f"{allowed.least:g} to {allowed.most:g} {unit}".strip())
