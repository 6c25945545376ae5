"""Bolts: sizes, grades, clearance holes, edge distances. Every value with its published source.

"memory" in a source means that the value was written down from memory and not read in the standard itself; compare it
with your own copy of the standard before you lean on it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from linkviz.bracket.materials import MPA_PER_KSI
from linkviz.conventions import MM_PER_INCH
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.sheetmetal.clearance_holes import bolt_diameter, bolt_size, clearance_hole, least_edge

SHEAR: Final = "AISC 360-16/22 table J3.2 (memory): 0.563 Fu with the threads clear of the shear planes, 0.450 Fu else"
SHEAR_CLEAR: Final = 0.563
"""Nominal shear stress over tensile strength, threads clear of the shear planes (AISC 360 table J3.2)."""
SHEAR_IN: Final = 0.450
"""The same with threads in a shear plane."""
OMEGA: Final = 2.0
"""ASD safety factor of bolts in shear, of bearing and of tear-out (AISC 360 J3.7, J3.11)."""
LEAST_SPACING: Final = 8.0 / 3.0
"""Least spacing of two loaded bolts in bolt diameters (AISC 360 J3.3)."""
PRELOAD: Final = 0.75
"""Preload over proof load of a bolt that may be undone again (Shigley, ch. 8)."""


class Size(Frozen):
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
    def metric(self) -> bool:
        """Return whether it is a metric size and not an inch one."""
        return self.key.startswith("M")

    @property
    def body_area(self) -> float:
        """Return the area of the plain shank, mm2."""
        return math.pi / 4.0 * self.diameter**2

    @property
    def stress_area(self) -> float:
        """Return the tensile stress area, mm2."""
        return stress_area(self.diameter, self.pitch, self.metric)


class Grade(Frozen):
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


def stress_area(diameter: float, pitch: float, metric: bool) -> float:
    """Return the tensile stress area of a thread, mm2, from its diameter and pitch, mm.

    Notes
    -----
    Inch: pi/4 (d - 0.9743/n)^2, ASME B1.1. Metric: pi/4 (d - 0.9382 P)^2, ISO 898-1.
    """
    return math.pi / 4.0 * (diameter - (0.9382 if metric else 0.9743) * pitch) ** 2


def _size(key: str, pitch: float) -> Size:
    hole = clearance_hole(key)
    edge, edge_source = least_edge(key)
    return Size(key, bolt_diameter(key), pitch, hole.diameter, edge, edge_source)


_INCH: Final = (("3/8", 16, 24), ("7/16", 14, 20), ("1/2", 13, 20), ("5/8", 11, 18), ("3/4", 10, 16))
_METRIC: Final = (
    ("M8", 1.25), ("M8x1", 1.0), ("M10", 1.5), ("M10x1.25", 1.25), ("M10x1", 1.0), ("M12", 1.75), ("M12x1.5", 1.5),
    ("M12x1.25", 1.25), ("M14", 2.0), ("M14x1.5", 1.5), ("M16", 2.0), ("M16x1.5", 1.5), ("M18", 2.5), ("M18x1.5", 1.5),
    ("M20", 2.5), ("M20x1.5", 1.5),
)  # fmt: skip

SIZES: Final[Mapping[str, Size]] = {
    size.key: size
    for size in (
        *(_size(f"{name}-{threads}", MM_PER_INCH / threads) for name, *both in _INCH for threads in both),
        *(_size(key, pitch) for key, pitch in _METRIC),
    )
}
"""Thread sizes by key: those that have a clearance hole in `linkviz.sheetmetal.clearance_holes`."""

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


def find_size(text: str) -> Size:
    """Return the size a person means: a key of `SIZES`, or one without its thread, which is then the coarse one.

    Raises
    ------
    LinkvizError
        If there is none.
    """
    plain = text.strip().replace(" ", "")
    if plain in SIZES:
        return SIZES[plain]
    name = bolt_size(text)
    threads = plain.lower().replace('"', "").removesuffix("in") != name.lower()
    found = next((size for key, size in SIZES.items() if key == name or key.startswith(f"{name}-")), None)
    if found is None or threads:
        raise LinkvizError(f"There is no bolt {text!r} in the tables. Choose one of {', '.join(SIZES)}.")
    return found


def coarse_sizes(metric: bool) -> tuple[Size, ...]:
    """Return the metric or the inch sizes with coarse threads, the smallest first: one for each diameter.

    Of the threads of one diameter in `SIZES` the coarse one has the largest pitch.
    """
    sizes = sorted((s for s in SIZES.values() if s.metric == metric), key=lambda size: (size.diameter, -size.pitch))
    found: dict[float, Size] = {}
    for size in sizes:
        found.setdefault(size.diameter, size)
    return tuple(found.values())


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
