"""Outlines out to DXF and CSV and back, and what is refused; ezdxf itself draws what is read."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from linkviz.errors import FileRefused, LinkvizError
from linkviz.vehicle.outline_files import TOLERANCE, UnitWanted, read_outlines, write_outlines

TANK = ((-200.0, 300.0), (150.125, 300.0), (150.125, 480.3333333), (-200.0, 470.0))
HOLE = ((0.0, 350.0), (50.0, 350.0), (50.0, 400.0))
length = st.floats(-5000.0, 5000.0, allow_nan=False)


@pytest.mark.parametrize("ending", [".dxf", ".csv"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_outlines_come_back_to_a_millionth(tmp_path: Path, ending: str, unit: Any) -> None:
    path = tmp_path / f"zone{ending}"
    write_outlines(path, {"fuel tank rear": [TANK, HOLE], "skid plate": [HOLE]}, unit)
    back = read_outlines(path)
    assert list(back) == ["fuel tank rear", "skid plate"]
    assert len(back["fuel tank rear"]) == 2
    for one, other in zip((*back["fuel tank rear"], *back["skid plate"]), (TANK, HOLE, HOLE), strict=True):
        assert len(one) == len(other)
        for a, b in zip(one, other, strict=True):
            assert a == pytest.approx(b, abs=1e-6)


@given(st.lists(st.tuples(length, length), min_size=3, max_size=8, unique=True), st.sampled_from(["mm", "in"]))
def test_any_corners_come_back_through_a_table(tmp_path_factory: Any, corners: Any, unit: Any) -> None:
    path = tmp_path_factory.mktemp("csv") / "a.csv"
    if max(abs(corners[0][i] - corners[-1][i]) for i in (0, 1)) < 1e-6:
        return
    write_outlines(path, {"a": [corners]}, unit)
    (back,) = read_outlines(path)["a"]
    assert len(back) == len(corners)
    assert all(math.dist(a, b) < 1e-6 for a, b in zip(back, corners, strict=True))


def test_the_same_outlines_make_the_same_drawing(tmp_path: Path) -> None:
    for name in ("a.dxf", "b.dxf"):
        write_outlines(tmp_path / name, {"tank": [TANK]})
    assert (tmp_path / "a.dxf").read_bytes() == (tmp_path / "b.dxf").read_bytes()


def test_another_program_finds_closed_polylines_in_the_unit_it_is_told(tmp_path: Path) -> None:
    write_outlines(tmp_path / "a.dxf", {"tank: rear": [TANK]}, "in")
    drawing = ezdxf.readfile(tmp_path / "a.dxf")
    assert drawing.header["$INSUNITS"] == 1
    (line,) = drawing.modelspace()
    assert (line.dxftype(), line.is_closed, line.dxf.layer) == ("LWPOLYLINE", True, "tank- rear")
    assert line.get_points("xy")[0] == pytest.approx((-200.0 / 25.4, 300.0 / 25.4), abs=1e-9)
    assert not drawing.audit().errors


def test_names_in_any_letters_are_the_same_for_another_program_and_come_back(tmp_path: Path) -> None:
    names = ["Kühler über Träger", "топливный бак", "排気"]
    write_outlines(tmp_path / "a.dxf", {name: [TANK] for name in names})
    assert [line.dxf.layer for line in ezdxf.readfile(tmp_path / "a.dxf").modelspace()] == names
    assert list(read_outlines(tmp_path / "a.dxf")) == names


def drawing(tmp_path: Path, units: int = 4) -> tuple[Any, Any, Path]:
    made = ezdxf.new("R2010")
    made.header["$INSUNITS"] = units
    return made, made.modelspace(), tmp_path / "drawn.dxf"


def test_lines_and_arcs_in_any_order_and_direction_are_joined(tmp_path: Path) -> None:
    made, space, path = drawing(tmp_path)
    # a slot: two lines the wrong way round, two half circles
    space.add_line((100, 50), (0, 50))
    space.add_arc((0, 0), 50, 90, 270)
    space.add_line((100, -50), (0, -50))
    space.add_arc((100, 0), 50, 270, 90)
    made.saveas(path)
    ((slot,),) = read_outlines(path).values()
    true = LineString([(0, 0), (100, 0)]).buffer(50.0, quad_segs=2000)
    got = Polygon(slot)
    assert got.is_valid
    assert got.hausdorff_distance(true) <= TOLERANCE + 1e-3
    # a straight edge stands inside the arc, by no more than the tolerance
    assert 0.0 <= true.area - got.area <= TOLERANCE * 2.0 * math.pi * 50.0


@pytest.mark.parametrize("tolerance", [1.0, 0.1, 0.01])
def test_circles_are_as_round_as_asked(tmp_path: Path, tolerance: float) -> None:
    made, space, path = drawing(tmp_path)
    space.add_circle((300, 400), 80)
    made.saveas(path)
    ((circle,),) = read_outlines(path, tolerance=tolerance).values()
    assert all(math.dist(corner, (300, 400)) == pytest.approx(80.0, abs=1e-9) for corner in circle)
    mids = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(circle, (*circle[1:], circle[0]), strict=True)]
    sag = max(80.0 - math.dist(mid, (300, 400)) for mid in mids)
    assert tolerance / 6.0 < sag <= tolerance + 1e-9


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.4, -0.4])
@pytest.mark.parametrize("kind", ["add_lwpolyline", "add_polyline2d"])
def test_bulges_of_polylines_are_followed(tmp_path: Path, bulge: float, kind: str) -> None:
    made, space, path = drawing(tmp_path)
    points = [(0, 0, bulge), (100, 0, 0), (100, 100, bulge), (0, 100, 0)]
    getattr(space, kind)(points, format="xyb", close=True)
    made.saveas(path)
    ((outline,),) = read_outlines(path).values()
    # a bulge is the tangent of a quarter of the arc's angle; + lies to the right of the way, which is outside here
    angle = 4.0 * math.atan(abs(bulge))
    radius = 50.0 / math.sin(angle / 2.0)
    segment = radius**2 / 2.0 * (angle - math.sin(angle))
    sign = 1.0 if bulge > 0 else -1.0
    area = Polygon(outline).area
    assert Polygon(outline).is_valid
    assert area == pytest.approx(100.0 * 100.0 + 2.0 * sign * segment, abs=4.0 * TOLERANCE * radius * angle)


def test_blocks_ellipses_and_splines_are_read(tmp_path: Path) -> None:
    made, space, path = drawing(tmp_path)
    block = made.blocks.new("plate")
    block.add_lwpolyline([(0, 0), (10, 0), (10, 10)], close=True)
    space.add_blockref("plate", (100, 200), dxfattribs={"xscale": 2.0, "yscale": 2.0})
    space.add_ellipse((0, 0), (100, 0), 0.5, dxfattribs={"layer": "round"})
    made.saveas(path)
    found = read_outlines(path)
    assert set(found["0"][0]) == {(100.0, 200.0), (120.0, 200.0), (120.0, 220.0)}
    (ellipse,) = found["round"]
    assert Polygon(ellipse).area == pytest.approx(math.pi * 100.0 * 50.0, rel=0.003)


@pytest.mark.parametrize(("code", "factor"), [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0)])
def test_the_unit_of_a_drawing_is_believed(tmp_path: Path, code: int, factor: float) -> None:
    made, space, path = drawing(tmp_path, code)
    space.add_lwpolyline([(0, 0), (2, 0), (2, 3)], close=True)
    made.saveas(path)
    ((outline,),) = read_outlines(path, unit="mm").values()
    assert outline[1][0] == pytest.approx(2.0 * factor)


def test_a_drawing_without_a_unit_is_asked_about(tmp_path: Path) -> None:
    made, space, path = drawing(tmp_path, 0)
    space.add_lwpolyline([(0, 0), (2, 0), (2, 3)], close=True)
    made.saveas(path)
    with pytest.raises(UnitWanted, match="INSUNITS"):
        read_outlines(path)
    ((outline,),) = read_outlines(path, unit="in").values()
    assert outline[1] == pytest.approx((50.8, 0.0))


def test_an_open_line_is_told_with_its_place(tmp_path: Path) -> None:
    made, space, path = drawing(tmp_path)
    space.add_lwpolyline([(0, 0), (20, 0), (20, 30)])
    made.saveas(path)
    with pytest.raises(FileRefused, match=r"mid-air at u = 20\.00, v = 30\.00"):
        read_outlines(path)


@pytest.mark.parametrize(
    ("text", "corner"),
    [
        ("u_mm,v_mm\n0,0\n10,0\n10,5.5\n", (10.0, 5.5)),
        ("y (in); z (in)\n0;0\n1;0\n1,5;1/2\n", (38.1, 12.7)),
        ("0,0\n10mm,0\n1in,5mm\n", (25.4, 5.0)),
        ("outline\tu_in\tv_in\ntank\t0\t0\ntank\t1\t0\ntank\t1\t2\n", (25.4, 50.8)),
        ("u_mm;v_mm\n0;0\n1,250;0,5\n12,250;8,125\n", (12.25, 8.125)),
        ("outline,u_mm,v_mm,\nt,0,0,\nt,1,0,\nt,1,2,\n", (1.0, 2.0)),
        ("name,u_mm,v_mm\nt,0,0\nt,1,0\nt,1,2\nt,0,0\n", (1.0, 2.0)),
    ],
)
def test_tables_of_many_shapes_are_understood(tmp_path: Path, text: str, corner: tuple[float, float]) -> None:
    path = tmp_path / "a.csv"
    path.write_text(text)
    found = read_outlines(path, "mm" if text[0] == "0" else None)
    ((outline,),) = found.values()
    assert len(outline) == 3
    assert outline[-1] == pytest.approx(corner)


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("a.csv", "u_mm,v_mm\n0,0\n1,0\n", "at least 3 corners"),
        ("a.csv", "u_mm,v_mm\n0,0\n1,x\n2,2\n", "line 3"),
        ("a.csv", "u_mm;v_mm\n0;0\n1,250;0\n1,250;8\n", r"line 3.*Write 1250 or 1\.25"),
        ("a.csv", "u_mm;v_mm\n0;0\n1.250;12,5\n9;8\n", r"line 3.*Write 1250, or 1,250 if the point is a decimal one"),
        ("a.csv", "u_mm;v_mm\n0;1.5\n1.250;12,5\n9;8\n", r"line 3.*Write 1250, or 1\.2500 if"),
        ("a.csv", "n,u_mm,v_mm\nt,0,0\nt,1,5,2,25\nt,1,2\n", "line 3: found 5 columns.*decimals with a point"),
        ("a.csv", "u_mm,v_in\n0,0\n", "one unit"),
        ("a.csv", "wheel,tyre\n0,0\n", "heading"),
        ("a.csv", "u_mm,v_mm\n", "without corners"),
        ("a.dxf", "this is no drawing", "DXF"),
        ("a.png", "x", "ends in .png"),
    ],
)
def test_what_cannot_be_taken_is_said(tmp_path: Path, name: str, text: str, words: str) -> None:
    path = tmp_path / name
    path.write_text(text)
    with pytest.raises(FileRefused, match=words):
        read_outlines(path)


def test_a_table_without_a_unit_is_asked_about(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("0,0\n1,0\n1,2\n")
    with pytest.raises(UnitWanted):
        read_outlines(path)


def test_nothing_is_written_that_could_not_be_read(tmp_path: Path) -> None:
    for outlines in ({}, {"a": []}, {"a": [TANK[:2]]}, {"a": [(*TANK, (math.nan, 0.0))]}):
        with pytest.raises(LinkvizError):
            write_outlines(tmp_path / "a.dxf", outlines)
    with pytest.raises(LinkvizError, match=r"\.dxf or \.csv"):
        write_outlines(tmp_path / "a.pdf", {"a": [TANK]})
    assert not list(tmp_path.iterdir())
