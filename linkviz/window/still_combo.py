"""A list to choose from on a page that scrolls."""

from __future__ import annotations

from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox


class StillCombo(QComboBox):
    """Leaves the wheel to the page: a passing mouse must not change a value."""

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Pass the wheel on."""
        event.ignore()
