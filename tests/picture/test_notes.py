"""The words and numbers of the drawing."""

from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.analysis.study import Study, Tightest
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.notes import gap_words, sway_words
from linkviz.picture.shapes import Arrow, Drawing, Label, Path
from linkviz.units import Unit
from tests.picture.scenes import scene_of


def label(drawing: Drawing, name: str) -> Label:
    found = [s for s in drawing.shapes if isinstance(s, Label) and s.name == name]
    assert len(found) == 1, (name, found)
    return found[0]


def with_gap(scene: Scene, gap: float) -> Scene:
    return scene.replace(live=read_as(scene.live, scene.live.tightest._replace(gap=np.array([gap]))))


def read_as(study: Study, tightest: Tightest) -> Study:
    """Return a copy of a study that finds the shaft where it is told."""
    copy = study.replace()
    copy.__dict__["tightest"] = tightest
    return copy


def test_numbers_are_those_of_the_study() -> None:
    scene = scene_of(0, travel=-30.0)
    study = scene.live
    rear, side = rear_view(scene), side_view(scene)
    assert label(rear, "bar").text == f"bar {math.degrees(float(study.bar_angle[0])):.1f}\N{DEGREE SIGN}"
    angle = math.degrees(float(study.pinion_angle[0]))
    assert label(side, "pinion").text.startswith(f"pinion {abs(angle):.1f}\N{DEGREE SIGN}")
    y = float(study.poses.y[0])
    assert label(rear, "sway").text == f"axle {abs(y):.0f} mm to the {'left' if y > 0 else 'right'}"
    assert label(side, "lift").text == "body up 100 mm"


def test_sway_has_words_for_both_sides_and_for_nothing() -> None:
    scene = scene_of(0)
    words = {}
    for y in (0.2, 12.0, -12.0):
        poses = scene.live.poses.replace(y=np.array([y]))
        words[y] = sway_words(scene.replace(live=scene.live.replace(poses=poses)))
    assert words == {0.2: "axle centred", 12.0: "axle 12 mm to the left", -12.0: "axle 12 mm to the right"}
    inches = scene.replace(unit="in")
    poses = scene.live.poses.replace(y=np.array([25.4]))
    assert sway_words(inches.replace(live=scene.live.replace(poses=poses))) == 'axle 1" to the left'


@pytest.mark.parametrize(("y", "unit", "drawn"), [(0.6, "in", False), (0.9, "in", True), (0.6, "mm", True)])
def test_the_arrow_of_the_sway_is_drawn_where_the_words_name_a_side(y: float, unit: Unit, drawn: bool) -> None:
    scene = scene_of(0)
    poses = scene.live.poses.replace(y=np.array([y]))
    drawing = rear_view(scene.replace(unit=unit, live=scene.live.replace(poses=poses)))
    assert (label(drawing, "sway").text != "axle centred") is drawn
    assert any(isinstance(s, Arrow) and s.style == "sway" for s in drawing.shapes) is drawn


@pytest.mark.parametrize(
    ("gap", "text", "icon"),
    [(40.0, "gap 40 mm", "ok"), (5.0, "gap 5 mm", "warn"), (-8.0, "touches, 8 mm deep", "hit")],
)
def test_gap_has_words_an_icon_and_a_line_at_its_place(gap: float, text: str, icon: str) -> None:
    scene = with_gap(scene_of(0), gap)
    assert gap_words(scene) == (text, icon)
    for drawing, across in ((rear_view(scene), (1, -1.0)), (side_view(scene), (0, 1.0))):
        found = label(drawing, "gap")
        assert (found.text, found.icon) == (text, icon)
        line = next(s for s in drawing.shapes if isinstance(s, Path) and s.style == f"gap_line_{icon}")
        between = (scene.live.tightest.on_shaft, scene.live.tightest.on_solid)
        ends = [(across[1] * p[0, across[0]], p[0, 2] + 100.0) for p in between]
        assert np.allclose(line.points, ends)


def test_no_gap_is_written_with_nothing_to_touch() -> None:
    scene = scene_of(0)
    study = read_as(scene.live, scene.live.tightest._replace(envelope=np.array([-1]), gap=np.array([np.inf])))
    scene = scene.replace(live=study)
    assert gap_words(scene) == ("", "")
    assert not [s for s in rear_view(scene).shapes if isinstance(s, Label) and s.name == "gap"]


def test_what_stops_the_axle_is_said_with_a_sign() -> None:
    scene = scene_of(0)
    poses = scene.live.poses.replace(reached=np.array([False]), stopped_by=("upper links at full reach",))
    stopped = scene.replace(live=scene.live.replace(poses=poses))
    found = label(rear_view(stopped), "stop")
    assert found.more == "upper links at full reach" and found.icon == "warn"
    assert not [s for s in rear_view(scene).shapes if isinstance(s, Label) and s.name == "stop"]


def test_zone_is_explained_while_the_axle_does_not_touch() -> None:
    scene = scene_of(0, zoned=True)
    assert label(side_view(scene), "zone").text == "touched in travel"
    assert not [s for s in side_view(with_gap(scene, -3.0)).shapes if isinstance(s, Label) and s.name == "zone"]


def test_drop_is_written_at_the_bracket() -> None:
    scene = scene_of(0, setup={"lift": 100.0, "drop": 95.0})
    assert label(rear_view(scene), "drop").text == "drop 95 mm"
    assert [s for s in rear_view(scene).shapes if s.style == "bracket"]
    assert not [s for s in rear_view(scene_of(0)).shapes if s.style == "bracket"]


def test_large_letters_for_the_counter() -> None:
    texts = [s.style for s in rear_view(scene_of(0, large=True)).shapes if isinstance(s, Label)]
    assert texts and all(style.endswith("+") for style in texts)
