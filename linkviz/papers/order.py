"""Everything the papers of one job are written from: worked out once, handed to every writer."""

from __future__ import annotations

from linkviz.analysis.bracket.loads import bar_end_of, cases_at, frame_bracket_of
from linkviz.analysis.compare import Comparison, compare
from linkviz.analysis.findings import Findings, findings
from linkviz.analysis.setup import Setup
from linkviz.book.model import Job, Whole
from linkviz.book.rules import rules_of
from linkviz.bracket.check import Check
from linkviz.bracket.defaults import USUAL_BAR, USUAL_FRAME, default_bracket
from linkviz.bracket.hardware import Fastener, Piece, fasteners, pieces
from linkviz.bracket.loads import CASES, LoadCase
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket
from linkviz.bracket.plates import drop_plates, pressed
from linkviz.bracket.strength import Cases, distance_checks, strength_checks, worst_of_each
from linkviz.bracket.valve_plate import ValvePlate, valve_plate
from linkviz.frozen import Frozen
from linkviz.papers.heading import Heading
from linkviz.sheetmetal.neutral import Neutral
from linkviz.sheetmetal.plate import Plate
from linkviz.vehicle.model import Vehicle

USUAL_SPACING = 40.0
"""Taken between the two holes of the brake valve's bracket, mm: a usual size, invented."""
NEAR = 1.0
"""A hole this near the drop is one at the drop, mm."""


class Kit(Frozen):
    """The drop bracket and what goes with it.

    Attributes
    ----------
    bracket, frame, bar : DropBracket, FrameBracket, BarEnd
    plates : tuple of Plate
    bolts : tuple of Fastener
    pieces : tuple of Piece
    assumed : tuple of str
        Whatever was not measured and taken at a usual size, as sentences.
    cases : sequence of (LoadCase, Loads)
        At the longest drop of the bracket; empty without the mass on the rear axle.
    checks : tuple of Check
        Strength and layout at that drop, worst first; layout alone without the mass.
    """

    bracket: DropBracket
    frame: FrameBracket
    bar: BarEnd
    plates: tuple[Plate, ...]
    bolts: tuple[Fastener, ...]
    pieces: tuple[Piece, ...]
    assumed: tuple[str, ...]
    cases: Cases = ()
    checks: tuple[Check, ...] = ()

    def at(self, drop: float) -> bool:
        """Return whether the bracket has a hole for the bar at a drop, mm."""
        return any(abs(hole - drop) <= NEAR for hole in self.bracket.holes)

    @property
    def over(self) -> tuple[str, ...]:
        """Return the checks of strength and layout that are not kept, as sentences."""
        return tuple(
            f"{check.said}: {check.utilisation:.2f} of what is allowed." for check in self.checks if not check.passes
        )


class Order(Frozen, eq=False):
    """What is made for one vehicle.

    Attributes
    ----------
    heading : Heading
    comparison : Comparison
        As built, lifted, corrected.
    findings : Findings
        The same in words.
    kit : Kit or None
        The drop bracket; None without a drop.
    valve : Plate or None
        The brake-valve bracket; None without a rise.
    valve_assumed : tuple of str
        What was taken for it, as `Kit.assumed`.
    """

    heading: Heading
    comparison: Comparison
    findings: Findings
    kit: Kit | None
    valve: Plate | None
    valve_assumed: tuple[str, ...] = ()

    @property
    def setup(self) -> Setup:
        """Return what is done to the vehicle."""
        return self.comparison.setup

    @property
    def assumed(self) -> tuple[str, ...]:
        """Return whatever was not measured and taken at a usual size, as sentences."""
        return (*(self.kit.assumed if self.kit else ()), *self.valve_assumed)

    @property
    def remarks(self) -> tuple[str, ...]:
        """Return where these papers are not the whole of the setup, as sentences."""
        h, setup, found = self.heading, self.setup, []
        if setup.axle_raise:
            rise = h.length(setup.axle_raise)
            found.append(f"The part that raises the axle end of the bar by {rise} is not on these papers.")
        if self.kit is not None and not self.kit.at(setup.drop):
            found.append(
                f"The drop looked at is {h.length(setup.drop)}; the bracket has no hole there. Steps and pictures are "
                "for the nearest hole."
            )
        return tuple(found)

    @property
    def over(self) -> tuple[str, ...]:
        """Return the checks of the drop bracket that are not kept, as sentences."""
        return self.kit.over if self.kit else ()

    @property
    def plates(self) -> tuple[Plate, ...]:
        """Return every plate that is cut."""
        return (*(self.kit.plates if self.kit else ()), *((self.valve,) if self.valve else ()))

    @property
    def mass(self) -> float:
        """Return the mass of all plates, tubes and strip, kg; without bolts."""
        pieces = self.kit.pieces if self.kit else ()
        return sum(p.mass * p.count for p in self.plates) + sum(p.mass * p.count for p in pieces)

    @property
    def rises(self) -> tuple[float, ...]:
        """Return the rises of the brake-valve bracket, mm, the smallest first; none without one."""
        holes = self.valve.nominal if self.valve else ()
        return tuple(sorted({round(hole.y, 3) for hole in holes if hole.y > 0}))


