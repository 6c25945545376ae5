"""`linkviz bracket`: how short, how long, which holes, how strong; which stock part fits."""

from __future__ import annotations

import argparse
import math
from typing import Any

from linkviz.analysis.bracket.catalogue import Catalogue, StockPart, read_catalogue
from linkviz.analysis.bracket.design import STRENGTH_CAUTION, Design, design, loads_said
from linkviz.analysis.bracket.goals import Goal
from linkviz.analysis.bracket.stock import Proposal, propose
from linkviz.analysis.findings import CAUTIONS
from linkviz.book.rules import rules_of
from linkviz.bracket.check import Check
from linkviz.bracket.lengths import Bound
from linkviz.commands.bracket_text import as_text
from linkviz.commands.subject import subject, units
from linkviz.commands.text import json_text, plain
from linkviz.commands.values import BadValue
from linkviz.frozen import values_of


def command(options: argparse.Namespace) -> int:
    """Print the design and, with a catalogue, what the stock has."""
    found = subject(options)
    if found.setup.drop < 0:
        raise BadValue(f"--drop: found {options.drop}; expected a length above 0, or nothing for the one that restores")
    unit = units(options, found)
    catalogue = read_catalogue(options.parts) if options.parts else None
    part = _part(options, catalogue)
    table = part or found.job.bracket
    rules = rules_of(found.job)
    bracket = table.bracket() if table else None
    designed = design(found.vehicle, found.setup, bracket, rules, unit)
    stock = propose(found.vehicle, found.setup.lift, catalogue, rules, unit) if catalogue else None
    if options.json:
        print(json_text(as_data(designed, stock)))
    else:
        print(as_text(designed, stock, unit))
    return 0


def _part(options: argparse.Namespace, catalogue: Catalogue | None) -> StockPart | None:
    if not options.part:
        return None
    if catalogue is None:
        raise BadValue("--part: a part of which catalogue? Give the file with --parts")
    for part in catalogue.brackets:
        if part.number == options.part:
            return part
    numbers = ", ".join(part.number for part in catalogue.brackets)
    raise BadValue(f"--part: found {options.part}; expected one of {numbers}")


def as_data(found: Design, stock: Proposal | None = None) -> dict[str, Any]:
    """Return it all as plain data: mm, kN, MPa and deg; null for what cannot be told (`missing` says why)."""

    def drop(key: str) -> float | None:
        setup = found.goal(key).setup
        return plain(setup.drop) if setup else None

    data: dict[str, Any] = {
        "vehicle": found.vehicle.name,
        "lift_mm": found.setup.lift,
        "drop_mm": plain(found.setup.drop),
        "drop_within_bounds": found.within,
        "drop_min_mm": plain(found.drop_min),
        "drop_max_mm": plain(found.drop_max),
        "drop_restore_mm": drop("restore"),
        "drop_level_mm": drop("level"),
        "drop_least_sway_mm": drop("least_sway"),
        "drop_clear_mm": drop("clear"),
        "shortest": [_bound(bound) for bound in found.shortest],
        "longest": [_bound(bound) for bound in found.longest],
        "goals": [_goal(goal) for goal in found.goals],
        "holes": [{"drop_mm": plain(h.drop), "serves_mm": [plain(v) for v in h.serves]} for h in found.holes.holes],
        "hole_step_mm": plain(found.holes.step),
        "lifts_not_served_mm": [plain(v) for v in found.holes.unserved],
        "lifts_not_served_why": found.holes.why,
        "bracket": {**values_of(found.bracket), "proposed": found.proposed},
        "loads": [
            {
                "case": case.name,
                "bar_kn": plain(load.force / 1000.0),
                "bar_angle_deg": plain(math.degrees(load.angle)),
                "anchor_bolt_kn": plain(load.anchor_force / 1000.0),
                "original_bolt_kn": plain(load.original_force / 1000.0),
            }
            for case, load in found.cases
        ],
        "loads_in_words": list(loads_said(found)),
        "checks": [_check(check) for check in (*found.checks, *found.distances)],
        "to_pass": [
            {"change": c.words, "passes": c.passes, "utilisation": plain(c.worst.utilisation)} for c in found.changes
        ],
        "anchor_distances": [
            {
                "anchor_mm": plain(row.anchor),
                "anchor_force_over_bar_force": plain(row.amplified),
                "utilisation": plain(row.worst.utilisation),
                "worst": row.worst.key,
                "room_for_it": row.allowed,
            }
            for row in found.anchors
        ],
        "raised_at_the_axle": [
            {"key": c.key, "case": c.case, "utilisation": plain(c.utilisation)} for c in found.raised
        ],
        "missing": list(found.missing),
        "cautions": [STRENGTH_CAUTION, *CAUTIONS],
    }
    if stock is not None:
        data["stock"] = {
            "part": stock.best.part.number if stock.best else None,
            "hole_mm": plain(stock.best.hole) if stock.best else None,
            "not_looked_at": stock.unknown,
            "tried": [
                {"part": t.part.number, "hole_mm": plain(t.hole), "fits": t.fits, "reasons": list(t.reasons)}
                for t in stock.tried
            ],
        }
    return data


def _bound(bound: Bound) -> dict[str, Any]:
    return {"key": bound.key, "drop_mm": plain(bound.drop), "reason": bound.words, "formula": bound.formula}


def _goal(goal: Goal) -> dict[str, Any]:
    data: dict[str, Any] = {"key": goal.key, "label": goal.label, "why_not": goal.why}
    if goal.setup is not None:
        data |= {
            "drop_mm": plain(goal.setup.drop),
            "shift_mm": plain(goal.setup.shift),
            "bar_longer_mm": plain(goal.setup.bar_longer),
            "axle_raise_mm": plain(goal.setup.axle_raise),
            "sway_mm": plain(goal.sway),
            "offset_mm": plain(goal.offset),
            "bar_angle_deg": plain(math.degrees(goal.bar_angle)),
            "roll_centre_mm": plain(goal.roll_centre),
            "gap_over_margin_mm": plain(goal.spare),
            "ground_mm": plain(goal.ground),
        }
    return data


def _check(check: Check) -> dict[str, Any]:
    return {
        "key": check.key,
        "words": check.words,
        "where": check.where,
        "kind": check.kind,
        "case": check.case,
        "formula": check.formula,
        "numbers": check.numbers,
        "source": check.source,
        "demand": plain(check.demand),
        "allowable": plain(check.allowable),
        "unit": check.unit,
        "utilisation": plain(check.utilisation),
        "verdict": check.verdict,
    }
