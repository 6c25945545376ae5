"""Drawings on a page."""

from __future__ import annotations

from typing import Any

from PySide6.QtGui import QColor

from linkviz.picture.shapes import Drawing, Path
from linkviz.picture.style import paint
from linkviz.window.sketch import Sketch


def square(style: str) -> Drawing:
    return Drawing("", (Path(((0, 0), (10, 0), (10, 10), (0, 10)), style, closed=True),), (0, 0, 10, 10))


def test_drawings_stand_side_by_side_in_the_colours_of_the_theme(qtbot: Any) -> None:
    sketch = Sketch("Two squares")
    qtbot.addWidget(sketch)
    sketch.resize(400, 240)
    for theme in ("light", "dark"):
        sketch.show_theme(theme)
        sketch.show_drawings((square("bar"), square("envelope")), "two squares")
        image = sketch.grab().toImage()
        colours = {image.pixelColor(x, 150).name() for x in range(0, 400, 5)}
        assert paint(theme).bar in colours
        assert image.pixelColor(3, 3).name() == QColor(paint(theme).paper).name()
    assert sketch.accessibleDescription() == "two squares"
