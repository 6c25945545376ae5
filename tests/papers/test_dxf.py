"""Cutting files, read back with the library that reads everybody's."""

from __future__ import annotations

import io
import math
import time
from typing import Any

import ezdxf
import numpy as np
import pytest
import shapely

from linkviz.errors import LinkvizError
from linkviz.papers.dxf import LAYERS, dxf
from tests.sheetmetal.plates import joggled, random_plate

SCALE = {"mm": 1.0, "in": 1.0 / 25.4}
PLATE = joggled(shift=6.0)


def read(data: bytes) -> Any:
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


def on(document: Any, layer: str) -> list[Any]:
    return [e for e in document.modelspace() if e.dxf.layer == layer]


@pytest.mark.parametrize(("unit", "code"), [("mm", 4), ("in", 1)])
def test_version_unit_and_audit(unit: Any, code: int) -> None:
    document = read(dxf(PLATE, unit))
    assert document.dxfversion == "AC1024"
    assert document.header["$INSUNITS"] == code
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert {e.dxf.layer for e in document.modelspace()} == {"CUT", "DRILL", "BEND", "NOTE"}


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_holes_are_where_and_as_large_as_they_should_be(unit: Any) -> None:
    rng = np.random.default_rng(273)
    for plate in [PLATE, *(random_plate(rng) for _ in range(5))]:
        circles = on(read(dxf(plate, unit)), "DRILL")
        assert [e.dxftype() for e in circles] == ["CIRCLE"] * len(plate.holes)
        for circle, hole in zip(circles, plate.holes, strict=True):
            centre = (circle.dxf.center.x / SCALE[unit], circle.dxf.center.y / SCALE[unit])
            assert centre == pytest.approx(hole.at, abs=0.001)
            assert 2.0 * circle.dxf.radius / SCALE[unit] == pytest.approx(hole.diameter, abs=0.001)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_cut_is_one_closed_contour_of_true_arcs_with_the_area_of_the_plate(unit: Any) -> None:
    (cut,) = on(read(dxf(PLATE, unit)), "CUT")
    assert cut.dxftype() == "LWPOLYLINE" and cut.closed
    arcs = [e for e in cut.virtual_entities() if e.dxftype() == "ARC"]
    assert [a.dxf.radius / SCALE[unit] for a in arcs] == pytest.approx([15.0] * 4)
    points = []
    for edge in cut.virtual_entities():
        way = edge.flattening(1e-5 * SCALE[unit]) if edge.dxftype() == "ARC" else (edge.dxf.start, edge.dxf.end)
        points += [(round(p.x / SCALE[unit], 6), round(p.y / SCALE[unit], 6)) for p in way]
    polygon = shapely.Polygon(points)
    assert polygon.is_valid
    assert polygon.area == pytest.approx(PLATE.blank.area, rel=1e-6)
    # by hand as well: a rectangle less what its corners lack
    low, high = -PLATE.profile.end, 30.0
    assert PLATE.blank.area == pytest.approx(66.0 * (high - low) - (4.0 - math.pi) * 15.0**2)


def test_bend_lines_run_from_edge_to_edge() -> None:
    lines = on(read(dxf(PLATE)), "BEND")
    assert len(lines) == 2
    for line, bend in zip(lines, PLATE.bend_lines, strict=True):
        assert (line.dxf.start.x, line.dxf.end.x) == pytest.approx((-30.0, 36.0))
        assert (line.dxf.start.y, line.dxf.end.y) == pytest.approx((bend.y, bend.y))


def test_notes_say_what_it_is_and_keep_clear_of_it() -> None:
    texts = on(read(dxf(PLATE, "in", ("job 17",))), "NOTE")
    words = [t.dxf.text for t in texts]
    assert "front plate, 1 off, ASTM A36, 0.2362 in thick. Drawing unit: in." in words
    assert "job 17" in words
    assert any(w.startswith("Bend 2: 45.0 deg down") for w in words)
    assert min(t.dxf.insert.x for t in texts) > 36.0 / 25.4


def test_a_file_that_fails_its_audit_is_not_handed_on(monkeypatch: pytest.MonkeyPatch) -> None:
    # a layer that the document does not allow, as a slip in the writer would make it
    monkeypatch.setitem(LAYERS, "CUT", (7, "NO SUCH LINETYPE"))
    with pytest.raises(LinkvizError, match="Nothing is written"):
        dxf(PLATE)


def test_the_same_plate_makes_the_same_bytes() -> None:
    first = dxf(PLATE, "mm", ("a note",))
    time.sleep(0.002)  # a time of writing would be in it to the microsecond
    assert dxf(PLATE, "mm", ("a note",)) == first
