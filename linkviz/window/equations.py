"""Show the equations: the derivation with the numbers of what is on the screen, and the theory in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from importlib.resources import files

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QFrame,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QTabWidget,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from linkviz.analysis.shown import Given, Line, Section, sections
from linkviz.analysis.study import Study
from linkviz.window.formula import Box, Setter, number_text, text_of
from linkviz.window.theme import Colours, scaled

_PAD, _BETWEEN, _LEFT = 6.0, 7.0, 22.0


def measure(value: float, unit: str) -> str:
    """Return a value with its unit; an angle in degrees too."""
    if not math.isfinite(value):
        return number_text(value)
    text = f"{number_text(value)} {unit}".strip()
    return f"{text} = {math.degrees(value):.2f}\N{DEGREE SIGN}" if unit == "rad" else text


class Sheet(QWidget):
    """Rows of equations, each drawn where it stands; what is lower than another is below it.

    Parameters
    ----------
    name : str
        Accessible name.
    colours : Colours
        Of the present theme.
    """

    def __init__(self, name: str, colours: Colours) -> None:
        super().__init__()
        self._colours = colours
        self._rows: list[tuple[Box, float, float, str]] = []
        self._wide = self._tall = 0.0
        self._texts: list[str] = []
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def add(self, box: Box, text: str, left: float = _LEFT, ink: str = "", above: float = 0.0) -> None:
        """Put one more row below the others; `text` is what a screen reader says."""
        top = self._tall + _BETWEEN + above
        self._rows.append((box, left, top + box.up, ink or self._colours.text))
        self._tall = top + box.up + box.down
        self._wide = max(self._wide, left + box.wide)
        self._texts.append(text)
        self.setAccessibleDescription("\n".join(self._texts))
        self.setFixedSize(self.sizeHint())

    def texts(self) -> Sequence[str]:
        """Return the rows as text."""
        return tuple(self._texts)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return the room all rows take."""
        return QSize(round(self._wide + 2 * _PAD), round(self._tall + _BETWEEN))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Draw the rows."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for box, left, base, ink in self._rows:
                if base - box.up <= event.rect().bottom() and base + box.down >= event.rect().top():
                    painter.setPen(QPen(QColor(ink), 1.1))
                    box.draw(painter, left, base)
        finally:
            painter.end()


class Equations(QDialog):
    """The dialog.

    Parameters
    ----------
    study : Study
        What is on the screen, n = 1.
    colours : Colours
        Of the present theme.
    """

    def __init__(self, study: Study, colours: Colours, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("The equations, with the numbers of this vehicle")
        self.resize(980, 640)
        self._colours = colours
        self.tabs = QTabWidget()
        self.tabs.setAccessibleName("Parts of the derivation")
        self.sheets: list[Sheet] = []
        self.sections = sections(study)
        for section in self.sections:
            self.tabs.addTab(self._page(section), section.title)
        self.tabs.addTab(self._theory(), "In words")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        copy = buttons.addButton("Copy as text", QDialogButtonBox.ButtonRole.ActionRole)
        copy.setToolTip("Copy the equations of this page, with their numbers")
        copy.clicked.connect(self._copy)
        column = QVBoxLayout(self)
        column.addWidget(self.tabs, 1)
        column.addWidget(buttons)

    def _page(self, section: Section) -> QScrollArea:
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(16, 12, 16, 12)
        column.setSpacing(8)
        head = QLabel(section.words)
        head.setWordWrap(True)
        head.setFont(scaled(self.font(), 1.1))
        column.addWidget(head)
        sheet = Sheet(section.title, self._colours)
        for line in section.lines:
            self._line(sheet, line)
        column.addWidget(sheet)
        for note in section.notes:
            label = QLabel(note)
            label.setWordWrap(True)
            label.setFont(scaled(self.font(), 1.0, bold=True))
            column.addWidget(label)
        title = QLabel("Given")
        title.setFont(scaled(self.font(), 1.1, bold=True))
        column.addWidget(title)
        given = Sheet(f"{section.title}, what is given", self._colours)
        for one in section.given:
            self._given(given, one)
        column.addWidget(given)
        column.addStretch(1)
        self.sheets += [sheet, given]
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setWidget(inner)
        area.setAccessibleName(section.title)
        inner.setAutoFillBackground(True)
        palette = inner.palette()
        palette.setColor(inner.backgroundRole(), QColor(self._colours.paper))
        inner.setPalette(palette)
        return area

    def _font(self) -> QFont:
        """Return the letters of the equations, with serifs."""
        font = QFont(self.font())
        font.setFamilies(["DejaVu Serif", "serif"])
        font.setStyleHint(QFont.StyleHint.Serif)
        return scaled(font, 1.15)

    def _line(self, sheet: Sheet, line: Line) -> None:
        step, font = line.step, self._font()
        plain, numbers = Setter(font), Setter(font, line.values)
        if step.words:
            words = Setter(scaled(self.font(), 0.95)).text(step.words)
            sheet.add(words, f"{step.words}:", 4.0, self._colours.soft, above=8.0)
        symbol = plain.set(("sym", step.symbol))
        is_ = plain.text(" = ")
        sheet.add(
            plain.row(symbol, is_, plain.set(step.tree)), f"{text_of(('sym', step.symbol))} = {text_of(step.tree)}"
        )
        result = measure(line.result, step.unit)
        with_numbers = numbers.row(plain.text(" = "), numbers.set(step.tree), plain.text(f" = {result}"))
        sheet.add(with_numbers, f"= {result}", _LEFT + symbol.wide, self._colours.accent)

    def _given(self, sheet: Sheet, one: Given) -> None:
        plain = Setter(self._font())
        value = measure(one.value, one.unit)
        small = Setter(scaled(self.font(), 0.95))
        row = plain.row(plain.set(("sym", one.symbol)), plain.text(f" = {value}   "), small.text(one.words))
        sheet.add(row, f"{text_of(('sym', one.symbol))} = {value}, {one.words}".rstrip(", "))

    def _theory(self) -> QTextBrowser:
        text = QTextBrowser()
        text.setAccessibleName("The theory in words, with its sources")
        text.setMarkdown(files("linkviz.linkage").joinpath("THEORY.md").read_text(encoding="utf-8"))
        text.setOpenLinks(False)
        return text

    def text_of_page(self) -> str:
        """Return the present page as text."""
        index = self.tabs.currentIndex()
        if index >= len(self.sections):
            browser = self.tabs.currentWidget()
            return browser.toPlainText() if isinstance(browser, QTextBrowser) else ""
        section = self.sections[index]
        sheet, given = self.sheets[2 * index], self.sheets[2 * index + 1]
        return "\n".join([section.title, *given.texts(), "", *sheet.texts(), "", *section.notes])

    def _copy(self) -> None:
        QApplication.clipboard().setText(self.text_of_page())
