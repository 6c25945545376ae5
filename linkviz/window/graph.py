"""The graph strip: one quantity over wheel travel, three states, and a cursor that moves the axle."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from linkviz.session.view import GRAPHS
from linkviz.units import Unit
from linkviz.window.plot import Curves, Plot
from linkviz.window.theme import Colours

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
        self.plot = Plot()
        self.plot.travelled.connect(self.travelled)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.plot, 1)
        self.setMinimumHeight(120)
        self.choice.currentIndexChanged.connect(self._choose)

    def _choose(self, index: int) -> None:
        if not self._quiet:
            self.chosen.emit(self.choice.itemData(index))

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.plot.show_theme(colours)
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
        self.plot.show_curves(curves, unit)

    def show_travel(self, travel: float, words: str) -> None:
        """Put the cursor where the axle stands, mm, and say what the live state reads there."""
        self.plot.show_travel(travel)
        if self.readout.text() != words:
            self.readout.setText(words)
