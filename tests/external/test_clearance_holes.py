"""Clearance holes against ISO 273 and ASME B18.2.8, and least edge distances against AISC 360-16.

Sources: ISO 273 as a general open-source CAD program's hole table has it (M8 and up; M6 from memory); ASME B18.2.8 as
two open-source hole tables agree on it (3/8 and up; 1/4 and 5/16 from memory); AISC 360-16 tables J3.4 and J3.4M.
One public table has 14, 16 and 17 to 18 mm for M12 to M16: wrong, and not followed.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from linkviz.errors import LinkvizError
from linkviz.sheetmetal.clearance_holes import FITS, SIZES, bolt_diameter, clearance_hole, least_edge

ISO = {
    "M8": (8.4, 9, 10),
    "M10": (10.5, 11, 12),
    "M12": (13, 13.5, 14.5),
    "M14": (15, 15.5, 16.5),
    "M16": (17, 17.5, 18.5),
    "M18": (19, 20, 21),
    "M20": (21, 22, 24),
}
ASME = {
    "3/8": "25/64 13/32 27/64",
    "7/16": "29/64 15/32 31/64",
    "1/2": "17/32 9/16 39/64",
    "5/8": "21/32 11/16 47/64",
    "3/4": "25/32 13/16 29/32",
}


@pytest.mark.parametrize("bolt", ISO)
def test_iso_273(bolt: str) -> None:
    assert tuple(clearance_hole(bolt, fit).diameter for fit in FITS) == ISO[bolt]
    assert [clearance_hole(bolt, fit).source for fit in FITS] == [f"ISO 273 {w}" for w in ("fine", "medium", "coarse")]


@pytest.mark.parametrize("bolt", ASME)
def test_asme_b18_2_8(bolt: str) -> None:
    for fit, text in zip(FITS, ASME[bolt].split(), strict=True):
        hole = clearance_hole(bolt, fit)
        assert hole.diameter == pytest.approx(float(Fraction(text)) * 25.4, abs=1e-12)
        assert hole.drill == f"{text} in"


def test_every_hole_lets_its_bolt_through_and_wider_fits_are_wider() -> None:
    for bolt in SIZES:
        sizes = [bolt_diameter(bolt), *(clearance_hole(bolt, fit).diameter for fit in FITS)]
        assert sizes == sorted(set(sizes))


@pytest.mark.parametrize("text", ["M12", "m12x1.25", " M12 x 1.75 "])
def test_a_thread_does_not_change_the_hole(text: str) -> None:
    assert clearance_hole(text).diameter == 13.5
    assert clearance_hole("1/2-13").diameter == clearance_hole("1/2 in").diameter == pytest.approx(14.2875)


@pytest.mark.parametrize("bolt", ["M13", "", "12", "1/3", "M"])
def test_bolts_that_are_not_in_the_tables_are_refused(bolt: str) -> None:
    with pytest.raises(LinkvizError, match="Choose one of"):
        clearance_hole(bolt)


@pytest.mark.parametrize(("bolt", "edge"), [("1/2", 0.75), ("5/8", 0.875), ("3/4", 1.0)])
def test_least_edge_of_aisc_table_j3_4(bolt: str, edge: float) -> None:
    assert least_edge(bolt)[0] == pytest.approx(edge * 25.4)


def test_least_edge_of_aisc_table_j3_4m() -> None:
    assert [least_edge(bolt)[0] for bolt in ("M16", "M20")] == [22.0, 26.0]
    assert least_edge("M12") == (18.0, "1.5 diameters, the ratio of AISC 360-16 table J3.4 at 1/2 in")
