"""Does a vehicle make sense? Every check of values, for files and for edits in the window alike.

Each check looks at one kind of part and yields what is wrong. To check a new table, write such a function and
add it to `CHECKS`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import Final

from linkviz.errors import Problem
from linkviz.vehicle import bar_mount, braking, fittings, outlines
from linkviz.vehicle.model import (
    Axle,
    Driveshaft,
    Envelope,
    Link,
    Mass,
    Measuring,
    Outline,
    Travel,
    Vehicle,
)
from linkviz.vehicle.part import Part, values_of
from linkviz.vehicle.points import FITTING_POINTS, PAIRS, POINTS, nearest
from linkviz.vehicle.texts import line_problems, lines_problems, text_problems
from linkviz.vehicle.watching import MARGIN, PART_NAMES, check_pairs, check_sizes
from linkviz.vehicle.wording import FARTHEST, Parts, Range, Words, ends, far, heights, lengths, short

LEAST_HEIGHT = 0.1
"""Least height the outlines of an envelope must share to make a solid, mm."""


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

MOST: Final = {"envelopes": 40, "hoses": 40, "other_springs": 200, "load_places": 40, "pairs": 400}
"""No vehicle has more of these."""

OPTIONAL: Final = (
    "springs", "dampers", "bump_stops", "mass", "frame_bracket", "bar_end", "brake_valve", "brakes", "sizes",
)  # fmt: skip
"""Tables that stand by themselves and may be left out."""
FARTHEST_CENTRE: Final = (1000.0, 300.0, 1200.0)
"""The same for the axle centre: the origin is under it, mm."""
LINK_LENGTH: Final = Range(30.0, 3000.0)
"""Lengths of links, mm."""
SHAFT_LENGTH: Final = Range(100.0, 4000.0)
"""Lengths of driveshafts, mm."""
STIFFNESS: Final = Range(1.0, 1.0e6)
"""Stiffness of a link with its bushings, N/mm."""
STEEPEST_PINION: Final = 45.0
"""Steepest pinion, deg."""


def problems_of(vehicle: Vehicle, say: Words | None = None) -> list[Problem]:
    """Return everything about a vehicle that makes no sense.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle, also one that has just been edited.
    say : Words or None
        How lengths are worded; None words them as those of a file in the unit the vehicle declares.

    Returns
    -------
    list of Problem
        Empty for a sound vehicle. ``where`` is the dotted key of the vehicle file; lengths are worded in the
        unit the vehicle declares.
    """
    parts: dict[str, Part] = {"axle": vehicle.axle, "travel": vehicle.travel, "measuring": vehicle.measuring}
    parts |= {f"links.{name}": link for name, link in values_of(vehicle.links).items()}
    if vehicle.driveshaft is not None:
        parts["driveshaft"] = vehicle.driveshaft
        if vehicle.driveshaft.slip is not None:
            parts["driveshaft.slip"] = vehicle.driveshaft.slip
    parts |= {f"envelopes[{i}]": envelope for i, envelope in enumerate(vehicle.envelopes)}
    parts |= {f"hoses[{i}]": hose for i, hose in enumerate(vehicle.hoses)}
    parts |= {f"other_springs[{i}]": coil for i, coil in enumerate(vehicle.other_springs)}
    parts |= {f"load_places[{i}]": place for i, place in enumerate(vehicle.load_places)}
    parts |= {f"pairs[{i}]": pair for i, pair in enumerate(vehicle.pairs)}
    for key in OPTIONAL:
        if (part := getattr(vehicle, key)) is not None:
            parts[key] = part
    if vehicle.brake_valve is not None and vehicle.brake_valve.law is not None:
        parts["brake_valve.law"] = vehicle.brake_valve.law
    if vehicle.brakes is not None:
        parts |= {"brakes.front": vehicle.brakes.front, "brakes.rear": vehicle.brakes.rear}
    return [
        *name_problems("name", vehicle.name),
        *line_problems("name", vehicle.name),
        *lines_problems("note", vehicle.note),
        *part_problems(parts, say or Words(vehicle.units)),
    ]


def part_problems(parts: Parts, say: Words) -> list[Problem]:
    """Return what is wrong with the parts there are; a missing one is not this function's matter."""
    return [problem for check in CHECKS for problem in check(parts, say)]


def name_problems(where: str, name: str) -> Iterator[Problem]:
    """Yield what is wrong with a name that is needed."""
    if not name.strip():
        yield Problem(where, "an empty name", "a name to tell it by")


def _check_axle(parts: Parts, say: Words) -> Iterator[Problem]:
    axle = parts.get("axle")
    if isinstance(axle, Axle):
        yield from far(say, "axle.centre", axle.centre, FARTHEST_CENTRE)
        yield from lengths(say, "axle", axle, LENGTHS)
        if abs(axle.pinion_angle_deg) > STEEPEST_PINION:
            yield Problem(
                "axle.pinion_angle_deg",
                f"{short(axle.pinion_angle_deg)} deg",
                f"-{STEEPEST_PINION:g} to {STEEPEST_PINION:g} deg, nose up +",
            )


