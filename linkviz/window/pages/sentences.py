"""Plain sentences with signs, and labels that change only when their text does."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from linkviz.window.icons import pixmap
from linkviz.window.theme import LIGHT, Colours, scaled

_STALE = "Of before the last change; it is being worked out."
_INSIDE_A_FIGURE = re.compile(r"(?<=\d) (?=\d+/\d|(?:mm|in|kN|N|MPa|kg|g)\b|%)")
"""The space inside "3 15/16" or "100 mm", where no line may break."""


class Note(QLabel):
    """Words beside the point: in the soft colour, as they are written, in as many lines as they need.

    Parameters
    ----------
    text : str
        The words.
    scale : float
        Size of the letters, as a multiple of the usual one.
    """

    def __init__(self, text: str = "", scale: float = 1.0) -> None:
        super().__init__(text)
        self.setObjectName("soft")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        if scale != 1.0:
            self.setFont(scaled(self.font(), scale))


class Sentences(QWidget):
    """Plain sentences, each with its sign; the labels are kept and only their text changes.

    Parameters
    ----------
    scale : float
        Size of the letters, as a multiple of the usual one.
    """

    def __init__(self, scale: float = 1.0) -> None:
        super().__init__()
        self._scale = scale
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(7)
        self._rows: list[tuple[QWidget, QLabel, QLabel]] = []
        self._signs: list[str] = []
        self._words: list[str] = []
        self._colours: Colours = LIGHT

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self._signs = [""] * len(self._rows)

    def texts(self) -> tuple[str, ...]:
        """Return the sentences that are shown."""
        return tuple(words for words, (row, _, _) in zip(self._words, self._rows, strict=True) if not row.isHidden())

    def show_sentences(self, sentences: tuple[tuple[str, str], ...], stale: tuple[bool, ...] = ()) -> None:
        """Show sentences, each a text and a sign; those that are of before the last change are dimmed."""
        while len(self._rows) < len(sentences):
            row = QWidget()
            line = QHBoxLayout(row)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(8)
            sign, text = QLabel(), QLabel()
            sign.setFixedSize(20, round(20 * self._scale))
            text.setWordWrap(True)
            if self._scale != 1.0:
                text.setFont(scaled(self.font(), self._scale))
            text.setTextFormat(Qt.TextFormat.PlainText)
            text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
            line.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
            line.addWidget(text, 1)
            self._column.addWidget(row)
            self._rows.append((row, sign, text))
            self._signs.append("")
            self._words.append("")
        tints = self._colours.signs
        for i, (row, sign, text) in enumerate(self._rows):
            there = i < len(sentences)
            if row.isHidden() == there:
                row.setVisible(there)
            if not there:
                continue
            words, name = sentences[i]
            old = i < len(stale) and stale[i]
            if text.isEnabled() == old:
                text.setEnabled(not old)
                text.setToolTip(_STALE if old else "")
            if old:
                name = ""
            if self._words[i] != words:
                self._words[i] = words
                text.setText(unbroken(words))
            name = name or "info"
            if self._signs[i] != name:
                self._signs[i] = name
                tint = tints.get(name, self._colours.soft)
                sign.setPixmap(pixmap(name, tint, 18, self.devicePixelRatioF()))


def unbroken(text: str) -> str:
    """Return a text in which no line breaks inside a figure with its unit."""
    return _INSIDE_A_FIGURE.sub("\N{NO-BREAK SPACE}", text)


def put(label: QLabel, text: str) -> None:
    """Set a label's text if it is another; as it is written, unless the label was made for rich text."""
    if label.text() != text:
        if label.textFormat() == Qt.TextFormat.AutoText:
            label.setTextFormat(Qt.TextFormat.PlainText)
        label.setText(text)
