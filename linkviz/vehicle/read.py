"""Read a vehicle file: strictly, with everything that is wrong told at once.

The steps: text (`linkviz.vehicle.text`), TOML, shape (`linkviz.vehicle.take`), sense
(`linkviz.vehicle.problems`). Nothing is guessed and nothing is dropped.
"""

from __future__ import annotations

import re
import tomllib
from os import PathLike, fspath
from pathlib import Path
from typing import Any

from linkviz.errors import FileRefused, Problem
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.problems import name_problems, part_problems
from linkviz.vehicle.take import BAD, Taker, shown
from linkviz.vehicle.text import MOST_WRITTEN, decode_utf8, read_bytes
from linkviz.vehicle.texts import line_problems, lines_problems
from linkviz.vehicle.wording import Words

FORMAT = "linkviz-vehicle/1"
"""The format this program reads and writes."""

EXPECTED = "a vehicle file (*.vehicle.toml)"

_DEEPEST = 40
_KEY = r"""(?:[A-Za-z0-9_-]++|"[^"\n]{0,99}"|'[^'\n]{0,99}')[ \t]*+"""
_DEEP = re.compile(rf"(?<![A-Za-z0-9_-])(?:{_KEY}\.[ \t]*+){{{_DEEPEST}}}")
"""The reader takes time by the square of the parts of a dotted key."""
_AT = re.compile(r"^(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|(?P<end>end of document))\)$", re.S)


def read_vehicle(path: str | PathLike[str]) -> Vehicle:
    """Read a vehicle file.

    Parameters
    ----------
    path : path
        A ``*.vehicle.toml`` file, in mm or inches.

    Returns
    -------
    Vehicle
        The vehicle in engine units (mm, N/mm, kg).

    Raises
    ------
    FileRefused
        If anything at all is wrong with it; every problem is told.
    """
    where = fspath(path)
    return parse_vehicle(decode_utf8(read_bytes(Path(path), EXPECTED, MOST_WRITTEN), where, EXPECTED), where)


def parse_vehicle(text: str, where: str = "vehicle") -> Vehicle:
    """Read a vehicle from the text of a vehicle file.

    Parameters
    ----------
    text : str
        TOML v1.0.
    where : str
        What to call the text in messages, usually its path.

    Returns
    -------
    Vehicle
        The vehicle in engine units.

    Raises
    ------
    FileRefused
        As `read_vehicle`.
    """
    return vehicle_from_data(toml_data(text, where), where)


def vehicle_from_data(data: dict[str, Any], where: str = "vehicle") -> Vehicle:
    """Take a vehicle from the tables of a vehicle file, such as those embedded in a job file.

    Parameters
    ----------
    data : dict
        The tables as TOML gives them, lengths in the declared unit.
    where : str
        What to call the data in messages.

    Raises
    ------
    FileRefused
        As `read_vehicle`.
    """
    if foreign := _foreign(data):
        raise FileRefused(where, [foreign])
    units = data.get("units", "mm")
    sure = units in ("mm", "in") if isinstance(units, str) else False
    unit: Unit = "in" if sure and units == "in" else "mm"
    taker = Taker(unit)
    vehicle = taker.table(Vehicle, data, "")
    problems = list(taker.problems)
    if "format" not in data:
        problems.insert(0, Problem("format", "nothing", f'format = "{FORMAT}" as the first line'))
    if isinstance(data.get("name"), str):
        problems += [*name_problems("name", data["name"]), *line_problems("name", data["name"])]
    if isinstance(data.get("note"), str):
        problems += lines_problems("note", data["note"])
    if sure:
        problems += part_problems({key: part for key, part in taker.taken.items() if key}, Words(unit))
    if problems or vehicle is BAD:
        raise FileRefused(where, problems)
    assert isinstance(vehicle, Vehicle)
    return vehicle


def toml_data(text: str, where: str, expected: str = EXPECTED) -> dict[str, Any]:
    """Return the tables of a text.

    Parameters
    ----------
    text : str
        TOML v1.0.
    where : str
        What to call the text in messages.
    expected : str
        What the text should be.

    Raises
    ------
    FileRefused
        If it is not TOML; the line is named.
    """
    text = text.removeprefix("\N{BYTE ORDER MARK}")
    try:
        return quick_toml(text)
    except RecursionError:
        problem = Problem("file", "lists nested too deeply", expected)
    except ValueError as error:
        problem = _not_toml(text, str(error), expected)
    raise FileRefused(where, [problem]) from None


def quick_toml(text: str) -> dict[str, Any]:
    """Return the tables of a text, or why it is none, in time that goes with its length.

    Raises
    ------
    ValueError
        If it is not TOML, or has a key of very many parts.
    RecursionError
        If its lists are nested too deeply.
    """
    if deep := _DEEP.search(text):
        line = text.count("\n", 0, deep.start()) + 1
        raise ValueError(f"a key of more than {_DEEPEST} parts (at line {line}, column 1)")
    return tomllib.loads(text)


def _not_toml(text: str, message: str, expected: str) -> Problem:
    start = text.lstrip()[:200].lower()
    kind = ""
    if start.startswith(("{", "[\n", "[{")):
        kind = "JSON or another notation"
    elif start.startswith("<"):
        kind = "a web page, a drawing or other XML"
    elif start.startswith("0\nsection") or start.startswith("0\r\nsection"):
        kind = "a DXF drawing"
    elif re.match(r"(sep=.|\"?point\"?\s*[;,\t]|\"?units\"?\s*[;,\t])", start):
        return Problem("file", "a measuring sheet (CSV)", f"{expected}; import the sheet instead")
    if kind and not start.startswith("["):
        return Problem("file", kind, expected)
    if message.startswith("Exceeds the limit"):  # Python's own, of the digits of a whole number
        return Problem("file", "a number of thousands of digits", "numbers that can be measured; correct it")
    match = _AT.match(message)
    what = match["what"] if match else message
    place = "file"
    if match and match["line"]:
        place = f"line {match['line']}, column {match['column']}"
    elif match and match["end"]:
        place = f"line {text.count(chr(10)) + 1}, the end of the file"
    return Problem(place, f"text that is not TOML ({what})", "lines such as key = value; correct that place")


def _foreign(data: dict[str, Any]) -> Problem | None:
    """Return the problem of a file that is something else altogether."""
    found = data.get("format")
    if found == FORMAT:
        return None
    if "format" not in data:
        if "links" in data or "axle" in data:
            return None
        return Problem("format", "nothing", f'format = "{FORMAT}" as the first line; this is not {EXPECTED}')
    if isinstance(found, str) and found.startswith("linkviz-job/"):
        return Problem("format", f'"{found}", a job file', f'"{FORMAT}"; open the file as a job instead')
    if isinstance(found, str) and found.startswith("linkviz-vehicle/"):
        return Problem("format", f'"{found}", another version', f'"{FORMAT}"; a newer program may read it')
    return Problem("format", shown(found), f'"{FORMAT}"; is this another kind of file?')
