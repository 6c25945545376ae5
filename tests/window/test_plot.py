"""A plot that leaves alone what did not change shows the same as one made anew."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from linkviz.units import Unit
from linkviz.window.plot import Plot
from linkviz.window.scales import Curves
from linkviz.window.theme import DARK, LIGHT, Colours

pytestmark = pytest.mark.usefixtures("qapp")
TRAVEL = np.linspace(-100.0, 100.0, 41)


def curves(top: float = 5.0, corrected: float = 2.0, travel: Any = TRAVEL, length: bool = True) -> Curves:
    bend = (travel / 100.0) ** 2
    values = {"as built": bend, "lifted": top * bend, "corrected": corrected * bend}
    return Curves(travel, values, length)


def show(
    plot: Plot, what: Curves, unit: Unit = "mm", colours: Colours = LIGHT, size: tuple[int, int] = (600, 180)
) -> Any:
    plot.show_theme(colours)
    plot.resize(*size)
    plot.show_curves(what, unit)
    for _ in range(3):
        QApplication.processEvents()
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
        {"what": curves(travel=np.linspace(-80.0, 120.0, 41))},
        {"what": curves(length=False)},
        {"what": Curves(TRAVEL, {"as built": curves().values["as built"]}, True)},
        {"what": Curves(TRAVEL, {**curves().values, "corrected": HOLE / 50.0}, True)},
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
