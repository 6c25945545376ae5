"""The four controls that move the axle, and the play button."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from linkviz.session.document import DROP_RANGE, LIFT_RANGE, Document
from linkviz.session.session import Session
from linkviz.session.view import ROLL_RANGE_DEG, View
from linkviz.units import MM_PER_INCH, Unit, finest
from linkviz.window.slider import StockSlider
from linkviz.window.value_box import Kind, ValueBox


class Control(QWidget):
    """A label, a slider and a typed value for one quantity.

    Parameters
    ----------
    name : str
        What it is called.
    kind : {"length", "angle"}
        What is typed.
    limits : tuple of float
        Ends of the range, mm or deg.
    tip : str
        Tool tip.
    """

    changed = Signal(float)
    began = Signal()
    ended = Signal()
    refused = Signal(str)

    def __init__(self, name: str, kind: Kind, limits: tuple[float, float], tip: str) -> None:
        super().__init__()
        self.kind = kind
        self.label = QLabel(name)
        self.slider = StockSlider(limits[0], limits[1], 0.0, 0.05)
        self._name = name
        self.slider.setAccessibleName(name)
        self.slider.setAccessibleDescription(tip)
        self.slider.setToolTip(tip)
        self.box = ValueBox(kind, f"{name}, value")
        such = '90 mm, 3.5in or 3 1/2"' if kind == "length" else "2.5"
        self.box.setToolTip(f"{name}: type a value such as {such}")
        letters = self.box.fontMetrics()
        self.box.setFixedWidth(max(76, letters.horizontalAdvance('-00 15/16" ') + 20))
        self.box.set_limits(*limits)
        self.label.setBuddy(self.box)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        self.label.setFixedWidth(max(88, letters.horizontalAdvance("Bracket drop ")))
        row.addWidget(self.label)
        row.addWidget(self.slider, 1)
        row.addWidget(self.box)
        self.slider.moved.connect(self.changed)
        self.slider.began.connect(self.began)
        self.slider.ended.connect(self.ended)
        self.box.apart.connect(self.ended)
        self.box.entered.connect(self.changed)
        self.box.refused.connect(self.refused)
        self._unit: Unit | None = None
        self._limits = limits

    def set_limits(self, limits: tuple[float, float]) -> None:
        """Set the ends of the range, mm or deg."""
        if limits != self._limits:
            self._limits = limits
            self.slider.set_range(*limits)
            self.box.set_limits(*limits)

    def show_value(self, value: float, unit: Unit) -> None:
        """Show a value, mm or deg, in a unit."""
        if unit != self._unit:
            self._unit = unit
            if self.kind == "angle":
                self.slider.set_step(0.1, 1.0)
            else:
                self.slider.set_step(finest(unit), 10.0 if unit == "mm" else MM_PER_INCH / 2)
        self.slider.show_real(value)
        self.box.show_value(value, unit)
        # Qt tells screen readers the number of a slider's step, and Python cannot put another in its place (Qt asks for
        # it by a bare pointer). The name is read before that number, and again whenever it changes.
        told = f"{self._name}, {self.box.worded(value)}"
        if self.slider.accessibleName() != told:
            self.slider.setAccessibleName(told)


class Controls(QWidget):
    """The controls under the drawings: they show the session and change it, nothing else.

    Parameters
    ----------
    session : Session
        What they show and change.
    """

    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._gesture: object | None = None
        again = "Double click for the stock value; arrow keys for fine steps."
        self.lift = Control("Ride height", "length", LIFT_RANGE, f"How much the body stands higher. {again}")
        self.drop = Control(
            "Bracket drop", "length", DROP_RANGE, f"How far the bracket lowers the frame end of the bar. {again}"
        )
        self.travel = Control("Wheel travel", "length", (-80.0, 80.0), f"Wheels up (+) or down from rest. {again}")
        self.roll = Control("Axle roll", "angle", ROLL_RANGE_DEG, f"Left wheel up is +. {again}")
        self.play = QToolButton()
        self.play.setAccessibleName("Play travel")
        self.play.setIconSize(QSize(22, 22))
        self.play.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.play.setMinimumWidth(84)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(12, 5, 12, 5)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(3)
        self._columns = 0
        self._arrange(2)
        for control in self.all:
            control.began.connect(self._begin)
            control.ended.connect(self._end)
            control.refused.connect(self.refused)
        self.lift.changed.connect(self._set_lift)
        self.drop.changed.connect(self._set_drop)
        self.travel.changed.connect(self._set_travel)
        self.roll.changed.connect(self._set_roll)

    @property
    def all(self) -> tuple[Control, ...]:
        """Return the four controls."""
        return (self.lift, self.drop, self.travel, self.roll)

    # -- room

    def _arrange(self, columns: int) -> None:
        """Put the controls into one column or two, the play button beside them."""
        if columns == self._columns:
            return
        self._columns = columns
        for control in self.all:
            self._grid.removeWidget(control)
        self._grid.removeWidget(self.play)
        for i, control in enumerate(self.all):
            self._grid.addWidget(control, i // columns, i % columns)
        self._grid.addWidget(self.play, 0, columns, len(self.all) // columns, 1)
        for column in (0, 1):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def _needed(self, columns: int) -> int:
        margins = self._grid.contentsMargins()
        beside = self.play.minimumSizeHint().expandedTo(self.play.minimumSize()).width()
        wide = columns * (self.lift.minimumSizeHint().width() + self._grid.horizontalSpacing())
        return margins.left() + margins.right() + wide + beside

    def ample(self) -> int:
        """Return the width at which two columns are shown, screen points."""
        return self._needed(2)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Return the room of one column; two are shown where there is room for them."""
        return QSize(self._needed(1), self._grid.minimumSize().height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Take two columns where there is room for them."""
        super().resizeEvent(event)
        self._arrange(2 if self.width() >= self.ample() else 1)

    def _begin(self) -> None:
        self._gesture = object()

    def _end(self) -> None:
        self._gesture = None
        self._session.end_gesture()

    def _set_lift(self, value: float) -> None:
        self._session.edit_setup("ride height", self._gesture or "ride height", lift=value)

    def _set_drop(self, value: float) -> None:
        self._session.edit_setup("bracket drop", self._gesture or "bracket drop", drop=value)

    def _set_travel(self, value: float) -> None:
        self._session.set_view(travel=value, playing=False)

    def _set_roll(self, value: float) -> None:
        self._session.set_view(roll_deg=value)

    def show_state(self, document: Document, view: View) -> None:
        """Show what the session holds."""
        self.travel.set_limits(document.window)
        self.lift.show_value(document.setup.lift, view.unit)
        self.drop.show_value(document.setup.drop, view.unit)
        self.travel.show_value(view.travel, view.unit)
        self.roll.show_value(view.roll_deg, view.unit)
