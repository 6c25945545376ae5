"""The message bar: a few words where an edit was refused or the axle has come to its limit."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from linkviz.window.icons import icon, pixmap
from linkviz.window.lying import Lying
from linkviz.window.theme import Colours

Kind = Literal["info", "warn", "hit"]
LINGER_MS = 9000
"""How long a message that was said once stays."""


class Notice(Lying):
    """The message bar, lying over the lower edge of its parent, so that nothing jumps when it comes and goes.

    A message that was said (`say`) goes after a while, what was refused (`refuse`) also once something else was done
    (`settle`); a standing one (`stand`) stays while it holds.

    Parameters
    ----------
    parent : QWidget
        What it lies on.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._colours: Colours | None = None
        self._said: tuple[str, Kind] = ("", "info")
        self._standing: tuple[str, Kind] = ("", "info")
        self._shown: tuple[str, Kind] = ("", "info")
        self._refused = False
        self._picture = QLabel()
        self.text = QLabel()
        self.text.setAccessibleName("Message")
        self.text.setWordWrap(True)
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.close_button = QToolButton()
        self.close_button.setAccessibleName("Close message")
        self.close_button.setToolTip("Close message")
        self.close_button.setAutoRaise(True)
        self.close_button.setIconSize(QSize(14, 14))
        self.close_button.setText("\N{MULTIPLICATION SIGN}")
        self.close_button.clicked.connect(self.clear)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 5, 6, 5)
        row.setSpacing(8)
        row.addWidget(self._picture, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self.text, 1)
        row.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(LINGER_MS)
        self._timer.timeout.connect(self.clear)
        self.hide()

    def say(self, text: str, kind: Kind = "warn") -> None:
        """Say something once; it goes after a while or when closed."""
        self._said = (text, kind)
        self._refused = False
        self._timer.start()
        self._show()
        # the keys stay where they are, so that a screen reader would not come by
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))

    def refuse(self, text: str) -> None:
        """Say why something was not done."""
        self.say(text)
        self._refused = True

    def settle(self) -> None:
        """Take back why something was refused: it was put right, or something else was done."""
        if self._refused:
            self.clear()

    def stand(self, text: str, kind: Kind = "info") -> None:
        """Say something that holds until this is called again, with "" for nothing."""
        if (text, kind) != self._standing:
            self._standing = (text, kind)
            self._show()

    def clear(self) -> None:
        """Take back what was said once."""
        self._timer.stop()
        self._said = ("", "info")
        self._refused = False
        self._show()

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.close_button.setIcon(icon("close", colours.text))
        shown, self._shown = self._shown, ("", "info")
        if shown[0]:
            self._show()

    def _show(self) -> None:
        wanted = self._said if self._said[0] else self._standing
        if wanted == self._shown:
            return
        self._shown = wanted
        text, kind = wanted
        self.text.setText(text)
        if text and self._colours is not None:
            colour = {"info": self._colours.accent, "warn": self._colours.lifted, "hit": self._colours.danger}[kind]
            self._picture.setPixmap(pixmap(kind, colour, 18, self.devicePixelRatioF()))
            self.setStyleSheet(f"#notice {{ border-left: 4px solid {colour}; }}")
        self.close_button.setVisible(bool(self._said[0]))
        self.setVisible(bool(text))
        self.lie()

    def lie(self) -> None:
        """Lie along the lower edge of the parent, as high as the words need."""
        parent = self.parentWidget()
        height = max(self.heightForWidth(parent.width()), self.minimumSizeHint().height())
        self.setGeometry(0, parent.height() - height, parent.width(), height)
        self.raise_()
