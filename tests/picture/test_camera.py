"""One scale and one ground line for both views."""

from __future__ import annotations

import itertools

import pytest

from linkviz.picture import rear_view, side_view
from linkviz.picture.camera import HEADING, MESH, Camera, fit_all, lay_out, mesh
from tests.picture.scenes import scene_of

REAR, SIDE = (-900.0, -150.0, 900.0, 1000.0), (-450.0, -150.0, 1300.0, 1000.0)


def test_to_plane_undoes_to_screen() -> None:
    camera = Camera.looking(0.37, (120.0, 400.0), 640.0, 480.0)
    at = camera.to_plane(camera.to_screen((-33.0, 71.5)))
    assert at == pytest.approx((-33.0, 71.5))


def test_the_middle_of_the_pane_shows_what_was_asked_for() -> None:
    camera = Camera.looking(0.5, (120.0, 400.0), 640.0, 480.0)
    assert camera.to_screen((120.0, 400.0)) == pytest.approx((320.0, 240.0))


def test_up_on_the_paper_is_up_on_the_screen() -> None:
    camera = Camera.fit(REAR, 640.0, 480.0)
    assert camera.to_screen((0.0, 500.0))[1] < camera.to_screen((0.0, 0.0))[1]
    assert camera.to_screen((10.0, 0.0))[0] > camera.to_screen((0.0, 0.0))[0]


@pytest.mark.parametrize("size", [(450.0, 330.0), (900.0, 450.0), (640.0, 900.0), (300.0, 200.0)])
def test_a_fit_shows_the_whole_extent_below_the_heading(size: tuple[float, float]) -> None:
    camera = Camera.fit(REAR, *size)
    left, bottom = camera.to_screen(REAR[:2])
    right, top = camera.to_screen(REAR[2:])
    assert left >= -1e-9
    assert right <= size[0] + 1e-9
    assert top >= HEADING - 1e-9
    assert bottom <= size[1] + 1e-9
    # and no larger scale would
    assert min(left, top - HEADING) == pytest.approx(0.0, abs=1e-6)


def test_all_cameras_share_scale_and_ground() -> None:
    rear, side = fit_all([REAR, SIDE], [(420.0, 500.0), (700.0, 500.0)])
    assert rear.scale == side.scale
    assert rear.to_screen((0.0, 0.0))[1] == pytest.approx(side.to_screen((0.0, 0.0))[1])


def test_zoom_keeps_what_is_under_the_mouse() -> None:
    camera = Camera.fit(REAR, 640.0, 480.0)
    under = camera.to_plane((100.0, 200.0))
    assert camera.zoom((100.0, 200.0), 1.7).to_screen(under) == pytest.approx((100.0, 200.0))


def test_pan_shifts_by_screen_points() -> None:
    camera = Camera.fit(REAR, 640.0, 480.0)
    x, y = camera.to_screen((5.0, 6.0))
    assert camera.pan(30.0, -12.0).to_screen((5.0, 6.0)) == pytest.approx((x + 30.0, y - 12.0))


def test_a_sheet_holds_both_panes_side_by_side() -> None:
    scene = scene_of()
    rear, side = lay_out((rear_view(scene), side_view(scene)), 1280.0, 500.0)
    assert rear.left == 0.0
    assert side.left == pytest.approx(rear.camera.width)
    assert side.left + side.camera.width == pytest.approx(1280.0)
    assert rear.camera.y == pytest.approx(side.camera.y)


def test_the_mesh_lies_on_whole_steps_inside_the_pane() -> None:
    camera = Camera.fit(REAR, 640.0, 480.0)
    upright, level = mesh(camera)
    assert upright
    assert level
    for x in upright:
        assert 0.0 <= x <= 640.0
        assert camera.to_plane((x, 0.0))[0] / MESH == pytest.approx(round(camera.to_plane((x, 0.0))[0] / MESH))
    gaps = [b - a for a, b in itertools.pairwise(level)]
    assert gaps == pytest.approx([MESH * camera.scale] * len(gaps))


def test_a_mesh_too_fine_to_see_is_left_out() -> None:
    assert mesh(Camera.looking(0.01, (0.0, 0.0), 640.0, 480.0)) == ([], [])
