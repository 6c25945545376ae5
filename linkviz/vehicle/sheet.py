"""The measuring sheet: a CSV that anyone can fill in with a tape.

One line a point (``lower_left.frame;560;420;400;3``) or a quantity (``track;1480``), a line ``units,mm`` or
``units,in``, and a heading ``point,x,y,z,+-``. Separators may be ``,``, ``;`` or tabs.
"""

from __future__ import annotations

import re
from os import PathLike, fspath
from pathlib import Path

from linkviz.errors import MOST_PROBLEMS, FileRefused, LinkvizError, Problem
from linkviz.frozen import Frozen
from linkviz.letters import cut
from linkviz.marks import TwoMeanings, decimal_mark
from linkviz.units import Unit, parse_length
from linkviz.vehicle.model import Point
from linkviz.vehicle.points import PAIRS, nearest
from linkviz.vehicle.sheet_lines import NEEDED, QUANTITIES, SHEET_POINTS, TOGETHER, WORDS, sheet_name
from linkviz.vehicle.take import shown
from linkviz.vehicle.text import read_bytes, table_rows

ENDINGS = (".csv", ".txt")
"""What the name of a measuring sheet may end in."""
EXPECTED = "a measuring sheet (CSV: point, x, y, z, +-)"


_HEADS = {"point": "point", "x": "x", "y": "y", "z": "z", "+-": "u", "\N{PLUS-MINUS SIGN}": "u", "u": "u", "+/-": "u"}
_FIRST = re.compile(r"^[ \t]*\"?(?:point|units)\"?[ ]*(?P<mark>[;,\t])", re.IGNORECASE | re.MULTILINE)
_POINT = "; write a decimal point and no comma between thousands, or separate columns by ;"
_PLAIN = re.compile(r"\d+(?:\.\d*)?")
_KEYS = {sheet_name(key): key for key in reversed(WORDS)} | {key: key for key in WORDS}


class MeasuringSheet(Frozen):
    """What stands on a measuring sheet, in engine units.

    Attributes
    ----------
    units : {"mm", "in"}
        Unit of the sheet.
    points : dict of str to Point
        Points by their key in a vehicle file (``links.lower_left.frame``), mm.
    quantities : dict of str to float
        Quantities by their key in a vehicle file, mm, kg or deg.
    uncertainty : dict of str to float
        How far a point may be off, +- mm, where the sheet says so.
    problems : tuple of Problem
        Lines that could not be used: unknown, given twice, not a number.
    spoilt : frozenset of str
        Keys that are on the sheet but whose lines could not be used; they are not counted as missing.
    """

    units: Unit
    points: dict[str, Point]
    quantities: dict[str, float]
    uncertainty: dict[str, float]
    problems: tuple[Problem, ...] = ()
    spoilt: frozenset[str] = frozenset()

    def missing(self, mirror: bool = False) -> tuple[Problem, ...]:
        """Return what is still to be measured, in plain words.

        Parameters
        ----------
        mirror : bool
            Whether a link whose partner is on the sheet counts as there.
        """
        there = self.mirrored() if mirror else self
        given = there.points.keys() | there.quantities.keys() | self.spoilt
        lacking = [key for key in NEEDED if key not in given]
        for group in TOGETHER:
            table = group[0].rpartition(".")[0]
            if any(key.startswith(f"{table}.") for key in given):
                lacking += [key for key in group if key not in given]
        return tuple(self._lacking(key, mirror) for key in lacking)

    def mirrored(self) -> MeasuringSheet:
        """Return the sheet with the points of missing left or right links taken from the other side."""
        points, uncertainty = dict(self.points), dict(self.uncertainty)
        for key, twin in _twins():
            for one, other in ((key, twin), (twin, key)):
                if one in self.points and other not in points:
                    x, y, z = self.points[one]
                    points[other] = (x, -y, z)
                    if one in uncertainty:
                        uncertainty[other] = uncertainty[one]
        return self.replace(points=points, uncertainty=uncertainty)

    def _lacking(self, key: str, mirror: bool) -> Problem:
        columns = "x, y and z" if key in SHEET_POINTS else "its value"
        expected = f"a line {sheet_name(key)} with {columns}"
        twin = dict(_twins()) | {b: a for a, b in _twins()}
        if not mirror and twin.get(key, "") in self.points:
            expected += ", or mirror the other side"
        return Problem(WORDS[key], "nothing", expected)


