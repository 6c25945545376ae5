"""How the number of a quantity is written, in the unit a person reads."""

from __future__ import annotations

import math

import numpy as np

from linkviz.analysis import quantities
from linkviz.conventions import MM_PER_INCH
from linkviz.linkage.layout import Array
from linkviz.units import Unit, angle_number, format_length

DEGREE = "\N{DEGREE SIGN}"


def figure(value: float, kind: quantities.Unit, unit: Unit, degree: str = DEGREE) -> str:
    """Return a value with its unit; "-" for one that does not exist.

    Parameters
    ----------
    value : float
        In the quantity's own unit.
    kind : {"mm", "deg", "N", "%", ""}
        That unit.
    unit : {"mm", "in"}
        What lengths are read in.
    degree : str
        What stands behind an angle.
    """
    if not math.isfinite(value):
        return "-"
    if kind == "mm":
        return format_length(value, unit)
    if kind == "deg":
        return f"{angle_number(math.radians(value))}{degree}"
    if kind == "N":
        return f"{round(value):d} N"
    return f"{value:.1f} %" if kind == "%" else f"{value:.2f}"


def read_in(values: Array, kind: quantities.Unit, unit: Unit) -> Array:
    """Return values of a quantity in the unit that is read: lengths in `unit`, everything else as it is."""
    return values / MM_PER_INCH if kind == "mm" and unit == "in" else np.asarray(values, dtype=float)


def unit_word(kind: quantities.Unit, unit: Unit) -> str:
    """Return the unit that is read, such as "in", "deg" or "%"; "" for a number without one."""
    return unit if kind == "mm" else kind


LEAST: dict[quantities.Unit, float] = {"mm": 1.0, "deg": 0.4, "N": 50.0, "%": 1.0, "": 0.02}
"""The narrowest range a graph shows, in the quantity's own unit."""
