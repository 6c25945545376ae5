"""PNG and GIF files."""

from __future__ import annotations

import struct
from pathlib import Path

import pytest
from PIL import Image

from linkviz.errors import LinkvizError
from linkviz.painter.image import image, views, write_gif, write_png
from linkviz.picture.style import paint as colours
from linkviz.picture.style import styles
from tests.picture.scenes import scene_of

pytestmark = pytest.mark.usefixtures("qapp")


def test_png_has_the_size_asked_for(tmp_path: Path) -> None:
    out = tmp_path / "a.png"
    write_png(scene_of(), out, (640, 280), "light")
    data = out.read_bytes()
    assert data.startswith(b"\x89PNG")
    assert struct.unpack(">II", data[16:24]) == (640, 280)


def test_a_scale_makes_more_pixels_of_the_same_picture(tmp_path: Path) -> None:
    out = tmp_path / "a.png"
    write_png(scene_of(), out, (400, 200), "light", scale=1.5)
    with Image.open(out) as picture:
        assert picture.size == (600, 300)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_paper_has_the_colour_of_the_theme(theme: str) -> None:
    picture = image(views(scene_of()), (640, 280), theme)
    names = [picture.pixelColor(x, y).name() for x in range(0, 640, 3) for y in range(0, 280, 3)]
    assert names.count(colours(theme).paper) > len(names) // 5


def test_a_touched_tank_looks_unlike_a_clear_one() -> None:
    def red(zoned: bool) -> int:
        picture = image(views(scene_of(0, 0.0, zoned=zoned)), (900, 380), "light")
        line = styles("light")["touched"].line
        return sum(picture.pixelColor(x, y).name() == line for x in range(900) for y in range(380))

    assert red(True) > red(False) + 40


def test_the_ground_is_at_one_height_in_both_views() -> None:
    """At rest the ground line is the longest dark level line of either half."""
    picture = image(views(scene_of(0, 0.0, ghost=False)), (1000, 420), "light")

    def row(left: int, right: int) -> int:
        return max(
            range(200, 420), key=lambda y: sum(picture.pixelColor(x, y).lightness() < 90 for x in range(left, right, 2))
        )

    assert row(0, 480) == row(560, 1000)


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(LinkvizError, match="folder"):
        write_png(scene_of(), tmp_path / "none" / "a.png", (320, 200), "light")
    with pytest.raises(LinkvizError, match="folder"):
        write_gif([scene_of()], tmp_path / "none" / "a.gif", (320, 200), "light")


def test_gif_moves_for_as_long_as_its_frames_add_up_to(tmp_path: Path) -> None:
    out = tmp_path / "a.gif"
    scenes = [scene_of(0, travel) for travel in (-60.0, -20.0, 20.0, 60.0)]
    write_gif(scenes, out, (420, 200), "light", seconds=0.08)
    total, stills = 0, []
    with Image.open(out) as moving:
        assert moving.size == (420, 200)
        assert moving.info["loop"] == 0
        assert moving.n_frames == len(scenes)
        for index in range(moving.n_frames):
            moving.seek(index)
            total += moving.info["duration"]
            stills.append(moving.convert("RGB").tobytes())
    assert total == 4 * 80
    assert len(set(stills)) == len(scenes)


def test_a_gif_without_frames_is_refused(tmp_path: Path) -> None:
    with pytest.raises(LinkvizError, match="at least one"):
        write_gif([], tmp_path / "a.gif", (320, 200), "light")
