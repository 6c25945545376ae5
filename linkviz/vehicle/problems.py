"""Does a vehicle make sense? Every check of values, for files and for edits in the window alike.

Each check looks at one kind of part and yields what is wrong. To check a new table, write such a function and
add it to `CHECKS`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Final, NamedTuple

from linkviz.conventions import MM_PER_INCH
from linkviz.errors import Problem
from linkviz.units import Unit, from_mm
from linkviz.vehicle import outlines
from linkviz.vehicle.model import (
    Axle,
    Driveshaft,
    Envelope,
    Link,
    Mass,
    Measuring,
    Outline,
    Part,
    Point,
    Travel,
    Vehicle,
)
from linkviz.vehicle.points import PAIRS, POINTS, nearest, words

Parts = Mapping[str, Part]
"""The parts that are whole, by dotted key (``axle``, ``links.lower_left``, ``envelopes[0]``)."""

LEAST_HEIGHT = 0.1
"""Least height the outlines of an envelope must share to make a solid, mm."""


class Range(NamedTuple):
    """The least and the most a value can sensibly be, in engine units."""

    least: float
    most: float


LENGTHS: Final = {
    "axle.track": Range(800.0, 2600.0),
    "axle.tyre_radius": Range(200.0, 900.0),
    "axle.tyre_width": Range(80.0, 700.0),
    "driveshaft.radius": Range(10.0, 150.0),
    "mass.wheelbase": Range(1200.0, 7000.0),
    "mass.cg_height": Range(150.0, 2500.0),
    "travel.jounce": Range(0.0, 500.0),
    "travel.rebound": Range(0.0, 500.0),
    "measuring.u": Range(0.0, 100.0),
}
"""Sensible lengths, mm."""

MASSES: Final = {"mass.total": Range(200.0, 15000.0), "mass.rear_axle": Range(50.0, 8000.0)}
"""Sensible masses, kg."""

FARTHEST: Final = (6000.0, 2000.0, 3000.0)
"""No point of a vehicle is farther from the origin than this along x, y, z, mm."""
FARTHEST_CENTRE: Final = (1000.0, 300.0, 1200.0)
"""The same for the axle centre: the origin is under it, mm."""
LINK_LENGTH: Final = Range(30.0, 3000.0)
"""Lengths of links, mm."""
SHAFT_LENGTH: Final = Range(100.0, 4000.0)
"""Lengths of driveshafts, mm."""
STIFFNESS: Final = Range(1.0, 1.0e6)
"""Stiffness of a link with its bushings, N/mm."""
MOST_MARGIN: Final = 300.0
"""Most clearance anyone asks for, mm."""
STEEPEST_PINION: Final = 45.0
"""Steepest pinion, deg."""
LONGEST_NAME: Final = 200
"""Longest name, characters."""


class Words:
    """Writes lengths the way the file does, and guesses at a mistaken unit.

    Parameters
    ----------
    units : {"mm", "in"}
        Unit of the file.
    """

    def __init__(self, units: Unit) -> None:
        self.units = units

    def length(self, mm: float) -> str:
        """Return a length in the unit of the file, and in mm beside it if that is inches."""
        if self.units == "mm":
            return f"{_short(mm)} mm"
        return f"{_short(from_mm(mm, 'in'))} in ({_short(mm)} mm)"

    def span(self, allowed: Range) -> str:
        """Return a range of lengths in the unit of the file."""
        least, most = (_short(from_mm(v, self.units), 3) for v in allowed)
        return f"{least} to {most} {self.units}"

    def place(self, point: tuple[float, ...]) -> str:
        """Return a point in the unit of the file."""
        return f"[{', '.join(_short(from_mm(v, self.units)) for v in point)}] {self.units}"

    def outside(self, where: str, mm: float, allowed: Range) -> Iterator[Problem]:
        """Yield the problem of a length outside its range, with a hint at inches taken for mm."""
        if allowed.least <= mm <= allowed.most:
            return
        expected = f"{self.span(allowed)}; measure it again{self._mistaken(mm, allowed)}"
        yield Problem(where, self.length(mm), expected)

    def _mistaken(self, mm: float, allowed: Range) -> str:
        if allowed.least <= 0 or mm <= 0:
            return ""
        typed = from_mm(mm, self.units)
        other: Unit = "in" if self.units == "mm" else "mm"
        as_other = typed * MM_PER_INCH if other == "in" else typed
        if allowed.least <= as_other <= allowed.most:
            long = "inches" if other == "in" else "millimetres"
            return f', or, if the lengths in this file are {long}, write units = "{other}"'
        return f', or check units = "{self.units}" (is the file in {"inches" if other == "in" else "millimetres"}?)'


def problems_of(vehicle: Vehicle) -> list[Problem]:
    """Return everything about a vehicle that makes no sense.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle, also one that has just been edited.

    Returns
    -------
    list of Problem
        Empty for a sound vehicle. ``where`` is the dotted key of the vehicle file; lengths are worded in the
        unit the vehicle declares.
    """
    parts: dict[str, Part] = {"axle": vehicle.axle, "travel": vehicle.travel, "measuring": vehicle.measuring}
    parts |= {f"links.{name}": link for name, link in vehicle.links}
    if vehicle.driveshaft is not None:
        parts["driveshaft"] = vehicle.driveshaft
    parts |= {f"envelopes[{i}]": envelope for i, envelope in enumerate(vehicle.envelopes)}
    if vehicle.mass is not None:
        parts["mass"] = vehicle.mass
    return [*name_problems("name", vehicle.name), *part_problems(parts, vehicle.units)]


def part_problems(parts: Parts, units: Unit) -> list[Problem]:
    """Return what is wrong with the parts there are; a missing one is not this function's matter."""
    say = Words(units)
    return [problem for check in CHECKS for problem in check(parts, say)]


