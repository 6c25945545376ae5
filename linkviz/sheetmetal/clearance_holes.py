"""Clearance holes for bolts, and how far from an edge a hole must stay.

References
----------
ISO 273:1979, Fasteners: clearance holes for bolts and screws (fine, medium, coarse).
ASME B18.2.8, Clearance holes for bolts, screws and studs (close, normal, loose).
AISC 360-16 tables J3.4 and J3.4M, least edge distance from the centre of a standard hole.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from linkviz.conventions import MM_PER_INCH
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen

Fit = Literal["close", "normal", "loose"]
FITS: Final[tuple[Fit, ...]] = ("close", "normal", "loose")
"""ISO 273 calls them fine, medium and coarse."""
_ISO_WORDS: Final = {"close": "fine", "normal": "medium", "loose": "coarse"}

_ISO_273: Final[dict[str, tuple[float, float, float]]] = {
    "M6": (6.4, 6.6, 7.0),
    "M8": (8.4, 9.0, 10.0),
    "M10": (10.5, 11.0, 12.0),
    "M12": (13.0, 13.5, 14.5),
    "M14": (15.0, 15.5, 16.5),
    "M16": (17.0, 17.5, 18.5),
    "M18": (19.0, 20.0, 21.0),
    "M20": (21.0, 22.0, 24.0),
}
_ASME: Final[dict[str, tuple[str, str, str]]] = {
    "1/4": ("17/64", "9/32", "19/64"),
    "5/16": ("21/64", "11/32", "23/64"),
    "3/8": ("25/64", "13/32", "27/64"),
    "7/16": ("29/64", "15/32", "31/64"),
    "1/2": ("17/32", "9/16", "39/64"),
    "5/8": ("21/32", "11/16", "47/64"),
    "3/4": ("25/32", "13/16", "29/32"),
}
_ASIDE: Final[dict[str, tuple[str, str, str]]] = {"9/16": ("19/32", "5/8", "21/32")}
"""Sizes the standard leaves out: 1/32, 1/16 and 3/32 in over the bolt, common practice."""
_EDGE_INCH: Final = {"1/2": "3/4", "5/8": "7/8", "3/4": "1", "7/8": "9/8", "1": "5/4"}
_EDGE_METRIC: Final = {"M16": 22.0, "M20": 26.0, "M22": 28.0, "M24": 30.0}
SIZES: Final = (*_ISO_273, *_ASME, *_ASIDE)
"""Bolts that have a hole here."""


class ClearanceHole(Frozen):
    """A hole for a bolt.

    Attributes
    ----------
    bolt : str
        ``M12`` or ``1/2``.
    diameter : float
        mm.
    drill : str
        The drill to ask for: ``13.5 mm`` or ``9/16 in``.
    source : str
        Standard and fit.
    """

    bolt: str
    diameter: float
    drill: str
    source: str


def clearance_hole(bolt: str, fit: Fit = "normal") -> ClearanceHole:
    """Return the clearance hole of a bolt.

    Parameters
    ----------
    bolt : str
        ``M12``, ``M12x1.25``, ``1/2``, ``1/2-13``, ``1/2 in``.
    fit : {"close", "normal", "loose"}
        How loose.

    Raises
    ------
    LinkvizError
        If there is no such bolt in the tables.
    """
    size = bolt_size(bolt)
    column = FITS.index(fit)
    if size in _ISO_273:
        diameter = _ISO_273[size][column]
        return ClearanceHole(size, diameter, f"{diameter:g} mm", f"ISO 273 {_ISO_WORDS[fit]}")
    text = (_ASME.get(size) or _ASIDE[size])[column]
    source = f"ASME B18.2.8 {fit}" if size in _ASME else f"{fit}, common practice (not in ASME B18.2.8)"
    return ClearanceHole(size, float(Fraction(text)) * MM_PER_INCH, f"{text} in", source)


def bolt_size(bolt: str) -> str:
    """Return the size of a bolt without its thread: ``M12`` of ``M12x1.25``, ``1/2`` of ``1/2-13 in``."""
    text = bolt.strip().upper().replace("IN", "").replace('"', "").strip()
    size = text.split("X")[0].strip() if text.startswith("M") else text.split("-")[0].strip()
    if size not in SIZES:
        raise LinkvizError(
            f"There is no clearance hole for a bolt {bolt!r} in the tables. Choose one of {', '.join(SIZES)}."
        )
    return size


def bolt_diameter(bolt: str) -> float:
    """Return the nominal diameter of a bolt, mm."""
    size = bolt_size(bolt)
    return float(size[1:]) if size.startswith("M") else float(Fraction(size)) * MM_PER_INCH


def least_edge(bolt: str) -> tuple[float, str]:
    """Return how near the middle of a hole may be to an edge, mm, and by which rule.

    Notes
    -----
    AISC 360-16 tables J3.4 and J3.4M where they have the bolt. They do not go below 1/2 in and M16: 1.5 diameters,
    their ratio at 1/2 in, are taken there, and for M18, which they leave out.
    """
    size = bolt_size(bolt)
    if size in _EDGE_METRIC:
        return _EDGE_METRIC[size], "AISC 360-16 table J3.4M"
    if size in _EDGE_INCH:
        return float(Fraction(_EDGE_INCH[size])) * MM_PER_INCH, "AISC 360-16 table J3.4"
    return 1.5 * bolt_diameter(size), "1.5 diameters, the ratio of AISC 360-16 table J3.4 at 1/2 in"