def _check_links(parts: Parts, say: Words) -> Iterator[Problem]:
    links = {key.removeprefix("links."): part for key, part in parts.items() if isinstance(part, Link)}
    for name, link in links.items():
        yield from far(say, f"links.{name}.frame", link.frame)
        yield from far(say, f"links.{name}.axle", link.axle)
        yield from ends(say, f"links.{name}", link.frame, link.axle, LINK_LENGTH)
        if link.stiffness is not None and not STIFFNESS.holds(link.stiffness):
            yield Problem(
                f"links.{name}.stiffness",
                f"{short(link.stiffness)} N/mm",
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
        yield from far(say, "driveshaft.front_joint", shaft.front_joint)
        yield from far(say, "driveshaft.pinion_joint", shaft.pinion_joint)
        yield from ends(say, "driveshaft", shaft.front_joint, shaft.pinion_joint, SHAFT_LENGTH)
        yield from lengths(say, "driveshaft", shaft, LENGTHS)


def _check_envelopes(parts: Parts, say: Words) -> Iterator[Problem]:
    first: dict[str, str] = {}
    for key, envelope in parts.items():
        if not isinstance(envelope, Envelope):
            continue
        yield from fittings.named(key, envelope.name, first, "envelope")
        if envelope.name in PART_NAMES:
            yield Problem(
                f"{key}.name",
                f'"{envelope.name}", the name of a part that moves',
                "another name: by this one the two could not be told apart, and the envelope would not be watched",
            )
        if not MARGIN.holds(envelope.margin):
            yield Problem(f"{key}.margin", say.length(envelope.margin), say.span(MARGIN))
        sound = True
        for view in ("rear", "side"):
            for problem in outline_problems(say, f"{key}.{view}", getattr(envelope, view)):
                sound = False
                yield problem
        if sound and outlines.shared_height(envelope.rear, envelope.side) < LEAST_HEIGHT:
            yield Problem(
                key,
                f"rear outline {heights(say, envelope.rear)} and side outline {heights(say, envelope.side)}",
                "outlines that share some height z: the solid is what lies inside both; correct one of them",
            )


def outline_problems(say: Words, where: str, outline: Outline) -> Iterator[Problem]:
    """Yield the first thing that is wrong with one outline; the later checks need the earlier ones to hold."""
    if len(outline) > outlines.MOST_CORNERS:
        yield Problem(where, f"{len(outline)} corners", f"at most {outlines.MOST_CORNERS} corners")
        return
    for index, (across, z) in enumerate(outline):
        most = (FARTHEST[1] if where.endswith("rear") else FARTHEST[0], FARTHEST[2])
        if not all(Range(-far, far).holds(at) for at, far in zip((across, z), most, strict=True)):
            yield Problem(
                f"{where}[{index}]", say.place((across, z)), f"within {say.place(most)} of the origin; check the units"
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
        yield from lengths(say, "mass", mass, LENGTHS)
        for key, allowed in MASSES.items():
            value = getattr(mass, key.removeprefix("mass."))
            if not allowed.holds(value):
                yield Problem(key, f"{short(value)} kg", f"{allowed.least:g} to {allowed.most:g} kg")
        if mass.rear_axle >= mass.total > 0:
            yield Problem(
                "mass.rear_axle",
                f"{short(mass.rear_axle)} kg, not less than the total of {short(mass.total)} kg",
                "the part of the total that stands on the rear axle",
            )


def _check_travel(parts: Parts, say: Words) -> Iterator[Problem]:
    travel = parts.get("travel")
    if isinstance(travel, Travel):
        yield from lengths(say, "travel", travel, LENGTHS)


def _check_counts(parts: Parts, _: Words) -> Iterator[Problem]:
    counts = Counter(key.partition("[")[0] for key in parts if key.endswith("]"))
    for table, most in MOST.items():
        if counts[table] > most:
            yield Problem(table, f"{counts[table]} of them", f"at most {most}; more could not be drawn and watched")


def _check_texts(parts: Parts, _: Words) -> Iterator[Problem]:
    for key, part in parts.items():
        yield from text_problems(key, part)


def _check_measuring(parts: Parts, say: Words) -> Iterator[Problem]:
    measuring = parts.get("measuring")
    if isinstance(measuring, Measuring):
        yield from lengths(say, "measuring", measuring, LENGTHS)
        known = POINTS | FITTING_POINTS
        for name, u in measuring.points:
            where = f'measuring.points."{name}"'
            if name not in known:
                near = nearest(name, list(known))
                hint = f'"{near}", if that is meant' if near else f"one of {', '.join(known)}"
                yield Problem(where, f'the unknown point "{name}"', hint)
            elif name in FITTING_POINTS and name.partition(".")[0] not in parts:
                yield Problem(where, "a point of a table that is not there", f"a table [{name.partition('.')[0]}] too")
            yield from say.outside(where, u, LENGTHS["measuring.u"])


CHECKS: Final[tuple[Callable[[Parts, Words], Iterator[Problem]], ...]] = (
    _check_axle,
    _check_links,
    _check_driveshaft,
    fittings.check_slip,
    _check_envelopes,
    fittings.check_springs,
    fittings.check_other_springs,
    fittings.check_dampers,
    fittings.check_bump_stops,
    fittings.check_hoses,
    _check_mass,
    braking.check_load_places,
    braking.check_valve,
    braking.check_brakes,
    bar_mount.check_frame_bracket,
    bar_mount.check_bar_end,
    check_sizes,
    check_pairs,
    _check_travel,
    _check_measuring,
    _check_counts,
    _check_texts,
)
"""All checks of values, in the order of a file."""
