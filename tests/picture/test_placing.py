"""Labels keep clear of one another and of what matters, and stand in the same places every time."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from linkviz.picture import rear_view, side_view
from linkviz.picture.camera import lay_out
from linkviz.picture.placing import Placed, Rect, _cost_at, _costs, heading, place
from linkviz.picture.shapes import Drawing, Label, Path
from linkviz.picture.svg import measure
from tests.picture.scenes import scene_of

EXTENT = (-500.0, -500.0, 500.0, 500.0)


def drawing(*shapes: Label | Path) -> Drawing:
    return Drawing("A view", shapes, EXTENT)


def overlap(a: Rect, b: Rect) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def only(placed: list[Placed]) -> Placed:
    (one,) = placed
    return one


def test_a_lone_label_stands_on_the_side_it_asks_for() -> None:
    for anchor, above, side in [
        ("left", True, lambda r: r[0] > 0.0 and r[1] < 0.0 < r[3]),
        ("right", True, lambda r: r[2] < 0.0 and r[1] < 0.0 < r[3]),
        ("centre", True, lambda r: r[3] < 0.0 and r[0] < 0.0 < r[2]),
        ("centre", False, lambda r: r[1] > 0.0 and r[0] < 0.0 < r[2]),
    ]:
        label = Label((0.0, 0.0), "bar 13.5\N{DEGREE SIGN}", "bar_text", anchor, (0.0, 0.0), above=above)
        assert side(only(place(drawing(label), 0.5, measure)).rect), (anchor, above)


def test_a_label_near_its_part_has_no_leader() -> None:
    label = Label((0.0, 0.0), "gap 12 mm", "ok_text", "left", (0.0, 0.0))
    assert only(place(drawing(label), 0.5, measure)).leader is None


def test_a_label_that_had_to_move_has_a_leader_to_its_part() -> None:
    label = Label((0.0, 0.0), "gap 12 mm", "ok_text", "left", (0.0, 0.0), name="gap")
    free = only(place(drawing(label), 0.5, measure))
    wall = (-60.0, -60.0, 160.0, 60.0)
    moved = only(place(drawing(label), 0.5, measure, taken=(wall,)))
    assert not overlap(moved.rect, wall)
    assert moved.rect != free.rect
    assert moved.leader is not None
    assert moved.leader[1] == (0.0, 0.0)


def test_a_label_keeps_off_the_bar() -> None:
    label = Label((0.0, 0.0), "gap 12 mm", "ok_text", "left", (0.0, 0.0), name="gap")
    bar = Path(((0.0, 12.0), (300.0, 12.0), (300.0, -12.0), (0.0, -12.0)), "bar", closed=True)
    rect = only(place(drawing(bar, label), 0.5, measure)).rect
    assert not overlap(rect, (0.0, -6.0, 150.0, 6.0))


@pytest.mark.parametrize(("wide", "tall"), [(50.0, 60.0), (36.0, 30.0), (90.0, 60.0), (40.0, 120.0)])
def test_the_name_of_an_envelope_stands_inside_of_it_or_beside_it(wide: float, tall: float) -> None:
    """Across its own line it could not be read; the name is some 55 points wide."""
    left, right, low, high = -wide, wide, -tall, tall
    outline = Path(((left, low), (right, low), (right, high), (left, high)), "envelope", closed=True)
    at = (0.0, low + 0.18 * (high - low))
    within = tuple((u - at[0], v - at[1]) for u, v in outline.points)
    label = Label(at, "fuel tank", "envelope_text", "centre", at, name="envelope 0", within=within)
    rect = only(place(drawing(outline, label), 0.5, measure)).rect
    box = (0.5 * left, -0.5 * high, 0.5 * right, -0.5 * low)
    inside = box[0] < rect[0] and rect[2] < box[2] and box[1] < rect[1] and rect[3] < box[3]
    assert inside or not overlap(rect, box)


def test_what_is_not_a_key_part_moves_nothing() -> None:
    label = Label((0.0, 0.0), "gap 12 mm", "ok_text", "left", (0.0, 0.0), name="gap")
    quiet = Path(((0.0, 12.0), (300.0, 12.0), (300.0, -12.0), (0.0, -12.0)), "ghost", closed=True)
    assert place(drawing(quiet, label), 0.5, measure)[0].rect == place(drawing(label), 0.5, measure)[0].rect


def test_a_label_at_the_edge_stays_in_the_window() -> None:
    label = Label((490.0, 490.0), "axle 21 mm to the left", "sway_text", "left", (490.0, 490.0))
    left, top, right, bottom = only(place(drawing(label), 0.5, measure)).rect
    assert left >= -250.0
    assert top >= -250.0
    assert right <= 250.0
    assert bottom <= 250.0


def test_lines_below_the_text_are_inside_the_box() -> None:
    label = Label((0.0, 0.0), "The axle stops here", "warn_text", "centre", icon="warn", more="the links\nbind")
    one = only(place(drawing(label), 0.5, measure))
    assert [line.text for line in one.lines] == ["The axle stops here", "the links", "bind"]
    assert one.icon is not None
    for line in one.lines:
        assert one.rect[0] <= line.at[0] <= one.rect[2]
        assert one.rect[1] < line.at[1] <= one.rect[3]


@pytest.mark.parametrize("size", [(1280, 500), (1800, 700), (860, 380)])
@pytest.mark.parametrize("which", [0, 1, 2])
def test_no_label_covers_another_over_a_grid_of_states(which: int, size: tuple[int, int]) -> None:
    for lift, drop, travel, roll in itertools.product((0.0, 100.0), (0.0, 95.0), (-60.0, 0.0, 70.0), (-5.0, 5.0)):
        scene = scene_of(which, travel, roll, setup={"lift": lift, "drop": drop}, point="links.lateral_bar.frame")
        for pane in lay_out((rear_view(scene), side_view(scene)), *size):
            camera = pane.camera
            window = (-camera.x, -camera.y, camera.width - camera.x, camera.height - camera.y)
            box, _ = heading(pane.drawing, measure)
            title = (box[0] - camera.x, box[1] - camera.y, box[2] - camera.x, box[3] - camera.y)
            placed = place(pane.drawing, camera.scale, measure, window, taken=(title,))
            assert placed
            for a, b in itertools.combinations([p.rect for p in placed] + [title], 2):
                assert not overlap(a, b), (lift, drop, travel, roll, pane.drawing.title)
            for p in placed:
                assert p.rect[0] >= window[0] - 1e-6, p.label.text
                assert p.rect[2] <= window[2] + 1e-6, p.label.text


def test_the_same_drawing_is_always_placed_alike() -> None:
    view = rear_view(scene_of(0, 40.0, 3.0, zoned=True))
    assert place(view, 0.35, measure) == place(view, 0.35, measure)


def test_memory_holds_a_label_where_it_was() -> None:
    label = Label((0.0, 0.0), "gap 12 mm", "ok_text", "centre", (0.0, 0.0), name="gap")
    memory: dict[str, int] = {}
    pushed = only(place(drawing(label), 0.5, measure, memory=memory, taken=((-40.0, -30.0, 40.0, 0.0),)))
    assert memory
    stays = only(place(drawing(label), 0.5, measure, memory=memory))
    assert stays.rect == pushed.rect
    assert only(place(drawing(label), 0.5, measure)).rect != pushed.rect


def test_the_heading_names_view_and_ghost() -> None:
    view = rear_view(scene_of())
    box, lines = heading(view, measure)
    assert [line.text for line in lines] == ["Rear view", view.caption]
    assert lines[1].at[0] > lines[0].at[0]
    assert box[2] > lines[1].at[0]


@given(
    at=st.tuples(st.floats(-250, 250), st.floats(-250, 250)),
    half=st.tuples(st.floats(5, 80), st.floats(5, 25)),
    box=st.tuples(st.floats(-150, 150), st.floats(-150, 150)),
)
def test_one_place_costs_what_it_costs_among_many(
    at: tuple[float, float], half: tuple[float, float], box: tuple[float, float]
) -> None:
    """A label that stays where it is is judged by the same measure as one that looks for a place."""
    label = Label((0.0, 0.0), "x", "number")
    window, boxes = (-200.0, -200.0, 200.0, 200.0), [(box[0], box[1], box[0] + 40.0, box[1] + 20.0)]
    segments = np.array([[at[0] + 10.0, at[1], 30.0, 5.0, 4.0], [0.0, 50.0, 200.0, 1.0, 3.0]])
    many = _costs(label, np.array([at]), np.array(half), np.zeros(1), window, boxes, segments)[0]
    one = _cost_at(label, at, *half, window, boxes, segments)
    assert one == pytest.approx(many) or min(one, many) > 20.0
