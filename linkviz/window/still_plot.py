"""A pyqtgraph plot in which nothing moves by itself: no menus, no buttons, no mouse of its own, ranges set by hand."""

from __future__ import annotations

import pyqtgraph as pg
from PySide6.QtWidgets import QApplication


class StillPlot(pg.PlotWidget):  # type: ignore[misc]
    """Base of all plots.

    Parameters
    ----------
    name : str
        What a screen reader calls it.
    """

    def __init__(self, name: str) -> None:
        pg.setConfigOptions(antialias=True, useOpenGL=False)
        before = set(QApplication.topLevelWidgets())
        super().__init__(enableMenu=False)
        # A plot makes a form and menus that belong to nobody: they must end with it.
        for stray in set(QApplication.topLevelWidgets()) - before - {self}:
            if stray.parent() is None:
                stray.setParent(self)
                stray.hide()
        self.setAccessibleName(name)
        self.setMenuEnabled(False)
        self.setMouseEnabled(False, False)
        self.hideButtons()
        self._box = self.getViewBox()
        self._box.disableAutoRange()
        for side in ("bottom", "left"):
            axis = self.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setStyle(tickLength=0)
