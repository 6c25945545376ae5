"""What stands on a page that scrolls and leaves the wheel to it: a passing mouse must not change a value."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QTabBar


class StillCombo(QComboBox):
    """A list to choose from."""

    def offer(self, texts: Sequence[str]) -> bool:
        """Offer other texts to choose from; return whether they are others than before."""
        if [self.itemText(i) for i in range(self.count())] == list(texts):
            return False
        self.clear()
        self.addItems(list(texts))
        return True

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Pass the wheel on."""
        event.ignore()


class StillTabBar(QTabBar):
    """The tabs of sheets."""

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Pass the wheel on."""
        event.ignore()
