"""A drop bracket, load cases and rules as tables of a file: of a catalogue of stock, or of a job."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar, Final, Literal

from linkviz.analysis.bracket.room import BAR_ANGLE_DEG, HIGHEST_LIFT, LOWEST_LIFT, Room
from linkviz.bracket.bolts import find_size
from linkviz.bracket.loads import LoadCase
from linkviz.bracket.parts import DropBracket, Fit, Joggle, Threads
from linkviz.errors import LinkvizError, Problem
from linkviz.frozen import names_of, usual, values_of
from linkviz.vehicle.model import Length, SteelName
from linkviz.vehicle.part import Part
from linkviz.vehicle.wording import Range, Words

LENGTHS: Final = {
    "thickness": Range(2.0, 25.0),
    "width": Range(20.0, 300.0),
    "anchor": Range(10.0, 250.0),
    "end_top": Range(5.0, 150.0),
    "end_bottom": Range(5.0, 150.0),
    "tube_outer": Range(10.0, 120.0),
    "tube_wall": Range(1.0, 30.0),
    "weld_leg": Range(1.0, 20.0),
    "brace_start": Range(0.0, 400.0),
    "running_gap": Range(0.0, 30.0),
}
"""Sensible lengths, mm."""
DROPS: Final = Range(20.0, 400.0)
SHIFT: Final = Range(-150.0, 150.0)
TRAVEL: Final = Range(-300.0, 300.0)
LIFT: Final = Range(0.0, 250.0)
ROOMS: Final = {"room_to_ground": Range(0.0, 500.0), "room_to_axle": Range(0.0, 200.0)}


_BRACKET, _JOGGLE, _CASE, _ROOM = (usual(kind) for kind in (DropBracket, Joggle, LoadCase, Room))


class JoggleTable(Part):
    """A `linkviz.bracket.parts.Joggle` as a table of a file."""

    LABELS: ClassVar[Mapping[str, str]] = {
        "angle_deg": "Angle of each bend",
        "inside_radius": "Inside bend radius",
        "start": "First bend below bolt",
    }

    offset: Length
    angle_deg: float = math.degrees(_JOGGLE.angle)
    inside_radius: Length = _JOGGLE.inside_radius
    start: Length = _JOGGLE.start


class BracketTable(Part):
    """A `linkviz.bracket.parts.DropBracket` as a table of a file."""

    LABELS: ClassVar[Mapping[str, str]] = {
        "holes": "Bar holes, drops",
        "thickness": "Plate thickness",
        "width": "Plate width",
        "anchor": "Anchor bolt, distance",
        "steel": "Plate steel",
        "fit": "Plates go",
        "shift": "Bar holes outboard by",
        "end_top": "Plate above the bolt",
        "end_bottom": "Plate below last hole",
        "bolt": "Original bolt, size",
        "anchor_bolt": "Anchor bolt, size",
        "bar_bolt": "Bar bolt, size",
        "grade": "Grade of all bolts",
        "threads": "Threads at shear plane",
        "tube_outer": "Spacer tube, outside",
        "tube_wall": "Spacer tube, wall",
        "tube_steel": "Spacer tube, steel",
        "weld_leg": "Fillet weld, leg",
        "brace": "Brace strip, welded",
        "brace_start": "Brace begins below bolt",
        "running_gap": "Least gap, eye to lip",
    }

    name: str
    holes: tuple[Length, ...]
    """Drops of the holes for the bar, ascending."""
    thickness: Length = _BRACKET.thickness
    """Of one plate."""
    width: Length = _BRACKET.width
    """Of one plate."""
    anchor: Length = _BRACKET.anchor
    """From the original bolt down to the anchor bolt, the second one."""
    steel: SteelName = "A36"
    """Of the plates."""
    fit: Fit = _BRACKET.fit
    """Plates inside or outside those of the frame bracket."""
    shift: Length = _BRACKET.shift
    """Of the holes for the bar, outboard +."""
    joggle: JoggleTable | None = None
    """Two equal and opposite bends; none for straight plates."""
    end_top: Length = _BRACKET.end_top
    """From the original bolt to the upper end of a plate."""
    end_bottom: Length = _BRACKET.end_bottom
    """From the last hole to the lower end of a plate."""
    bolt: str = _BRACKET.bolt
    """Original bolt, such as M14 or 1/2-13."""
    anchor_bolt: str = _BRACKET.anchor_bolt
    """Second bolt, drilled through the frame bracket."""
    bar_bolt: str = _BRACKET.bar_bolt
    """Bolt through the eye of the bar."""
    grade: Literal["5", "8", "8.8", "10.9"] = "8"
    """Of all bolts."""
    threads: Threads = _BRACKET.threads
    """Whether threads are clear of the shear planes or in them."""
    tube_outer: Length = _BRACKET.tube_outer
    """Spacer tube on the original bolt, outside diameter."""
    tube_wall: Length = _BRACKET.tube_wall
    """Wall of the spacer tube."""
    tube_steel: SteelName = "1020-DOM"
    weld_leg: Length = _BRACKET.weld_leg
    """Leg of the fillets of the brace, and of the tube where the plates go inside."""
    brace: bool = _BRACKET.brace
    """A strip welded across the outboard edges."""
    brace_start: Length = _BRACKET.brace_start
    """From the original bolt down to where the strip begins."""
    running_gap: Length = _BRACKET.running_gap
    """Least gap between the eye and the lip of the frame bracket."""
    mass: float | None = None
    """kg"""

    def bracket(self) -> DropBracket:
        """Return the bracket of the table."""
        values: dict[str, Any] = {name: getattr(self, name) for name in names_of(DropBracket) if name != "joggle"}
        values |= {key: find_size(values[key]).key for key in ("bolt", "anchor_bolt", "bar_bolt")}
        bend = self.joggle
        if bend is not None:
            values["joggle"] = Joggle(bend.offset, math.radians(bend.angle_deg), bend.inside_radius, bend.start)
        return DropBracket(**values)

    @classmethod
    def of(cls, bracket: DropBracket) -> BracketTable:
        """Return the table of a bracket."""
        values: dict[str, Any] = {name: value for name, value in values_of(bracket).items() if name != "joggle"}
        bend = bracket.joggle
        if bend is not None:
            values["joggle"] = JoggleTable(
                offset=bend.offset,
                angle_deg=math.degrees(bend.angle),
                inside_radius=bend.inside_radius,
                start=bend.start,
            )
        return cls(**values)


class LoadCaseTable(Part):
    """A `linkviz.bracket.loads.LoadCase` as a table of a job file."""

    name: str
    lateral_g: float
    """Sideways acceleration of the mass on the rear axle, in g."""
    travel: Length = 0.0
    """Where the axle stands, from the lifted rest, up +."""
    roll_deg: float = 0.0
    """Roll of the axle; either way is looked at, the worse one counts."""
    fore_aft: float = _CASE.fore_aft
    """Share of the bar's force that acts along the vehicle at the same time."""

    def case(self) -> LoadCase:
        """Return the load case of the table."""
        return LoadCase(
            self.name, self.name, self.lateral_g, self.travel, self.roll_deg, self.fore_aft, "given with the job"
        )

    @classmethod
    def of(cls, case: LoadCase) -> LoadCaseTable:
        """Return the table of a load case."""
        return cls(
            name=case.name,
            lateral_g=case.lateral_g,
            travel=case.travel,
            roll_deg=case.roll_deg,
            fore_aft=case.fore_aft,
        )


