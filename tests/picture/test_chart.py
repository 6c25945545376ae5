"""A graph's SVG read back: it stands alone, and its lines are where the numbers are."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import Any

import numpy as np
import pytest

from linkviz.analysis.curves import Curves
from linkviz.analysis.quantities import BY_KEY
from linkviz.picture.chart import MARKERS, Chart, chart_svg, marked

X = np.linspace(-80.0, 80.0, 41)
TINTS = {"as built": "#111111", "lifted": "#222222", "corrected": "#333333"}
VALUES = {"as built": 0.1 * X, "lifted": 0.2 * X, "corrected": np.where(X > -40.0, 0.15 * X, np.nan)}
NS = "{http://www.w3.org/2000/svg}"


def curves(key: str = "sway", axis: Any = "travel", values: Any = None, **more: Any) -> Curves:
    return Curves(
        BY_KEY[key], axis, X if axis == "travel" else X / 8.0, 0.0, VALUES if values is None else values, **more
    )


def read(chart: Chart) -> ET.Element:
    return ET.fromstring(chart_svg(chart).encode())


def texts(root: ET.Element) -> list[str]:
    return [t.text or "" for t in root.iter(f"{NS}text")]


def runs(root: ET.Element, tint: str) -> list[np.ndarray]:
    """Return the runs of a state's line, without its sample in the legend."""
    found = [p for p in root.iter(f"{NS}polyline") if p.get("stroke") == tint]
    return [np.array([pair.split(",") for pair in p.get("points", "").split()], dtype=float) for p in found][:-1]


def test_it_stands_alone() -> None:
    about = ["A <& B>", "lifted 100 mm, bracket drop 75 mm", "rolled 5.0"]
    said = texts(read(Chart(curves(), "mm", TINTS, about, "lifted: line ends")))
    assert said[0] == "Sway over wheel travel"
    assert said[1] == " \N{MIDDLE DOT} ".join(about)
    assert {"Wheel travel (mm)", "Sway (mm)", "as built", "lifted", "corrected", "rest", "lifted: line ends"} <= set(
        said
    )
    said = texts(read(Chart(curves("anti_squat", "roll"), "in", TINTS)))
    assert {"Axle roll (deg)", "Anti-squat (%)", "level"} <= set(said)
    assert "Wheel travel (in)" in texts(read(Chart(curves(), "in", TINTS)))


def test_lines_are_where_their_numbers_are() -> None:
    root = read(Chart(curves(), "mm", TINTS))
    ticks = {t.text: t for t in root.iter(f"{NS}text")}
    x = [float(ticks[k].get("x", "")) for k in ("-80", "rest", "+80")]
    assert x[1] == pytest.approx((x[0] + x[2]) / 2, abs=0.02)
    # heights of two numbers of the axis give the scale
    low, high = (float(ticks[k].get("y", "")) - 4.5 for k in ("-10", "10"))
    for name, values in VALUES.items():
        (run,) = runs(root, TINTS[name])
        there = np.isfinite(values)
        assert len(run) == there.sum()
        assert run[:, 0] == pytest.approx(np.interp(X[there], [-80.0, 80.0], [x[0], x[2]]), abs=0.02)
        assert run[:, 1] == pytest.approx(low + (values[there] + 10.0) * (high - low) / 20.0, abs=0.05)


def test_states_differ_by_dash_and_marker_in_one_colour() -> None:
    root = read(Chart(curves(), "mm", dict.fromkeys(TINTS, "#000000")))
    dashes = [p.get("stroke-dasharray") for p in root.iter(f"{NS}polyline")]
    assert len(set(dashes)) == 3
    assert len({len(MARKERS[name]) for name in TINTS}) == 3
    places = [set(marked(i, 41)) for i in range(3)]
    assert not places[0] & places[1] | places[1] & places[2] | places[0] & places[2]
    # three or four circles on the line, one in the legend
    assert len(list(root.iter(f"{NS}circle"))) == len(places[0]) + 1


def test_a_line_through_infinity_stays_inside_the_frame() -> None:
    root = read(Chart(curves("instant_centre_ahead", values={"as built": 1000.0 / (X - 3.1)}), "mm", TINTS))
    found = runs(root, TINTS["as built"])
    assert len(found) == 2
    for run in found:
        assert (run[:, 1] >= 96.0 - 0.01).all()
        assert (run[:, 1] <= 560.0 - 52.0 + 0.01).all()
    assert max(found[0][:, 0]) < min(found[1][:, 0])


def test_an_interval_is_drawn_and_named() -> None:
    bands = {"lifted": (X, VALUES["lifted"] - 3.0, VALUES["lifted"] + 3.0)}
    root = read(Chart(curves(), "mm", TINTS, bands=bands))
    assert "lifted, with its 95 % interval" in texts(root)
    (band,) = [p for p in root.iter(f"{NS}polygon") if p.get("fill-opacity")]
    assert band.get("fill") == TINTS["lifted"]
    assert len(band.get("points", "").split()) == 82


def test_why_there_is_nothing_is_said() -> None:
    why = "Anti-squat cannot be drawn. " + "The vehicle file has no [mass]: find it. " * 5
    root = read(Chart(curves("anti_squat", values={}, missing="x"), "mm", TINTS, [], why))
    assert " ".join(texts(root)).count("find it.") == 5
    assert not list(root.iter(f"{NS}polyline"))


def test_the_same_graph_gives_the_same_file() -> None:
    assert chart_svg(Chart(curves(), "mm", TINTS)) == chart_svg(Chart(curves(), "mm", TINTS))
