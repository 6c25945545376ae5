"""Measures and writes lines of text with Qt's fonts."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QGuiApplication, QPainter

from linkviz.picture.placing import Line
from linkviz.picture.style import styles


@lru_cache(maxsize=128)
def font(family: str, size: float, bold: bool) -> QFont:
    """Return a font whose letters are `size` screen points high."""
    result = QFont(family)
    result.setPixelSize(max(1, round(size)))
    result.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    result.setStyleStrategy(QFont.StyleStrategy.PreferAntialias)
    return result


def family() -> str:
    """Return the family of the program's font."""
    return QGuiApplication.font().family()


@lru_cache(maxsize=4096)
def _measured(family_: str, text: str, size: float, bold: bool) -> tuple[float, float, float]:
    metrics = QFontMetricsF(font(family_, size, bold))
    return metrics.horizontalAdvance(text), metrics.ascent(), metrics.descent()


def measure(text: str, size: float, bold: bool) -> tuple[float, float, float]:
    """Return width, ascent and descent of a line of text, screen points."""
    return _measured(family(), text, size, bold)


@lru_cache(maxsize=256)
def _colour(style: str, theme: str) -> QColor:
    return QColor(styles(theme)[style].line)


def write(painter: QPainter, line: Line, theme: str, x: float = 0.0, y: float = 0.0) -> None:
    """Write one line, shifted by (x, y) screen points."""
    painter.setFont(font(family(), line.size, styles(theme)[line.style].bold))
    painter.setPen(_colour(line.style, theme))
    painter.drawText(QPointF(line.at[0] + x, line.at[1] + y), line.text)
