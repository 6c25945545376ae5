"""A plot that leaves alone what did not change shows the same as one made anew."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QApplication

from linkviz.analysis.curves import Curves
from linkviz.analysis.quantities import BY_KEY
from linkviz.units import Unit
from linkviz.window.marks import DASH, band_path, marker_path, nudge
from linkviz.window.plot import Plot
from linkviz.window.theme import DARK, LIGHT, Colours

pytestmark = pytest.mark.usefixtures("qapp")
TRAVEL = np.linspace(-100.0, 100.0, 41)


def curves(top: float = 5.0, corrected: float = 2.0, x: Any = TRAVEL, key: str = "sway", **more: Any) -> Curves:
    bend = (x / 100.0) ** 2
    values = {"as built": bend, "lifted": top * bend, "corrected": corrected * bend}
    return Curves(BY_KEY[key], **{"axis": "travel", "x": x, "held": 0.0, "values": values} | more)


def show(
    plot: Plot, what: Curves, unit: Unit = "mm", colours: Colours = LIGHT, size: tuple[int, int] = (600, 180)
) -> Any:
    plot.show_theme(colours)
    plot.resize(*size)
    plot.show_curves(what, unit)
    for _ in range(3):
        QApplication.processEvents()
    # whichever of two plots has the keys shows it
    plot.clearFocus()
    return plot.grab().toImage()


def made(qtbot: Any) -> Plot:
    plot = Plot()
    qtbot.addWidget(plot)
    plot.resize(600, 180)
    plot.show()
    return plot


HOLE = np.where(np.abs(TRAVEL) < 60.0, TRAVEL, np.nan)


@pytest.mark.parametrize(
    "change",
    [
        {"what": curves(corrected=4.0)},
        {"what": curves(top=9.0)},
        {"what": curves(x=np.linspace(-80.0, 120.0, 41))},
        {"what": curves(key="yaw")},
        {"what": curves(axis="roll", x=TRAVEL / 10.0)},
        {"what": curves(stale=True)},
        {"what": curves(values={"as built": curves().values["as built"]})},
        {"what": curves(values={**curves().values, "corrected": HOLE / 50.0})},
        {"what": curves(values={})},
        {"what": curves(), "unit": "in"},
        {"what": curves(), "colours": DARK},
        {"what": curves(), "size": (500, 240)},
    ],
)
def test_a_change_shows_as_in_a_plot_made_anew(qtbot: Any, change: dict[str, Any]) -> None:
    plot = made(qtbot)
    before = show(plot, curves())
    after = show(plot, **change)
    fresh = made(qtbot)
    assert after == show(fresh, **change)
    assert after != before
    assert show(plot, curves()) == before


AROUND = (-200.0, 200.0, -200.0, 200.0)


def test_lines_differ_by_dash_and_marker() -> None:
    assert len(set(DASH.values())) == 3
    area = QRectF(-200.0, -200.0, 400.0, 400.0)
    paths = [marker_path(state, TRAVEL, np.zeros(41), 0, AROUND, area) for state in ("as built", *DASH)]
    shapes = [path.toSubpathPolygons()[0].size() for path in paths[1:]]
    assert len(set(shapes)) == 3
    assert paths[0] == paths[1]


def test_markers_of_lines_on_each_other_do_not_hide_each_other() -> None:
    area = QRectF(-200.0, -200.0, 400.0, 400.0)
    paths = [marker_path(state, TRAVEL, np.zeros(41), i, AROUND, area) for i, state in enumerate(DASH)]
    assert all(path.elementCount() for path in paths)
    assert not any(a.intersects(b) for a in paths for b in paths if a is not b)


def test_a_band_is_only_where_both_ends_exist() -> None:
    low, high = np.zeros(41), np.ones(41)
    low[10], high[20] = np.nan, np.inf
    parts = band_path(TRAVEL, low, high).toSubpathPolygons()
    assert [(p.boundingRect().left(), p.boundingRect().right()) for p in parts] == [
        (TRAVEL[0], TRAVEL[9]),
        (TRAVEL[11], TRAVEL[19]),
        (TRAVEL[21], TRAVEL[40]),
    ]


def test_names_of_lines_that_end_together_are_kept_apart() -> None:
    for ends in ([(50.0, "a"), (51.0, "b"), (52.0, "c")], [(150.0, "a"), (150.0, "b")]):
        places = [y for y, _ in nudge(ends, 16.0, 150.0)]
        assert (np.diff(places) >= 15.9).all()
        assert max(places) <= 150.0
