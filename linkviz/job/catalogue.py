"""A shop's own stock: brackets with their holes in a ``*.parts.toml`` file, read as strictly as a vehicle file.

A bracket of the file is a `BracketTable`; a job file can hold one in the same form.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields
from os import PathLike, fspath
from pathlib import Path
from typing import Any, Final, Literal

from linkviz.bracket.bolts import find_size
from linkviz.bracket.parts import DropBracket, Joggle
from linkviz.errors import FileRefused, LinkvizError, Problem
from linkviz.units import Unit
from linkviz.vehicle.model import Length, Part, SteelName
from linkviz.vehicle.read import toml_data
from linkviz.vehicle.take import BAD, Taker, shown
from linkviz.vehicle.text import decode_utf8, read_bytes
from linkviz.vehicle.wording import Range, Words

FORMAT = "linkviz-parts/1"
"""The format this program reads."""
EXPECTED = "a catalogue of parts (*.parts.toml)"

LENGTHS: Final = {
    "thickness": Range(2.0, 25.0),
    "width": Range(20.0, 300.0),
    "anchor": Range(10.0, 250.0),
    "inside": Range(10.0, 200.0),
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


class JoggleTable(Part):
    """A `linkviz.bracket.parts.Joggle` as a table of a file."""

    offset: Length
    angle_deg: float = 45.0
    inside_radius: Length = 6.0
    start: Length = 60.0


class BracketTable(Part):
    """A `linkviz.bracket.parts.DropBracket` as a table of a file."""

    name: str
    holes: tuple[Length, ...]
    """Drops of the holes for the bar, ascending."""
    thickness: Length = 6.35
    width: Length = 76.2
    anchor: Length = 45.0
    steel: SteelName = "A36"
    fit: Literal["inside", "outside"] = "outside"
    shift: Length = 0.0
    joggle: JoggleTable | None = None
    end_top: Length = 25.0
    end_bottom: Length = 25.0
    bolt: str = "M14"
    anchor_bolt: str = "1/2-13"
    bar_bolt: str = "M14"
    grade: Literal["5", "8", "8.8", "10.9"] = "8"
    threads: Literal["clear", "in"] = "clear"
    tube_outer: Length = 31.75
    tube_wall: Length = 6.35
    tube_steel: SteelName = "1020-DOM"
    weld_leg: Length = 5.0
    brace: bool = True
    brace_start: Length = 65.0
    running_gap: Length = 3.0
    mass: float | None = None
    """kg"""

    def bracket(self) -> DropBracket:
        """Return the bracket of the table."""
        values: dict[str, Any] = {f.name: getattr(self, f.name) for f in fields(DropBracket) if f.name != "joggle"}
        values |= {key: find_size(values[key]).key for key in ("bolt", "anchor_bolt", "bar_bolt")}
        bend = self.joggle
        if bend is not None:
            values["joggle"] = Joggle(bend.offset, math.radians(bend.angle_deg), bend.inside_radius, bend.start)
        return DropBracket(**values)

    @classmethod
    def of(cls, bracket: DropBracket) -> BracketTable:
        """Return the table of a bracket."""
        values: dict[str, Any] = {f.name: getattr(bracket, f.name) for f in fields(DropBracket) if f.name != "joggle"}
        bend = bracket.joggle
        if bend is not None:
            values["joggle"] = JoggleTable(
                offset=bend.offset,
                angle_deg=math.degrees(bend.angle),
                inside_radius=bend.inside_radius,
                start=bend.start,
            )
        return cls(**values)


class StockPart(BracketTable):
    """A bracket on the shelf."""

    number: str
    """The shop's own number."""
    inside: Length
    """Between its plates at the original bolt, as it is."""


class Catalogue(Part):
    """A shop's brackets."""

    format: Literal["linkviz-parts/1"] = "linkviz-parts/1"
    name: str
    units: Literal["mm", "in"] = "mm"
    note: str = ""
    brackets: tuple[StockPart, ...] = ()


def read_catalogue(path: str | PathLike[str]) -> Catalogue:
    """Read a catalogue.

    Parameters
    ----------
    path : path
        A ``*.parts.toml`` file, in mm or inches.

    Returns
    -------
    Catalogue
        In engine units (mm, kg).

    Raises
    ------
    FileRefused
        If anything at all is wrong with it; every problem is told.
    """
    where = fspath(path)
    return parse_catalogue(decode_utf8(read_bytes(Path(path), EXPECTED), where, EXPECTED), where)


def parse_catalogue(text: str, where: str = "parts") -> Catalogue:
    """Read a catalogue from its text; raises as `read_catalogue`."""
    data = toml_data(text, where, EXPECTED)
    if data.get("format") != FORMAT:
        found = shown(data["format"]) if "format" in data else "nothing"
        raise FileRefused(where, [Problem("format", found, f'format = "{FORMAT}" as the first line of {EXPECTED}')])
    unit: Unit = "in" if data.get("units") == "in" else "mm"
    taker = Taker(unit)
    catalogue = taker.table(Catalogue, data, "")
    problems = list(taker.problems)
    parts = [(key, part) for key, part in taker.taken.items() if isinstance(part, StockPart)]
    first: dict[str, str] = {}
    for key, part in parts:
        problems += bracket_problems(part, Words(unit), key)
        if not part.number.strip():
            problems.append(Problem(f"{key}.number", "an empty number", "a number to order it by"))
        elif part.number in first:
            problems.append(
                Problem(
                    f"{key}.number", f'"{part.number}", the number of {first[part.number]} too', "a number of its own"
                )
            )
        first.setdefault(part.number, key)
    if problems or catalogue is BAD:
        raise FileRefused(where, problems)
    assert isinstance(catalogue, Catalogue)
    return catalogue


def bracket_problems(part: BracketTable, say: Words, where: str) -> Iterator[Problem]:
    """Yield what makes no sense in a bracket of a file."""
    if not part.name.strip():
        yield Problem(f"{where}.name", "an empty name", "a name to tell it by")
    for key, allowed in LENGTHS.items():
        if hasattr(part, key):
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
