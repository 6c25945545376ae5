"""A typed value: a length or an angle, with units and fractions, refused in words."""

from __future__ import annotations

import math
from typing import Literal

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from linkviz.errors import LinkvizError
from linkviz.session.typed import in_other_unit
from linkviz.units import Unit, finest, format_length, parse_angle, parse_length, parse_number

Kind = Literal["length", "angle", "number"]


class ValueBox(QLineEdit):
    """A line for one value, in mm or deg whatever is shown.

    Parameters
    ----------
    kind : {"length", "angle", "number"}
        What is typed.
    name : str
        Accessible name.
    suffix : str
        Unit of a number, shown behind it; it may be left out when typing.
    """

    apart = Signal()
    """Before and after a typed value is entered: unlike steps by arrow keys it is a step of its own for undo."""
    entered = Signal(float)
    refused = Signal(str)

    def __init__(self, kind: Kind, name: str, parent: QWidget | None = None, suffix: str = "") -> None:
        super().__init__(parent)
        self.setObjectName("value")
        self._suffix = suffix
        self.setAccessibleName(name)
        self._kind = kind
        self._value = 0.0
        self._unit: Unit = "mm"
        self._fits: tuple[float, float] = (-math.inf, math.inf)
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.returnPressed.connect(self._take)

    @property
    def value(self) -> float:
        """Return the value shown, mm or deg."""
        return self._value

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Return the room of a usual value in the letters there are."""
        wide = self.fontMetrics().horizontalAdvance("1480 mm") + 20
        return QSize(max(76, wide), super().minimumSizeHint().height())

    def set_limits(self, low: float, high: float) -> None:
        """Set the values that are taken, mm or deg."""
        self._fits = (low, high)

    def worded(self, value: float) -> str:
        """Return a value as it is shown."""
        if self._kind == "number":
            return f"{value + 0.0:.4g} {self._suffix}".rstrip()
        if self._kind == "angle":
            return f"{value + 0.0:.1f}\N{DEGREE SIGN}" if abs(value) >= 0.05 else "0.0\N{DEGREE SIGN}"
        return format_length(value, self._unit)

    def show_value(self, value: float, unit: Unit = "mm") -> None:
        """Show a value; text that is being typed is left alone, in another unit it goes on to mean the same."""
        if value == self._value and unit == self._unit and self.text():
            return
        before, self._value, self._unit = self._unit, value, unit
        if not (self.hasFocus() and self.isModified()):
            self._restore()
        elif unit != before and self._kind == "length":
            self.setText(in_other_unit(self.text(), before, unit))
            self.setModified(True)

    def show_nothing(self) -> None:
        """Show that there is no value."""
        self._value = math.nan
        if not (self.hasFocus() and self.isModified()):
            self._restore()

    def _restore(self) -> None:
        self.setText("" if math.isnan(self._value) else self.worded(self._value))
        self.setModified(False)
        self._mark(False)

    def _mark(self, bad: bool) -> None:
        if bool(self.property("refused")) != bad:
            self.setProperty("refused", bad)
            self.style().unpolish(self)
            self.style().polish(self)

    def _read(self, text: str) -> float:
        if self._kind == "number":
            value = parse_number(text, self._suffix)
        else:
            value = math.degrees(parse_angle(text)) if self._kind == "angle" else parse_length(text, self._unit)
        low, high = self._fits
        if not low - 1e-9 <= value <= high + 1e-9:
            raise LinkvizError(
                f"{self.accessibleName()}: {self.worded(value)} is outside of what fits here. "
                f"Type a value from {self.worded(low)} to {self.worded(high)}."
            )
        return value

    def _take(self) -> None:
        if not self.isModified() or (math.isnan(self._value) and not self.text().strip()):
            return
        try:
            value = self._read(self.text())
        except LinkvizError as error:
            self._mark(True)
            self.refused.emit(str(error))
            return
        self.setModified(False)
        self._value = value
        self._restore()
        self.apart.emit()
        self.entered.emit(value)
        self.apart.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Take what was typed; put the old value back if it cannot be taken."""
        self._take()
        super().focusOutEvent(event)
        self._restore()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Step with up and down, give up with Esc."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self._restore()
            return
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not math.isnan(self._value):
            # what is being typed is taken first: the step goes on from there
            self._take()
            if self.isModified():
                return
            fine = {"angle": 0.1, "number": 1.0}
            step = fine.get(self._kind) or finest(self._unit)
            sign = 1.0 if event.key() == Qt.Key.Key_Up else -1.0
            value = min(max(self._value + sign * step, self._fits[0]), self._fits[1])
            self._value = value
            self._restore()
            self.entered.emit(value)
            return
        super().keyPressEvent(event)
