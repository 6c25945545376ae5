"""Damaged drawings and tables of outlines are taken or refused in words."""

from __future__ import annotations

import logging
import random
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from linkviz.errors import FileRefused, LinkvizError
from linkviz.vehicle.outline_files import read_outlines
from tests.hang import no_hang
from tests.mutate import mutated


def drawing(path: Path) -> str:
    made = ezdxf.new("R2010", units=4)
    space = made.modelspace()
    space.add_lwpolyline([(0, 0, 0.5), (100, 0, 0), (100, 50, 0)], format="xyb", close=True)
    space.add_circle((200, 0), 20)
    space.add_arc((0, 200), 10, 0, 180)
    space.add_line((10, 200), (-10, 200))
    space.add_ellipse((300, 0), (30, 0), 0.5)
    space.add_spline([(0, 300), (10, 310), (20, 300), (0, 300)])
    made.saveas(path)
    return path.read_text(encoding="utf-8")


def test_a_damaged_drawing(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.CRITICAL, logger="ezdxf")
    path = tmp_path / "a.dxf"
    text = drawing(path)
    at, chance = text.index("ENTITIES"), random.Random(3)
    taken = 0
    for _ in range(60):
        path.write_bytes(text[:at].encode() + mutated(text[at:], chance))
        try:
            read_outlines(path)
            taken += 1
        except LinkvizError as error:
            assert str(error)
    assert 5 < taken < 60


def test_a_damaged_table(tmp_path: Path) -> None:
    path, chance = tmp_path / "a.csv", random.Random(4)
    for _ in range(200):
        path.write_bytes(mutated("outline,u_mm,v_mm\na,0,0\na,100,0\na,100,50\n", chance))
        try:
            read_outlines(path)
        except LinkvizError as error:
            assert str(error)


@pytest.mark.parametrize(("code", "was", "now"), [
    ("42", "0.5", "1e308"),  # a bulge without end
    ("10", "300.0", "nan"),  # a centre that is no number
    ("11", "30.0", "inf"),  # an axis without end
    ("11", "20.0", "0"),  # two points of a spline in one place
])  # fmt: skip
def test_one_value_out_of_all_bounds(tmp_path: Path, code: str, was: str, now: str) -> None:
    path = tmp_path / "a.dxf"
    lines = [line.strip() for line in drawing(path).splitlines()]
    start = lines.index("ENTITIES")
    at = next(i for i in range(start, len(lines)) if lines[i] == code and lines[i + 1] == was)
    lines[at + 1] = now
    path.write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(LinkvizError):
        read_outlines(path)


def bare(entities: str) -> str:
    """Return the text of a drawing in mm with some entities."""
    head = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"
    return f"{head}{entities}0\nENDSEC\n0\nEOF\n"


def blocks(path: Path) -> None:
    """Save a drawing of blocks in blocks: 300 in each, five deep, and nothing at the bottom."""
    made = ezdxf.new("R2000", units=4)
    for level in range(5):
        block = made.blocks.new(f"B{level}")
        for i in range(300 if level else 0):
            block.add_blockref(f"B{level - 1}", (i, 0))
    made.modelspace().add_blockref("B4", (0, 0))
    made.saveas(path)


def spline(path: Path) -> None:
    """Save a drawing of one spline that goes a thousand kilometres to and fro."""
    made, chance = ezdxf.new("R2000", units=4), random.Random(5)
    made.modelspace().add_open_spline([(chance.random() * 1e6, chance.random() * 1e6, 0) for _ in range(1000)])
    made.saveas(path)


@pytest.mark.parametrize("make", [blocks, spline])
def test_an_endless_drawing_is_refused_before_it_fills_the_memory(tmp_path: Path, make: Any) -> None:
    make(tmp_path / "a.dxf")
    with no_hang(), pytest.raises(FileRefused, match="outlines alone"):
        read_outlines(tmp_path / "a.dxf")


@pytest.mark.parametrize(("name", "entities", "words"), [
    ("circle", "0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n1e12\n", "an arc of 1e\\+12 mm"),
    ("nan", "0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\nnan\n", "an arc of nan"),
    ("entries", "0\nX\n" * 200_000, "200005 entries"),
    ("large", "0\nTEXT\n1\n" + "a" * 2_000_000 + "\n", "more than 2 MB"),
    ("inside out", "0\nINSERT\n2\nnobody\n10\n0\n20\n0\n", "without lines"),
    ("nothing", "0\nLINE\n10\n0\n20\n0\n11\n0\n21\n0\n", "enclose nothing"),
])  # fmt: skip
def test_a_drawing_out_of_all_bounds(tmp_path: Path, name: str, entities: str, words: str) -> None:
    path = tmp_path / "a.dxf"
    path.write_text(bare(entities), encoding="utf-8")
    with no_hang(), pytest.raises(FileRefused, match=words):
        read_outlines(path)


HEAD = b"outline,u_mm,v_mm\n"


@pytest.mark.parametrize(("data", "words"), [
    (b"\xef\xbb\xbf", "without a word"),
    (b";;;\n;;\n", "without a word"),
    ("\x85\N{LINE SEPARATOR}".encode(), "without a word"),
    (HEAD + b"a," + b"1" * 200_000 + b",2\n", "no CSV"),
    (HEAD + b"a,x,0\n" * 40_000, "is not a length"),
    (HEAD + b"a,1,0\n" * 60_000, "60001 lines"),
    (HEAD + b"".join(b"a%d,%d,0\n" % (i // 3, i) for i in range(9000)), "3000 outlines"),
    (HEAD + b"a,1e9,0\na,1,1\na,0,1\n", "at most 1e"),
    (HEAD + b"a," + b"9" * 5000 + b"/2,0\n", "is not a length"),
])  # fmt: skip
def test_a_table_out_of_all_bounds(tmp_path: Path, data: bytes, words: str) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(data)
    with no_hang(), pytest.raises(FileRefused, match=words):
        read_outlines(path)


def test_a_table_with_old_line_ends_is_read(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"outline,u_mm,v_mm\ra,0,0\ra,9,0\ra,9,9\r")
    assert read_outlines(path) == {"a": (((0.0, 0.0), (9.0, 0.0), (9.0, 9.0)),)}
