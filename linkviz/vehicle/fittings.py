"""Checks of the tables for springs, dampers, bump stops, hoses and the slip of the shaft."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from linkviz.errors import Problem
from linkviz.vehicle.model import BumpStops, Coil, Dampers, Driveshaft, Hose, OtherSprings, Slip, Springs
from linkviz.vehicle.wording import ROUNDED, Parts, Range, Words, ends, far, lengths, short

LENGTHS: Final = {
    "driveshaft.slip.extend": Range(0.0, 300.0),
    "driveshaft.slip.compress": Range(0.0, 300.0),
    "springs.free_length": Range(50.0, 1000.0),
    "dampers.shortest": Range(50.0, 1200.0),
    "dampers.longest": Range(60.0, 1500.0),
    "bump_stops.free_height": Range(5.0, 300.0),
}
"""Sensible lengths, mm."""
RATE: Final = Range(2.0, 1000.0)
"""Sensible rates of a coil, N/mm."""
WIRE: Final = Range(5.0, 40.0)
"""Sensible wire of a coil, mm."""
COIL: Final = Range(40.0, 300.0)
"""Sensible mean diameter of a coil, mm."""
TURNS: Final = Range(3.5, 30.0)
"""Sensible number of turns of a coil, two dead ones among them."""
SPRING: Final = Range(40.0, 1000.0)
"""Seat to seat, mm."""
DAMPER: Final = Range(50.0, 1500.0)
"""Eye to eye, mm."""
HOSE: Final = Range(20.0, 3000.0)
"""End to end of a hose and its length, mm."""
STEEPEST_OUTPUT: Final = 30.0
"""Steepest shaft out of a gearbox, deg."""
MIDDLE: Final = 0.01
"""Nearer than this to the middle a left part is not left, mm; rounded in a file, less might be 0."""


def check_slip(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the slip of the shaft and the slope of what drives it."""
    slip = parts.get("driveshaft.slip")
    if isinstance(slip, Slip):
        yield from lengths(say, "driveshaft.slip", slip, LENGTHS)
    shaft = parts.get("driveshaft")
    if isinstance(shaft, Driveshaft):
        angle = shaft.output_angle_deg
        if angle is not None and not abs(angle) <= STEEPEST_OUTPUT:
            yield Problem(
                "driveshaft.output_angle_deg",
                f"{short(angle)} deg",
                f"-{STEEPEST_OUTPUT:g} to {STEEPEST_OUTPUT:g} deg, + when it falls towards the rear",
            )


