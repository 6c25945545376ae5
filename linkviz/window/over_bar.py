"""A bar over the drawings, there while a tool is out: it lies below their headings and follows their width."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from linkviz.picture.camera import HEADING
from linkviz.session.session import Event, Session
from linkviz.session.typed import in_other_unit
from linkviz.units import Unit
from linkviz.window.lying import Lying


class OverBar(Lying):
    """Base of the bars.

    Parameters
    ----------
    session : Session
        Whose unit lengths are shown and typed in.
    parent : QWidget
        What it lies on.
    """

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("over")
        self._session = session
        self._unit: Unit = session.view.unit
        self.destroyed.connect(session.subscribe(self._told))
        self.boxes: Sequence[QLineEdit] = ()
        """Lines whose Enter and Esc the bar takes."""
        self.hide()

    def watch(self, boxes: Sequence[QLineEdit], width: int) -> None:
        """Take some lines, all of one width, screen points."""
        self.boxes = boxes
        for box in boxes:
            box.setFixedWidth(width)
            box.installEventFilter(self)

    def present(self) -> None:
        """Come with the tool."""
        self.show()
        self.lie()

    def key(self, box: QObject, event: QKeyEvent) -> bool:
        """Take a key that was pressed in one of the lines; return whether it was taken."""
        raise NotImplementedError

    def lengths(self) -> Sequence[QLineEdit]:
        """Return the lines in which lengths are typed."""
        return self.boxes

    def show_unit(self) -> None:
        """Show the unit of the session, which is another now."""
        raise NotImplementedError

    def _told(self, _: Event) -> None:
        before, self._unit = self._unit, self._session.view.unit
        if self._unit != before:
            for box in self.lengths():
                if box.text():
                    box.setText(in_other_unit(box.text(), before, self._unit))
                    box.setModified(True)
            self.show_unit()

    def arrange(self, width: int) -> None:
        """Get ready to lie in a width, screen points."""

    def lie(self) -> None:
        """Lie below the headings, as wide as it needs to be and there is room for."""
        wide = self.parentWidget().width() - 16
        self.arrange(wide)
        self.setGeometry(8, int(HEADING) + 2, min(self.sizeHint().width(), wide), self.sizeHint().height())
        self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take keys in the lines; follow the parent's size."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and watched in self.boxes:
            return self.key(watched, event)
        return super().eventFilter(watched, event)
