"""The graph strip: one quantity over wheel travel, three states, and a cursor that moves the axle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QColor, QShowEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from linkviz.session.view import GRAPHS
from linkviz.units import Unit
from linkviz.window.scales import Curves
from linkviz.window.theme import LIGHT, Colours

if TYPE_CHECKING:
    from linkviz.window.plot import Plot

TITLES = {
    "sway": "Sideways swing of the axle",
    "pinion": "Pinion angle, nose up +",
    "gap": "Gap between shaft and tank",
}
"""What each graph is called."""


class Graph(QWidget):
    """The graph strip."""

    travelled = Signal(float)
    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
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
        # the note gives way first when the window is narrow
        self.note.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        head.addWidget(self.note, 1)
        head.addWidget(self.readout)
        self._plot: Plot | None = None
        self._colours: Colours = LIGHT
        self._curves: tuple[Curves, Unit] | None = None
        self._travel = 0.0
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        self._column = column
        self._room = QWidget()
        column.addWidget(self._room, 1)
        self.setMinimumHeight(120)
        self.choice.currentIndexChanged.connect(self._choose)

    @property
    def plot(self) -> Plot:
        """Return the plot, made when it is first asked for."""
        if self._plot is None:
            # The plotting library takes a quarter of the start: the drawings are on the screen before it is loaded.
            from linkviz.window.plot import Plot

            self._plot = Plot()
            self._plot.travelled.connect(self.travelled)
            self._plot.show_theme(self._colours)
            self._column.replaceWidget(self._room, self._plot)
            self._column.setStretchFactor(self._plot, 1)
            self._room.deleteLater()
            if self._curves is not None:
                self._plot.show_curves(*self._curves)
            self._plot.show_travel(self._travel)
        return self._plot

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Load the plot once the first frame is on the screen."""
        super().showEvent(event)
        if self._plot is None:
            QTimer.singleShot(30, self, lambda: self.plot)

    def _choose(self, index: int) -> None:
        if not self._quiet:
            self.chosen.emit(self.choice.itemData(index))

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        if self._plot is not None:
            self._plot.show_theme(colours)
        self.setAutoFillBackground(True)
        palette = self.palette()
        palette.setColor(self.backgroundRole(), QColor(colours.base))
        self.setPalette(palette)

    def show_curves(self, kind: str, curves: Curves, unit: Unit) -> None:
        """Show the three states of one quantity."""
        self._quiet = True
        self.choice.setCurrentIndex(GRAPHS.index(kind) if kind in GRAPHS else 0)
        self._quiet = False
        word = unit if curves.length else "deg"
        note = f"{word}, over wheel travel from rest, {unit}"
        if self.note.text() != note:
            self.note.setText(note)
        self._curves = (curves, unit)
        if self._plot is not None:
            self._plot.show_curves(curves, unit)

    def show_travel(self, travel: float, words: str) -> None:
        """Put the cursor where the axle stands, mm, and say what the live state reads there."""
        self._travel = travel
        if self._plot is not None:
            self._plot.show_travel(travel)
        if self.readout.text() != words:
            self.readout.setText(words)