def is_sheet(path: str | PathLike[str]) -> bool:
    """Return whether a file is a measuring sheet by its name."""
    return str(path).lower().endswith(ENDINGS)


def read_measuring_sheet(path: str | PathLike[str]) -> MeasuringSheet:
    """Read a measuring sheet.

    Parameters
    ----------
    path : path
        A CSV with a heading ``point,x,y,z,+-`` and a line ``units,mm`` or ``units,in``. Further columns are for
        people. Lengths may be written as in `linkviz.units.parse_length`. With ``;`` or tabs between columns, one
        number such as ``12,5``, ``0.125`` or ``1234.567`` says for all which mark is the decimal one. Where numbers
        say both, or none does, ``1.250`` and ``1,250`` are problems; lengths in inches have a point then if none does.

    Returns
    -------
    MeasuringSheet
        With the lines that cannot be used as its ``problems``.

    Raises
    ------
    FileRefused
        If it is not a measuring sheet at all or declares no unit.
    """
    where = fspath(path)
    return parse_measuring_sheet(_decode(read_bytes(Path(path), EXPECTED), where), where)


def parse_measuring_sheet(text: str, where: str = "measuring sheet") -> MeasuringSheet:
    """Read a measuring sheet from its text; see `read_measuring_sheet`."""
    first = _FIRST.search(text)
    if first is None:
        raise FileRefused(where, [Problem("file", "no line that begins with point or units", EXPECTED)])
    decimal_comma = first["mark"] != ","
    rows = _rows(text, first["mark"], where)
    heads = _heads(rows, where)
    spill = _spill(rows, heads)
    units = _units(rows, where)
    numbers = [row[i] for _, row in rows for head, i in heads.items() if head != "point" and i < len(row)]
    decimal = decimal_mark(numbers) if decimal_comma else "."
    # eighths of an inch have three decimals
    reader = _Lines(units, decimal_comma, decimal, decimal_mark(numbers, ".") if units == "in" else decimal)
    for line, row in rows:
        if len(reader.problems) > MOST_PROBLEMS:
            break
        if row[0].strip().lower() not in ("point", "units"):
            cells = {head: row[i].strip() if i < len(row) else "" for head, i in heads.items()}
            reader.take(line, cells, row[spill].strip() if spill is not None and spill < len(row) else "")
    spoilt = frozenset(reader.line_of.keys() - reader.points.keys() - reader.quantities.keys())
    return MeasuringSheet(
        reader.units, reader.points, reader.quantities, reader.uncertainty, tuple(reader.problems), spoilt
    )


class _Lines:
    """Takes the lines of a sheet one by one."""

    def __init__(self, units: Unit, decimal_comma: bool, decimal: str, decimal_of_lengths: str) -> None:
        self.units = units
        self.decimal_comma = decimal_comma
        self.decimal = decimal
        self.decimal_of_lengths = decimal_of_lengths
        self.points: dict[str, Point] = {}
        self.quantities: dict[str, float] = {}
        self.uncertainty: dict[str, float] = {}
        self.problems: list[Problem] = []
        self.line_of: dict[str, int] = {}

    def take(self, line: int, cells: dict[str, str], over: str = "") -> None:
        """Take a line; `over` is what stands behind its last number, where words may."""
        name = cells["point"]
        values = [cells[axis] for axis in "xyz"]
        key = _key(name)
        if key is None:
            if name or any(values):
                near = nearest(cut(name, 60), [sheet_name(k) for k in WORDS])
                self._note(
                    line, f"the unknown point {cut(name, 60)!r}", f'"{near}", if that is meant' if near else _names()
                )
            return
        if not any(values):
            return
        if key in self.line_of:
            again = f"{WORDS[key]} again, as in line {self.line_of[key]}"
            self._note(line, again, "each point once; remove one line")
            return
        self.line_of[key] = line
        if key in QUANTITIES:
            value = self._number(line, key, "value", values[0], QUANTITIES[key].length)
            if any(values[1:]):
                self._note(line, f"more than one number for {WORDS[key]}", self._one_number())
            elif value is not None:
                self.quantities[key] = value
            return
        if not self.decimal_comma and _PLAIN.fullmatch(over):
            self._note(line, f"more numbers than columns for {WORDS[key]}", f"x, y, z and +-{_POINT}")
            return
        x, y, z = (self._number(line, key, axis, cells[axis], True) for axis in "xyz")
        if x is not None and y is not None and z is not None:
            self.points[key] = (x, y, z)
        if cells.get("u") and (u := self._number(line, key, "+-", cells["u"], True)) is not None:
            self.uncertainty[key] = u

    def _one_number(self) -> str:
        comma = "" if self.decimal_comma else _POINT
        return f"its value in the column x alone{comma}"

    def _number(self, line: int, key: str, column: str, cell: str, length: bool) -> float | None:
        if not cell:
            self._note(line, f"no {column} for {WORDS[key]}", f"a number in {self.units}")
            return None
        try:
            decimal = self.decimal_of_lengths if length else self.decimal
            value = parse_length(cell, self.units if length else "mm", decimal)
            if not length and value and value == parse_length(cell, "in", decimal):  # it brings a unit of length along
                raise LinkvizError(cell)
            return value
        except TwoMeanings as error:
            found = f"{column} of {WORDS[key]}: {shown(cell)}, whose mark may stand between thousands"
            self._note(line, found, error.write)
            return None
        except LinkvizError:
            unit = f"a length in {self.units}, such as {'90.5' if self.units == 'mm' else '3 1/2'}"
            found = f"{column} of {WORDS[key]}: {shown(cell)}"
            self._note(line, found, unit if length else "a plain number")
            return None

    def _note(self, line: int, found: str, expected: str) -> None:
        self.problems.append(Problem(f"line {line}", found, expected))