def name_problems(where: str, name: str) -> Iterator[Problem]:
    """Yield what is wrong with a name."""
    if not name.strip():
        yield Problem(where, "an empty name", "a name to tell it by")
    elif len(name) > LONGEST_NAME:
        yield Problem(where, f"a name of {len(name)} characters", f"at most {LONGEST_NAME} characters")


def _check_axle(parts: Parts, say: Words) -> Iterator[Problem]:
    axle = parts.get("axle")
    if isinstance(axle, Axle):
        yield from _far(say, "axle.centre", axle.centre, FARTHEST_CENTRE)
        yield from _lengths(say, "axle", axle)
        if abs(axle.pinion_angle_deg) > STEEPEST_PINION:
            yield Problem(
                "axle.pinion_angle_deg",
                f"{_short(axle.pinion_angle_deg)} deg",
                f"-{STEEPEST_PINION:g} to {STEEPEST_PINION:g} deg, nose up +",
            )


def _check_links(parts: Parts, say: Words) -> Iterator[Problem]:
    links = {key.removeprefix("links."): part for key, part in parts.items() if isinstance(part, Link)}
    for name, link in links.items():
        yield from _far(say, f"links.{name}.frame", link.frame)
        yield from _far(say, f"links.{name}.axle", link.axle)
        yield from _ends(say, f"links.{name}", link.frame, link.axle, LINK_LENGTH)
        if link.stiffness is not None and not STIFFNESS.least <= link.stiffness <= STIFFNESS.most:
            yield Problem(
                f"links.{name}.stiffness",
                f"{_short(link.stiffness)} N/mm",
                f"{STIFFNESS.least:g} to {STIFFNESS.most:.0f} N/mm; leave the key out for the usual value",
            )
    for left, right in PAIRS:
        if left in links and right in links:
            one, other = links[left], links[right]
            if one.frame[1] < other.frame[1] and one.axle[1] < other.axle[1]:
                yield Problem(
                    f"links.{left}",
                    f"both ends to the right of links.{right}",
                    "the left link on the left: y is + to the left; exchange the two links or change the signs of y",
                )


def _check_driveshaft(parts: Parts, say: Words) -> Iterator[Problem]:
    shaft = parts.get("driveshaft")
    if isinstance(shaft, Driveshaft):
        yield from _far(say, "driveshaft.front_joint", shaft.front_joint)
        yield from _far(say, "driveshaft.pinion_joint", shaft.pinion_joint)
        yield from _ends(say, "driveshaft", shaft.front_joint, shaft.pinion_joint, SHAFT_LENGTH)
        yield from _lengths(say, "driveshaft", shaft)


def _check_envelopes(parts: Parts, say: Words) -> Iterator[Problem]:
    first: dict[str, str] = {}
    for key, envelope in parts.items():
        if not isinstance(envelope, Envelope):
            continue
        yield from name_problems(f"{key}.name", envelope.name)
        if envelope.name in first:
            yield Problem(
                f"{key}.name",
                f'"{envelope.name}", the name of {first[envelope.name]} too',
                "a name of its own for each envelope",
            )
        first.setdefault(envelope.name, key)
        if not 0 <= envelope.margin <= MOST_MARGIN:
            yield Problem(f"{key}.margin", say.length(envelope.margin), say.span(Range(0.0, MOST_MARGIN)))
        sound = True
        for view in ("rear", "side"):
            for problem in outline_problems(say, f"{key}.{view}", getattr(envelope, view)):
                sound = False
                yield problem
        if sound and outlines.shared_height(envelope.rear, envelope.side) < LEAST_HEIGHT:
            yield Problem(
                key,
                f"rear outline {_heights(say, envelope.rear)} and side outline {_heights(say, envelope.side)}",
                "outlines that share some height z: the solid is what lies inside both; correct one of them",
            )


