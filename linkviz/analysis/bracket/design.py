"""A bracket for a vehicle, a lift and a drop: how short, how long, which holes, how strong, in one value."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linkviz.analysis.bracket.bounds import longest_drops
from linkviz.analysis.bracket.changes import AnchorRow, Change, anchor_rows, changes
from linkviz.analysis.bracket.goals import Goal, goals
from linkviz.analysis.bracket.holes import hole_set
from linkviz.analysis.bracket.loads import bar_end_of, cases_at, frame_bracket_of
from linkviz.analysis.bracket.rules import DEFAULT_RULES, Rules
from linkviz.analysis.goals import LONGEST
from linkviz.analysis.setup import Setup
from linkviz.bracket.check import Check
from linkviz.bracket.defaults import default_bracket
from linkviz.bracket.holes import HoleSet
from linkviz.bracket.lengths import Bound, shortest_drops
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket
from linkviz.bracket.strength import Cases, distance_checks, strength_checks, worst_of_each
from linkviz.bracket.weld_checks import unwelded
from linkviz.frozen import Frozen
from linkviz.units import Unit, format_length
from linkviz.vehicle.described import typed_at
from linkviz.vehicle.model import Vehicle

STRENGTH_CAUTION = (
    "The allowables are those of handbooks for loads that stand still. They say nothing of fatigue, of the frame "
    "behind its bracket, of rust, of the bushing, or of a bolt that bends over loose spacers: fill every gap with a "
    "sleeve that fits, and have a qualified person judge the whole."
)
"""What must be said wherever strength is handed on, beside `linkviz.analysis.findings.CAUTIONS`."""


class Design(Frozen, eq=False):
    """Everything about one bracket on one vehicle.

    Attributes
    ----------
    vehicle, setup : Vehicle, Setup
        The lift and the drop that is looked at; without a drop in the setup, the restoring one within the bounds.
    bracket : DropBracket
        The bracket that is checked.
    proposed : bool
        Whether it is the program's own (`linkviz.bracket.defaults`) and not one that was given.
    frame, bar : FrameBracket, BarEnd or None
        As measured.
    shortest, longest : tuple of Bound
        Bounds of the drop from below and above, the binding one first.
    goals : tuple of Goal
        See `linkviz.analysis.bracket.goals`.
    holes : HoleSet
        For the range of lifts of the rules.
    cases : sequence of (LoadCase, Loads)
        At the drop; empty without the mass on the rear axle.
    checks : tuple of Check
        Strength, each in its worst case, worst first; empty without the mass on the rear axle.
    distances : tuple of Check
        Rules of layout, worst first.
    changes : tuple of Change
        What would make it pass.
    anchors : tuple of AnchorRow
        What the anchor distance does.
    raised : tuple of Check
        Strength of the same bracket on the axle, raising the bar's other end as far as the setup does or, without a
        raise in it, as far as restores its angle (the goal "raise"); the axle's own bracket is not measured and not
        looked at. Empty without the mass, or where the raise is not beyond the anchor distance.
    missing : tuple of str
        What cannot be told, and what to measure.
    """

    vehicle: Vehicle
    setup: Setup
    bracket: DropBracket
    proposed: bool
    frame: FrameBracket | None
    bar: BarEnd | None
    shortest: tuple[Bound, ...]
    longest: tuple[Bound, ...]
    goals: tuple[Goal, ...]
    holes: HoleSet
    cases: Cases
    checks: tuple[Check, ...]
    distances: tuple[Check, ...]
    changes: tuple[Change, ...]
    anchors: tuple[AnchorRow, ...]
    raised: tuple[Check, ...]
    missing: tuple[str, ...]

    @property
    def drop_min(self) -> float | None:
        """Return the shortest drop, mm; None where the lip and the eye were not measured."""
        return self.shortest[0].drop if self.frame and self.bar else None

    @property
    def drop_max(self) -> float | None:
        """Return the longest drop, mm; None where nothing that is known bounds it."""
        return self.longest[0].drop if self.longest else None

    @property
    def drilled(self) -> bool:
        """Return whether the bracket has a hole at the drop that is looked at."""
        return any(abs(hole - self.setup.drop) < 0.05 for hole in self.bracket.holes)

    @property
    def possible(self) -> bool:
        """Return whether any drop lies within the bounds that are known."""
        return self.drop_max is None or self.shortest[0].drop <= self.drop_max

    @property
    def within(self) -> bool:
        """Return whether the drop that is looked at lies within the bounds that are known."""
        low = self.shortest[0].drop
        high = self.drop_max if self.drop_max is not None else LONGEST
        return low - 1e-6 <= self.setup.drop <= high + 1e-6

    def goal(self, key: str) -> Goal:
        """Return one of the goals."""
        return next(goal for goal in self.goals if goal.key == key)


class Look(Frozen):
    """What strength and layout come to at one drop: as in `Design`."""

    cases: Cases
    checks: tuple[Check, ...]
    distances: tuple[Check, ...]


def look(vehicle: Vehicle, setup: Setup, bracket: DropBracket, rules: Rules = DEFAULT_RULES) -> Look:
    """Check a bracket at the drop of a setup and nothing else: some milliseconds, for a value being dragged."""
    frame = frame_bracket_of(vehicle)
    cases = cases_at(vehicle, setup, bracket, [setup.drop], rules.cases)[0]
    checks = worst_of_each(strength_checks(bracket, frame, cases)) if cases else ()
    return Look(cases, checks, distance_checks(bracket, frame))


def design(
    vehicle: Vehicle,
    setup: Setup,
    bracket: DropBracket | None = None,
    rules: Rules = DEFAULT_RULES,
    unit: Unit = "mm",
) -> Design:
    """Design or check a bracket.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        The lift, and the drop to look at; 0 for the one that restores the bar's angle.
    bracket : DropBracket, optional
        The one to check; one is proposed from what was measured if left out.
    rules : Rules
        What to design by.
    unit : {"mm", "in"}
        Unit of the words.

    Notes
    -----
    Takes about a second: not for the thread that paints.
    """
    frame, bar = frame_bracket_of(vehicle), bar_end_of(vehicle)
    proposed = bracket is None
    made = bracket or default_bracket(frame, bar, (setup.drop or 100.0,))
    if setup.shift and proposed:
        made = made.replace(shift=setup.shift)
    shortest = shortest_drops(made, frame, bar)
    longest = longest_drops(vehicle, setup, made, shortest[0].drop, rules.cases, rules.links, rules.room, unit)
    low, high = shortest[0].drop, longest[0].drop if longest else LONGEST
    found = goals(vehicle, setup, made.end_bottom)
    if not setup.drop:
        restore = next(goal for goal in found if goal.key == "restore").setup
        wanted = restore.drop if restore else low
        drop = made.holes[-1] if not proposed else max(min(wanted, high), low)
        setup = setup.with_(drop=drop, shift=made.shift)
    if proposed:
        made = made.with_holes(setup.drop)
    now = look(vehicle, setup, made, rules)
    return Design(
        vehicle=vehicle,
        setup=setup,
        bracket=made,
        proposed=proposed,
        frame=frame,
        bar=bar,
        shortest=shortest,
        longest=longest,
        goals=found,
        holes=hole_set(vehicle, made, low, high, rules.lifts, rules.bar_angle_deg),
        cases=now.cases,
        checks=now.checks,
        distances=now.distances,
        changes=changes(vehicle, setup, made, rules.cases, unit),
        anchors=anchor_rows(vehicle, setup, made, rules.cases),
        raised=_raised(vehicle, made, _raise_setup(setup, found), rules),
        missing=tuple(missing(vehicle)),
    )


def follow(found: Design, setup: Setup, rules: Rules = DEFAULT_RULES) -> Design | None:
    """Return a design at another drop, at once: for a drop that is being dragged.

    Parameters
    ----------
    found : Design
        At the drop before.
    setup : Setup
        With the other drop; None is returned if anything but the drop differs, or if it is 0.
    rules : Rules
        What `found` was designed by.

    Returns
    -------
    Design or None
        Strength and layout at the new drop. Bounds, goals, holes, what the raise comes to are those of the drop
        before (of the bounds, the drop moves the one of the axle tube alone, by a fraction of a mm); `changes` and
        `anchors` are empty until `design` has looked.
    """
    if not setup.drop or setup.with_(drop=found.setup.drop, valve_rise=found.setup.valve_rise) != found.setup:
        return None
    bracket = found.bracket.with_holes(setup.drop) if found.proposed else found.bracket
    now = look(found.vehicle, setup, bracket, rules)
    return found.replace(
        setup=setup,
        bracket=bracket,
        cases=now.cases,
        checks=now.checks,
        distances=now.distances,
        changes=(),
        anchors=(),
    )


def _raise_setup(setup: Setup, found: tuple[Goal, ...]) -> Setup | None:
    """Return the setup whose raise of the axle end is looked at."""
    return setup if setup.axle_raise else next(goal for goal in found if goal.key == "raise").setup


def _raised(vehicle: Vehicle, bracket: DropBracket, setup: Setup | None, rules: Rules) -> tuple[Check, ...]:
    if setup is None or setup.axle_raise <= bracket.anchor:
        return ()
    rise = setup.axle_raise
    cases = cases_at(vehicle, setup, bracket.replace(shift=0.0), [rise], rules.cases, end="axle")[0]
    return worst_of_each(strength_checks(bracket, None, cases)) if cases else ()


def missing(vehicle: Vehicle) -> Iterator[str]:
    """Yield what cannot be told for lack of measurements, with what to measure."""
    if vehicle.frame_bracket is None:
        yield (
            "How short the bracket can be, how far it reaches fore and aft towards the axle tube and what the "
            "vehicle's own bracket bears are not known. Measure the frame bracket and type it under "
            f"{typed_at('frame_bracket')}: inside width between its plates, thickness of a plate, lip from the middle "
            "of the bolt hole down to its end, width of a plate, bolt and steel."
        )
    if vehicle.bar_end is None:
        yield (
            "Where the bar's eye would strike is not known. Measure it and type it under "
            f"{typed_at('bar_end')}: width of the eye along the bolt, its diameter, bolt."
        )
    if vehicle.mass is None:
        yield (
            "How strong the bracket must be is not known. Weigh the rear axle and type it under "
            f"{typed_at('mass')}: wheelbase, total, rear axle, height of the centre of gravity."
        )
    if vehicle.driveshaft is None or not vehicle.envelopes:
        yield (
            "Whether the shaft clears anything is not known. Measure the driveshaft and type it under "
            f"{typed_at('driveshaft')}; draw the tank and whatever else is near it, {typed_at('envelopes')}."
        )


def raised_said(found: Design, unit: Unit = "mm") -> tuple[str, ...]:
    """Return what raising the axle end of the bar comes to beside the drop, in sentences; nothing if nothing does."""
    setup = _raise_setup(found.setup, found.goals)
    if setup is None or not setup.axle_raise:
        return ()
    said, rise = [], format_length(setup.axle_raise, unit)
    restore, other = found.goal("restore"), found.goal("raise")
    if not found.setup.axle_raise and restore.setup is not None:
        higher = other.roll_centre - restore.roll_centre
        text = (
            f"Raising the axle end of the bar by {rise} gives it its angle back as well. The roll centre then stands "
            f"{format_length(abs(higher), unit)} {'higher' if higher > 0 else 'lower'} than with the drop that does "
            f"({format_length(other.roll_centre, unit)}, not {format_length(restore.roll_centre, unit)})"
        )
        if math.isfinite(other.spare) and math.isfinite(restore.spare):
            more = other.spare - restore.spare
            text += (
                f", and the driveshaft has {format_length(abs(more), unit)} {'more' if more > 0 else 'less'} room over "
                "the travel"
            )
        more = other.ground - restore.ground
        said.append(f"{text}. Under the bracket {format_length(more, unit)} more stay free of the ground.")
    if found.raised:
        worst = found.raised[0]
        said.append(
            f"The same bracket on the axle, raising its end of the bar by {rise}: at most "
            f"{100.0 * worst.utilisation:.0f} % of any allowable ({worst.in_sentence}, "
            f"{worst.case}). The axle's own bracket and its weld to the tube are not measured and not looked at."
        )
    elif found.setup.axle_raise:
        why = (
            "the mass on the rear axle is not known"
            if found.vehicle.mass is None
            else f"a drop bracket needs more than its anchor distance, {format_length(found.bracket.anchor, unit)}"
        )
        said.append(f"How strong the part is that raises the axle end by {rise} is not looked at: {why}.")
    return tuple(said)


def loads_said(found: Design) -> tuple[str, ...]:
    """Return the loads on the vehicle's own bracket in words, a sentence for each case."""
    return cases_said(found.cases, found.bracket)


def cases_said(cases: Cases, bracket: DropBracket) -> tuple[str, ...]:
    """Return what load cases do to the vehicle's own bracket in words, a sentence for each; then why no weld is."""
    said = []
    for case, load in cases:
        said.append(
            f"{case.name[:1].upper()}{case.name[1:]}: the bar pushes with {load.force / 1000:.1f} kN. The anchor bolt "
            f"bears {load.anchor_force / 1000:.1f} kN of it, {load.anchor_force / load.force:.1f} times as much, on "
            f"the vehicle's own bracket; the original bolt {load.original_force / 1000:.1f} kN the other way."
        )
    if cases and (why := unwelded(bracket, cases[0][1].drop)):
        said.append(why)
    return tuple(said)