def _rows(text: str, mark: str, where: str) -> list[tuple[int, list[str]]]:
    """Return the rows that say something and are no remarks, with their line numbers."""
    rows = table_rows(text, mark, where, EXPECTED)
    return [(line, row) for line, row in rows if not row[0].strip().startswith(("#", "sep="))]


def _heads(rows: list[tuple[int, list[str]]], where: str) -> dict[str, int]:
    for line, row in rows:
        if row[0].strip().lower() != "point":
            continue
        heads: dict[str, int] = {}
        for index, cell in enumerate(row):
            if (head := _HEADS.get(cell.strip().lower())) is not None and head not in heads:
                heads[head] = index
        if lacking := [head for head in ("x", "y", "z") if head not in heads]:
            raise FileRefused(
                where, [Problem(f"line {line}", f"a heading without {', '.join(lacking)}", "point, x, y, z, +-")]
            )
        return heads
    raise FileRefused(where, [Problem("file", "no heading", "a first line point, x, y, z, +-")])


def _spill(rows: list[tuple[int, list[str]]], heads: dict[str, int]) -> int | None:
    """Return the column behind the numbers if no number belongs there: commas in numbers would push some into it."""
    head = next(row for _, row in rows if row[0].strip().lower() == "point")
    column = max(heads.values()) + 1
    words = head[column].strip().lower() if column < len(head) else ""
    return column if not words or words.startswith("what") else None


def _units(rows: list[tuple[int, list[str]]], where: str) -> Unit:
    for line, row in rows:
        if row[0].strip().lower() == "units":
            value = row[1].strip().lower() if len(row) > 1 else ""
            if value == "mm":
                return "mm"
            if value == "in":
                return "in"
            raise FileRefused(where, [Problem(f"line {line}", shown(value), "units, then mm or in")])
    raise FileRefused(where, [Problem("file", "no unit", "a line units,mm or units,in")])


def _decode(data: bytes, where: str) -> str:
    """Return the text of a sheet from a spreadsheet: UTF-8, UTF-16 with a mark, or an old Western page."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    if b"\0" in data:
        raise FileRefused(where, [Problem("file", "binary data", EXPECTED)])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")  # names and numbers of a sheet are plain ASCII


def _key(name: str) -> str | None:
    plain = re.sub(r"[\s-]+", "_", name.strip().lower()).replace("axle.center", "axle.centre")
    return _KEYS.get(plain)


def _names() -> str:
    return f"one of {', '.join(sheet_name(key) for key in WORDS)}"


def _twins() -> list[tuple[str, str]]:
    return [(f"links.{left}.{end}", f"links.{right}.{end}") for left, right in PAIRS for end in ("frame", "axle")]
