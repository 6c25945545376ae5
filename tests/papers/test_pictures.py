"""The drawings on paper say and cover what those on the screen do."""

from __future__ import annotations

from linkviz.papers.pictures import picture_shapes
from linkviz.papers.shapes import Clip, Polyline, Shape, Text
from linkviz.picture import rear_view, side_view
from linkviz.picture.placing import VEIL
from linkviz.picture.shapes import Label
from tests.picture.scenes import scene_of

WIDTH, HEIGHT = 180.0, 90.0


def pane(shapes: list[Shape], index: int) -> tuple[Shape, ...]:
    return [shape for shape in shapes if isinstance(shape, Clip)][index].shapes


def test_every_label_and_title_is_on_the_page() -> None:
    views = rear_view(scene_of(2, -40.0)), side_view(scene_of(2, -40.0))
    shapes = picture_shapes(views, WIDTH, HEIGHT)
    for i, view in enumerate(views):
        written = [shape.text for shape in pane(shapes, i) if isinstance(shape, Text)]
        labels = [shape.text for shape in view.shapes if isinstance(shape, Label)]
        assert labels
        assert sorted(written) == sorted([*labels, view.title, view.caption])


def test_the_fill_of_an_envelope_is_not_covered_behind_its_name() -> None:
    views = rear_view(scene_of(2)), side_view(scene_of(2))
    shapes = picture_shapes(views, WIDTH, HEIGHT)
    for i, view in enumerate(views):
        veils = [s for s in pane(shapes, i) if isinstance(s, Polyline) and s.closed and not s.pen and s.alpha == VEIL]
        names = [s for s in view.shapes if isinstance(s, Label) and s.within]
        assert len(names) == 2
        assert len(veils) == len([s for s in view.shapes if isinstance(s, Label)]) - len(names)
