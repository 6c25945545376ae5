"""A small picture of a job, kept outside it."""

from __future__ import annotations

import contextlib
from hashlib import sha256
from pathlib import Path

from linkviz.book.read import read_job
from linkviz.errors import LinkvizError
from linkviz.picture.scenes import scene_of
from linkviz.picture.svg import svg
from linkviz.vehicle.saving import save_text

SIZE = (900, 420)
"""Width and height of the picture, screen points."""


def thumbnail(path: Path, cache: Path, theme: str = "light") -> str:
    """Return the picture of a job as SVG, as it stands: lift and parts on, the vehicle as built dashed behind.

    Parameters
    ----------
    path : pathlib.Path
        The job file.
    cache : pathlib.Path
        Folder for pictures made before; one is made anew when the job was written since.
    theme : {"light", "dark"}
        The colours.

    Raises
    ------
    LinkvizError
        If the job cannot be read.
    """
    try:
        stat = path.stat()
    except OSError as error:
        raise LinkvizError(f"{path} cannot be read ({error.strerror}).") from error
    key = sha256(str(path.resolve()).encode()).hexdigest()[:20]
    file = cache / f"{key}-{theme}-{stat.st_mtime_ns:x}-{stat.st_size:x}.svg"
    with contextlib.suppress(OSError, ValueError):
        return file.read_text(encoding="utf-8")
    whole = read_job(path)
    text = svg(scene_of(whole.vehicle, whole.setup, unit=whole.vehicle.units, zoned=False), theme, *SIZE)
    with contextlib.suppress(OSError, LinkvizError):
        cache.mkdir(parents=True, exist_ok=True)
        for old in cache.glob(f"{key}-{theme}-*.svg"):
            old.unlink(missing_ok=True)
        save_text(file, text)
    return text
