"""The graph strip: one quantity over wheel travel, three states, and a cursor that moves the axle."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainterPath, QPen
from PySide6.QtWidgets import QApplication, QComboBox, QGraphicsPathItem, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from linkviz.session.view import GRAPHS
from linkviz.units import Unit, from_mm
from linkviz.window.theme import Colours

Array = NDArray[np.float64]

TITLES = {"sway": "Sideways swing of the axle", "pinion": "Pinion angle, nose up +", "gap": "Gap between shaft and tank"}
"""What each graph is called."""
STATES = ("as built", "lifted", "corrected")
"""The three states, in the order they are drawn."""
_DASH = {
    "as built": Qt.PenStyle.DashLine,
    "lifted": Qt.PenStyle.SolidLine,
    "corrected": Qt.PenStyle.DashDotLine,
}


@dataclass(frozen=True, eq=False)
class Curves:
    """What one graph shows.

    Attributes
    ----------
    travel : ndarray
        Wheel travel from rest, mm.
    values : mapping
        For each state drawn, the quantity over travel, mm or deg; NaN where it is not reached.
    length : bool
        Whether the quantity is a length.
    """

    travel: Array
    values: Mapping[str, Array]
    length: bool


def nice_step(span: float, count: int = 5) -> float:
    """Return a step of 1, 2, 2.5 or 5 times a power of ten that parts `span` into about `count`."""
    rough = max(span, 1e-9) / count
    power = 10.0 ** np.floor(np.log10(rough))
    for factor in (1.0, 2.0, 2.5, 5.0, 10.0):
        if rough <= factor * power:
            return float(factor * power)
    return float(10.0 * power)


class Graph(QWidget):
    """The graph strip."""

    travelled = Signal(float)
    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._unit: Unit = "mm"
        self._curves: Curves | None = None
        self._quiet = False
        self.choice = QComboBox()
        self.choice.setAccessibleName("Quantity of the graph")
        for kind in GRAPHS:
            self.choice.addItem(TITLES[kind], kind)
        self.note = QLabel()
        self.note.setObjectName("soft")
        self.readout = QLabel()
        head = QHBoxLayout()
        head.setContentsMargins(10, 5, 12, 1)
        head.setSpacing(10)
        head.addWidget(self.choice)
        head.addWidget(self.note)
        head.addStretch(1)
        head.addWidget(self.readout)

        pg.setConfigOptions(antialias=True, useOpenGL=False)
        before = set(QApplication.topLevelWidgets())
        self.plot = pg.PlotWidget()
        # a plot makes a menu and a form that belong to nobody; they must end with it
        for stray in set(QApplication.topLevelWidgets()) - before - {self.plot}:
            if stray.parent() is None and stray is not self:
                stray.setParent(self.plot)
                stray.hide()
        self.plot.setAccessibleName("Graph over wheel travel")
        self.plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.plot.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.plot.setMenuEnabled(False)
        self.plot.setMouseEnabled(False, False)
        self.plot.hideButtons()
        box = self.plot.getViewBox()
        box.disableAutoRange()
        box.setDefaultPadding(0.0)
        for side in ("bottom", "left"):
            axis = self.plot.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setStyle(tickLength=-4)
        self.plot.getAxis("left").setWidth(44)
        self._grid = QGraphicsPathItem()
        self._grid.setZValue(-10)
        self.plot.addItem(self._grid, ignoreBounds=True)
        self._zero = QGraphicsPathItem()
        self._zero.setZValue(-9)
        self.plot.addItem(self._zero, ignoreBounds=True)
        self._lines: dict[str, pg.PlotCurveItem] = {}
        self._names: dict[str, pg.TextItem] = {}
        for state in STATES:
            line = pg.PlotCurveItem(connect="finite")
            self.plot.addItem(line, ignoreBounds=True)
            self._lines[state] = line
            name = pg.TextItem(state, anchor=(0.0, 0.5))
            self.plot.addItem(name, ignoreBounds=True)
            self._names[state] = name
        self.cursor = pg.InfiniteLine(pos=0.0, angle=90, movable=True)
        self.cursor.setZValue(20)
        self.cursor.addMarker("v", 1.0, 11.0)
        self.cursor.setHoverPen(None)
        self.cursor.sigDragged.connect(self._dragged)
        self.plot.addItem(self.cursor, ignoreBounds=True)
        self.plot.scene().sigMouseClicked.connect(self._clicked)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.plot, 1)
        self.setMinimumHeight(120)
        self.choice.currentIndexChanged.connect(self._choose)

    # -- what the person does

    def _choose(self, index: int) -> None:
        if not self._quiet:
            self.chosen.emit(self.choice.itemData(index))

    def _dragged(self) -> None:
        self.travelled.emit(self._mm(float(self.cursor.value())))

    def _clicked(self, event: object) -> None:
        place = self.plot.getViewBox().mapSceneToView(event.scenePos())
        if self.plot.getViewBox().viewRect().contains(place):
            self.travelled.emit(self._mm(place.x()))

    def _mm(self, shown: float) -> float:
        return shown * (25.4 if self._unit == "in" else 1.0)

    # -- what is shown

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.plot.setBackground(colours.base)
        self.setAutoFillBackground(True)
        palette = self.palette()
        palette.setColor(self.backgroundRole(), QColor(colours.base))
        self.setPalette(palette)
        for side in ("bottom", "left"):
            axis = self.plot.getAxis(side)
            axis.setPen(colours.line)
            axis.setTextPen(colours.soft)
        self._grid.setPen(self._cosmetic(colours.grid, 1.0))
        self._zero.setPen(self._cosmetic(colours.line, 1.2))
        for state, colour, width in zip(
            STATES, (colours.built, colours.lifted, colours.corrected), (1.6, 2.2, 2.2), strict=True
        ):
            self._lines[state].setPen(pg.mkPen(colour, width=width, style=_DASH[state]))
            self._names[state].setColor(colour)
        self.cursor.setPen(pg.mkPen(colours.text, width=1.4))
        self.cursor.setHoverPen(pg.mkPen(colours.accent, width=2.4))

    @staticmethod
    def _cosmetic(colour: str, width: float) -> QPen:
        pen = QPen(QColor(colour), width)
        pen.setCosmetic(True)
        return pen

    def show_curves(self, kind: str, curves: Curves, unit: Unit) -> None:
        """Show the three states of one quantity."""
        self._unit, self._curves = unit, curves
        self._quiet = True
        self.choice.setCurrentIndex(GRAPHS.index(kind) if kind in GRAPHS else 0)
        self._quiet = False
        word = unit if curves.length else "deg"
        self.note.setText(f"{word}, over wheel travel from rest, {unit}")
        x = from_mm(1.0, unit) * curves.travel
        factor = from_mm(1.0, unit) if curves.length else 1.0
        shown = {state: factor * values for state, values in curves.values.items()}
        finite = [v[np.isfinite(v)] for v in shown.values()]
        everything = np.concatenate([*finite, np.zeros(1)])
        low, high = float(everything.min()), float(everything.max())
        pad = max(0.08 * (high - low), 0.5 * factor if curves.length else 0.2)
        low, high = low - pad, high + pad
        self._ranges(float(x[0]), float(x[-1]), low, high)
        ends: list[tuple[float, str]] = []
        for state in STATES:
            values = shown.get(state)
            there = values is not None and bool(np.isfinite(values).any())
            self._lines[state].setVisible(there)
            self._names[state].setVisible(there)
            if there and values is not None:
                self._lines[state].setData(x, values)
                last = int(np.flatnonzero(np.isfinite(values))[-1])
                ends.append((float(values[last]), state))
        self._place_names(ends, float(x[-1]), high - low)

    def _place_names(self, ends: list[tuple[float, str]], x: float, span: float) -> None:
        """Put each name at the end of its line, moved apart where they would lie on each other."""
        height = max(60, self.plot.getViewBox().height() or 100)
        least = 15.0 * span / height
        ends = sorted(ends)
        low, high = self.plot.getViewBox().viewRange()[1]
        places = [y for y, _ in ends]
        for i in range(1, len(places)):
            places[i] = max(places[i], places[i - 1] + least)
        if places:
            over = places[-1] - (high - least / 2)
            if over > 0:
                places[-1] -= over
                for i in range(len(places) - 2, -1, -1):
                    places[i] = min(places[i], places[i + 1] - least)
            places = [max(place, low + least / 2) if i == 0 else place for i, place in enumerate(places)]
        for place, (_, state) in zip(places, ends, strict=True):
            self._names[state].setPos(x, place)

    def _ranges(self, left: float, right: float, low: float, high: float) -> None:
        box = self.plot.getViewBox()
        room = (right - left) * 82.0 / max(200.0, box.width() - 82.0)
        box.setRange(xRange=(left, right + room), yRange=(low, high), padding=0)
        xs = self._ticks(left, right, 9)
        ys = self._ticks(low, high, 6)
        self.plot.getAxis("bottom").setTicks([[(x, "rest" if x == 0 else f"{x:+g}") for x in xs]])
        self.plot.getAxis("left").setTicks([[(y, f"{y:g}") for y in ys]])
        path, zero = QPainterPath(), QPainterPath()
        for x in xs:
            path.moveTo(QPointF(x, low))
            path.lineTo(QPointF(x, high))
        for y in ys:
            path.moveTo(QPointF(left, y))
            path.lineTo(QPointF(right, y))
        zero.moveTo(QPointF(left, 0.0))
        zero.lineTo(QPointF(right, 0.0))
        self._grid.setPath(path)
        self._zero.setPath(zero)
        self.cursor.setBounds((left, right))

    @staticmethod
    def _ticks(low: float, high: float, count: int) -> list[float]:
        step = nice_step(high - low, count)
        first = int(np.ceil(low / step))
        return [round(step * i, 9) for i in range(first, int(np.floor(high / step)) + 1)]

    def show_travel(self, travel: float, words: str) -> None:
        """Put the cursor where the axle stands and say what the live state reads there."""
        self.cursor.blockSignals(True)
        self.cursor.setPos(from_mm(travel, self._unit))
        self.cursor.blockSignals(False)
        self.readout.setText(words)

    def plot_rect(self) -> QRectF:
        """Return the plotted part in the plot widget's own pixels."""
        box = self.plot.getViewBox()
        return self.plot.mapFromScene(box.sceneBoundingRect()).boundingRect().toRectF()

    def resizeEvent(self, event: object) -> None:  # noqa: N802
        """Lay the curves out again for the new size."""
        super().resizeEvent(event)
        if self._curves is not None:
            self.show_curves(self.choice.currentData(), self._curves, self._unit)
