"""Damaged drawings and tables of outlines are taken or refused in words."""

from __future__ import annotations

import logging
import random
from pathlib import Path

import ezdxf
import pytest

from linkviz.errors import LinkvizError
from linkviz.vehicle.outline_files import read_outlines
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
