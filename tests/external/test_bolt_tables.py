"""Bolts against published tables.

Stress areas, proof and tensile loads: ASME B1.1, SAE J429, ISO 898-1 as printed in public copies; the areas are worked
out again here from the pitch and minor diameters of the basic thread. Values marked (memory) there are from memory.
"""

from __future__ import annotations

import math

import pytest

from linkviz.bracket.bolts import GRADES, SIZES, least_spacing, preload, shear_allowable, stress_area, tightening_torque
from linkviz.bracket.materials import MPA_PER_KSI

KIP = 4448.2216152605
LB_FT = 4.4482216152605 * 304.8

INCH = {  # key: area in2, grade 5 proof / tensile kip, grade 8 proof / tensile kip, T grade 5 at K = 0.20, lb-ft
    "3/8-16": (0.0775, 6.587, 9.299, 9.299, 11.62, 30.9),
    "7/16-14": (0.1063, 9.036, 12.76, 12.76, 15.95, 49.4),
    "1/2-13": (0.1419, 12.06, 17.03, 17.03, 21.29, 75.4),
    "5/8-11": (0.226, 19.21, 27.12, 27.12, 33.90, 150.1),
    "3/4-10": (0.334, 28.43, 40.14, 40.14, 50.17, 266.5),
    "3/8-24": (0.0878, 7.465, 10.54, 10.54, 13.17, 35.0),
    "7/16-20": (0.1187, 10.09, 14.25, 14.25, 17.81, 55.2),
    "1/2-20": (0.1599, 13.60, 19.19, 19.19, 23.99, 85.0),
    "5/8-18": (0.256, 21.76, 30.72, 30.72, 38.39, 170.0),
    "3/4-16": (0.373, 31.70, 44.76, 44.76, 55.94, 297.2),
}
METRIC = {  # key: area mm2, 8.8 proof / tensile N, 10.9 proof / tensile N; ISO 898-1
    "M8": (36.6, 21200, 29200, 30400, 38100),
    "M10": (58.0, 33700, 46400, 48100, 60300),
    "M12": (84.3, 48900, 67400, 70000, 87700),
    "M14": (115.0, 66700, 92000, 95500, 120000),
    "M16": (157.0, 91000, 125000, 130000, 163000),
    "M18": (192.0, 115000, 159000, 159000, 200000),
    "M20": (245.0, 147000, 203000, 203000, 255000),
}
FINE = {"M8x1": 39.2, "M10x1.25": 61.2, "M10x1": 64.5, "M12x1.5": 88.1, "M12x1.25": 92.1, "M14x1.5": 125.0,
        "M16x1.5": 167.0, "M18x1.5": 216.0, "M20x1.5": 272.0}  # fmt: skip


@pytest.mark.parametrize(("key", "row"), INCH.items())
def test_inch_bolts_are_those_of_the_tables(key: str, row: tuple[float, ...]) -> None:
    size = SIZES[key]
    area, *loads, torque = row
    assert size.stress_area / 25.4**2 == pytest.approx(area, rel=4e-3)
    found = [
        stress(size.diameter) * size.stress_area / KIP
        for grade in (GRADES["5"], GRADES["8"])
        for stress in (grade.proof_of, grade.strength_of)
    ]
    assert found == pytest.approx(loads, rel=3e-3)
    assert tightening_torque(size, GRADES["5"]) / LB_FT == pytest.approx(torque, rel=3e-3)


@pytest.mark.parametrize(("threads", "area"), [(12, 0.182), (18, 0.203)])
def test_a_thread_without_a_standard_hole_has_its_area_all_the_same(threads: int, area: float) -> None:
    """9/16 in; ASME B1.1."""
    assert stress_area(9 / 16 * 25.4, 25.4 / threads, metric=False) / 25.4**2 == pytest.approx(area, rel=3e-3)


@pytest.mark.parametrize(("key", "row"), METRIC.items())
def test_metric_bolts_are_those_of_iso_898(key: str, row: tuple[float, ...]) -> None:
    size = SIZES[key]
    area, *loads = row
    assert size.stress_area == pytest.approx(area, rel=4e-3)
    found = [
        stress(size.diameter) * size.stress_area
        for grade in (GRADES["8.8"], GRADES["10.9"])
        for stress in (grade.proof_of, grade.strength_of)
    ]
    assert found == pytest.approx(loads, rel=6e-3)


@pytest.mark.parametrize(("key", "area"), FINE.items())
def test_fine_threads(key: str, area: float) -> None:
    """ISO 898-1, from memory; and worked out again from pitch and minor diameter."""
    size = SIZES[key]
    assert size.stress_area == pytest.approx(area, rel=4e-3)


