"""A painting that keeps what stayed shows the same as one painted from nothing, whatever changes in between."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtGui import QImage, QPainter

from linkviz.painter import Camera, paint
from linkviz.painter.layer import Layer
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.shapes import Drawing
from tests.picture.scenes import scene_of

pytestmark = pytest.mark.usefixtures("qapp")
CAMERA = Camera(0.2, 210.0, 330.0, 419.0, 422.0)


def painted(drawing: Drawing, camera: Camera, theme: str, layer: Layer | None, ratio: float = 1.0) -> QImage:
    image = QImage(round(camera.width * ratio), round(camera.height * ratio), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(0)
    painter = QPainter(image)
    try:
        paint(painter, drawing, camera, theme, layer=layer)
    finally:
        painter.end()
    return image


def settled(drawing: Drawing, camera: Camera = CAMERA, theme: str = "light") -> Layer:
    """Return a layer that has seen the drawing until it holds all of it."""
    layer = Layer()
    for _ in range(3):
        painted(drawing, camera, theme, layer)
    assert layer.count == len(drawing.shapes)
    return layer


def views(scene: Scene) -> Iterator[Drawing]:
    yield rear_view(scene)
    yield side_view(scene)


BEFORE: dict[str, Any] = {"which": 0, "setup": {"lift": 100.0, "drop": 40.0}, "zoned": True}
CHANGES: dict[str, dict[str, Any]] = {
    "vehicle": {"which": 1},
    "lift": {"setup": {"lift": 120.0, "drop": 40.0}},
    "drop": {"setup": {"lift": 100.0, "drop": 70.0}},
    "zones": {"zoned": False},
    "stale zones": {"stale": True},
    "travel": {"travel": 30.0},
    "roll": {"roll_deg": 3.0},
    "ghost": {"ghost": False},
    "unit": {"unit": "in"},
    "picked point": {"point": "links.lateral_bar.frame"},
    "picked envelope": {"envelope": 0},
    "points": {"show_points": True},
    "letters": {"large": True},
    "outline being drawn": {"draft": ((-300.0, 500.0), (0.0, 500.0), (0.0, 700.0)), "draft_view": "rear"},
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_of_the_scene_shows_at_once(change: str) -> None:
    after = scene_of(**{**BEFORE, **CHANGES[change]})
    differs = []
    for old, new in zip(views(scene_of(**BEFORE)), views(after), strict=True):
        layer = settled(old)
        stale = painted(old, CAMERA, "light", layer)
        for _ in range(3):
            shown = painted(new, CAMERA, "light", layer)
            assert shown == painted(new, CAMERA, "light", None)
        differs.append(shown != stale)
    assert any(differs), f"{change}: the drawings ought to differ"


def test_a_change_of_the_theme_shows_at_once() -> None:
    for drawing in views(scene_of(zoned=True)):
        layer = settled(drawing)
        for theme in ("dark", "dark", "light"):
            assert painted(drawing, CAMERA, theme, layer) == painted(drawing, CAMERA, theme, None)


@pytest.mark.parametrize(
    "moved",
    [
        CAMERA.pan(3.0, 0.0),
        CAMERA.pan(0.25, -0.5),
        CAMERA.zoom((200.0, 200.0), 1.15),
        CAMERA.replace(width=500.0),
        CAMERA.replace(height=300.0),
    ],
)
def test_a_moved_camera_shows_at_once(moved: Camera) -> None:
    for drawing in views(scene_of(zoned=True)):
        layer = settled(drawing)
        for camera in (moved, moved, moved, CAMERA):
            assert painted(drawing, camera, "light", layer) == painted(drawing, camera, "light", None)


def test_a_finer_screen_gets_a_finer_layer() -> None:
    drawing = rear_view(scene_of(zoned=True))
    layer = settled(drawing)
    for _ in range(3):
        assert painted(drawing, CAMERA, "light", layer, 2.0) == painted(drawing, CAMERA, "light", None, 2.0)


def test_a_pane_between_pixels_gets_no_layer() -> None:
    drawing = rear_view(scene_of())
    layer = settled(drawing)
    image = QImage(450, 450, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    try:
        painter.translate(10.5, 3.0)
        paint(painter, drawing, CAMERA, "light", layer=layer)
    finally:
        painter.end()
    assert layer.count == 0


def test_the_frame_and_the_ghost_are_not_painted_again_while_the_axle_moves() -> None:
    layer = Layer()
    for drop in (40.0, 50.0, 60.0, 70.0, 80.0):
        drawing = rear_view(scene_of(setup={"lift": 100.0, "drop": drop}))
        painted(drawing, CAMERA, "light", layer)
    held = {shape.style for shape in drawing.shapes[: layer.count] if hasattr(shape, "style")}
    assert {"body", "rail", "ground", "ghost"} <= held
    assert layer.painted == 1


def test_a_layer_shrinks_and_grows_with_what_stays() -> None:
    still, moving = scene_of(travel=0.0), scene_of(travel=40.0)
    layer = settled(rear_view(still))
    painted(rear_view(moving), CAMERA, "light", layer)
    less = layer.count
    assert 0 < less < len(rear_view(moving).shapes)
    painted(rear_view(moving), CAMERA, "light", layer)
    assert layer.count > less
