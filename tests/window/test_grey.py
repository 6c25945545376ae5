"""Without any colour the screens still tell what touches from what is near and what is clear (WCAG 2.2, 1.4.1)."""

from __future__ import annotations

import math
from itertools import combinations
from typing import Any

import pytest
from PySide6.QtGui import QColor, QImage

from linkviz.picture.shapes import Label, Path
from linkviz.picture.style import styles
from linkviz.window.icons import pixmap
from linkviz.window.pages.clearance import ClearancePage
from linkviz.window.window import MainWindow
from tests.contrast import contrast


def grey(picture: QImage, x: int, y: int) -> str:
    """Return a pixel as a print in grey has it."""
    level = picture.pixelColor(x, y)
    light = round(0.299 * level.red() + 0.587 * level.green() + 0.114 * level.blue())
    return QColor(light, light, light).name()


def strongest(picture: QImage, x: int, y: int, around: int = 5) -> float:
    """Return the strongest contrast there is around a place, without colour."""
    near = [grey(picture, x + i, y + j) for i in range(-around, around + 1) for j in range(-around, around + 1)]
    return max(contrast(min(near), max(near)), 1.0)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_contact_is_hatched_on_the_map_so_that_it_is_seen_in_grey(window: MainWindow, theme: str, qtbot: Any) -> None:
    window.session.set_view(page="clearance", theme=theme)
    window.session.edit_setup("lift", lift=100.0)
    window.frame_now()
    page = window.side.page("clearance")
    assert isinstance(page, ClearancePage)
    page.sheets.setCurrentWidget(page.map)
    window.frame_now()
    view = page.map.view
    qtbot.waitUntil(lambda: view.map is not None and not view.stale, timeout=20000)
    found, picture = view.map, view.grab().toImage()
    assert found is not None
    touched, clear = [], []
    for i in range(10, len(found.travel) - 10, 12):
        for j in range(6, len(found.roll) - 6, 6):
            near = found.gap[i - 9 : i + 10, j - 5 : j + 6]
            spot = view._spot(found.travel[i], math.degrees(found.roll[j])).toPoint()
            if near.max() < 0:
                touched.append(strongest(picture, spot.x(), spot.y()))
            elif near.min() > 45.0:
                clear.append(strongest(picture, spot.x(), spot.y()))
    assert len(touched) > 3 and len(clear) > 10
    assert min(touched) >= 3.0
    assert sorted(clear)[len(clear) // 2] < 1.5


@pytest.mark.parametrize("size", [14, 18])
def test_the_signs_differ_in_shape(qapp: Any, size: int) -> None:
    shapes = {}
    for name in ("ok", "warn", "hit", "info"):
        image = pixmap(name, "#000000", size).toImage()
        shapes[name] = [
            image.pixelColor(x, y).alpha() > 100 for x in range(image.width()) for y in range(image.height())
        ]
    for one, other in combinations(shapes, 2):
        differing = sum(a != b for a, b in zip(shapes[one], shapes[other], strict=True))
        assert differing >= 0.15 * sum(shapes[one]), f"{one} and {other} look alike"


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_what_is_touched_is_hatched_in_the_drawing_and_said_with_a_sign(
    window: MainWindow, theme: str, qtbot: Any
) -> None:
    hatched = {name for name, style in styles(theme).items() if style.hatch}
    window.session.set_view(theme=theme, page="clearance")
    for drop, touches in ((0.0, True), (140.0, False)):
        window.session.edit_setup("bracket drop", drop=drop)
        window.frame_now()
        qtbot.waitUntil(lambda: window.live.slow_done, timeout=20000)
        window.frame_now()
        drawing = window.stage.side.drawing
        assert drawing is not None
        zones = [s for s in drawing.shapes if isinstance(s, Path) and s.style in hatched and s.style == "touched"]
        said = [s for s in drawing.shapes if isinstance(s, Label) and "touched" in s.text]
        assert bool(zones) is touches
        assert bool(said) is touches
        assert all(label.icon == "hit" for label in said)