def check_springs(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the springs."""
    springs = parts.get("springs")
    if not isinstance(springs, Springs):
        return
    yield from _mounted(say, "springs", springs, SPRING)
    yield from _above(say, "springs", springs)
    stands = math.dist(springs.body, springs.axle)
    if springs.free_length <= stands and LENGTHS["springs.free_length"].least <= springs.free_length:
        yield Problem(
            "springs.free_length",
            say.length(springs.free_length),
            f"more than the {say.length(stands)} between its seats: the coil carries the body at design height",
        )
    yield from coil_problems(say, "springs", springs)


def check_other_springs(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the springs that may go in their place."""
    first: dict[str, str] = {}
    for key, coil in parts.items():
        if not isinstance(coil, OtherSprings):
            continue
        yield from named(key, coil.name, first, "springs")
        yield from say.outside(f"{key}.free_length", coil.free_length, LENGTHS["springs.free_length"])
        yield from coil_problems(say, key, coil)


def coil_problems(say: Words, where: str, coil: Coil) -> Iterator[Problem]:
    """Yield what is wrong with the rate of a coil and the wire it is wound from."""
    if coil.rate is not None and not RATE.holds(coil.rate):
        yield Problem(f"{where}.rate", f"{short(coil.rate)} N/mm", f"{RATE.least:g} to {RATE.most:g} N/mm")
    wound = {"wire": coil.wire, "coil": coil.coil, "turns": coil.turns}
    lacking = [key for key, value in wound.items() if value is None]
    if coil.rate is None and lacking:
        yield Problem(
            f"{where}.rate",
            "nothing",
            f"the rate in N/mm, or wire, coil and turns to work it out ({lacking[0]} is missing)",
        )
    if coil.wire is not None:
        yield from say.outside(f"{where}.wire", coil.wire, WIRE)
    if coil.coil is not None:
        yield from say.outside(f"{where}.coil", coil.coil, COIL)
        if coil.wire is not None and coil.coil < 3.0 * coil.wire:
            yield Problem(
                f"{where}.coil", say.length(coil.coil), f"at least three times the wire of {say.length(coil.wire)}"
            )
    if coil.turns is not None and not TURNS.holds(coil.turns):
        yield Problem(f"{where}.turns", short(coil.turns), f"{TURNS.least:g} to {TURNS.most:g}, all turns counted")


def check_dampers(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the dampers."""
    dampers = parts.get("dampers")
    if not isinstance(dampers, Dampers):
        return
    yield from _mounted(say, "dampers", dampers, DAMPER)
    stands = math.dist(dampers.body, dampers.axle)
    if dampers.shortest >= dampers.longest:
        yield Problem(
            "dampers.shortest", say.length(dampers.shortest), f"less than the longest, {say.length(dampers.longest)}"
        )
    elif not Range(dampers.shortest, dampers.longest).holds(stands):
        yield Problem(
            "dampers",
            f"eyes {say.length(stands)} apart at design height",
            f"{say.length(dampers.shortest)} to {say.length(dampers.longest)}, the shortest and the longest given; "
            "measure again",
        )


def check_bump_stops(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the bump stops."""
    stops = parts.get("bump_stops")
    if not isinstance(stops, BumpStops):
        return
    yield from _mounted(say, "bump_stops", stops)
    yield from _above(say, "bump_stops", stops)


def check_hoses(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the hoses."""
    first: dict[str, str] = {}
    for key, hose in parts.items():
        if not isinstance(hose, Hose):
            continue
        yield from named(key, hose.name, first, "hose")
        yield from far(say, f"{key}.body", hose.body)
        yield from far(say, f"{key}.axle", hose.axle)
        yield from ends(say, key, hose.body, hose.axle, HOSE)
        yield from say.outside(f"{key}.length", hose.length, HOSE)
        stands = math.dist(hose.body, hose.axle)
        if hose.length < stands - ROUNDED:
            yield Problem(
                f"{key}.length",
                say.length(hose.length),
                f"at least the {say.length(stands)} between its ends at design height",
            )


def named(key: str, name: str, first: dict[str, str], kind: str) -> Iterator[Problem]:
    """Yield what is wrong with a name that must differ from those before it, and note it."""
    if not name.strip():
        yield Problem(f"{key}.name", "an empty name", "a name to tell it by")
    elif name in first:
        yield Problem(f"{key}.name", f'"{name}", the name of {first[name]} too', f"a name of its own for each {kind}")
    first.setdefault(name, key)


def _mounted(
    say: Words, where: str, part: Springs | Dampers | BumpStops, apart: Range | None = None
) -> Iterator[Problem]:
    """Yield what is wrong with the two ends of a part on the left, how far apart they are, and its lengths."""
    yield from far(say, f"{where}.body", part.body)
    yield from far(say, f"{where}.axle", part.axle)
    if apart is not None:
        yield from ends(say, where, part.body, part.axle, apart)
    yield from lengths(say, where, part, LENGTHS)
    if part.axle[1] < MIDDLE:
        yield Problem(
            f"{where}.axle",
            f"y = {say.length(part.axle[1])}",
            "the left one, y above 0; the right one is its mirror image",
        )


def _above(say: Words, where: str, part: Springs | BumpStops) -> Iterator[Problem]:
    if part.body[2] <= part.axle[2]:
        yield Problem(
            where,
            f"the place on the body at z = {say.length(part.body[2])}, on the axle at {say.length(part.axle[2])}",
            "the one on the body above the one on the axle; z is above the ground",
        )
