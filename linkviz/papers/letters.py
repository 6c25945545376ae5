"""The letters of the papers: one TrueType family that comes along, is embedded in every PDF and measured here."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from linkviz.papers.shapes import Circle, Contour, Polyline, Shape, Text

REGULAR: Final = "Linkviz-Regular"
BOLD: Final = "Linkviz-Bold"
_FILES: Final = {REGULAR: "Vera.ttf", BOLD: "VeraBd.ttf"}
"""Bitstream Vera, which comes with reportlab and may be embedded."""


def font_files() -> dict[str, Path]:
    """Return where the letters lie, by name; for writers that bring their own engine."""
    import reportlab

    return {name: Path(reportlab.__file__).parent / "fonts" / file for name, file in _FILES.items()}


@lru_cache(maxsize=1)
def fonts() -> dict[str, Any]:
    """Return reportlab's fonts by name, registered with it."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    found = {}
    for name, path in font_files().items():
        found[name] = TTFont(name, str(path))
        pdfmetrics.registerFont(found[name])
    return found


def width(text: str, size: float, bold: bool = False) -> float:
    """Return the width of a line of text in letters of a size (mm), mm."""
    return _em_width(text, bold) * size


@lru_cache(maxsize=8192)
def _em_width(text: str, bold: bool) -> float:
    found: float = fonts()[BOLD if bold else REGULAR].stringWidth(printable(text), 1.0)
    return found


def printable(text: str) -> str:
    """Return the text with a question mark for every letter that the font lacks."""
    known = fonts()[REGULAR].face.charToGlyph
    return "".join(c if ord(c) in known else "?" for c in text)


def wrapped(text: str, room: float, size: float, bold: bool = False) -> list[str]:
    """Return a text in lines no wider than `room`, mm; a word that is wider stands alone or is cut."""
    lines, used, space = [""], 0.0, width(" ", size, bold)
    for word in text.split():
        wide = width(word, size, bold)
        while wide > room and len(word) > 1:
            cut = next((n for n in range(len(word) - 1, 1, -1) if width(word[:n], size, bold) <= room), 1)
            if lines[-1]:
                lines.append("")
            lines[-1], word = word[:cut], word[cut:]
            lines.append("")
            used, wide = 0.0, width(word, size, bold)
        if lines[-1] and used + space + wide > room:
            lines.append(word)
            used = wide
        else:
            # letters are not kerned: widths add up
            used += (space if lines[-1] else 0.0) + wide
            lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def extent(text: Text) -> tuple[float, float, float, float]:
    """Return the rectangle (x0, y0, x1, y1) that a line of text covers, mm; turned text by a right angle only."""
    wide = width(text.text, text.size, text.bold)
    left = {"left": 0.0, "centre": -wide / 2.0, "right": -wide}[text.anchor]
    x0, x1, y0, y1 = left, left + wide, -0.24 * text.size, 0.76 * text.size
    if round(text.degrees) % 360 == 90:
        x0, x1, y0, y1 = -y1, -y0, x0, x1
    x, y = text.at
    return x + x0, y + y0, x + x1, y + y1


def bounds(shape: Shape) -> tuple[float, float, float, float]:
    """Return the rectangle (x0, y0, x1, y1) that any shape covers, mm; the width of its line not counted."""
    if isinstance(shape, Text):
        return extent(shape)
    if isinstance(shape, Circle):
        (x, y), r = shape.centre, shape.radius
        return x - r, y - r, x + r, y + r
    if isinstance(shape, Contour):
        (dx, dy), (x0, y0, x1, y1) = shape.shift, shape.outline.extent
        return x0 + dx, y0 + dy, x1 + dx, y1 + dy
    if isinstance(shape, Polyline):
        xs, ys = [x for x, _ in shape.points], [y for _, y in shape.points]
        return min(xs), min(ys), max(xs), max(ys)
    return shape.rect
