"""Envelopes as text, in the form of a vehicle file: what is copied from one vehicle and pasted into another."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from typing import Any

from linkviz.errors import FileRefused, Problem
from linkviz.units import Unit
from linkviz.vehicle.model import Envelope, Vehicle
from linkviz.vehicle.part import Part
from linkviz.vehicle.problems import part_problems
from linkviz.vehicle.read import quick_toml
from linkviz.vehicle.take import BAD, Taker
from linkviz.vehicle.text import MOST_WRITTEN
from linkviz.vehicle.wording import Words
from linkviz.vehicle.write import envelope_tables

EXPECTED = 'envelopes as in a vehicle file: units = "mm", then tables [[envelopes]]; copy one in Linkviz first'


def dump_envelopes(envelopes: Sequence[Envelope], unit: Unit = "mm") -> str:
    """Return envelopes as TOML: a line with the unit and one ``[[envelopes]]`` table each."""
    import tomlkit

    document = tomlkit.document()
    document["units"] = unit
    document["envelopes"] = envelope_tables(envelopes, unit)
    return tomlkit.dumps(document)


def parse_envelopes(text: str, where: str = "clipboard") -> tuple[Envelope, ...]:
    """Take the envelopes of a text; everything else a vehicle file has is passed over.

    Parameters
    ----------
    text : str
        Text of `dump_envelopes`, or a whole vehicle file.
    where : str
        What to call it in messages.

    Returns
    -------
    tuple of Envelope
        In mm; at least one.

    Raises
    ------
    FileRefused
        If it holds no envelopes, or something is wrong with one of them.
    """
    data: dict[str, Any] = {}
    if len(text) <= MOST_WRITTEN:
        with contextlib.suppress(ValueError, RecursionError):
            data = quick_toml(text.removeprefix("\N{BYTE ORDER MARK}"))
    tables = data.get("envelopes")
    units = data.get("units", "mm")
    if not isinstance(tables, list) or not tables:
        raise FileRefused(where, [Problem("text", "no envelopes", EXPECTED)])
    if units not in ("mm", "in"):
        raise FileRefused(where, [Problem("units", str(units)[:40], '"mm" or "in"')])
    unit: Unit = "in" if units == "in" else "mm"
    taker = Taker(unit)
    taken = [
        taker.table(Envelope, table, f"envelopes[{i}]") if isinstance(table, dict) else BAD
        for i, table in enumerate(tables)
    ]
    problems = list(taker.problems)
    parts: dict[str, Part] = {
        f"envelopes[{i}]": envelope for i, envelope in enumerate(taken) if isinstance(envelope, Envelope)
    }
    problems += part_problems(parts, Words(unit))
    if problems or len(parts) < len(taken):
        raise FileRefused(where, problems or [Problem("envelopes", "something that is no table", EXPECTED)])
    return tuple(envelope for envelope in taken if isinstance(envelope, Envelope))


def envelopes_of(vehicle: Vehicle, names: Sequence[str] = ()) -> tuple[Envelope, ...]:
    """Return the envelopes of a vehicle that have one of these names; all without names."""
    return tuple(envelope for envelope in vehicle.envelopes if not names or envelope.name in names)
