"""The parts that belong to a lift: from the stock if one fits, else made to measure."""

from __future__ import annotations

from linkviz.analysis.bracket.catalogue import Catalogue
from linkviz.analysis.bracket.rules import DEFAULT_RULES, Rules
from linkviz.analysis.bracket.stock import propose
from linkviz.analysis.goals import restore_drop
from linkviz.analysis.setup import Setup
from linkviz.frozen import Frozen
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle


class Fitting(Frozen):
    """The parts that belong to a lift.

    Attributes
    ----------
    setup : Setup
        The lift with the parts on, mm.
    words : str
        Which part it is, or why none of the stock, in a few words.
    """

    setup: Setup
    words: str


def fitting_parts(
    vehicle: Vehicle,
    lift: float,
    catalogue: Catalogue | None = None,
    unit: Unit = "mm",
    rules: Rules = DEFAULT_RULES,
) -> Fitting:
    """Return a lift with the parts that belong to it.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle.
    lift : float
        mm.
    catalogue : Catalogue or None
        The shop's stock; its best part is taken if one fits. Else it is a bracket made to measure: the drop that
        gives the bar back its angle, to 1 mm.
    unit : {"mm", "in"}
        Unit of the words.
    rules : Rules
        What a part of the stock must keep.
    """
    if lift <= 0:
        return Fitting(Setup(), "as built, nothing to correct")
    best = propose(vehicle, lift, catalogue, rules, unit).best if catalogue is not None else None
    if best is not None and best.hole is not None:
        invented = " (invented)" if catalogue is not None and "(invented)" in catalogue.name else ""
        words = f"stock part {best.part.number}{invented}, hole {format_length(best.hole, unit)}"
        return Fitting(Setup(lift=lift, drop=best.hole, shift=best.part.shift), words)
    drop = restore_drop(vehicle, lift)
    if not drop:
        return Fitting(Setup(lift=lift), "no bracket gives the bar its angle back")
    made = f"a bracket made to measure, {format_length(drop, unit)}"
    return Fitting(Setup(lift=lift, drop=float(round(drop))), f"no stock part fits: {made}" if catalogue else made)
