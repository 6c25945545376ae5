"""What a page on the right side is: it scrolls where the window is low, shows a moment, and asks for deeds by name."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from linkviz.analysis.compare import Name
from linkviz.frozen import Frozen
from linkviz.session.document import Document
from linkviz.session.doubt import UNKNOWN, Doubt
from linkviz.session.live import Frame
from linkviz.session.session import Session
from linkviz.session.view import View
from linkviz.window.theme import LIGHT, Colours


class Moment(Frozen, eq=False):
    """What a page is shown.

    Attributes
    ----------
    document : Document
    view : View
    frame : Frame
        What was solved, compared and put into words.
    name : str
        Which of the compared states is the one drawn.
    drawing : bool
        Whether an envelope is being drawn.
    doubt : Doubt
        What is known of the measuring error.
    """

    document: Document
    view: View
    frame: Frame
    name: Name
    drawing: bool = False
    doubt: Doubt = UNKNOWN


class Page(QScrollArea):
    """Base of all pages.

    Parameters
    ----------
    session : Session
        What is shown and changed.

    Attributes
    ----------
    column : QVBoxLayout
        Where a page puts its parts.

    Notes
    -----
    `refused` and `said` carry words for the notice line; `asked` the name of a deed of `linkviz.window.actions`.
    A page is made when it is first shown.
    """

    refused = Signal(str)
    said = Signal(str)
    asked = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.colours: Colours = LIGHT
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        inner.setObjectName("page")
        self.setWidget(inner)
        self.column = QVBoxLayout(inner)
        self.column.setContentsMargins(14, 10, 12, 10)
        self.column.setSpacing(8)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Return the width the page needs beside its scroll bar: it is scrolled one way only."""
        inner, bar = self.widget(), self.verticalScrollBar().sizeHint().width()
        needed = inner.minimumSizeHint().width() if inner is not None else 0
        return QSize(needed + bar, super().minimumSizeHint().height())

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.colours = colours

    def show_state(self, moment: Moment) -> None:
        """Show what the session holds and what was found; only what differs is touched."""
        raise NotImplementedError

    def show_progress(self, share: float) -> None:
        """Show how much of the measuring error is worked out, 0 to 1; most pages say nothing of it."""

    def first_widget(self) -> QWidget:
        """Return where the keys go when the page is reached by F6."""
        raise NotImplementedError
