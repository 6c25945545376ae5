"""Picked points, handles, drafts; paper to body and back."""

from __future__ import annotations

import pytest

from linkviz.picture import rear_view, side_view
from linkviz.picture.overlay import point_places
from linkviz.picture.scene import from_view, to_view
from linkviz.picture.shapes import Circle, Label, Path
from linkviz.picture.stand import Stand, View
from linkviz.picture.style import styles
from linkviz.vehicle.points import FITTING_POINTS, POINTS
from tests.picture.scenes import scene_of


def test_every_measured_point_is_marked() -> None:
    scene = scene_of(0, show_points=True)
    places = point_places(scene, Stand.of(scene.live))
    assert set(places) >= set(POINTS) | set(FITTING_POINTS)
    for drawing in (rear_view(scene), side_view(scene)):
        assert len([s for s in drawing.shapes if s.style == "point"]) == len(places)


@pytest.mark.parametrize("point", ["links.lateral_bar.axle", "links.upper_left.frame", "driveshaft.pinion_joint"])
def test_picked_point_has_a_ring_at_its_place_and_its_name(point: str) -> None:
    scene = scene_of(0, travel=30.0, roll_deg=3.0, point=point)
    x, y, z = point_places(scene, Stand.of(scene.live))[point]
    for drawing, at in ((rear_view(scene), (-y, z + 100.0)), (side_view(scene), (x, z + 100.0))):
        ring = next(s for s in drawing.shapes if isinstance(s, Circle) and s.style == "point_picked")
        assert ring.centre == pytest.approx(at)
        assert POINTS[point].words in [s.text for s in drawing.shapes if isinstance(s, Label)]


def test_a_point_nobody_knows_is_no_trouble() -> None:
    assert not [s for s in rear_view(scene_of(0, point="links.none.frame")).shapes if s.style == "point_picked"]


def test_picked_envelope_has_a_handle_on_every_corner() -> None:
    scene = scene_of(0, envelope=0)
    envelope = scene.live.build.vehicle.envelopes[0]
    for view, drawing, corners in (
        ("rear", rear_view(scene), envelope.rear),
        ("side", side_view(scene), envelope.side),
    ):
        handles = [s.centre for s in drawing.shapes if isinstance(s, Circle) and s.style == "handle"]
        assert handles == [to_view(view, corner, 100.0) for corner in corners]
    assert not [s for s in rear_view(scene_of(0)).shapes if s.style == "handle"]


def test_outline_being_drawn_shows_in_its_view_only() -> None:
    corners = ((10.0, 300.0), (80.0, 300.0), (80.0, 420.0))
    scene = scene_of(0, draft=corners, draft_view="side")
    draft = next(s for s in side_view(scene).shapes if isinstance(s, Path) and s.style == "draft")
    assert draft.points == tuple((x, z + 100.0) for x, z in corners)
    assert not [s for s in rear_view(scene).shapes if s.style == "draft"]


@pytest.mark.parametrize("view", ["rear", "side"])
def test_paper_to_body_undoes_body_to_paper(view: View) -> None:
    assert from_view(view, to_view(view, (123.0, 456.0), 75.0), 75.0) == (123.0, 456.0)


def test_left_of_the_vehicle_is_left_in_the_rear_view() -> None:
    assert to_view("rear", (100.0, 300.0), 50.0) == (-100.0, 350.0)


def test_zones_of_a_moment_ago_are_dimmed() -> None:
    """New ones are being worked out: the old ones stay, without the hatch of what is known."""
    scene = scene_of(zoned=True)
    fresh = {s.style for s in rear_view(scene).shapes}
    stale = {s.style for s in rear_view(scene.replace(stale=True)).shapes}
    assert "touched" in fresh
    assert "touched_stale" in stale
    assert "touched" not in stale
    assert styles("light")["touched_stale"].alpha < styles("light")["touched"].alpha
    assert not styles("light")["touched_stale"].hatch
