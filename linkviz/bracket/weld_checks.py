"""Checks of the welds that hold the spacer tube and the brace."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linkviz.bracket.check import Check, plain
from linkviz.bracket.groups import WeldGroup, ring
from linkviz.bracket.loads import Loads
from linkviz.bracket.materials import ELECTRODE, STEELS
from linkviz.bracket.parts import DropBracket
from linkviz.conventions import MM_PER_INCH

OMEGA = 2.0
"""ASD safety factor of fillet welds and of base metal in rupture (AISC 360 J2.4, J4.2b)."""
THROAT = math.sqrt(0.5)
"""Throat of a fillet with equal legs over its leg."""


def fillet_allowable(leg: float) -> float:
    """Return the allowable force per length of a fillet, ASD, N/mm.

    Parameters
    ----------
    leg : float
        mm.

    Notes
    -----
    0.60 FEXX x 0.707 w / 2.00 with E70: 0.928 kip/in for each 1/16 in (AISC 360-16 J2.4, table J2.5; AWS D1.1).
    """
    return 0.6 * ELECTRODE * THROAT * leg / OMEGA


def least_leg(thinner: float) -> float:
    """Return the least leg of a fillet by the thinner part joined, mm (AISC 360-16 table J2.4)."""
    for most, sixteenths in ((0.25, 2), (0.5, 3), (0.75, 4)):
        if thinner <= most * MM_PER_INCH + 1e-9:
            return sixteenths * MM_PER_INCH / 16.0
    return 5 * MM_PER_INCH / 16.0


def group_of(bracket: DropBracket, drop: float) -> WeldGroup:
    """Return the weld of one plate in its plane (v, u): round the tube, and down its outboard edge if braced."""
    lines = list(ring(0.0, 0.0, bracket.tube_outer / 2.0))
    if bracket.brace and drop > bracket.brace_start:
        lines.append((bracket.width / 2.0, bracket.brace_start, bracket.width / 2.0, drop))
    return WeldGroup(tuple(lines))


def welds(bracket: DropBracket, load: Loads, case: str) -> Iterator[Check]:
    """Yield the welds under the fore-aft share of the bar's force, half of it on either plate."""
    group, force = group_of(bracket, load.drop), load.along / 2.0
    peak = group.peak(force, (load.shift, load.drop))
    allowed = fillet_allowable(bracket.weld_leg)
    held = "tube and brace" if bracket.brace else "tube"
    yield Check(
        key="weld",
        words=f"Welds of the {held}, fore-aft force at the bar",
        where="weld",
        case=case,
        formula="P/L + M c/I <= 0.6 FEXX 0.707 w / 2.00",
        numbers=f"{plain(force)} N on {plain(group.length)} mm, {plain(load.drop)} mm off: {plain(peak)} N/mm <= "
        f"0.6 x {plain(ELECTRODE)} MPa x 0.707 x {plain(bracket.weld_leg)} mm / {OMEGA:.2f}",
        source="AISC 360-16 J2.4, AWS D1.1; elastic group: AISC Manual part 8, Blodgett 7.4; E70",
        demand=peak,
        allowable=allowed,
        unit="N/mm",
    )
    steel = STEELS[bracket.steel]
    yield Check(
        key="weld_base_metal",
        words="Plate beside those welds",
        where="weld",
        case=case,
        formula="P/L + M c/I <= 0.6 Fu t / 2.00",
        numbers=f"{plain(peak)} N/mm <= 0.6 x {plain(steel.strength)} MPa x {plain(bracket.thickness)} mm "
        f"/ {OMEGA:.2f}",
        source=f"AISC 360-16 J4.2b; {steel.source}",
        demand=peak,
        allowable=0.6 * steel.strength * bracket.thickness / OMEGA,
        unit="N/mm",
    )


def leg(bracket: DropBracket) -> Iterator[Check]:
    """Yield the rules for the size of the fillets."""
    thinner = min(bracket.thickness, bracket.tube_wall)
    yield Check(
        key="weld_least_leg",
        words="Least leg of the fillets",
        where="weld",
        case="",
        formula="w >= table",
        numbers=f"{plain(least_leg(thinner))} mm <= {plain(bracket.weld_leg)} mm, thinner part {plain(thinner)} mm",
        source="AISC 360-16 table J2.4",
        demand=least_leg(thinner),
        allowable=bracket.weld_leg,
        unit="mm",
        kind="distance",
    )
