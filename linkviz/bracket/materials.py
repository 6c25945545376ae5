"""Steels and weld metal, in MPa, every value with its published source.

"memory" in a source: written down from memory; compare with the standard or the mill's certificate. Where the steel of
a part is known from its certificate, its own figures are the ones to use.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from linkviz.frozen import Frozen

MPA_PER_KSI: Final = 6.894757293168
"""MPa in one ksi (from 1 lbf = 4.4482216152605 N and 1 in = 25.4 mm, exact)."""
ELASTIC_MODULUS: Final = 200_000.0
"""Of steel, MPa (AISC 360, 29,000 ksi)."""
DENSITY: Final = 7.85e-6
"""Of steel, kg/mm3 (EN 1991-1-1)."""
ELECTRODE: Final = 70.0 * MPA_PER_KSI
"""Strength of E70 weld metal, MPa (AWS A5.1, A5.18; the match for all steels here by AWS D1.1 table 5.4)."""


class Steel(Frozen):
    """A steel: least yield and least tensile strength.

    Attributes
    ----------
    key, name : str
        What it goes by.
    yields, strength : float
        Fy and Fu, MPa.
    source : str
        Where these stand.
    """

    key: str
    name: str
    yields: float
    strength: float
    source: str


STEELS: Final[Mapping[str, Steel]] = {
    steel.key: steel
    for steel in (
        Steel("unknown", "unknown mild steel", 235.0, 360.0, "taken as EN 10025-2 S235, the weakest in common use"),
        Steel("A36", "ASTM A36 plate", 36 * MPA_PER_KSI, 58 * MPA_PER_KSI, "ASTM A36"),
        Steel("A572-50", "ASTM A572 grade 50", 50 * MPA_PER_KSI, 65 * MPA_PER_KSI, "ASTM A572"),
        Steel("A500B", "ASTM A500 grade B round tube", 42 * MPA_PER_KSI, 58 * MPA_PER_KSI, "ASTM A500"),
        Steel("A500C", "ASTM A500 grade C round tube", 46 * MPA_PER_KSI, 62 * MPA_PER_KSI, "ASTM A500"),
        Steel("1020-DOM", "1020 drawn tube, as drawn", 70 * MPA_PER_KSI, 80 * MPA_PER_KSI,
              "ASTM A513 type 5, usual minimum of the trade (memory)"),
        Steel("S235", "S235JR", 235.0, 360.0, "EN 10025-2, up to 16 mm (memory)"),
        Steel("S275", "S275JR", 275.0, 410.0, "EN 10025-2, up to 16 mm (memory)"),
        Steel("S355", "S355J2", 355.0, 470.0, "EN 10025-2, up to 16 mm (memory)"),
    )
}  # fmt: skip
"""Steels by key."""
