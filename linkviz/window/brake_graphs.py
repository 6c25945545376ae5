"""Two graphs of the brakes: what the valve lets through, and the adhesion each axle uses as the vehicle slows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from linkviz.analysis.stance.brake_valve import Name, State
from linkviz.analysis.stance.brake_words import TITLES
from linkviz.brakes.valve import rear_pressure
from linkviz.window.lines_plot import Legend, Line, LinesPlot
from linkviz.window.theme import LIGHT, Colours

_MOST = 12.0
"""Greatest pressure shown, MPa."""
_DASH: dict[Name, Qt.PenStyle] = {
    "as built": Qt.PenStyle.DashLine,
    "lifted": Qt.PenStyle.SolidLine,
    "raised": Qt.PenStyle.DashDotLine,
}
_Z = np.linspace(0.05, 1.0, 39)


class BrakeGraphs(QWidget):
    """Characteristic of the valve, rear share, and adhesion used, for some states."""

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self.pressure = LinesPlot(
            "Rear line pressure over front line pressure", "front, MPa", "rear, MPa", (0.0, _MOST, 0.0, 9.0)
        )
        self.share = LinesPlot(
            "Rear share of braking over deceleration", "deceleration, g", "rear share, %", (0.0, 1.0, 0.0, 60.0)
        )
        self.adhesion = LinesPlot(
            "Adhesion used by the rear axle over deceleration",
            "deceleration, g",
            "rear adhesion used",
            (0.0, 1.0, 0.0, 1.2),
        )
        self.legend = Legend()
        column.addWidget(self.legend)
        for words, plot in (
            ("What the valve lets through to the rear", self.pressure),
            ("Rear share of the braking", self.share),
            ("Adhesion the rear axle uses; above the ideal line it locks first", self.adhesion),
        ):
            label = QLabel(words)
            label.setWordWrap(True)
            column.addWidget(label)
            column.addWidget(plot)
        self._colours: Colours = LIGHT

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        for plot in (self.pressure, self.share, self.adhesion):
            plot.show_theme(colours)

    def show_states(self, states: Sequence[State], colours: Colours) -> None:
        """Show the lines of some states."""
        tints: dict[Name, str] = {"as built": colours.built, "lifted": colours.lifted, "raised": colours.corrected}
        pressure, share, adhesion = [], [], []
        x = np.linspace(0.0, _MOST, 121)
        for state in states:
            if state.system is None or state.knee is None:
                continue
            name, tint, dash = TITLES[state.name], tints[state.name], _DASH[state.name]
            pressure.append(Line(name, x, rear_pressure(x, state.knee, state.system.slope), tint, dash))
            share.append(Line(name, _Z, 100.0 * state.system.share(_Z), tint, dash))
            adhesion.append(Line(name, _Z, state.system.adhesion(_Z)[1], tint, dash))
        systems = [s.system for s in states if s.system is not None]
        if systems:
            front, rear = systems[-1].standing.ideal(_Z)
            ideal = 100.0 * rear / (front + rear)
            share.insert(0, Line("ideal", _Z, ideal, colours.soft, Qt.PenStyle.DotLine))
            adhesion.insert(0, Line("ideal", _Z, _Z, colours.soft, Qt.PenStyle.DotLine))
        self.pressure.show_lines(pressure)
        self.share.show_lines(share)
        self.adhesion.show_lines(adhesion)
        self.legend.show_lines(share)