@pytest.mark.parametrize("key", [*INCH, *METRIC, *FINE])
def test_the_stress_area_is_that_of_the_mean_of_pitch_and_minor_diameter(key: str) -> None:
    """Pitch diameter d - 3/4 H, H = P sqrt(3)/2 (ISO 724); minor diameter d - 17/12 H metric, d - 3/2 H inch."""
    size = SIZES[key]
    height = size.pitch * math.sqrt(3.0) / 2.0
    minor = 17.0 / 12.0 if key.startswith("M") else 3.0 / 2.0
    mean = ((size.diameter - 3.0 / 4.0 * height) + (size.diameter - minor * height)) / 2.0
    assert size.stress_area == pytest.approx(math.pi / 4.0 * mean**2, rel=1e-4)


def test_double_shear_of_a_half_inch_bolt() -> None:
    """Shigley, ch. 8, 0.6 Fu A each plane: 28.27 kip for grade 5. AISC takes 0.9 for length.

    0.563 = 0.625 x 0.90 and 0.450 = 0.8 x 0.563 (AISC 360-16 commentary J3.6, memory).
    """
    size, grade = SIZES["1/2-13"], GRADES["5"]
    assert 2 * 0.6 * grade.strength_of(size.diameter) * size.body_area / KIP == pytest.approx(28.27, rel=1e-3)
    nominal = 2.0 * shear_allowable(size, grade) / KIP
    assert nominal == pytest.approx(28.27 * 0.625 * 0.9 / 0.6, rel=2e-3)
    assert shear_allowable(size, grade, threads_clear=False) / shear_allowable(size, grade) == pytest.approx(
        0.8, rel=1e-3
    )


def test_nominal_shear_stress_by_edition() -> None:
    """A325-type bolts (120 ksi): 54 / 68 ksi in AISC 360-10 and later, not the 48 / 60 of 360-05."""
    size, grade = SIZES["3/4-10"], GRADES["5"]
    stress = [2.0 * shear_allowable(size, grade, 1, clear) / size.body_area / MPA_PER_KSI for clear in (False, True)]
    assert stress == pytest.approx([54.0, 68.0], rel=7e-3)
    assert stress[0] > 50.0


@pytest.mark.parametrize(
    ("key", "hole"),
    [("3/8-16", 13 / 32), ("7/16-14", 15 / 32), ("1/2-13", 9 / 16), ("5/8-11", 11 / 16), ("3/4-10", 13 / 16)],
)
def test_inch_clearance_holes(key: str, hole: float) -> None:
    """ASME B18.2.8, normal series, as two open tables print it."""
    assert SIZES[key].hole == pytest.approx(hole * 25.4)


@pytest.mark.parametrize(
    ("key", "hole"), [("M8", 9), ("M10", 11), ("M12", 13.5), ("M14", 15.5), ("M16", 17.5), ("M18", 20), ("M20", 22)]
)
def test_metric_clearance_holes(key: str, hole: float) -> None:
    """ISO 273, medium series. A public table with 14 for M12 and 16 for M14 is wrong."""
    assert SIZES[key].hole == hole


@pytest.mark.parametrize(("key", "edge"), [("1/2-13", 3 / 4), ("5/8-18", 7 / 8), ("3/4-16", 1.0)])
def test_edge_distances_of_table_j3_4(key: str, edge: float) -> None:
    assert SIZES[key].edge == pytest.approx(edge * 25.4)


@pytest.mark.parametrize(("key", "edge"), [("M16", 22.0), ("M20", 26.0)])
def test_edge_distances_of_table_j3_4m(key: str, edge: float) -> None:
    assert SIZES[key].edge == edge


def test_sizes_that_the_table_lacks_are_on_its_safe_side() -> None:
    """Not a value of the table: its ratio falls with size from 1.5, so 1.5 d is not less than it would give."""
    ratios = [SIZES[key].edge / SIZES[key].diameter for key in ("1/2-13", "5/8-11", "3/4-10", "M16", "M20")]
    for key in ("3/8-16", "7/16-20", "M12", "M14", "M18"):
        assert SIZES[key].edge / SIZES[key].diameter >= max(ratios)


def test_least_spacing_is_two_and_two_thirds_diameters() -> None:
    assert least_spacing(SIZES["3/4-10"], SIZES["3/4-10"]) == pytest.approx(2.0 * 25.4)


def test_preload_of_a_chart() -> None:
    """1/2-13 grade 5: clamp 9046 lbf; 3/8-16: 4941 lbf (trade torque chart, 75 % of proof)."""
    assert preload(SIZES["1/2-13"], GRADES["5"]) / 4.4482216 == pytest.approx(9046, rel=2e-3)
    assert preload(SIZES["3/8-16"], GRADES["5"]) / 4.4482216 == pytest.approx(4941, rel=2e-3)
