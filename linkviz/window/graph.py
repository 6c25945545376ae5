"""The graph strip: one quantity over wheel travel or roll, three states, and a cursor that moves the axle."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QColor, QPaintEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QMenu, QToolButton, QVBoxLayout, QWidget

from linkviz.analysis.compare import NAMES
from linkviz.analysis.curve_table import Band
from linkviz.analysis.curves import Curves
from linkviz.analysis.figures import figure
from linkviz.linkage.layout import Array
from linkviz.session.doubt import Doubt
from linkviz.session.live import Frame
from linkviz.session.session import Session
from linkviz.session.strip import Request, Strip, slow_curves
from linkviz.session.view import AXES, View
from linkviz.units import Unit, format_angle, format_length
from linkviz.window.choice import QuantityChoice
from linkviz.window.readout import Readout
from linkviz.window.same import same
from linkviz.window.theme import LIGHT, Colours
from linkviz.window.work import LatestWork

if TYPE_CHECKING:
    from linkviz.window.plot import Plot

OVER = {"travel": "over travel", "roll": "over roll"}
"""What each axis is called."""
KINDS = {"png": "Picture (PNG)...", "svg": "Drawing (SVG)...", "csv": "Table (CSV)..."}
"""What a graph is saved as."""
ROLL_SAID = 0.05
"""Least roll that is said, deg."""


class Graph(QWidget):
    """The graph strip: it shows the session and moves its cursor, nothing else.

    Parameters
    ----------
    session : Session
        What it shows and changes.
    """

    save_asked = Signal(str)
    """One of `KINDS`."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.strip = Strip()
        self.work = LatestWork(slow_curves, parent=self)
        self.work.done.connect(self._came)
        self.curves: Curves | None = None
        self.unit: Unit = "mm"
        self.bands: dict[str, Band] = {}
        """Intervals that are drawn: places, low and high ends, in the quantity's own unit."""
        self._band_stale: dict[str, bool] = {}
        self._frame: Frame | None = None
        self._at = 0.0
        self._plot: Plot | None = None
        self._plot_due = False
        self._colours: Colours = LIGHT
        self._make_head()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._head)
        self._column = column
        self._room = QWidget()
        column.addWidget(self._room, 1)
        self.setMinimumHeight(120)

    def _make_head(self) -> None:
        self.choice = QuantityChoice()
        self.choice.chosen.connect(lambda key: self._session.set_view(graph=key))
        self.axis = QComboBox()
        self.axis.setAccessibleName("Axis of the graph")
        self.axis.setToolTip("Over wheel travel at the present roll, or over axle roll at the present travel")
        for axis in AXES:
            self.axis.addItem(OVER[axis], axis)
        self.axis.activated.connect(lambda i: self._session.set_view(graph_axis=self.axis.itemData(i)))
        self.readout = Readout()
        self.save = QToolButton()
        self.save.setText("Save graph")
        self.save.setAccessibleName("Save graph")
        self.save.setToolTip("Save what the graph shows as a picture, a drawing or a table (Ctrl+Shift+G)")
        self.save.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self.save)
        for kind, words in KINDS.items():
            menu.addAction(words).triggered.connect(lambda _=False, kind=kind: self.save_asked.emit(kind))
        self.save.setMenu(menu)
        head = QHBoxLayout()
        head.setContentsMargins(10, 5, 12, 1)
        head.setSpacing(10)
        head.addWidget(self.choice, 1)
        head.addWidget(self.axis)
        head.addWidget(self.readout, 2)
        head.addWidget(self.save)
        self._head = head

    @property
    def plot(self) -> Plot:
        """Return the plot, made when it is first asked for."""
        if self._plot is None:
            # The plotting library takes a quarter of the start: the drawings are on the screen before it is loaded.
            from linkviz.window.plot import Plot

            self._plot = Plot()
            self._plot.moved.connect(self._move)
            self._plot.show_theme(self._colours)
            self._column.replaceWidget(self._room, self._plot)
            self._column.setStretchFactor(self._plot, 1)
            self._room.deleteLater()
            # it came last; the Tab key is to come to it after the button beside it
            QWidget.setTabOrder(self.save, self._plot)
            if self.curves is not None:
                self._plot.show_curves(self.curves, self.unit)
                self._plot.show_message(message_words(self.curves))
            for state, band in self.bands.items():
                self._plot.show_band(state, *band, self._band_stale[state])
            self._plot.show_at(self._at)
        return self._plot

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Load the plot once the first frame is on the screen."""
        super().paintEvent(event)
        if self._plot is None and not self._plot_due:
            self._plot_due = True
            QTimer.singleShot(30, self, lambda: self.plot)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.readout.show_theme(colours)
        if self._plot is not None:
            self._plot.show_theme(colours)
        self.setAutoFillBackground(True)
        palette = self.palette()
        palette.setColor(self.backgroundRole(), QColor(colours.base))
        self.setPalette(palette)

    # -- what is shown

    def show_state(self, frame: Frame, view: View) -> None:
        """Show the chosen quantity, and what it is where the axle stands."""
        self._frame = frame
        curves = self.strip.curves(frame.comparison, view)
        self.choice.show_key(curves.quantity.key)
        if self.axis.currentData() != curves.axis:
            self.axis.setCurrentIndex(AXES.index(curves.axis))
        if curves is not self.curves or view.unit != self.unit:
            self._show_curves(curves, view.unit)
        live = frame.scene.live
        if curves.axis == "travel":
            at = float(live.poses.heave[0]) + frame.comparison.setup.lift
        else:
            at = float(np.degrees(live.poses.roll[0]))
        self._show_at(at, view)
        if self.strip.request is not None:
            self.work.ask(self.strip.request, self.strip.request)

    def _show_curves(self, curves: Curves, unit: Unit) -> None:
        last = self.curves
        if last is None or (last.quantity.key, last.axis, last.held) != (curves.quantity.key, curves.axis, curves.held):
            self.clear_bands()
            what = f"{curves.quantity.label}: {curves.quantity.plain}"
            self.choice.setToolTip(f"{what} Type a part of a name to find another quantity.")
        self.curves, self.unit = curves, unit
        if self._plot is not None:
            self._plot.show_curves(curves, unit)
            self._plot.show_message(message_words(curves))

    def _show_at(self, at: float, view: View) -> None:
        curves = self.curves
        if curves is None:
            return
        self._at = at
        if self._plot is not None:
            self._plot.show_at(at)
        values = curves.at(at)
        self.readout.show_values(
            place_words(curves, at, view.unit),
            [(state, value_words(values[state], curves, view.unit)) for state in NAMES if state in values],
        )

    def show_band(
        self, name: str, x: Array | None, low: Array | None = None, high: Array | None = None, stale: bool = False
    ) -> None:
        """Draw the 95 % interval of the shown quantity behind the line of a state; None for `x` takes it away.

        Parameters
        ----------
        name : str
            The state.
        x, low, high : ndarray, shape (n,)
            Places along the axis (mm of travel or deg of roll) and ends of the interval in the quantity's own unit.
        stale : bool
            Whether it belongs to what was there before: it is dimmed.

        Notes
        -----
        Bands go when another quantity, axis, or roll is shown: they are to be shown again with the next frame then.
        """
        present = self.bands.get(name)
        if x is None or low is None or high is None:
            if present is None:
                return
            del self.bands[name]
        else:
            if present is not None and same(present, (x, low, high)) and self._band_stale[name] == stale:
                return
            self.bands[name] = (x, low, high)
            self._band_stale[name] = stale
        if self._plot is not None:
            self._plot.show_band(name, x, low, high, stale)

    def show_doubt(self, doubt: Doubt) -> None:
        """Draw the measuring error of the shown quantity, where it is known: over travel, of a level axle."""
        curves = self.curves
        if curves is None:
            return
        known = doubt.found is not None and curves.axis == "travel" and curves.held == 0.0
        for name in NAMES:
            case = doubt.found.cases.get(name) if known and doubt.found is not None else None
            band = case.bands.get(curves.quantity.key) if case is not None and name in curves.values else None
            if case is None or band is None:
                self.show_band(name, None)
            else:
                self.show_band(name, case.travel, band.low, band.high, doubt.stale)

    def clear_bands(self) -> None:
        """Take all intervals away."""
        for name in tuple(self.bands):
            self.show_band(name, None)

    # -- what is done

    def _move(self, at: float) -> None:
        if self.curves is not None and self.curves.axis == "roll":
            self._session.set_view(roll_deg=at)
        else:
            self._session.set_view(travel=at, playing=False)

    def _came(self, request: Request, found: Curves | None) -> None:
        self.strip.take(request, found)
        if self._frame is not None:
            self.show_state(self._frame, self._session.view)


def message_words(curves: Curves) -> str:
    """Return what must be said in the plot: why there is nothing, why a line ends or has a gap."""
    if curves.missing:
        return f"{curves.quantity.label} cannot be drawn. {curves.missing}"
    if not curves.values:
        return "Being worked out..." if curves.stale else ""
    said = [f"{name}: line ends where {words} stops the axle" for name, words in curves.stops.items()]
    if curves.breaks:
        said.append(f"gap in the line: {curves.quantity.infinite}")
    return "; ".join(said)


def place_words(curves: Curves, at: float, unit: Unit) -> str:
    """Return where the cursor stands and what the axle does meanwhile, such as "at +40 mm, rolled 5.0 deg"."""
    where = travel_words(at, unit) if curves.axis == "travel" else roll_words(at)
    return ", ".join(words for words in (where, held_words(curves, unit)) if words)


def held_words(curves: Curves, unit: Unit) -> str:
    """Return what is held while the other one varies: the roll if there is any, or the travel."""
    if curves.axis == "roll":
        return travel_words(curves.held, unit)
    return roll_words(curves.held) if abs(curves.held) >= ROLL_SAID else ""


def roll_words(roll: float) -> str:
    """Return a roll, deg, in words: "level" or "rolled 5.0 deg"."""
    return "level" if abs(roll) < ROLL_SAID else f"rolled {format_angle(math.radians(roll))}"


def travel_words(travel: float, unit: Unit) -> str:
    """Return a travel in words: "at rest" or "at +40 mm"."""
    return "at rest" if abs(travel) < 0.5 else f"at {'+' if travel > 0 else ''}{format_length(travel, unit)}"


def value_words(value: float, curves: Curves, unit: Unit) -> str:
    """Return a value under the cursor, or why there is none."""
    if np.isnan(value):
        return "not reached"
    return "infinite" if np.isinf(value) else figure(value, curves.quantity.unit, unit)
