"""A slider that shows its stock value, goes where it is clicked, and resets on a double click."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QSlider, QWidget

_KNOB = 8.0


class StockSlider(QSlider):
    """A horizontal slider over a real number.

    Parameters
    ----------
    low, high : float
        Ends of the range, in the unit of the value.
    stock : float
        The stock value: marked, and taken on a double click.
    grain : float
        Smallest change the slider makes.
    """

    moved = Signal(float)
    began = Signal()
    ended = Signal()

    def __init__(self, low: float, high: float, stock: float, grain: float, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._grain = grain
        self._stock = stock
        self._held = False
        self._quiet = False
        self.set_range(low, high)
        self.setMinimumWidth(54)
        self.setFixedHeight(26)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.valueChanged.connect(self._told)

    def set_range(self, low: float, high: float) -> None:
        """Set the ends of the range."""
        self._quiet = True
        self.setRange(round(low / self._grain), round(high / self._grain))
        self._quiet = False

    def set_step(self, fine: float, coarse: float) -> None:
        """Set how far an arrow key and a page key go."""
        self.setSingleStep(max(1, round(fine / self._grain)))
        self.setPageStep(max(1, round(coarse / self._grain)))

    def real(self) -> float:
        """Return the value."""
        return self.value() * self._grain

    def show_real(self, value: float) -> None:
        """Show a value without saying that it was moved."""
        whole = round(value / self._grain)
        if whole != self.value():
            self._quiet = True
            self.setValue(whole)
            self._quiet = False

    def reset(self) -> None:
        """Take the stock value, as one gesture."""
        self.began.emit()
        self.setValue(round(self._stock / self._grain))
        self.ended.emit()

    def _told(self, value: int) -> None:
        self.update()
        if not self._quiet:
            self.moved.emit(value * self._grain)

    def _at(self, value: float) -> float:
        span = max(1, self.maximum() - self.minimum())
        return _KNOB + 1 + (self.width() - 2 * _KNOB - 2) * (value - self.minimum()) / span

    def place_of(self, value: float) -> QPointF:
        """Return where a value stands in the widget."""
        return QPointF(self._at(value / self._grain), 11.0)

    def _from(self, x: float) -> int:
        span = self.maximum() - self.minimum()
        part = (x - _KNOB - 1) / max(1.0, self.width() - 2 * _KNOB - 2)
        return round(self.minimum() + min(1.0, max(0.0, part)) * span)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take the knob and go to the cursor."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._held = True
            self.began.emit()
            self.setValue(self._from(event.position().x()))
            event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Follow the cursor."""
        if self._held:
            self.setValue(self._from(event.position().x()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let the knob go."""
        if self._held and event.button() == Qt.MouseButton.LeftButton:
            self._held = False
            self.ended.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Go back to the stock value."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._held = False
            self.reset()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Step with the arrows; Backspace takes the stock value."""
        if event.key() == Qt.Key.Key_Backspace:
            self.reset()
            return
        super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Turn only where the keys are, too: a mouse that scrolls a page past it changes nothing."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw groove, stock mark and knob."""
        palette = self.palette()
        accent = palette.highlight().color()
        line = palette.mid().color()
        middle = 11.0
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            left, right = self._at(self.minimum()), self._at(self.maximum())
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(line)
            painter.drawRoundedRect(QRectF(left - 2, middle - 2, right - left + 4, 4), 2, 2)
            stock, now = self._at(self._stock / self._grain), self._at(self.value())
            painter.setBrush(accent)
            painter.drawRect(QRectF(min(stock, now), middle - 2, abs(now - stock), 4))
            painter.setBrush(palette.placeholderText())
            tip = middle + 9
            painter.drawPolygon(
                QPolygonF([QPointF(stock, tip), QPointF(stock - 3.5, tip + 5), QPointF(stock + 3.5, tip + 5)])
            )
            painter.setPen(QPen(accent if self.hasFocus() else QColor(palette.placeholderText().color()), 1.5))
            painter.setBrush(palette.base())
            painter.drawEllipse(QPointF(now, middle), _KNOB, _KNOB)
            if self.hasFocus():
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(accent)
                painter.drawEllipse(QPointF(now, middle), 3.5, 3.5)
        finally:
            painter.end()
