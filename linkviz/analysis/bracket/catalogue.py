"""A shop's own stock: brackets with their holes in a ``*.parts.toml`` file, read as strictly as a vehicle file."""

from __future__ import annotations

from os import PathLike, fspath
from pathlib import Path
from typing import Final, Literal

from linkviz.analysis.bracket.table import BracketTable, bracket_problems
from linkviz.errors import FileRefused, Problem
from linkviz.units import Unit
from linkviz.vehicle.model import Length
from linkviz.vehicle.part import Part
from linkviz.vehicle.read import toml_data
from linkviz.vehicle.take import BAD, Taker, shown
from linkviz.vehicle.text import decode_utf8, read_bytes
from linkviz.vehicle.texts import text_problems
from linkviz.vehicle.wording import Range, Words

FORMAT = "linkviz-parts/1"
"""The format this program reads."""
EXPECTED = "a catalogue of parts (*.parts.toml)"
INSIDE: Final = Range(10.0, 200.0)
"""Sensible widths between the plates, mm."""


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
    if isinstance(catalogue, Catalogue):
        problems += text_problems("", catalogue)
    parts = [(key, part) for key, part in taker.taken.items() if isinstance(part, StockPart)]
    first: dict[str, str] = {}
    for key, part in parts:
        problems += bracket_problems(part, Words(unit), key)
        problems += Words(unit).outside(f"{key}.inside", part.inside, INSIDE)
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
