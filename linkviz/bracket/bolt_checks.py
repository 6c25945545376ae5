"""Checks of the bolts: double shear."""

from __future__ import annotations

from collections.abc import Iterator

from linkviz.bracket.bolts import GRADES, OMEGA, SHEAR, SHEAR_CLEAR, SHEAR_IN, SIZES, shear_allowable
from linkviz.bracket.check import Check, kn, plain
from linkviz.bracket.loads import Loads
from linkviz.bracket.parts import DropBracket

WORDS = {"anchor": "anchor bolt", "original": "original bolt", "bar": "bolt of the bar"}


def shear(bracket: DropBracket, load: Loads, case: str) -> Iterator[Check]:
    """Yield each bolt in double shear.

    Notes
    -----
    Bolts sit tight between plates on either side: two shear planes. Bending of a bolt over loose spacers is not in
    it: fill gaps with sleeves that fit.

    References
    ----------
    AISC 360-16 J3.6 and table J3.2 (360-22: J3.7).
    """
    clear = bracket.threads == "clear"
    share = SHEAR_CLEAR if clear else SHEAR_IN
    for name, key, force in forces(bracket, load):
        size, grade = SIZES[key], GRADES[bracket.grade]
        fu = grade.strength_of(size.diameter)
        yield Check(
            key=f"{name}_bolt_shear",
            words=f"Double shear of the {WORDS[name]}, {key} grade {grade.key}",
            where="bolt",
            case=case,
            formula="V <= 2 Fnv Ab / 2.00",
            numbers=f"{kn(force)} <= 2 x {share} x {plain(fu)} MPa x {plain(size.body_area)} mm2 / {OMEGA:.2f} "
            f"(threads {'clear of' if clear else 'in'} the shear planes)",
            source=f"{SHEAR}; {grade.source}",
            demand=force / 1000.0,
            allowable=shear_allowable(size, grade, 2, clear) / 1000.0,
            unit="kN",
        )


def forces(bracket: DropBracket, load: Loads) -> tuple[tuple[str, str, float], ...]:
    """Return (name, size, force in N) of the three bolts."""
    return (
        ("anchor", bracket.anchor_bolt, load.anchor_force),
        ("original", bracket.bolt, load.original_force),
        ("bar", bracket.bar_bolt, load.force),
    )
