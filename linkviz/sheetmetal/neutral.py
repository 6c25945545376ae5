"""Where the neutral line of a bend lies, and how long the plate in a bend is.

Two conventions are about. DIN's k counts half thicknesses, rho = r + k t/2; the other writes rho = r + K t, K = k/2.
Inside the program it is always `Neutral`, which holds k and says where it comes from; K enters and leaves by name only.

References
----------
DIN 6935, Kaltbiegen von Flacherzeugnissen aus Stahl (k = 0.65 + 0.5 lg(r/s), at most 1; the correction v).
Machinery's Handbook, "Bending Sheet Metal": L = 0.55 T + 1.57 R (soft), 0.64 T (half hard), 0.71 T (hard) for 90 deg.
FAA AC 43.13-1B: bend allowance (0.01743 R + 0.0078 T) per degree.
"""

from __future__ import annotations

import math
from typing import Final, Literal

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen

Rule = Literal["din", "soft", "half hard", "hard", "faa"]
_PER_THICKNESS: Final[dict[str, float]] = {"soft": 0.55, "half hard": 0.64, "hard": 0.71}
_FAA_RADIUS, _FAA_THICKNESS = 0.01743, 0.0078


class Neutral(Frozen):
    """The neutral line of one bend.

    Attributes
    ----------
    k : float
        DIN's factor, of half the thickness, 0 < k <= 1; 1 is the middle of the plate.
    source : str
        Where it comes from, for papers.
    """

    k: float
    source: str

    def __post_init__(self) -> None:
        if not 0.0 < self.k <= 1.0:
            raise LinkvizError(
                f"k = {self.k:.3f} ({self.source}) puts the neutral line outside the plate's inner half. "
                "k (DIN, of half the thickness) lies between 0 and 1, K (of the whole thickness) between 0 and 0.5: "
                "check which of the two the figure is, and the test bend."
            )

    @property
    def big_k(self) -> float:
        """Return K = k/2, the factor on the whole thickness."""
        return self.k / 2.0

    def radius(self, inside: float, thickness: float) -> float:
        """Return the radius of the neutral line, r + k t/2, mm."""
        return inside + self.k * thickness / 2.0

    def length(self, angle: float, inside: float, thickness: float) -> float:
        """Return the length of the flat that goes into a bend of `angle` (rad), mm."""
        return angle * self.radius(inside, thickness)

    @classmethod
    def by(cls, rule: Rule, inside: float, thickness: float) -> Neutral:
        """Return the neutral line by a published rule.

        Parameters
        ----------
        rule : {"din", "soft", "half hard", "hard", "faa"}
            DIN 6935, the three of Machinery's Handbook, or FAA AC 43.13-1B.
        inside, thickness : float
            mm.
        """
        if rule == "din":
            return cls(k_din(inside, thickness), "DIN 6935")
        if rule == "faa":
            return cls(2.0 * _FAA_THICKNESS / _FAA_RADIUS, "FAA AC 43.13-1B, 0.01743R + 0.0078T per degree")
        share = _PER_THICKNESS[rule]
        return cls(2.0 * share / (math.pi / 2.0), f"Machinery's Handbook, {share:.2f}T + 1.57R, {rule}")

    @classmethod
    def of_shop(cls, k: float) -> Neutral:
        """Return the neutral line of the shop's own k (DIN's convention)."""
        return cls(k, "the shop's own k")

    @classmethod
    def of_big_k(cls, big_k: float) -> Neutral:
        """Return the neutral line of the shop's own K (of the whole thickness)."""
        return cls(2.0 * big_k, "the shop's own K")

    @classmethod
    def of_test_bend(cls, flat: float, legs: tuple[float, float], inside: float, thickness: float) -> Neutral:
        """Return the neutral line that a test bend of 90 deg shows.

        Parameters
        ----------
        flat : float
            Length of the strip before bending, mm.
        legs : (float, float)
            The two legs after it, each measured over the outside, mm.
        inside, thickness : float
            Inside radius and thickness, mm.

        Raises
        ------
        LinkvizError
            If no neutral line inside the plate gives these lengths.
        """
        arc = flat - sum(legs) + 2.0 * (inside + thickness)
        return cls((arc / (math.pi / 2.0) - inside) * 2.0 / thickness, "the shop's test bend of 90 deg")


def k_din(inside: float, thickness: float) -> float:
    """Return DIN 6935's k = 0.65 + 0.5 lg(r/s), at most 1 (r/s of 5 and more)."""
    if inside <= 0 or thickness <= 0:
        raise LinkvizError(
            f"An inside radius of {inside:g} mm in a plate of {thickness:g} mm has no k by DIN 6935. "
            "Give a radius and a thickness above 0."
        )
    return min(1.0, 0.65 + 0.5 * math.log10(inside / thickness))


def bend_deduction(angle: float, inside: float, thickness: float, neutral: Neutral) -> float:
    """Return what the flat is shorter than the sum of both outside dimensions: DIN 6935's v, mm.

    Parameters
    ----------
    angle : float
        By how much the plate is turned, rad (pi minus the opening angle).
    inside, thickness : float
        mm.
    neutral : Neutral
        The neutral line.

    Notes
    -----
    Up to 90 deg the outside dimensions end where the outside faces meet, 2 (r + s) tan(angle/2) - arc; beyond it they
    end at the tangent to the bend, 2 (r + s) - arc. DIN 6935 itself takes 0 above an opening angle of 165 deg; the
    exact value is returned here.
    """
    reach = math.tan(angle / 2.0) if angle <= math.pi / 2.0 else 1.0
    return 2.0 * (inside + thickness) * reach - neutral.length(angle, inside, thickness)
