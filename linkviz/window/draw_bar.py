"""What is chosen and typed while an envelope is drawn: its kind, the grid, the next corner."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from linkviz.session.kinds import KINDS
from linkviz.session.session import Session
from linkviz.session.snapping import GRIDS
from linkviz.session.typed import WAYS, Way, hints, labels, polar_of
from linkviz.units import Unit, angle_number, format_length, length_number
from linkviz.window.over_bar import OverBar
from linkviz.window.tools.pencil import Pencil

WAY_WORDS: dict[Way, str] = {"from": "from the last corner", "polar": "length and angle", "place": "at a place"}


class DrawBar(OverBar):
    """A bar over the drawings, there while the pencil is out.

    Parameters
    ----------
    session : Session
        For the unit and the grid.
    pencil : Pencil
        What it works.
    parent : QWidget
        What it lies on.
    """

    def __init__(self, session: Session, pencil: Pencil, parent: QWidget) -> None:
        super().__init__(session, parent)
        self._pencil = pencil
        self._gridded: Unit | None = None
        self.kinds = QComboBox()
        self.kinds.setAccessibleName("What is drawn")
        for kind in KINDS:
            self.kinds.addItem(kind.name)
        self.kinds.activated.connect(self._choose_kind)
        self.grid = QComboBox()
        self.grid.setAccessibleName("Grid that corners snap to")
        self.grid.setToolTip("Grid that corners snap to; they snap to other corners and in line with their own too")
        self.grid.activated.connect(lambda index: session.set_view(grid=index))
        self.way = QComboBox()
        for choice in (self.kinds, self.grid, self.way):
            choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.way.setMinimumContentsLength(17)
        self.way.setAccessibleName("How the next corner is typed")
        for way in WAYS:
            self.way.addItem(WAY_WORDS[way], way)
        self.way.activated.connect(lambda _: self.show_pencil())
        self.names = (QLabel(), QLabel())
        self.watch((QLineEdit(), QLineEdit()), 62)
        for box, name in zip(self.boxes, self.names, strict=True):
            name.setBuddy(box)
        self.put_button = QPushButton("Put")
        self.put_button.setAccessibleName("Put the typed corner")
        self.put_button.setToolTip("Put the typed corner (Enter)")
        self.put_button.clicked.connect(self._put)
        self.close_button = QPushButton("Close")
        self.close_button.setAccessibleName("Close the outline")
        self.close_button.setToolTip("Close the outline, or take a plain block (Enter in the drawing)")
        self.close_button.clicked.connect(pencil.close)
        first, second = QHBoxLayout(), QHBoxLayout()
        for widget in (QLabel("Part"), self.kinds, QLabel("Grid"), self.grid):
            first.addWidget(widget)
        first.addStretch(1)
        second.addWidget(QLabel("Next"))
        second.addWidget(self.way)
        for name, box in zip(self.names, self.boxes, strict=True):
            second.addWidget(name)
            second.addWidget(box)
        for button in (self.put_button, self.close_button):
            button.setMaximumWidth(64)
            second.addWidget(button)
        second.addStretch(1)
        self._rows = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._rows.setContentsMargins(8, 3, 8, 3)
        self._rows.addLayout(first)
        self._rows.addLayout(second, 1)
        pencil.changed.connect(self.show_pencil)
        pencil.moved.connect(self._show_pen)
        pencil.typing.connect(self.begin_typing)
        self._choose_kind(0)

    # -- what it shows

    def present(self) -> None:
        """Come with the pencil."""
        self.show_pencil()
        super().present()

    def show_pencil(self) -> None:
        """Show unit, grid and what the two values mean now."""
        unit, view = self._session.view.unit, self._pencil.at_work
        if unit != self._gridded:
            self._gridded = unit
            self.grid.clear()
            for step in GRIDS[unit]:
                self.grid.addItem(format_length(step, unit) if step else "none")
        self.grid.setCurrentIndex(self._session.view.grid)
        if not self._pencil.corners and self._way != "place":
            self.way.setCurrentIndex(WAYS.index("place"))
        elif len(self._pencil.corners) == 1 and self._way == "place" and not self._touched:
            self.way.setCurrentIndex(WAYS.index("from"))
        for label, box, name, tip in zip(
            self.names, self.boxes, labels(self._way, view), hints(self._way, view), strict=True
        ):
            label.setText(name)
            box.setAccessibleName(f"{name} of the next corner")
            box.setToolTip(tip)
        self._show_pen()

    def show_unit(self) -> None:
        """Show the other unit, in the hint of the pencil too."""
        self._choose_kind(self.kinds.currentIndex())
        if not self.isHidden():
            self._pencil.say()

    def lengths(self) -> Sequence[QLineEdit]:
        """Return the lines in which lengths are typed: not the one of an angle."""
        return self.boxes[:1] if self._way == "polar" else self.boxes

    @property
    def _way(self) -> Way:
        return WAYS[self.way.currentIndex()]

    @property
    def _touched(self) -> bool:
        return any(box.isModified() and box.text() for box in self.boxes)

    def _show_pen(self) -> None:
        """Show, faintly, what the values would be where the pen is."""
        pen, corners = self._pencil.pen, self._pencil.corners
        unit = self._session.view.unit
        words = ("", "")
        if pen is not None and self._way == "place":
            words = (length_number(pen.corner[0], unit), length_number(pen.corner[1], unit))
        elif pen is not None and corners:
            if self._way == "polar":
                length, angle = polar_of(self._pencil.at_work, corners[-1], pen.corner)
                words = (length_number(length, unit), f"{angle_number(angle)}\N{DEGREE SIGN}")
            else:
                du, dv = pen.corner[0] - corners[-1][0], pen.corner[1] - corners[-1][1]
                words = (length_number(du, unit), length_number(dv, unit))
        for box, text in zip(self.boxes, words, strict=True):
            box.setPlaceholderText(text)

    def _choose_kind(self, index: int) -> None:
        kind = self._pencil.kind = KINDS[index]
        margin = format_length(kind.margin, self._session.view.unit)
        self.kinds.setToolTip(f"What is drawn; this one starts with a margin of {margin}: {kind.why}")

    # -- typing

    def begin_typing(self, text: str) -> None:
        """Take the first digit that was pressed in a drawing."""
        self.show_pencil()
        self.boxes[0].setText(text)
        self.boxes[0].setModified(True)
        self.boxes[0].setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.boxes[0].deselect()
        self.boxes[0].end(False)

    def _put(self) -> None:
        if not self._touched:
            self._pencil.close()
            return
        if self._pencil.type_corner(self._way, (self.boxes[0].text(), self.boxes[1].text())):
            self._clear()
            self.show_pencil()
            self.boxes[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _clear(self) -> None:
        for box in self.boxes:
            box.clear()
            box.setModified(False)

    def key(self, box: QObject, event: QKeyEvent) -> bool:
        """Go on to the next line or put the corner with Enter; take back what was typed, or a corner, with Esc."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if box is self.boxes[0] and box.text() and not self.boxes[1].text() and self._way != "from":
                self.boxes[1].setFocus(Qt.FocusReason.TabFocusReason)
            else:
                self._put()
            return True
        if event.key() == Qt.Key.Key_Escape:
            if self._touched:
                self._clear()
            else:
                self._pencil.escape()
            return True
        return False

    def arrange(self, width: int) -> None:
        """Lie in one row if there is room for it."""
        self._rows.setDirection(QBoxLayout.Direction.LeftToRight)
        if self.sizeHint().width() > width:
            self._rows.setDirection(QBoxLayout.Direction.TopToBottom)
