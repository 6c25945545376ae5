"""`linkviz stance`: ride height, rate, frequency, and what still reaches, from springs, spacer and load."""

from __future__ import annotations

import argparse
from typing import Any

from linkviz.analysis.findings import CAUTIONS
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Load, Springing, springing_problems
from linkviz.analysis.stance.stance import from_springs, springs_rise
from linkviz.analysis.stance.stance_words import source_words, stance_rows, stance_sentences, stances
from linkviz.analysis.telling import Row
from linkviz.commands.subject import subject, units
from linkviz.commands.text import bullet, columns, json_text, paragraph
from linkviz.commands.values import BadValue, length, number
from linkviz.errors import FileRefused
from linkviz.units import Unit
from linkviz.vehicle.model import Coil, Vehicle
from linkviz.vehicle.wording import Words


def command(options: argparse.Namespace) -> int:
    """Print how the vehicle stands."""
    whole = subject(options)
    vehicle, setup = whole.vehicle, whole.setup
    unit = units(options, whole)
    typed = springing_of(vehicle, options, unit)
    springing = typed or whole.job.springing
    if options.lift is None and typed is not None:
        rise = springs_rise(vehicle, typed)
        setup = setup.with_(lift=max(rise, 0.0)) if rise is not None else setup
    if options.json:
        print(json_text(as_data(vehicle, setup, springing)))
    else:
        print(as_text(vehicle, setup, springing, unit))
    return 0


def springing_of(vehicle: Vehicle, options: argparse.Namespace, unit: Unit) -> Springing | None:
    """Return what the options put in; None if they put in nothing.

    Raises
    ------
    BadValue
        If a value cannot be taken.
    FileRefused
        If a value makes no sense.
    """
    spacer, coil = length("spacer", options.spacer), None
    if options.springs:
        named = {c.name.lower(): c for c in vehicle.other_springs}
        near = [c for name, c in named.items() if options.springs.lower() in name]
        if len(near) != 1:
            known = ", ".join(c.name for c in vehicle.other_springs) or "none"
            raise BadValue(
                f"--springs: found {options.springs}; expected one of [[other_springs]] of the file: {known}"
            )
        coil = near[0].bare
    if options.free_length or options.rate:
        if not (options.free_length and options.rate):
            raise BadValue("--free-length and --rate: give both of the new coil")
        coil = Coil(
            free_length=length("free-length", options.free_length), rate=number("rate", options.rate, "28", "N/mm")
        )
    loads = tuple(_load(vehicle, text) for text in options.load or ())
    front = None if options.front is None else length("front", options.front)
    springing = Springing(spacer=spacer, springs=coil, loads=loads, front_rise=front)
    problems = list(springing_problems(springing, Words(unit), "options"))
    if problems:
        raise FileRefused("stance", problems)
    return None if springing == Springing() else springing


def _load(vehicle: Vehicle, text: str) -> Load:
    place, _, mass = text.rpartition("=")
    names = [p.name for p in vehicle.load_places]
    if place not in names:
        known = ", ".join(names) or "none; add [[load_places]]"
        raise BadValue(f"--load: found {text}; expected PLACE=KG with a place of the file: {known}")
    return Load(place=place, mass=number("load", mass, "cargo=80", "kg"))


def as_data(vehicle: Vehicle, setup: Setup, springing: Springing | None) -> dict[str, Any]:
    """Return it all as plain data: mm, N, N/mm, Hz, rad; null where the file does not tell."""
    rise = springs_rise(vehicle, springing) if springing is not None else None
    return {
        "vehicle": vehicle.name,
        "lift_mm": setup.lift,
        "from_springs": from_springs(vehicle, setup, springing),
        "springs_rise_mm": rise,
        "states": stances(vehicle, setup, springing),
        "sentences": [
            {"text": s.text, "sign": s.icon}
            for s in (source_words(vehicle, setup, springing, "mm"), *stance_sentences(vehicle, setup, springing, "mm"))
        ],
        "cautions": list(CAUTIONS),
    }


def as_text(vehicle: Vehicle, setup: Setup, springing: Springing | None, unit: Unit) -> str:
    """Return it all as text."""
    lines = [vehicle.name, ""]
    for sentence in (
        source_words(vehicle, setup, springing, unit),
        *stance_sentences(vehicle, setup, springing, unit),
    ):
        lines += bullet(sentence.text)
    lines += ["", *table(stance_rows(vehicle, setup, springing, unit))]
    for caution in CAUTIONS:
        lines += ["", *paragraph(caution)]
    return "\n".join(lines)


def table(rows: tuple[Row, ...]) -> list[str]:
    """Return rows as lines of text, a column a state."""
    if not rows:
        return []
    names = list(rows[0].cells)
    return columns([("", *names), *((f"{row.label}  ", *(row.cells[name].text for name in names)) for row in rows)])
