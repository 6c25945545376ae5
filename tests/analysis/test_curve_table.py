from __future__ import annotations

import csv
import io

import numpy as np
import pytest

from linkviz.analysis.curve_table import curve_table
from linkviz.analysis.curves import Curves
from linkviz.analysis.quantities import BY_KEY

X = np.array([-50.8, 0.0, 25.4])
VALUES = {"as built": np.array([1.0, 2.0, np.nan]), "lifted": np.array([25.4, -0.0, np.inf])}


def read(text: str) -> tuple[list[str], list[list[str]]]:
    rows = list(csv.reader(io.StringIO(text)))
    return rows[0], rows[1:]


def test_heads_carry_the_units_and_what_does_not_exist_is_empty() -> None:
    heads, rows = read(curve_table(Curves(BY_KEY["sway"], "travel", X, 0.0, VALUES), "mm"))
    assert heads == ["Wheel travel (mm)", "as built: Sway (mm)", "lifted: Sway (mm)"]
    assert rows == [["-50.8", "1.0", "25.4"], ["0.0", "2.0", "0.0"], ["25.4", "", ""]]


def test_lengths_are_in_the_unit_that_is_read_and_nothing_else_is() -> None:
    heads, rows = read(curve_table(Curves(BY_KEY["sway"], "travel", X, 0.0, VALUES), "in"))
    assert heads[:2] == ["Wheel travel (in)", "as built: Sway (in)"]
    assert [row[0] for row in rows] == ["-2.0", "0.0", "1.0"]
    assert float(rows[0][2]) == 1.0
    heads, rows = read(curve_table(Curves(BY_KEY["anti_squat"], "roll", X, 0.0, VALUES), "in"))
    assert heads[:2] == ["Axle roll (deg)", "as built: Anti-squat (%)"]
    assert rows[0] == ["-50.8", "1.0", "25.4"]
    heads, _ = read(curve_table(Curves(BY_KEY["static_stability"], "roll", X, 0.0, VALUES), "in"))
    assert heads[1] == "as built: Static stability factor"


def test_intervals_stand_behind_their_state() -> None:
    bands = {"lifted": (np.array([-60.0, 40.0]), np.array([0.0, 100.0]), np.array([10.0, 110.0]))}
    heads, rows = read(curve_table(Curves(BY_KEY["sway"], "travel", X, 0.0, VALUES), "mm", bands))
    assert heads[2:] == [
        "lifted: Sway (mm)",
        "lifted: Sway (mm), low end of 95 %",
        "lifted: Sway (mm), high end of 95 %",
    ]
    assert [float(v) for v in rows[0][3:]] == pytest.approx([9.2, 19.2])


def test_a_name_with_a_comma_stays_one_column() -> None:
    table = curve_table(Curves(BY_KEY["patch_left_side"], "travel", X, 0.0, VALUES), "mm")
    heads, rows = read(table)
    assert heads[1] == "as built: Left tyre patch, sideways (mm)"
    assert {len(row) for row in rows} == {3}
    assert "\r" not in table
