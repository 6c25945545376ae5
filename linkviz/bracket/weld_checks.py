"""Checks of the welds: those of the brace, and of the spacer tube where it stands between the plates."""

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


def group_of(bracket: DropBracket, drop: float) -> WeldGroup | None:
    """Return the weld of one plate in its plane (v, u): round a welded tube, down its outboard edge if braced.

    None where nothing is welded: a loose tube and no brace.
    """
    lines = list(ring(0.0, 0.0, bracket.tube_outer / 2.0)) if bracket.tube_welded else []
    if bracket.brace_length(drop):
        lines.append((bracket.width / 2.0, bracket.brace_start, bracket.width / 2.0, drop))
    return WeldGroup(tuple(lines)) if lines else None


def unwelded(bracket: DropBracket, drop: float) -> str:
    """Return why there is no weld to look at where the bar hangs at `drop`, a sentence; "" where there is one."""
    if group_of(bracket, drop) is not None:
        return ""
    return "No weld to look at: the spacer tube lies loose inside the frame bracket and no brace is welded on."


def welds(bracket: DropBracket, load: Loads, case: str) -> Iterator[Check]:
    """Yield the welds under the fore-aft share of the bar's force, half of it on either plate.

    Nothing where `group_of` has no weld. The weld of a brace alone is one line: it holds the moment along it, while the
    one across, between bar and bolts, stays with the plates, which are bolted in the line of the bar.
    """
    group, force = group_of(bracket, load.drop), load.along / 2.0
    if group is None:
        return
    at = (load.shift if bracket.tube_welded else bracket.width / 2.0, load.drop)
    peak, off = group.peak(force, at), math.dist(at, group.centroid)
    allowed = fillet_allowable(bracket.weld_leg)
    parts = ("tube",) * bracket.tube_welded + ("brace",) * bool(bracket.brace_length(load.drop))
    yield Check(
        key="weld",
        words=f"Welds of the {' and '.join(parts)}, fore-aft force at the bar",
        where="weld",
        case=case,
        formula="P/L + M c/I <= 0.6 FEXX 0.707 w / 2.00",
        numbers=f"{plain(force)} N on {plain(group.length)} mm, {plain(off)} mm off: {plain(peak)} N/mm <= "
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
    """Yield the rules for the size of the fillets; none where nothing is welded."""
    if group_of(bracket, bracket.longest) is None:
        return
    thinner = min(bracket.thickness, bracket.tube_wall) if bracket.tube_welded else bracket.thickness
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
