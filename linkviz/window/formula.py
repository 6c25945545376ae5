"""Draws an equation: roots, fractions, powers and subscripts from the trees of `linkviz.linkage.shown_equations`."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtCore import QPointF
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPainterPath

from linkviz.frozen import Frozen

GREEK = {
    "alpha": "\N{GREEK SMALL LETTER ALPHA}", "beta": "\N{GREEK SMALL LETTER BETA}",
    "gamma": "\N{GREEK SMALL LETTER GAMMA}", "theta": "\N{GREEK SMALL LETTER THETA}",
    "phi": "\N{GREEK SMALL LETTER PHI}", "psi": "\N{GREEK SMALL LETTER PSI}", "pi": "\N{GREEK SMALL LETTER PI}",
}  # fmt: skip
_MINUS, _DOT = "\N{MINUS SIGN}", "\N{THIN SPACE}\N{DOT OPERATOR}\N{THIN SPACE}"
_SMALL = 0.72

Draw = Callable[[QPainter, float, float], None]


class Box(Frozen):
    """A piece of an equation: width, height above and below the line it stands on, and how it is drawn there."""

    wide: float
    up: float
    down: float
    draw: Draw


def number_text(value: float) -> str:
    """Return a number with five digits, and no exponent for what people measure."""
    if math.isnan(value):
        return "no real number"
    if math.isinf(value):
        return "\N{INFINITY}" if value > 0 else f"{_MINUS}\N{INFINITY}"
    if value == 0:
        return "0"
    size = abs(value)
    if size >= 1e5:
        text = f"{size:.0f}"
    elif size >= 1e-4:
        text = f"{size:.5g}"
    else:
        text = f"{size:.1e}" if size >= 1e-12 else "0"
    return f"{_MINUS}{text}" if value < 0 and text != "0" else text


def symbol_parts(name: str) -> tuple[str, str]:
    """Return a symbol and its subscript as they are written: ``a_lx`` is a with lx below, ``alpha`` is the letter."""
    base, _, below = name.partition("_")
    if name in ("sin_theta", "cos_theta"):
        return f"{base}\N{THIN SPACE}{GREEK['theta']}", ""
    return GREEK.get(base, base), GREEK.get(below, below)


def text_of(tree: Any) -> str:
    """Return an equation as a line of text, for screen readers and the clipboard."""
    kind = tree[0]
    if kind == "sym":
        base, below = symbol_parts(tree[1])
        return f"{base}_{below}" if below else base
    if kind == "num":
        return str(tree[1])
    if kind == "neg":
        return f"-{text_of(tree[1])}"
    if kind == "add":
        text = "".join(f" {sign} {text_of(part)}" for sign, part in tree[1])
        return text[3:] if text.startswith(" + ") else f"-{text[3:]}"
    if kind == "mul":
        return " ".join(f"({text_of(part)})" if part[0] == "add" else text_of(part) for part in tree[1])
    if kind == "frac":
        return f"({text_of(tree[1])}) / ({text_of(tree[2])})"
    if kind == "pow":
        return f"{text_of(tree[1])}^{text_of(tree[2])}"
    if kind == "abs":
        return f"|{text_of(tree[1])}|"
    return f"{tree[1] if kind == 'fn' else kind}({text_of(tree[-1])})"


class Setter:
    """Sets equations in one font.

    Parameters
    ----------
    font : QFont
        Of the page; symbols are set in its italic.
    values : mapping of str to float
        Numbers put in the place of symbols; empty for the symbols themselves.
    """

    def __init__(self, font: QFont, values: Mapping[str, float] | None = None) -> None:
        self._font = font
        self._values = values or {}

    def text(self, text: str, size: float = 1.0, italic: bool = False) -> Box:
        """Return plain text."""
        font = QFont(self._font)
        if font.pixelSize() > 0:
            font.setPixelSize(max(7, round(font.pixelSize() * size)))
        else:
            font.setPointSizeF(font.pointSizeF() * size)
        font.setItalic(italic)
        metrics = QFontMetricsF(font)

        def draw(painter: QPainter, x: float, y: float) -> None:
            painter.setFont(font)
            painter.drawText(QPointF(x, y), text)

        return Box(metrics.horizontalAdvance(text), metrics.ascent() * 0.86, metrics.descent(), draw)

    def row(self, *boxes: Box) -> Box:
        """Return boxes side by side."""

        def draw(painter: QPainter, x: float, y: float) -> None:
            for box in boxes:
                box.draw(painter, x, y)
                x += box.wide

        return Box(
            sum(box.wide for box in boxes),
            max((box.up for box in boxes), default=0.0),
            max((box.down for box in boxes), default=0.0),
            draw,
        )

    def set(self, tree: Any, size: float = 1.0) -> Box:
        """Return an equation set; a number in the place of a symbol where there are values."""
        kind = tree[0]
        if kind == "sym":
            return self._symbol(tree[1], size)
        if kind == "num":
            return self.text(str(tree[1]), size)
        if kind == "neg":
            return self.row(self.text(_MINUS, size), self._held(tree[1], size))
        if kind == "add":
            return self._sum(tree[1], size)
        if kind == "mul":
            between = self.text(_DOT if self._values else "\N{THIN SPACE}", size)
            parts = [self._held(part, size) for part in tree[1]]
            return self._joined(parts, between)
        if kind == "frac":
            return self._fraction(self.set(tree[1], size), self.set(tree[2], size), size)
        if kind == "pow":
            return self._raised(self._held(tree[1], size), self.set(tree[2], size * _SMALL))
        if kind == "sqrt":
            return self._root(self.set(tree[1], size), size)
        if kind == "abs":
            return self.row(self.text("|", size), self.set(tree[1], size), self.text("|", size))
        return self._function(tree[1], tree[2], size)

    def _joined(self, parts: list[Box], between: Box) -> Box:
        boxes = [parts[0]]
        for part in parts[1:]:
            boxes += [between, part]
        return self.row(*boxes)

    def _symbol(self, name: str, size: float) -> Box:
        if name in self._values:
            return self.text(number_text(self._values[name]), size)
        base, below = symbol_parts(name)
        letter = self.text(base, size, italic=True)
        return self._lowered(letter, self.text(below, size * _SMALL, italic=True)) if below else letter

    def _negative(self, tree: Any) -> bool:
        return tree[0] == "neg" or (tree[0] == "sym" and self._values.get(tree[1], 0.0) < 0)

    def _held(self, tree: Any, size: float) -> Box:
        """Return a part of a product or a power, in brackets where it needs them."""
        box = self.set(tree, size)
        if tree[0] == "add" or self._negative(tree):
            return self._bracketed(box, size)
        return box

    def _bracketed(self, box: Box, size: float) -> Box:
        if box.up + box.down < 1.7 * QFontMetricsF(self._font).height() * size:
            return self.row(self.text("(", size), box, self.text(")", size))
        bow = 6.0 * size

        def draw(painter: QPainter, x: float, y: float) -> None:
            top, bottom = y - box.up, y + box.down
            for near, far in ((x + bow, x - bow * 0.3), (x + bow + box.wide, x + 2.3 * bow + box.wide)):
                path = QPainterPath(QPointF(near, top))
                path.quadTo(far, (top + bottom) / 2, near, bottom)
                painter.drawPath(path)
            box.draw(painter, x + bow, y)

        return Box(box.wide + 2 * bow, box.up, box.down, draw)

    def _sum(self, terms: tuple[tuple[str, Any], ...], size: float) -> Box:
        boxes = []
        for i, (sign, part) in enumerate(terms):
            if sign == "-":
                boxes.append(self.text(f" {_MINUS} " if i else _MINUS, size))
            elif i:
                boxes.append(self.text(" + ", size))
            boxes.append(self._held(part, size) if i or sign == "-" else self.set(part, size))
        return self.row(*boxes)

    def _function(self, name: str, inside: Any, size: float) -> Box:
        box = self.set(inside, size)
        if inside[0] != "sym" or self._negative(inside):
            return self.row(self.text(f"{name}", size), self._bracketed(box, size))
        return self.row(self.text(f"{name}\N{THIN SPACE}", size), box)

    @staticmethod
    def _raised(base: Box, power: Box) -> Box:
        lift = base.up * 0.55

        def draw(painter: QPainter, x: float, y: float) -> None:
            base.draw(painter, x, y)
            power.draw(painter, x + base.wide + 1.0, y - lift)

        return Box(base.wide + power.wide + 1.0, max(base.up, lift + power.up), base.down, draw)

    @staticmethod
    def _lowered(base: Box, below: Box) -> Box:
        fall = base.up * 0.28

        def draw(painter: QPainter, x: float, y: float) -> None:
            base.draw(painter, x, y)
            below.draw(painter, x + base.wide, y + fall)

        return Box(base.wide + below.wide + 1.0, base.up, max(base.down, fall + below.down), draw)

    def _fraction(self, top: Box, bottom: Box, size: float) -> Box:
        wide = max(top.wide, bottom.wide) + 8.0
        middle = QFontMetricsF(self._font).xHeight() * 0.5 * size

        def draw(painter: QPainter, x: float, y: float) -> None:
            top.draw(painter, x + (wide - top.wide) / 2, y - middle - 4.0 - top.down)
            bottom.draw(painter, x + (wide - bottom.wide) / 2, y - middle + 4.0 + bottom.up)
            painter.drawLine(QPointF(x + 1.0, y - middle), QPointF(x + wide - 1.0, y - middle))

        return Box(wide, middle + 4.0 + top.down + top.up, 4.0 - middle + bottom.up + bottom.down, draw)

    @staticmethod
    def _root(inside: Box, size: float) -> Box:
        hook = 10.0 * size

        def draw(painter: QPainter, x: float, y: float) -> None:
            path = QPainterPath(QPointF(x, y - inside.up * 0.35))
            path.lineTo(x + hook * 0.3, y - inside.up * 0.45)
            path.lineTo(x + hook * 0.6, y + inside.down)
            path.lineTo(x + hook, y - inside.up - 2.0)
            path.lineTo(x + hook + inside.wide + 3.0, y - inside.up - 2.0)
            painter.drawPath(path)
            inside.draw(painter, x + hook + 2.0, y)

        return Box(hook + inside.wide + 5.0, inside.up + 4.0, inside.down, draw)
