"""A page of a paper on the screen, whole, as large as the room allows."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QDialog, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from linkviz.papers.shapes import Page
from linkviz.window.theme import LIGHT, Colours

_EDGE = 6.0
"""Room around the page, screen points."""


class Preview(QWidget):
    """Shows one page; paper is white in every theme.

    Notes
    -----
    A click, or Enter, asks for it to be shown large.
    """

    enlarge = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.page: Page | None = None
        self.words = ""
        self.colours: Colours = LIGHT
        self.setMinimumHeight(300)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Preview of the picked paper")
        self.setToolTip("Click to see it large (Enter)")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return a size on which the heads of a page can be read."""
        return QSize(400, 470)

    def show_page(self, page: Page | None, words: str = "") -> None:
        """Show a page, or words where there is none; words also say to a screen reader what is shown."""
        self.page, self.words = page, words
        self.setAccessibleDescription(words)
        self.update()

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.colours = colours
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Ask for a larger one."""
        if self.page is not None and self.rect().contains(event.position().toPoint()):
            self.enlarge.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Ask for a larger one with Enter."""
        if self.page is not None and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.enlarge.emit()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the page."""
        painter = QPainter(self)
        if self.page is None:
            painter.setPen(QColor(self.colours.soft))
            inside = QRectF(self.rect()).adjusted(12.0, 12.0, -12.0, -12.0)
            painter.drawText(inside, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self.words)
        else:
            # what paints pages brings its letters along: not loaded before a paper is looked at
            from linkviz.painter.page import paint_page

            page = self.page
            scale = min((self.width() - 2 * _EDGE) / page.width, (self.height() - 2 * _EDGE) / page.height)
            painter.translate((self.width() - page.width * scale) / 2.0, _EDGE)
            sheet = QRectF(0.0, 0.0, page.width * scale, page.height * scale)
            painter.fillRect(sheet, QColor("#ffffff"))
            paint_page(painter, page, scale)
            painter.setPen(QPen(QColor(self.colours.line), 1.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(sheet)
        painter.end()


class Large(QDialog):
    """One page, large, in a window of its own; Esc closes it.

    Parameters
    ----------
    page : Page
        What to show.
    title : str
        Which page it is.
    """

    SCALE = 4.0
    """Screen points per mm."""

    def __init__(self, page: Page, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        area = QScrollArea()
        area.setAccessibleName(title)
        shown = Preview()
        shown.show_page(page, title)
        shown.setToolTip("")
        shown.setFixedSize(round(page.width * self.SCALE + 2 * _EDGE), round(page.height * self.SCALE + 2 * _EDGE))
        area.setWidget(shown)
        area.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(area)
        screen = self.screen().availableSize()
        self.resize(min(shown.width() + 30, screen.width() - 80), min(shown.height(), screen.height() - 80))
