"""Which part of a shop's stock fits this vehicle and this lift, in which hole, and why the others do not."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linkviz.analysis.bracket.bounds import axle_bound, ground_bound
from linkviz.analysis.bracket.catalogue import Catalogue, StockPart
from linkviz.analysis.bracket.loads import bar_end_of, cases_at, frame_bracket_of
from linkviz.analysis.bracket.rules import DEFAULT_RULES, Rules
from linkviz.analysis.goals import rest_angle, rest_angles
from linkviz.analysis.setup import Setup
from linkviz.bracket.bolts import SIZES
from linkviz.bracket.lengths import shortest_drops
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket
from linkviz.bracket.strength import distance_checks, strength_checks
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle

LOOSE = 1.5
"""A bracket may have this much play on what it is bolted to, mm: the bolts draw it together. Common practice."""
HOLE_ANGLES = 2.0
"""A stock hole serves if it leaves the bar this many times as far from its angle as built as a hole that is drilled
for the lift may. Common practice, no source."""


class Tried(Frozen):
    """A part that was looked at.

    Attributes
    ----------
    part : StockPart
        From the catalogue.
    hole : float or None
        Drop of its best hole, mm; None if no hole serves.
    off : float
        How far that hole leaves the bar from its angle as built, rad; NaN without a hole.
    reasons : tuple of str
        Why it is refused, each a sentence; empty if it fits.
    """

    part: StockPart
    hole: float | None
    off: float
    reasons: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """Return whether nothing speaks against it."""
        return not self.reasons


class Proposal(Frozen):
    """What the stock has for a vehicle and a lift.

    Attributes
    ----------
    best : Tried or None
        The part and the hole that leave the bar nearest to its angle as built; None if none fits.
    tried : tuple of Tried
        Every part of the catalogue, fitting ones first, nearest first.
    unknown : str
        What could not be looked at for lack of measurements, "" if all was.
    """

    best: Tried | None
    tried: tuple[Tried, ...]
    unknown: str


def propose(
    vehicle: Vehicle,
    lift: float,
    catalogue: Catalogue,
    rules: Rules = DEFAULT_RULES,
    unit: Unit = "mm",
) -> Proposal:
    """Propose a part and a hole.

    Parameters
    ----------
    vehicle, lift : Vehicle, float
        The lift in mm.
    catalogue : Catalogue
        The stock.
    rules : Rules
        Load cases, the room to leave and how near to its angle as built a hole leaves the bar; twice that is taken
        for a part that is there.
    unit : {"mm", "in"}
        Unit of the words.
    """
    frame, bar = frame_bracket_of(vehicle), bar_end_of(vehicle)
    design = rest_angle(vehicle, Setup())
    found = []
    for part in catalogue.brackets:
        try:
            found.append(_try(vehicle, lift, part, frame, bar, design, rules, unit))
        except LinkvizError as error:
            found.append(Tried(part, None, math.nan, (str(error),)))
    found.sort(key=lambda tried: (not tried.fits, len(tried.reasons), abs(tried.off) if tried.hole else math.inf))
    unknown = []
    if frame is None:
        unknown.append("whether a part fits the frame bracket")
    if bar is None:
        unknown.append("whether the eye of the bar goes into it and hangs clear")
    if vehicle.mass is None:
        unknown.append("whether it is strong enough")
    words = f"Not looked at, for lack of measurements: {', '.join(unknown)}." if unknown else ""
    best = found[0] if found and found[0].fits else None
    return Proposal(best, tuple(found), words)


def _try(
    vehicle: Vehicle,
    lift: float,
    part: StockPart,
    frame: FrameBracket | None,
    bar: BarEnd | None,
    design: float,
    rules: Rules,
    unit: Unit,
) -> Tried:
    bracket, within_deg = part.bracket(), HOLE_ANGLES * rules.bar_angle_deg
    reasons = list(_mounting(part, bracket, frame, bar, unit))
    setups = [Setup(lift=lift, drop=drop, shift=bracket.shift) for drop in bracket.holes]
    angles = zip(bracket.holes, rest_angles(vehicle, setups), strict=True)
    offs = {drop: angle - design for drop, angle in angles}
    near = sorted((d for d in bracket.holes if abs(offs[d]) <= math.radians(within_deg)), key=lambda d: abs(offs[d]))
    if not near:
        closest = min(bracket.holes, key=lambda d: abs(offs[d]))
        reasons.append(
            f"No hole serves this lift: the nearest, {format_length(closest, unit)}, leaves the bar "
            f"{math.degrees(abs(offs[closest])):.1f}\N{DEGREE SIGN} from its angle as built; "
            f"{within_deg:.1f}\N{DEGREE SIGN} is allowed."
        )
        return Tried(part, None, math.nan, tuple(reasons))
    refusals = {d: list(_at_hole(vehicle, lift, bracket, d, frame, bar, rules, unit)) for d in near}
    hole = min(near, key=lambda d: (len(refusals[d]), abs(offs[d])))
    return Tried(part, hole, offs[hole], (*reasons, *refusals[hole]))


def _mounting(
    part: StockPart, bracket: DropBracket, frame: FrameBracket | None, bar: BarEnd | None, unit: Unit
) -> Iterator[str]:
    """Yield why a part cannot be bolted on."""

    def said(mm: float) -> str:
        return format_length(mm, unit)

    if frame is not None:
        if bracket.fit == "outside":
            loose = part.inside - (frame.inside_width + 2.0 * frame.thickness)
            has, needs = said(part.inside), said(frame.inside_width + 2.0 * frame.thickness)
            words = f"It is {has} wide inside; the frame bracket is {needs} over its plates."
        else:
            loose = frame.inside_width - (part.inside + 2.0 * bracket.thickness)
            has, needs = said(part.inside + 2.0 * bracket.thickness), said(frame.inside_width)
            words = f"It is {has} over its plates; the frame bracket is {needs} wide inside."
        if not -0.25 <= loose <= LOOSE:
            yield words
        if SIZES[bracket.bolt].diameter != SIZES[frame.bolt].diameter:
            yield f"Its upper hole is for {bracket.bolt}; the frame bracket's bolt is {frame.bolt}."
        for check in distance_checks(bracket, frame):
            if check.where == "frame bracket" and not check.passes:
                yield f"{check.words}: {said(check.demand)} is needed, {said(max(check.allowable, 0.0))} is there."
    if bar is not None:
        below = part.inside + (2.0 * bracket.joggle.offset if bracket.joggle else 0.0)
        if below < bar.eye_width - 0.25:
            yield f"It takes an eye {said(below)} wide; the bar's is {said(bar.eye_width)}."
        if SIZES[bracket.bar_bolt].diameter != SIZES[bar.bolt].diameter:
            yield f"Its holes for the bar are for {bracket.bar_bolt}; the bar's bolt is {bar.bolt}."


def _at_hole(
    vehicle: Vehicle,
    lift: float,
    bracket: DropBracket,
    drop: float,
    frame: FrameBracket | None,
    bar: BarEnd | None,
    rules: Rules,
    unit: Unit,
) -> Iterator[str]:
    """Yield why a hole does not do."""
    setup = Setup(lift=lift, drop=drop, shift=bracket.shift)
    if frame is not None and bar is not None:
        bound = shortest_drops(bracket.replace(joggle=None), frame, bar)[0]
        if drop < bound.drop - 1e-6:
            yield (
                f"The hole at {format_length(drop, unit)} is too short here: {bound.words} "
                f"({format_length(bound.drop, unit)})."
            )
    room = rules.room
    for limit in (ground_bound(vehicle, setup, bracket, room, unit), axle_bound(vehicle, setup, bracket, room, unit)):
        if limit is not None and bracket.longest > limit.drop:
            yield f"It hangs too low: {limit.words} ({format_length(limit.drop, unit)} at most)."
    at_drop = cases_at(vehicle, setup, bracket, [drop], rules.cases)[0]
    if at_drop:
        worst = strength_checks(bracket, frame, at_drop)[0]
        if not worst.passes:
            yield (f"Over the allowable: {worst.in_sentence}, {100.0 * worst.utilisation:.0f} % of it ({worst.case}).")
