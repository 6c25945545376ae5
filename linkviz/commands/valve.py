"""`linkviz valve`: what a lift does to the load-sensing brake valve, and the rise that puts it right."""

from __future__ import annotations

import argparse
import math
from typing import Any

import numpy as np

from linkviz.analysis.stance.brake_valve import State, ValveResult, brake_valve, wear
from linkviz.analysis.stance.brake_words import BRAKE_CAUTIONS, FORGOTTEN, title, valve_rows, valve_sentences
from linkviz.analysis.stance.valve_bracket import HOLES, RISE
from linkviz.brakes import rules
from linkviz.commands.stance import table
from linkviz.commands.subject import subject, units
from linkviz.commands.text import bullet, json_text, paragraph, plain
from linkviz.commands.values import BadValue, items, length
from linkviz.errors import LinkvizError
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle

_Z = np.linspace(0.05, 0.9, 18)


class NoValve(LinkvizError):
    """A vehicle file that says nothing of a brake valve."""


def command(options: argparse.Namespace) -> int:
    """Print what there is to say about the valve."""
    whole = subject(options)
    vehicle, bracket = whole.vehicle, whole.job.valve_bracket
    if vehicle.brake_valve is None:
        raise NoValve(
            f"{options.file}: no load-sensing brake valve on file. If the vehicle has one, measure pivot, tip and axle "
            "point and add them as [brake_valve]."
        )
    offered = bracket.holes if bracket is not None and not options.holes else holes(options.holes)
    result = brake_valve(vehicle, whole.setup, whole.job.springing, offered)
    unit = units(options, whole)
    print(json_text(as_data(vehicle, result)) if options.json else as_text(vehicle, result, unit))
    return 0


def holes(text: str | None) -> tuple[float, ...]:
    """Return the rises of a list ``40mm,50mm``, mm; the usual ones if there is none."""
    if not text:
        return HOLES
    found = tuple(length("holes", part) for part in items("holes", text))
    if not all(RISE.holds(hole) for hole in found):
        raise BadValue(f"--holes: found {text}; expected rises of {RISE.least:g} to {RISE.most:g} mm")
    return found


def as_data(vehicle: Vehicle, result: ValveResult) -> dict[str, Any]:
    """Return it all as plain data: mm, deg, MPa; null where the file does not tell."""
    return {
        "vehicle": vehicle.name,
        "lift_mm": result.setup.lift,
        "valve_rise_mm": result.setup.valve_rise,
        "rise_needed_mm": result.rise,
        "nearest_hole_mm": result.hole,
        "left_deg": None if result.left is None else math.degrees(result.left),
        "reaches_between_mm": result.straight,
        "states": [_state(result, state) for state in result.states],
        "missing": list(result.missing),
        "sentences": [{"text": s.text, "sign": s.icon} for s in valve_sentences(result, "mm")],
        "forgotten": FORGOTTEN,
        "cautions": list(BRAKE_CAUTIONS),
    }


def _state(result: ValveResult, state: State) -> dict[str, Any]:
    data: dict[str, Any] = {
        "state": state.name,
        "laden": state.laden,
        "arm_deg": math.degrees(state.turn),
        "reached": state.reached,
        "knee_mpa": state.knee,
        "rear_braking_kept": state.kept,
    }
    if (system := state.system) is not None:
        front, rear = system.adhesion(_Z)
        wears = wear(result, state.name, state.laden)
        data |= {
            "locks_first": {
                name: {"axle": lock.axle, "g": lock.z}
                for name, lock in (("dry", state.dry), ("wet", state.wet))
                if lock is not None
            },
            "pad_wear": None if wears is None else {"front": wears[0], "rear": wears[1]},
            "balance": [
                {"g": plain(z), "rear_share": plain(s), "front_adhesion": plain(f), "rear_adhesion": plain(r)}
                for z, s, f, r in zip(_Z, system.share(_Z), front, rear, strict=True)
            ],
            # arithmetic of the rules' inequalities on these numbers; no approval
            "front_first_71_320_m1": bool(rules.front_first(_Z, front, rear).all()),
            "efficiency_line_r13h": bool(rules.efficient(_Z, np.fmax(front, rear)).all()),
        }
    return data


def as_text(vehicle: Vehicle, result: ValveResult, unit: Unit) -> str:
    """Return it all as text."""
    lines = [vehicle.name, ""]
    for sentence in valve_sentences(result, unit):
        lines += bullet(sentence.text)
    rows = valve_rows(result)
    for laden in (False, True):
        names = [title(s) for s in result.states if s.laden == laden]
        if names:
            lines += ["", *table(tuple(row.replace(cells={n: row.cells[n] for n in names}) for row in rows))]
    for words in (FORGOTTEN, *BRAKE_CAUTIONS):
        lines += ["", *paragraph(words)]
    return "\n".join(lines)
