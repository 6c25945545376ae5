"""Keys both tools understand in the same way."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from linkviz.session.outline import Corner

TYPED = "0123456789.,-"
"""What begins a typed value."""
_WAYS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


def arrow(event: QKeyEvent, step: float, fine: float) -> Corner | None:
    """Return how far an arrow key moves something, as seen, mm; None for other keys.

    One `step` of the grid; the `fine` one with Ctrl or without a grid; ten times as far with Shift.
    """
    way = _WAYS.get(Qt.Key(event.key()))
    if way is None:
        return None
    size = fine if event.modifiers() & Qt.KeyboardModifier.ControlModifier or step <= 0 else step
    if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
        size *= 10.0
    return (way[0] * size, way[1] * size)
