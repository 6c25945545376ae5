"""From a comparison to what the graph strip shows."""

from __future__ import annotations

import numpy as np

from linkviz.job.compare import Comparison
from linkviz.job.study import Study
from linkviz.session.view import GraphKind
from linkviz.units import Unit, format_angle, format_length
from linkviz.window.scales import Array, Curves

ROLL_SAID = float(np.radians(0.05))
"""Least roll that is said, rad."""


def _values(study: Study, kind: GraphKind) -> Array:
    if kind == "sway":
        return study.sway
    if kind == "pinion":
        return np.degrees(study.pinion_angle)
    return np.where(np.isfinite(study.gap), study.gap, np.nan)


def curves_of(comparison: Comparison, kind: GraphKind) -> Curves:
    """Return the three states of one quantity over travel; NaN where the axle does not get."""
    values = {name: np.where(study.reached, _values(study, kind), np.nan) for name, study in comparison.studies.items()}
    return Curves(comparison.travel, values, kind != "pinion")


def reading(study: Study, kind: GraphKind, travel: float, unit: Unit) -> str:
    """Return what the live axle reads, in words: "at +40 mm: 12 mm left of its rest".

    The lines are those of a level axle; a rolled one reads otherwise, so its roll is said too.
    """
    where = "at rest" if abs(travel) < 0.5 else f"at {'+' if travel > 0 else ''}{format_length(travel, unit)}"
    if abs(float(study.roll[0])) >= ROLL_SAID:
        where += f", rolled {format_angle(float(study.roll[0]))}"
    if kind == "sway":
        sway = float(study.sway[0])
        if abs(sway) < 0.5:
            return f"{where}: on its rest line"
        side = "left" if sway > 0 else "right"
        return f"{where}: {format_length(abs(sway), unit)} {side} of its rest"
    if kind == "pinion":
        return f"{where}: {format_angle(float(study.pinion_angle[0]))}"
    gap = float(study.gap[0])
    if not np.isfinite(gap):
        return "nothing to keep clear of"
    if gap <= 0:
        return f"{where}: touches, {format_length(-gap, unit)} deep"
    return f"{where}: {format_length(gap, unit)}"
