"""`linkviz picture`: both views into a file."""

from __future__ import annotations

import argparse
import re
from pathlib import Path

from linkviz.commands.subject import subject, units
from linkviz.commands.values import BadValue, angle, length
from linkviz.errors import LinkvizError
from linkviz.picture.scene import Scene
from linkviz.picture.scenes import moving_scenes, scene_of
from linkviz.picture.svg import svg
from linkviz.vehicle.saving import save_text

KINDS = (".png", ".svg", ".gif")
_SIZE = re.compile(r"(\d{2,5})x(\d{2,5})")


def command(options: argparse.Namespace) -> int:
    """Draw the picture."""
    out = Path(options.out)
    if out.suffix.lower() not in KINDS:
        raise BadValue(f"--out: found {options.out}; expected a name ending in {', '.join(KINDS)}")
    size = _size(options.size)
    found = subject(options)
    vehicle, setup = found.vehicle, found.setup
    roll, unit = angle("roll", options.roll), units(options, found)
    if out.suffix.lower() == ".gif":
        scenes = moving_scenes(vehicle, setup, roll, unit, options.behind)
    else:
        travel = length("travel", options.travel)
        scenes = [scene_of(vehicle, setup, travel, roll, unit, options.behind)]
    write_picture(scenes, out, size, options.theme)
    print(f"wrote {out}")
    return 0


def write_picture(scenes: list[Scene], out: Path, size: tuple[int, int], theme: str = "light") -> None:
    """Write a picture of the kind its name says.

    Raises
    ------
    LinkvizError
        If this machine lacks what the kind of picture needs, or the place cannot be written.
    """
    kind = out.suffix.lower()
    if kind == ".svg":
        save_text(out, svg(scenes[0], theme, *size))
        return
    try:
        from linkviz.painter import image
    except ImportError as error:
        raise LinkvizError(
            f"{out}: this machine lacks a system library that Qt needs to paint ({error}). "
            "Name a picture ending in .svg: that needs none."
        ) from None
    if kind == ".gif":
        image.write_gif(scenes, out, size, theme)
    else:
        image.write_png(scenes[0], out, size, theme)


def _size(text: str) -> tuple[int, int]:
    match = _SIZE.fullmatch(text)
    if match is None:
        raise BadValue(f"--size: found {text}; expected width x height in pixels, such as 1280x560")
    width, height = int(match[1]), int(match[2])
    if not (320 <= width <= 8000 and 200 <= height <= 8000):
        raise BadValue(f"--size: found {text}; expected 320x200 to 8000x8000")
    return width, height
