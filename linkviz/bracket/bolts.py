"""Bolts: sizes, grades, clearance holes, edge distances. Every value with its published source.

"memory" in a source means that the value was written down from memory and not read in the standard itself; compare it
with your own copy of the standard before you lean on it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from linkviz.bracket.materials import MPA_PER_KSI
from linkviz.conventions import MM_PER_INCH

AREAS: Final = "stress area: ASME B1.1 (inch), ISO 898-1 (metric)"
SHEAR: Final = "AISC 360-16/22 table J3.2 (memory): 0.563 Fu with the threads clear of the shear planes, 0.450 Fu else"
SHEAR_CLEAR: Final = 0.563
"""Nominal shear stress over tensile strength, threads clear of the shear planes (AISC 360 table J3.2)."""
SHEAR_IN: Final = 0.450
"""The same with threads in a shear plane."""
OMEGA: Final = 2.0
"""ASD safety factor of bolts in shear, of bearing and of tear-out (AISC 360 J3.7, J3.11)."""
LEAST_SPACING: Final = 8.0 / 3.0
"""Least spacing of two loaded bolts in bolt diameters (AISC 360 J3.3)."""
PREFERRED_SPACING: Final = 3.0
PRELOAD: Final = 0.75
"""Preload over proof load of a bolt that may be undone again (Shigley, ch. 8)."""


@dataclass(frozen=True)
class Size:
    """A thread size.

    Attributes
    ----------
    key : str
        As people write it: ``1/2-13`` (inches and threads per inch), ``M12``, ``M12x1.25``.
    diameter, pitch : float
        mm.
    hole : float
        Clearance hole, mm: normal series of ASME B18.2.8, medium series of ISO 273.
    edge : float
        Least distance from the middle of a hole to an edge, mm.
    edge_source : str
        Where that stands.
    """

    key: str
    diameter: float
    pitch: float
    hole: float
    edge: float
    edge_source: str

    @property
    def body_area(self) -> float:
        """Return the area of the plain shank, mm2."""
        return math.pi / 4.0 * self.diameter**2

    @property
    def stress_area(self) -> float:
        """Return the tensile stress area, mm2.

        Notes
        -----
        Inch: pi/4 (d - 0.9743/n)^2, ASME B1.1. Metric: pi/4 (d - 0.9382 P)^2, ISO 898-1.
        """
        lost = 0.9382 if self.key.startswith("M") else 0.9743
        return math.pi / 4.0 * (self.diameter - lost * self.pitch) ** 2

    @property
    def hole_source(self) -> str:
        """Return where the clearance hole stands."""
        return "ISO 273, medium" if self.key.startswith("M") else "ASME B18.2.8, normal"


@dataclass(frozen=True)
class Grade:
    """A grade of bolt: strengths in MPa.

    Attributes
    ----------
    key : str
        As stamped on the head.
    proof, strength : float
        Proof stress and tensile strength up to `limit`, MPa.
    proof_above, strength_above : float
        The same for larger bolts.
    limit : float
        Nominal diameter up to which the first two count, mm.
    source : str
        Standard.
    """

    key: str
    proof: float
    strength: float
    proof_above: float
    strength_above: float
    limit: float
    source: str

    def proof_of(self, diameter: float) -> float:
        """Return the proof stress of a bolt of a diameter (mm), MPa."""
        return self.proof if diameter <= self.limit else self.proof_above

    def strength_of(self, diameter: float) -> float:
        """Return the tensile strength of a bolt of a diameter (mm), MPa."""
        return self.strength if diameter <= self.limit else self.strength_above


_EDGES_INCH: Final = {0.5: 0.75, 0.625: 0.875, 0.75: 1.0, 0.875: 1.125, 1.0: 1.25}
_EDGES_METRIC: Final = {16.0: 22.0, 20.0: 26.0}
_LARGEST_EDGE: Final = 1.5
"""The largest ratio of edge distance to diameter in table J3.4: taken for sizes the table does not have."""


def _edge(nominal: float, table: Mapping[float, float], scale: float, name: str) -> tuple[float, str]:
    if nominal in table:
        return table[nominal] * scale, f"AISC 360-16 table {name}"
    return _LARGEST_EDGE * nominal * scale, f"not in AISC 360-16 table {name}; its largest ratio, 1.5 d, taken"


def _inch(name: str, diameter: float, hole: float, threads: tuple[int, ...]) -> list[Size]:
    d = diameter * MM_PER_INCH
    edge, source = _edge(diameter, _EDGES_INCH, MM_PER_INCH, "J3.4")
    return [Size(f"{name}-{n}", d, MM_PER_INCH / n, hole * MM_PER_INCH, edge, source) for n in threads]


def _metric(diameter: float, hole: float, coarse: float, fine: tuple[float, ...] = ()) -> list[Size]:
    edge, source = _edge(diameter, _EDGES_METRIC, 1.0, "J3.4M")
    named = [(f"M{diameter:g}", coarse), *((f"M{diameter:g}x{pitch:g}", pitch) for pitch in fine)]
    return [Size(key, diameter, pitch, hole, edge, source) for key, pitch in named]


SIZES: Final[Mapping[str, Size]] = {
    size.key: size
    for size in [
        *_inch("3/8", 3 / 8, 13 / 32, (16, 24)),
        *_inch("7/16", 7 / 16, 15 / 32, (14, 20)),
        *_inch("1/2", 1 / 2, 9 / 16, (13, 20)),
        *_inch("9/16", 9 / 16, 5 / 8, (12, 18)),
        *_inch("5/8", 5 / 8, 11 / 16, (11, 18)),
        *_inch("3/4", 3 / 4, 13 / 16, (10, 16)),
        *_metric(8.0, 9.0, 1.25, (1.0,)),
        *_metric(10.0, 12.0, 1.5, (1.25, 1.0)),
        *_metric(12.0, 13.5, 1.75, (1.5, 1.25)),
        *_metric(14.0, 15.5, 2.0, (1.5,)),
        *_metric(16.0, 17.5, 2.0, (1.5,)),
        *_metric(18.0, 20.0, 2.5, (1.5,)),
        *_metric(20.0, 22.0, 2.5, (1.5,)),
    ]
}
"""Thread sizes by key. The 9/16 in hole (5/8 in) is from memory."""

_UP_TO_ONE_INCH: Final = 25.4

GRADES: Final[Mapping[str, Grade]] = {
    grade.key: grade
    for grade in (
        Grade("5", 85 * MPA_PER_KSI, 120 * MPA_PER_KSI, 74 * MPA_PER_KSI, 105 * MPA_PER_KSI, _UP_TO_ONE_INCH,
              "SAE J429 (above 1 in from memory)"),
        Grade("8", 120 * MPA_PER_KSI, 150 * MPA_PER_KSI, 120 * MPA_PER_KSI, 150 * MPA_PER_KSI, _UP_TO_ONE_INCH,
              "SAE J429"),
        Grade("8.8", 580.0, 800.0, 600.0, 830.0, 16.0, "ISO 898-1"),
        Grade("10.9", 830.0, 1040.0, 830.0, 1040.0, 16.0, "ISO 898-1"),
    )
}  # fmt: skip
"""Grades by their mark."""


def shear_allowable(size: Size, grade: Grade, planes: int = 2, threads_clear: bool = True) -> float:
    """Return the allowable shear of a bolt (ASD), N.

    Parameters
    ----------
    size, grade : Size, Grade
        The bolt.
    planes : int
        Shear planes.
    threads_clear : bool
        Whether the shank, not the thread, is in the shear planes.

    Notes
    -----
    Fnv Ab planes / 2.00 with Ab the area of the plain shank and Fnv 0.563 Fu or 0.450 Fu.

    References
    ----------
    AISC 360-16, J3.6 and table J3.2 (360-22: J3.7).
    """
    share = SHEAR_CLEAR if threads_clear else SHEAR_IN
    return share * grade.strength_of(size.diameter) * size.body_area * planes / OMEGA


def preload(size: Size, grade: Grade) -> float:
    """Return the usual preload of a bolt that may be undone again, N: 0.75 of its proof load (Shigley, ch. 8)."""
    return PRELOAD * grade.proof_of(size.diameter) * size.stress_area


def tightening_torque(size: Size, grade: Grade, nut_factor: float = 0.2) -> float:
    """Return the torque for that preload, N mm.

    Parameters
    ----------
    size, grade : Size, Grade
        The bolt.
    nut_factor : float
        K: 0.20 plain and dry, 0.15 plated.

    Notes
    -----
    T = K F d (Shigley, ch. 8): good to about a quarter either way.
    """
    return nut_factor * preload(size, grade) * size.diameter


def least_spacing(one: Size, other: Size) -> float:
    """Return the least distance between two loaded bolts, mm: 2 2/3 of the mean of their diameters (AISC 360 J3.3)."""
    return LEAST_SPACING * (one.diameter + other.diameter) / 2.0


def hole_step(size: Size) -> float:
    """Return the least distance between two holes of which one is used at a time, mm.

    Notes
    -----
    The empty hole's edge is an edge of the material: edge distance of table J3.4 and half a hole.
    """
    return size.edge + size.hole / 2.0
