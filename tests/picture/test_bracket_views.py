"""The picture of a drop bracket shows the plates that are cut, at their true places."""

from __future__ import annotations

import numpy as np
import pytest

from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket, Joggle
from linkviz.bracket.plates import drop_plates
from linkviz.picture.bracket_views import BracketScene, bracket_views
from linkviz.picture.shapes import Circle, Drawing, Label, Path, Pt
from linkviz.picture.style import styles
from linkviz.sheetmetal.plate import Steel

FRAME, BAR = FrameBracket(56.0, 4.0, 38.0, 70.0), BarEnd(62.0, 46.0)
PLAIN = DropBracket("plain", (75.0, 100.0))
JOGGLED = DropBracket("joggled", (100.0, 125.0), fit="inside", joggle=Joggle(9.0, 0.6, 6.0, 60.0))
ASIDE = DropBracket("aside", (100.0,), shift=20.0)


def scene(bracket: DropBracket, unit: str = "mm") -> BracketScene:
    plates = drop_plates(bracket, Steel("any", 400.0))
    return BracketScene(bracket, plates, FRAME, BAR, bracket.holes[0], 0.05, unit)  # type: ignore[arg-type]


def points(drawing: Drawing) -> list[Pt]:
    found = []
    for shape in drawing.shapes:
        if isinstance(shape, Path):
            found += list(shape.points)
        elif isinstance(shape, Circle):
            (u, v), r = shape.centre, shape.radius
            found += [(u - r, v), (u + r, v), (u, v - r), (u, v + r)]
    return found


@pytest.mark.parametrize("bracket", [PLAIN, JOGGLED, ASIDE])
def test_everything_lies_within_what_is_shown(bracket: DropBracket) -> None:
    for drawing in bracket_views(scene(bracket)):
        low_u, low_v, high_u, high_v = drawing.extent
        # the bar leads on out of the picture
        inside = [(u, v) for u, v in points(drawing) if u > low_u]
        assert all(u <= high_u and low_v <= v <= high_v for u, v in inside)


@pytest.mark.parametrize("bracket", [PLAIN, JOGGLED, ASIDE])
def test_holes_stand_at_their_drops(bracket: DropBracket) -> None:
    front = bracket_views(scene(bracket))[0]
    holes = [shape.centre for shape in front.shapes if isinstance(shape, Circle) and shape.style == "hole"]
    wanted = [(0.0, 0.0), (0.0, -bracket.anchor), *((bracket.shift, -drop) for drop in bracket.holes)]
    assert np.array(sorted(holes)) == pytest.approx(np.array(sorted(wanted)))


def test_the_plates_stand_apart_as_the_joggle_says() -> None:
    edge = bracket_views(scene(JOGGLED))[1]
    first, second = [
        shape.points for shape in edge.shapes if isinstance(shape, Path) and shape.style == "bracket_plate"
    ]

    def between(low: float, high: float) -> float:
        return min(u for u, v in first if low <= v <= high) - max(u for u, v in second if low <= v <= high)

    assert between(-20.0, 30.0) == pytest.approx(JOGGLED.inside_top(FRAME))
    assert between(-160.0, -110.0) == pytest.approx(JOGGLED.inside_bottom(FRAME))


@pytest.mark.parametrize(("bracket", "long"), [(PLAIN, FRAME.inside_width), (JOGGLED, FRAME.inside_width - 2 * 6.35)])
def test_the_spacer_tube_ends_where_it_bears(bracket: DropBracket, long: float) -> None:
    """Loose between the plates of the frame bracket, or welded between those of the bracket."""
    edge = bracket_views(scene(bracket))[1]
    tube = next(shape.points for shape in edge.shapes if isinstance(shape, Path) and shape.style == "steel")
    assert max(u for u, _ in tube) - min(u for u, _ in tube) == pytest.approx(long)
    assert max(v for _, v in tube) - min(v for _, v in tube) == pytest.approx(bracket.tube_outer)


def test_the_eye_hangs_between_the_plates_at_the_hole_that_is_used() -> None:
    edge = bracket_views(scene(JOGGLED))[1]
    eye = next(shape.points for shape in edge.shapes if isinstance(shape, Path) and shape.style == "bar")
    assert max(u for u, _ in eye) - min(u for u, _ in eye) == pytest.approx(BAR.eye_width)
    assert sum(v for _, v in eye) / len(eye) == pytest.approx(-JOGGLED.holes[0])


def test_figures_are_written_in_the_unit_asked_for_and_the_hole_in_use_stands_out() -> None:
    texts = {
        shape.text: shape.style for shape in bracket_views(scene(PLAIN, "in"))[0].shapes if isinstance(shape, Label)
    }
    assert texts['2 15/16" hole 1'] == "bar_text"
    assert texts['3 15/16" hole 2'] == "small"


def test_every_style_is_known() -> None:
    used = {shape.style for drawing in bracket_views(scene(JOGGLED)) for shape in drawing.shapes}
    assert used <= set(styles("light"))
