"""The name of an outline lies inside of it or beside it, and stays there while other things move."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LinearRing, Polygon, box

from linkviz.analysis.study import study
from linkviz.picture import Scene, rear_view, side_view
from linkviz.picture.camera import lay_out
from linkviz.picture.outlined import INSIDE, places
from linkviz.picture.placing import Placed, place
from linkviz.picture.shapes import Path, Pt
from linkviz.picture.svg import measure
from tests.picture.scenes import build_of

WIDE, HIGH = 55.0, 15.0
SQUARE = ((-200.0, -200.0), (200.0, -200.0), (200.0, 200.0), (-200.0, 200.0))
BAY = (*SQUARE[:3], (120.0, 200.0), (120.0, -120.0), (-120.0, -120.0), (-120.0, 200.0), SQUARE[3])


def rects(outline: tuple[Pt, ...], scale: float) -> tuple[list[Polygon], np.ndarray]:
    centres, cost = places(outline, scale, WIDE, HIGH)
    half = (WIDE / 2.0, HIGH / 2.0)
    return [box(x - half[0], y - half[1], x + half[0], y + half[1]) for x, y in centres], cost


@pytest.mark.parametrize("outline", [SQUARE, BAY])
@pytest.mark.parametrize("scale", [0.05, 0.25, 0.6, 2.0])
def test_no_place_lies_across_the_outline(outline: tuple[Pt, ...], scale: float) -> None:
    ring = LinearRing([(u * scale, -v * scale) for u, v in outline])
    found, cost = rects(outline, scale)
    for i, (rect, price) in enumerate(zip(found, cost, strict=True)):
        if math.isfinite(price):
            assert not ring.intersects(rect)
            assert Polygon(ring).contains(rect) == (i < INSIDE)
    assert np.isfinite(cost[INSIDE:]).all()


def test_a_place_inside_is_taken_first_and_there_is_none_where_the_name_is_wider() -> None:
    _, roomy = rects(SQUARE, 0.25)
    assert roomy.argmin() < INSIDE
    _, tight = rects(SQUARE, 0.1)
    assert not np.isfinite(tight[:INSIDE]).any()
    _, bay = rects(BAY, 0.5)
    assert 0 < np.isfinite(bay[:INSIDE]).sum() < INSIDE


def named(placed: list[Placed]) -> list[Placed]:
    return [one for one in placed if one.label.within]


@pytest.mark.parametrize("size", [(1280, 500), (860, 380)])
@pytest.mark.parametrize("which", [0, 1, 2])
def test_names_keep_off_their_outlines_while_the_axle_moves(which: int, size: tuple[int, int]) -> None:
    frames = jumps = 0
    for lift, drop in ((0.0, 0.0), (100.0, 0.0), (150.0, 100.0)):
        build = build_of(which, lift=lift, drop=drop)
        low, high = build.window
        travel = study(build, np.concatenate([np.linspace(low, high, 25), np.linspace(high, low, 25)]))
        memories: tuple[dict[str, int], ...] = ({}, {})
        last: dict[tuple[int, str], Pt] = {}
        for i in range(len(travel)):
            scene = Scene(live=travel[i : i + 1], ghost=None, ghost_name="", zones=())
            panes = lay_out((rear_view(scene), side_view(scene)), *size)
            for k, (pane, memory) in enumerate(zip(panes, memories, strict=True)):
                camera = pane.camera
                window = (-camera.x, -camera.y, camera.width - camera.x, camera.height - camera.y)
                outlines = [s for s in pane.drawing.shapes if isinstance(s, Path) and s.style == "envelope"]
                placed = named(place(pane.drawing, camera.scale, measure, window, memory))
                assert len(placed) == len(outlines) > 0
                for one, outline in zip(placed, outlines, strict=True):
                    ring = LinearRing([(u * camera.scale, -v * camera.scale) for u, v in outline.points])
                    assert not ring.intersects(box(*one.rect)), (lift, drop, i)
                    assert one.leader is None or not Polygon(ring).contains(box(*one.rect))
                    at = last.get((k, one.label.name), one.rect[:2])
                    jumps += math.dist(at, one.rect[:2]) > 3.0
                    last[k, one.label.name] = one.rect[:2]
                    frames += 1
    assert jumps < 0.1 * frames