class RulesTable(Part):
    """What a bracket is designed by, beside the load cases, as a table of a job file."""

    LABELS: ClassVar[Mapping[str, str]] = {
        "lowest_lift": "Holes for lifts from",
        "highest_lift": "Holes for lifts up to",
        "bar_angle_deg": "Bar's angle, off by",
        "room_to_ground": "Room to the ground",
        "room_to_axle": "Room to the axle tube",
    }

    lowest_lift: Length = LOWEST_LIFT
    """The holes serve lifts from here."""
    highest_lift: Length = HIGHEST_LIFT
    """The holes serve lifts up to here."""
    bar_angle_deg: float = BAR_ANGLE_DEG
    """How near to its angle as built a hole leaves the bar; a part from stock may leave it twice as far."""
    room_to_ground: Length = _ROOM.ground
    """Room under the bracket's lower end at full jounce."""
    room_to_axle: Length = _ROOM.axle
    """Room between the bracket and the axle tube at full jounce."""


def rules_problems(table: RulesTable, say: Words, where: str = "rules") -> Iterator[Problem]:
    """Yield what makes no sense in the rules of a job."""
    for key in ("lowest_lift", "highest_lift"):
        yield from say.outside(f"{where}.{key}", getattr(table, key), LIFT)
    if table.lowest_lift > table.highest_lift:
        lowest, highest = say.length(table.lowest_lift), say.length(table.highest_lift)
        yield Problem(f"{where}.lowest_lift", lowest, f"at most highest_lift, {highest}")
    if not 0.05 <= table.bar_angle_deg <= 5.0:
        yield Problem(f"{where}.bar_angle_deg", f"{table.bar_angle_deg:g} deg", "0.05 to 5 deg")
    for key, allowed in ROOMS.items():
        yield from say.outside(f"{where}.{key}", getattr(table, key), allowed)