def outline_problems(say: Words, where: str, outline: Outline) -> Iterator[Problem]:
    """Yield the first thing that is wrong with one outline; the later checks need the earlier ones to hold."""
    if len(outline) > outlines.MOST_CORNERS:
        yield Problem(where, f"{len(outline)} corners", f"at most {outlines.MOST_CORNERS} corners")
        return
    for index, (across, z) in enumerate(outline):
        far = (FARTHEST[1] if where.endswith("rear") else FARTHEST[0], FARTHEST[2])
        if abs(across) > far[0] or abs(z) > far[1]:
            yield Problem(
                f"{where}[{index}]", say.place((across, z)), f"within {say.place(far)} of the origin; check the units"
            )
            return
    if (twice := outlines.doubled_corner(outline)) is not None:
        yield Problem(
            f"{where}[{twice}]",
            f"the corner {say.place(outline[twice])} twice in a row",
            "each corner once; the last corner joins the first by itself",
        )
    elif (meeting := outlines.crossing(outline)) is not None:
        one, other, place = meeting
        yield Problem(
            where,
            f"an outline that crosses itself at {say.place(place)}, edge {one + 1} with edge {other + 1}",
            "corners in order around the outline; move or exchange the corners there",
        )
    elif abs(outlines.area(outline)) < outlines.LEAST_AREA:
        yield Problem(where, "an outline without area", "corners that are not all on one line")


def _check_mass(parts: Parts, say: Words) -> Iterator[Problem]:
    mass = parts.get("mass")
    if isinstance(mass, Mass):
        yield from _lengths(say, "mass", mass)
        for key, allowed in MASSES.items():
            value = getattr(mass, key.removeprefix("mass."))
            if not allowed.least <= value <= allowed.most:
                yield Problem(key, f"{_short(value)} kg", f"{allowed.least:g} to {allowed.most:g} kg")
        if mass.rear_axle >= mass.total > 0:
            yield Problem(
                "mass.rear_axle",
                f"{_short(mass.rear_axle)} kg, not less than the total of {_short(mass.total)} kg",
                "the part of the total that stands on the rear axle",
            )


def _check_travel(parts: Parts, say: Words) -> Iterator[Problem]:
    travel = parts.get("travel")
    if isinstance(travel, Travel):
        yield from _lengths(say, "travel", travel)


def _check_measuring(parts: Parts, say: Words) -> Iterator[Problem]:
    measuring = parts.get("measuring")
    if isinstance(measuring, Measuring):
        yield from _lengths(say, "measuring", measuring)
        for name, u in measuring.points:
            where = f'measuring.points."{name}"'
            if name not in POINTS:
                near = nearest(name, list(POINTS))
                hint = f'"{near}", if that is meant' if near else f"one of {', '.join(POINTS)}"
                yield Problem(where, f'the unknown point "{name}"', hint)
            yield from say.outside(where, u, LENGTHS["measuring.u"])


CHECKS: Final[tuple[Callable[[Parts, Words], Iterator[Problem]], ...]] = (
    _check_axle,
    _check_links,
    _check_driveshaft,
    _check_envelopes,
    _check_mass,
    _check_travel,
    _check_measuring,
)
"""All checks of values, in the order of a file."""


def _lengths(say: Words, where: str, part: Part) -> Iterator[Problem]:
    for key, allowed in LENGTHS.items():
        table, name = key.split(".")
        if table == where:
            yield from say.outside(key, getattr(part, name), allowed)


def _far(say: Words, where: str, point: Point, farthest: Point = FARTHEST) -> Iterator[Problem]:
    if any(abs(v) > most for v, most in zip(point, farthest, strict=True)):
        yield Problem(
            where,
            say.place(point),
            f"{words(where)} within {say.place(farthest)} of the origin, which is on the ground under the axle "
            "centre; check the point and the units",
        )


def _ends(say: Words, where: str, one: Point, other: Point, allowed: Range) -> Iterator[Problem]:
    length = math.dist(one, other)
    if not allowed.least <= length <= allowed.most:
        yield Problem(
            where,
            f"ends {say.length(length)} apart",
            f"{say.span(allowed)} from end to end; check both ends and the units",
        )


def _heights(say: Words, outline: Outline) -> str:
    heights = [from_mm(z, say.units) for _, z in outline]
    return f"from z = {_short(min(heights))} to {_short(max(heights))} {say.units}"


def _short(value: float, digits: int = 6) -> str:
    text = f"{value:.{digits}g}"
    return f"{float(text):.0f}" if "e" in text and abs(value) < 1e9 and abs(value) >= 1 else text
