"""The numbers of a graph as a table for spreadsheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping

import numpy as np

from linkviz.analysis.curves import Curves
from linkviz.analysis.figures import read_in, unit_word
from linkviz.linkage.layout import Array
from linkviz.units import Unit, from_mm

Band = tuple[Array, Array, Array]
"""Places along the axis, low and high end of an interval at each, in the quantity's own unit."""
_DECIMALS = 6


def axis_words(curves: Curves, unit: Unit) -> str:
    """Return what the axis of a graph is, with its unit: "Wheel travel (mm)"."""
    return f"Wheel travel ({unit})" if curves.axis == "travel" else "Axle roll (deg)"


def value_heading(curves: Curves, unit: Unit) -> str:
    """Return what a graph shows, with its unit: "Anti-squat (%)"."""
    word = unit_word(curves.quantity.unit, unit)
    return f"{curves.quantity.label} ({word})" if word else curves.quantity.label


def curve_table(curves: Curves, unit: Unit, bands: Mapping[str, Band] | None = None) -> str:
    """Return what a graph shows as CSV (RFC 4180 with line feeds), one row per place along the axis.

    Parameters
    ----------
    curves : Curves
    unit : {"mm", "in"}
        What lengths are read in.
    bands : mapping of str to (x, low, high)
        Intervals that are shown with it, by state, in the quantity's own unit.

    Returns
    -------
    str
        The first line names each column with its unit; a value that does not exist is left empty.
    """
    kind = curves.quantity.unit
    heading = value_heading(curves, unit)
    places = np.array([from_mm(float(x), unit) for x in curves.x]) if curves.axis == "travel" else curves.x
    columns: dict[str, Array] = {axis_words(curves, unit): places}
    for name, values in curves.values.items():
        columns[f"{name}: {heading}"] = read_in(values, kind, unit)
        if bands and name in bands:
            x, *ends = bands[name]
            for word, end in zip(("low", "high"), ends, strict=True):
                there = np.interp(curves.x, x, end, left=np.nan, right=np.nan)
                columns[f"{name}: {heading}, {word} end of 95 %"] = read_in(there, kind, unit)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    for row in zip(*columns.values(), strict=True):
        writer.writerow([round(float(v), _DECIMALS) + 0.0 if np.isfinite(v) else "" for v in row])
    return out.getvalue()