def bracket_problems(part: BracketTable, say: Words, where: str = "bracket") -> Iterator[Problem]:
    """Yield what makes no sense in a bracket of a file."""
    if not part.name.strip():
        yield Problem(f"{where}.name", "an empty name", "a name to tell it by")
    for key, allowed in LENGTHS.items():
        yield from say.outside(f"{where}.{key}", getattr(part, key), allowed)
    yield from say.outside(f"{where}.shift", part.shift, SHIFT)
    if not part.holes:
        yield Problem(f"{where}.holes", "no hole", "the drop of at least one hole for the bar")
    for i, hole in enumerate(part.holes):
        yield from say.outside(f"{where}.holes[{i}]", hole, DROPS)
    if list(part.holes) != sorted(set(part.holes)):
        yield Problem(f"{where}.holes", "holes out of order", "each drop once, the shortest first")
    if part.holes and part.holes[0] <= part.anchor:
        yield Problem(
            f"{where}.holes[0]",
            say.length(part.holes[0]),
            f"more than the anchor distance, {say.length(part.anchor)}: the bar hangs below the anchor bolt",
        )
    if 2.0 * part.tube_wall > part.tube_outer:
        yield Problem(f"{where}.tube_wall", say.length(part.tube_wall), "at most half of tube_outer")
    for key in ("bolt", "anchor_bolt", "bar_bolt"):
        try:
            find_size(getattr(part, key))
        except LinkvizError as error:
            yield Problem(f"{where}.{key}", f'"{getattr(part, key)}"', f"a bolt of the tables: {error}")
    if part.joggle is not None and not 0 < part.joggle.angle_deg <= 75.0:
        yield Problem(f"{where}.joggle.angle_deg", f"{part.joggle.angle_deg:g} deg", "above 0, at most 75 deg")
    if part.joggle is not None and part.joggle.offset == 0:
        yield Problem(f"{where}.joggle.offset", "0", "an offset, or no [joggle] for straight plates")
    if part.mass is not None and not 0 < part.mass <= 100.0:
        yield Problem(f"{where}.mass", f"{part.mass:g} kg", "above 0, at most 100 kg")


def case_problems(cases: Sequence[LoadCaseTable], say: Words, where: str = "load_cases") -> Iterator[Problem]:
    """Yield what makes no sense in the load cases of a job."""
    for index, case in enumerate(cases):
        at = f"{where}[{index}]"
        if not case.name.strip():
            yield Problem(f"{at}.name", "an empty name", "a name to tell it by")
        elif case.name in [other.name for other in cases[:index]]:
            yield Problem(f"{at}.name", f'"{case.name}" for a second time', "a name of its own for each load case")
        for key, low, high, unit in (("lateral_g", 0.1, 10.0, "g"), ("roll_deg", 0.0, 20.0, "deg")):
            value = getattr(case, key)
            if not low <= value <= high:
                yield Problem(f"{at}.{key}", f"{value:g} {unit}", f"{low:g} to {high:g} {unit}")
        if not 0.0 <= case.fore_aft <= 1.0:
            yield Problem(f"{at}.fore_aft", f"{case.fore_aft:g}", "0 to 1, a share of the bar's force")
        yield from say.outside(f"{at}.travel", case.travel, TRAVEL)
