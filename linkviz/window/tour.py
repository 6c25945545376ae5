"""A short tour of the window for whoever starts it for the first time: a few cards, left at any moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from linkviz.window.theme import scaled

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow

KEY = "tour.json"
CARDS = (
    (
        "drawings",
        "This is a rear axle, lifted, nothing done about it",
        "Seen from behind and from the side, running through its travel. The blue bar has gone steep: watch the axle "
        "swing sideways and the shaft come to the tank. The vehicle is invented.",
    ),
    (
        "controls",
        "Lift it, put a bracket on",
        "Drag Bracket drop to the right and watch it heal. Each slider takes a typed value too, such as 4in or 90 mm.",
    ),
    (
        "page",
        "What it means",
        "As built, lifted, corrected, in plain words. F11 shows this to a customer in large letters; there the keys 2, "
        "3, 4 and 6 lift it by so many inches and P puts the parts on.",
    ),
    (
        "toolbar",
        "Your own vehicle, your own jobs",
        "Help, Measuring guide says what to measure. New job (Ctrl+N) begins one for a customer, and the job book "
        "(Ctrl+B) keeps them all.",
    ),
)
"""Part of the window, heading and words of each card."""
WIDE = 400
"""Width of a card, screen points."""


class Tour(QFrame):
    """The cards; they lie over the page on the right, never over the drawings.

    Parameters
    ----------
    window : MainWindow
        What is shown.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self.at = 0
        self.setObjectName("over")
        self.setAccessibleName("Short tour")
        self.setAutoFillBackground(True)
        self._ring = QFrame(window)
        self._ring.setObjectName("ring")
        self._ring.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        self.title = QLabel()
        self.title.setFont(scaled(self.font(), 1.15, bold=True))
        self.title.setWordWrap(True)
        self.text = QLabel()
        self.text.setWordWrap(True)
        column.addWidget(self.title)
        column.addWidget(self.text)
        row = QHBoxLayout()
        self.count = QLabel()
        self.count.setObjectName("soft")
        row.addWidget(self.count, 1)
        self.skip = QPushButton("&Skip")
        self.skip.setToolTip("Leave the tour; Help, Short tour shows it again")
        self.skip.clicked.connect(self.end)
        self.next = QPushButton("N&ext")
        self.next.clicked.connect(self.turn)
        row.addWidget(self.skip)
        row.addWidget(self.next)
        column.addLayout(row)
        window.installEventFilter(self)
        self._show()

    def turn(self) -> None:
        """Show the next card; after the last the tour ends."""
        self.at += 1
        if self.at >= len(CARDS):
            self.end()
        else:
            self._show()

    def end(self) -> None:
        """End the tour; it does not come again by itself."""
        self._window.session.store.remember(KEY, {"seen": True})
        self._window.removeEventFilter(self)
        self._ring.hide()
        self._ring.deleteLater()
        self.hide()
        self.deleteLater()

    def _part(self) -> QWidget:
        window = self._window
        parts: dict[str, QWidget] = {
            "drawings": window.stage,
            "controls": window.controls,
            "page": window.side,
            "toolbar": window.toolbar,
        }
        return parts[CARDS[self.at][0]]

    def _show(self) -> None:
        _, title, text = CARDS[self.at]
        self.title.setText(title)
        self.text.setText(text)
        self.count.setText(f"{self.at + 1} of {len(CARDS)}")
        last = self.at == len(CARDS) - 1
        self.next.setText("&Done" if last else "N&ext")
        self.next.setAccessibleName("Done" if last else "Next")
        self.skip.setVisible(not last)
        self._lie()
        self.show()
        self.raise_()

    def _lie(self) -> None:
        window, part = self._window, self._part()
        wide = min(WIDE, max(window.side.width() - 24, 300))
        self.setFixedWidth(wide)
        self.setFixedHeight(max(self.heightForWidth(wide), self.sizeHint().height()))
        self.move(window.width() - wide - 12, window.height() - self.height() - 12)
        place = QRect(part.mapTo(window, QPoint(0, 0)), part.size())
        self._ring.setGeometry(place)
        self._ring.setVisible(part.isVisible())
        self._ring.raise_()
        self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Follow the size of the window; give way to the counter view."""
        if event.type() in (QEvent.Type.Resize, QEvent.Type.LayoutRequest) and self.at < len(CARDS):
            self.setVisible(not self._window.session.view.counter)
            self._ring.setVisible(self.isVisible())
            if self.isVisible():
                self._lie()
        return False


def toured(window: MainWindow) -> bool:
    """Return whether the tour was seen or left before."""
    return bool(window.session.store.remembered(KEY).get("seen"))