def order(
    vehicle: Vehicle,
    setup: Setup,
    heading: Heading,
    bracket: DropBracket | None = None,
    valve: ValvePlate | None = None,
    neutral: Neutral | None = None,
    holes: tuple[float, ...] = (),
    load_cases: tuple[LoadCase, ...] = CASES,
) -> Order:
    """Work out everything that is made for a vehicle.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        What was measured, and what is done to it.
    heading : Heading
    bracket : DropBracket, optional
        The shop's own; one to start from, with a hole at the drop, if left out.
    valve : ValvePlate, optional
        The shop's own; one with usual holes if left out and the rod is raised.
    neutral : Neutral, optional
        The shop's own neutral line; DIN 6935 if left out.
    holes : tuple of float
        Drops of the bracket to start from, mm; one, at the drop, if left out.
    load_cases : tuple of LoadCase
        What the bracket is looked at for.

    Raises
    ------
    LinkvizError
        If the bracket cannot be made.
    """
    comparison = compare(vehicle, setup)
    kit = None
    if setup.drop > 0 or bracket or holes:
        kit = _kit(vehicle, setup, heading, bracket, neutral, holes or (setup.drop,), load_cases)
    if valve is None and setup.valve_rise > 0:
        valve = ValvePlate(USUAL_SPACING, (setup.valve_rise,), assumed=True)
    plate, assumed = None, []
    if valve is not None:
        plate = valve_plate(valve, pressed("A36"), neutral)
        if valve.assumed:
            assumed.append(
                f"Brake-valve bracket: two {valve.bolt} holes {heading.length(valve.spacing)} apart. Measure the bolts "
                "and their spacing on the vehicle before cutting."
            )
    return Order(heading, comparison, findings(comparison, heading.unit), kit, plate, tuple(assumed))


def rises_of(job: Job) -> tuple[float, ...]:
    """Return the rises of the holes that a job has for the brake valve, mm, the smallest first."""
    return tuple(sorted(job.valve_bracket.holes)) if job.valve_bracket is not None else ()


def order_of(whole: Whole, heading: Heading) -> Order:
    """Work out everything that is made for a job: its own bracket and valve holes, where it has them.

    Raises
    ------
    LinkvizError
        If the bracket cannot be made.
    """
    job = whole.job
    bracket = job.bracket.bracket() if job.bracket is not None else None
    rises = rises_of(job)
    valve = ValvePlate(USUAL_SPACING, rises, assumed=True) if rises else None
    return order(whole.vehicle, whole.setup, heading, bracket, valve, load_cases=rules_of(job).cases)


def _kit(
    vehicle: Vehicle,
    setup: Setup,
    heading: Heading,
    bracket: DropBracket | None,
    neutral: Neutral | None,
    holes: tuple[float, ...],
    load_cases: tuple[LoadCase, ...],
) -> Kit:
    assumed = []
    measured_frame, measured_bar = frame_bracket_of(vehicle), bar_end_of(vehicle)
    frame, bar = measured_frame or USUAL_FRAME, measured_bar or USUAL_BAR
    if measured_frame is None:
        wide, thick, lip = (heading.length(v) for v in (frame.inside_width, frame.thickness, frame.lip))
        assumed.append(
            f"Frame bracket: {wide} wide inside, plates {thick} thick, {lip} from bolt to lip, bolt {frame.bolt}. Not "
            "measured. Tubes, bolt lengths and the anchor hole depend on it: measure the vehicle before cutting."
        )
    if measured_bar is None:
        wide, across = heading.length(bar.eye_width), heading.length(bar.eye_diameter)
        assumed.append(
            f"End of the bar: eye {wide} long, {across} across, bolt {bar.bolt}. Not measured. Sleeves and the bar's "
            "bolt depend on it: measure the bar before cutting."
        )
    if bracket is None:
        given = default_bracket(measured_frame, measured_bar, holes, "drop bracket")
        bracket = given.replace(shift=setup.shift)
    plates = drop_plates(bracket, pressed(bracket.steel), neutral)
    cases = cases_at(vehicle, setup, bracket, [bracket.longest], load_cases)[0]
    strong = worst_of_each(strength_checks(bracket, measured_frame, cases)) if cases else ()
    checks = sorted((*strong, *distance_checks(bracket, measured_frame)), key=lambda check: -check.utilisation)
    bolts, tubes = fasteners(bracket, frame, bar), pieces(bracket, frame, bar)
    return Kit(bracket, frame, bar, plates, bolts, tubes, tuple(assumed), cases, tuple(checks))
