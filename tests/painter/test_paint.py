"""What the painter puts on the paper."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from linkviz.painter import Camera, paint
from linkviz.painter.paint import badge
from linkviz.picture import rear_view, side_view
from linkviz.picture.shapes import Arrow, Circle, Drawing, Label, Path
from linkviz.picture.style import paint as colours
from linkviz.picture.style import styles
from tests.picture.scenes import scene_of

pytestmark = pytest.mark.usefixtures("qapp")
EXTENT = (-100.0, -100.0, 100.0, 100.0)
SIDE = 200
CAMERA = Camera.looking(1.0, (0.0, 0.0), SIDE, SIDE)


def painted(drawing: Drawing, camera: Camera = CAMERA, theme: str = "light", **how: Any) -> QImage:
    image = QImage(round(camera.width), round(camera.height), QImage.Format.Format_RGB32)
    image.fill(QColor("#00ff00"))
    painter = QPainter(image)
    try:
        paint(painter, drawing, camera, theme, **how)
    finally:
        painter.end()
    return image


def at(image: QImage, u: float, v: float) -> str:
    x, y = CAMERA.to_screen((u, v))
    return image.pixelColor(int(x), int(y)).name()


def square(style: str, half: float = 40.0, holes: tuple[Any, ...] = ()) -> Path:
    return Path(((-half, -half), (half, -half), (half, half), (-half, half)), style, True, holes)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_paper_first_then_the_fill_of_the_style(theme: str) -> None:
    image = painted(Drawing("", (square("bar"),), EXTENT), theme=theme, title=False)
    assert at(image, 10.0, 10.0) == styles(theme)["bar"].fill
    assert at(image, 77.0, 71.0) == colours(theme).paper


def test_without_a_background_what_was_there_stays() -> None:
    image = painted(Drawing("", (), EXTENT), background=False, title=False)
    assert at(image, 77.0, 71.0) == "#00ff00"


def test_a_hole_shows_the_paper() -> None:
    hole = ((-20.0, -20.0), (20.0, -20.0), (20.0, 20.0), (-20.0, 20.0))
    image = painted(Drawing("", (square("bar", holes=(hole,)),), EXTENT), title=False)
    assert at(image, 5.0, 7.0) == colours("light").paper
    assert at(image, 30.0, 7.0) == styles("light")["bar"].fill


def test_an_open_path_is_not_filled() -> None:
    image = painted(Drawing("", (Path(((-40.0, -40.0), (40.0, -40.0), (0.0, 60.0)), "bar"),), EXTENT), title=False)
    assert at(image, 3.0, -7.0) == colours("light").paper


def test_a_hatch_has_lines_and_gaps_inside_its_outline_only() -> None:
    image = painted(Drawing("", (square("touched"),), EXTENT), title=False)
    inside = {at(image, float(u), 3.0) for u in range(-30, 30)}
    assert len(inside) > 2
    outside = {at(image, float(u), 55.0) for u in range(43, 90) if u % 200 > 3}
    assert outside == {colours("light").paper}


def test_a_hatch_leans_as_its_style_says_whatever_the_scale() -> None:
    """Along the direction of the hatch the colour does not change; across it does."""
    for scale in (0.4, 1.0, 2.5):
        camera = Camera.looking(scale, (0.0, 0.0), SIDE, SIDE)
        half = 90.0 / scale
        image = painted(Drawing("", (square("touched", half),), EXTENT), camera, title=False)
        rising = [image.pixelColor(70 + k, 130 - k).lightness() for k in range(50)]
        falling = [image.pixelColor(70 + k, 70 + k).lightness() for k in range(50)]
        assert max(rising) - min(rising) < 0.5 * (max(falling) - min(falling))


def test_a_marker_keeps_its_size_on_the_screen() -> None:
    spot = Drawing("", (Circle((0.0, 0.0), 10.0, "handle"),), EXTENT)
    widths = []
    for scale in (0.3, 3.0):
        image = painted(spot, Camera.looking(scale, (0.0, 0.0), SIDE, SIDE), title=False)
        row = [image.pixelColor(x, 98).name() for x in range(80, 120)]
        line = [x for x, name in enumerate(row) if QColor(name).saturation() > 60]
        widths.append(max(line) - min(line))
    assert widths[0] == widths[1] > 4


def test_an_arrow_ends_at_its_tip() -> None:
    image = painted(Drawing("", (Arrow((-60.0, 20.0), (40.0, 20.0), "sway"),), EXTENT), title=False)
    reach = [u for u in range(-99, 99) if QColor(at(image, float(u), 20.0)).saturation() > 100]
    assert max(reach) == pytest.approx(40.0, abs=3.0)
    assert min(reach) == pytest.approx(-60.0, abs=3.0)


def test_labels_are_returned_where_they_were_written() -> None:
    label = Label((0.0, 0.0), "gap 12 mm", "ok_text", "left", (0.0, 0.0), icon="ok", name="gap")
    image = QImage(SIDE, SIDE, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    (placed,) = paint(painter, Drawing("", (label,), EXTENT), CAMERA, "light", title=False)
    painter.end()
    left, top, right, bottom = (round(v + 100) for v in placed.rect)
    paper = QColor(colours("light").paper)
    dark = [
        (x, y) for x in range(SIDE) for y in range(SIDE) if image.pixelColor(x, y).lightness() < paper.lightness() - 60
    ]
    assert dark
    assert all(left - 1 <= x <= right + 1 and top - 1 <= y <= bottom + 1 for x, y in dark)


def test_the_painter_is_given_back_as_it_came() -> None:
    image = QImage(SIDE, SIDE, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.translate(7.0, 9.0)
    before = painter.transform()
    paint(painter, rear_view(scene_of()), Camera.fit(EXTENT, SIDE, SIDE), "dark")
    assert painter.transform() == before
    assert not painter.hasClipping()
    painter.end()


@pytest.mark.parametrize("name", ["ok", "warn", "hit"])
def test_badges_are_drawn_and_strangers_are_not(name: str) -> None:
    def count(which: str) -> int:
        image = QImage(40, 40, QImage.Format.Format_RGB32)
        image.fill(QColor("#ffffff"))
        painter = QPainter(image)
        badge(painter, which, QRectF(10, 10, 20, 20), "#000000", "#ffffff")
        painter.end()
        return sum(image.pixelColor(x, y).lightness() < 128 for x in range(40) for y in range(40))

    assert count(name) > 60
    assert count("stranger") == 0


def test_memory_is_kept_by_the_caller() -> None:
    memory: dict[str, int] = {}
    view = side_view(scene_of(0, 20.0))
    painted(view, Camera.fit(view.extent, 500.0, 400.0), memory=memory)
    names = {s.name or s.text for s in view.shapes if isinstance(s, Label)}
    assert set(memory) == names


def test_every_style_of_every_demo_can_be_painted() -> None:
    for which in range(3):
        scene = scene_of(which, 30.0, 3.0, zoned=True, setup={"lift": 120.0, "drop": 60.0}, envelope=0)
        for view in (rear_view(scene), side_view(scene)):
            image = painted(view, Camera.fit(view.extent, 420.0, 330.0), "dark")
            names = {image.pixelColor(x, y).name() for x in range(0, 420, 7) for y in range(0, 330, 7)}
            assert len(names) > 10
