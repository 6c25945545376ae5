"""Outlines as a table: one line a corner, ``outline, u_mm, v_mm``."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

from linkviz.errors import MOST_PROBLEMS, FileRefused, LinkvizError, Problem
from linkviz.marks import decimal_mark
from linkviz.units import Unit, from_mm, parse_length
from linkviz.vehicle.outline_files import (
    EXPECTED,
    FARTHEST,
    MOST_CORNERS_IN_ALL,
    MOST_OUTLINES,
    Corners,
    Named,
    UnitWanted,
)
from linkviz.vehicle.outlines import Corner
from linkviz.vehicle.text import decode_utf8, read_bytes, table_rows

_HEAD = re.compile(r"^(?P<axis>[uvxyz])[ _]*[\[(]?(?P<unit>mm|in|inch|inches|\")?[\])]?$", re.IGNORECASE)
_NAMES = ("outline", "name", "layer")
_PARTS = ("part", "loop", "number")


def dump_csv(outlines: Named, unit: Unit) -> str:
    """Return outlines as a table with a heading that names the unit."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(("outline", "part", f"u_{unit}", f"v_{unit}"))
    for name, group in outlines.items():
        for part, outline in enumerate(group, 1):
            for u, v in outline:
                table.writerow((name, part, _number(u, unit), _number(v, unit)))
    return text.getvalue()


def _number(mm: float, unit: Unit) -> str:
    text = f"{from_mm(mm, unit):.9f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def read_csv(path: Path, unit: Unit | None) -> Named:
    """Read outlines from a table; see `linkviz.vehicle.outline_files.read_outlines`.

    Notes
    -----
    Columns are told by their heading: ``outline`` (or name, layer), ``part``, and two of u, v, x, y, z with the unit
    (``u_mm``, ``y (in)``). Without a heading the last two columns are u and v. Separators may be ``,``, ``;`` or tabs;
    with ``;`` or tabs a decimal comma is understood. A value may carry its own unit.
    """
    where = str(path)
    text = decode_utf8(read_bytes(path, EXPECTED), where, EXPECTED)
    first = next((line for line in text.splitlines() if line.strip()), "")
    mark = next((mark for mark in ("\t", ";") if mark in first), ",")
    rows = [(line, [cell.strip() for cell in row]) for line, row in table_rows(text, mark, where, EXPECTED)]
    if not rows:
        raise FileRefused(where, [Problem("file", "a table without a word", EXPECTED)])
    if len(rows) > MOST_CORNERS_IN_ALL:
        raise FileRefused(
            where, [Problem("file", f"{len(rows)} lines", f"at most {MOST_CORNERS_IN_ALL}, one for each corner")]
        )
    heads, columns = _headings(where, rows[0][1]), 0
    if heads is None:
        heads = _Heads(None, None, (-2, -1), None)
    else:
        columns = len(rows[0][1])
        del rows[0]
    unit = heads.unit or unit
    # written by a program, all alike: one mark that is decimal tells of the others
    decimal = "." if mark == "," else decimal_mark(_numbers(rows, heads), ".")
    found: dict[tuple[str, str], list[Corner]] = {}
    problems: list[Problem] = []
    for line, row in rows:
        if len(problems) > MOST_PROBLEMS:
            break
        if len(row) < 2 or any(at is not None and at >= len(row) for at in (heads.name, heads.part, *heads.axes)):
            problems.append(Problem(f"line {line}", f"{len(row)} columns", "an outline's name and two lengths"))
            continue
        if mark == "," and columns and any(row[columns:]):
            expected = f"as many as in the heading, {columns}; write decimals with a point, or put ; between columns"
            problems.append(Problem(f"line {line}", f"{len(row)} columns", expected))
            continue
        name = row[heads.name] if heads.name is not None else (row[0] if len(row) > 2 else "outline")
        part = row[heads.part] if heads.part is not None else ""
        if unit is None and not all(re.search(r"[a-z\"']", row[at], re.IGNORECASE) for at in heads.axes):
            raise UnitWanted(where)
        try:
            u, v = (parse_length(row[at], unit or "mm", decimal) for at in heads.axes)
            corner = (u, v)
        except LinkvizError as error:
            problems.append(Problem(f"line {line}", str(row), str(error)))
            continue
        if not all(abs(value) <= FARTHEST for value in corner):
            problems.append(Problem(f"line {line}", str(row), f"lengths of at most {FARTHEST:g} mm"))
            continue
        found.setdefault((name or "outline", part), []).append(corner)
    if len(found) > MOST_OUTLINES:
        raise FileRefused(where, [Problem("file", f"{len(found)} outlines", f"at most {MOST_OUTLINES} outlines")])
    result: dict[str, list[Corners]] = {}
    for (name, part), corners in found.items():
        if len(corners) > 1 and corners[-1] == corners[0]:
            corners.pop()
        if len(corners) < 3:
            which = f"{name} {part}".strip()
            problems.append(Problem(which, f"{len(corners)} corners", "at least 3 corners around the outline"))
        result.setdefault(name, []).append(tuple(corners))
    if not result and not problems:
        problems.append(Problem("file", "a heading without corners", EXPECTED))
    if problems:
        raise FileRefused(where, problems)
    return {name: tuple(group) for name, group in result.items()}


class _Heads:
    """Which column is what; None where there is none."""

    def __init__(self, name: int | None, part: int | None, axes: tuple[int, int], unit: Unit | None) -> None:
        self.name, self.part, self.axes, self.unit = name, part, axes, unit


def _headings(where: str, cells: list[str]) -> _Heads | None:
    """Return what the first line says of the columns, or None if it is no heading."""
    axes = [(i, match) for i, cell in enumerate(cells) if (match := _HEAD.match(cell))]
    if len(axes) != 2:
        if any(any(c.isdigit() for c in cell) for cell in cells[-2:]):
            return None
        raise FileRefused(
            where, [Problem("line 1", ", ".join(cells)[:60], "a heading such as outline, u_mm, v_mm, or corners")]
        )
    units = {_unit(match["unit"]) for _, match in axes}
    if len(units) > 1:
        raise FileRefused(where, [Problem("line 1", "two units", "one unit for both columns, such as u_mm, v_mm")])
    lower = [cell.lower() for cell in cells]
    name = next((lower.index(word) for word in _NAMES if word in lower), None)
    part = next((lower.index(word) for word in _PARTS if word in lower), None)
    return _Heads(name, part, (axes[0][0], axes[1][0]), units.pop())


def _numbers(rows: list[tuple[int, list[str]]], heads: _Heads) -> list[str]:
    """Return all lengths as they stand in the table."""
    return [row[at] for _, row in rows for at in heads.axes if -len(row) <= at < len(row)]


def _unit(text: str | None) -> Unit | None:
    if not text:
        return None
    return "mm" if text.lower() == "mm" else "in"
