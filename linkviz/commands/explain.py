"""`linkviz explain`: what a lift and a bracket do, in sentences, and every figure at rest."""

from __future__ import annotations

import argparse
import math
from typing import Any

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import answers
from linkviz.analysis.clearance.words import clearance_sentences
from linkviz.analysis.compare import Comparison, compare
from linkviz.analysis.figures import figure
from linkviz.analysis.findings import Findings, findings
from linkviz.analysis.goals import clear_drop
from linkviz.analysis.limit_words import limits_said
from linkviz.analysis.quantities import QUANTITIES, Quantity
from linkviz.commands.clearance import clearance_data
from linkviz.commands.subject import subject, units
from linkviz.commands.text import bullet, json_text, paragraph, plain
from linkviz.units import Unit

_LABEL = 32


def command(options: argparse.Namespace) -> int:
    """Print the findings and the figures."""
    found = subject(options)
    vehicle, setup = found.vehicle, found.setup
    comparison = compare(vehicle, setup)
    unit = units(options, found)
    clear = clear_drop(vehicle, setup.lift) if setup.lift else None
    words = findings(comparison, unit, clear, found.job.springing)
    if options.json:
        print(json_text(as_data(comparison, words)))
    else:
        print(as_text(comparison, words, unit))
    return 0


def limits_of(comparison: Comparison, unit: Unit) -> list[str]:
    """Return how far the vehicle can be lifted and how far its axle travels, in sentences."""
    return [sentence.text for sentence in limits_said(comparison.vehicle, comparison.setup, unit)]


def at_rest(comparison: Comparison, quantity: Quantity) -> dict[str, float]:
    """Return a quantity at the rest of every state, by the state's name, in the quantity's unit."""
    return {
        name: float(quantity.of(case.study[case.rest : case.rest + 1])[0]) for name, case in comparison.cases.items()
    }


def as_data(comparison: Comparison, found: Findings) -> dict[str, Any]:
    """Return it all as plain data: mm, deg, N and %; what cannot be told says why."""
    quantities = []
    build = Build.of(comparison.vehicle, comparison.setup)
    for quantity in QUANTITIES:
        entry: dict[str, Any] = {"key": quantity.key, "label": quantity.label, "unit": quantity.unit}
        if why := quantity.missing(comparison.vehicle):
            entry["missing"] = why
        else:
            values = at_rest(comparison, quantity)
            entry["at_rest"] = {n: plain(v) for n, v in values.items()}
            if quantity.infinite and not all(map(math.isfinite, values.values())):
                entry["null_means"] = quantity.infinite
        quantities.append(entry)
    return {
        "vehicle": comparison.vehicle.name,
        "sentences": [{"text": s.text, "sign": s.icon} for s in found.sentences],
        "limits": limits_of(comparison, "mm"),
        "clearance": clearance_data(build, answers(build)),
        "quantities": quantities,
        "cautions": list(found.cautions),
    }


def as_text(comparison: Comparison, found: Findings, unit: Unit) -> str:
    """Return it all as text."""
    lines = [comparison.vehicle.name, ""]
    for sentence in found.sentences:
        lines += bullet(sentence.text)
    lines += ["", "How far it can be lifted, and how far it travels"]
    for text in limits_of(comparison, unit):
        lines += bullet(text)
    build = Build.of(comparison.vehicle, comparison.setup)
    lines += ["", "How near the parts come"]
    for sentence in clearance_sentences(build, answers(build), unit):
        lines += bullet(sentence.text)
    lines += ["", "At rest".ljust(_LABEL) + "".join(name.rjust(16) for name in comparison.cases)]
    group = ""
    absent: dict[str, list[str]] = {}
    far: set[str] = set()
    for quantity in QUANTITIES:
        if why := quantity.missing(comparison.vehicle):
            absent.setdefault(why, []).append(quantity.label)
            continue
        if quantity.group != group:
            group = quantity.group
            lines.append(f"  {group}")
        values = at_rest(comparison, quantity).values()
        far |= {f"{quantity.label}: - where {quantity.infinite}." for v in values if not math.isfinite(v)}
        lines.append(
            quantity.label.ljust(_LABEL) + "".join(figure(v, quantity.unit, unit, " deg").rjust(16) for v in values)
        )
    for note in [*sorted(far), *(f"Not told: {', '.join(labels)}. {why}" for why, labels in absent.items())]:
        lines += ["", *paragraph(note)]
    for caution in found.cautions:
        lines += ["", *paragraph(caution)]
    return "\n".join(lines)
