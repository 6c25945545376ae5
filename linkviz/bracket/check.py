"""One check of strength or of distance, with everything needed to follow it on paper."""

from __future__ import annotations

import math
from typing import Literal

from linkviz.frozen import Frozen

Where = Literal["bracket", "frame bracket", "bolt", "weld"]
"""What gives way: the bracket's own plates and tube, the vehicle's bracket, a bolt, a weld."""
Kind = Literal["strength", "distance"]


class Check(Frozen):
    """A check against an allowable value (allowable-strength design).

    Attributes
    ----------
    key : str
        For programs; never changed.
    words : str
        What is looked at, for people.
    where : {"bracket", "frame bracket", "bolt", "weld"}
        What gives way.
    case : str
        Name of the load case; "" for a distance, which needs none.
    formula, numbers : str
        The formula, and the same with the numbers put in.
    source : str
        Where the formula stands.
    demand, allowable : float
        In `unit`.
    unit : str
        "kN", "MPa", "N/mm", "kN m", "mm" or "".
    kind : {"strength", "distance"}
        A distance is a rule of layout: the demand is what is asked for, the allowable what is there.
    """

    key: str
    words: str
    where: Where
    case: str
    formula: str
    numbers: str
    source: str
    demand: float
    allowable: float
    unit: str
    kind: Kind = "strength"

    @property
    def in_sentence(self) -> str:
        """Return what is looked at as it stands inside a sentence."""
        return f"{self.words[:1].lower()}{self.words[1:]}"

    @property
    def said(self) -> str:
        """Return what is looked at, with the load case where there is one."""
        return f"{self.words} ({self.case})" if self.case else self.words

    @property
    def utilisation(self) -> float:
        """Return demand over allowable; large, never infinite, where nothing is there to bear it."""
        if self.demand <= 0:
            return 0.0
        return min(self.demand / self.allowable, 999.0) if self.allowable > 0 else 999.0

    @property
    def passes(self) -> bool:
        """Return whether the demand is within the allowable, to rounding."""
        return self.utilisation <= 1.0 + 1e-9

    @property
    def verdict(self) -> str:
        """Return the word for it."""
        if self.kind == "distance":
            return "kept" if self.passes else "too close"
        return "within the allowable" if self.passes else "over the allowable"


def kn(newtons: float) -> str:
    """Return a force with its unit."""
    return f"{newtons / 1000.0:.2f} kN"


def plain(value: float) -> str:
    """Return a number for a formula: four figures, no exponent."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "-"
    digits = max(0, 3 - math.floor(math.log10(abs(value))))
    return f"{value:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{value:.0f}"
