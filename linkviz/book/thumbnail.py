"""Small pictures of jobs, kept outside them: made once, and again when a job was written since."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from linkviz.book.model import Whole
from linkviz.book.read import read_job
from linkviz.errors import LinkvizError
from linkviz.letters import visible
from linkviz.vehicle.saving import save_bytes


def thumbnail(path: Path, cache: Path, draw: Callable[[Whole], bytes], kind: str) -> bytes:
    """Return the picture of a job.

    Parameters
    ----------
    path : pathlib.Path
        The job file.
    cache : pathlib.Path
        Folder of the pictures made before.
    draw : callable
        Makes the picture of a job.
    kind : str
        What tells pictures of one job apart, such as the theme; a part of the file's name.

    Raises
    ------
    LinkvizError
        If the job cannot be read.
    """
    try:
        stat = path.stat()
    except OSError as error:
        raise LinkvizError(
            f"{visible(str(path))} cannot be read ({error.strerror}). Look whether it is still there."
        ) from error
    key = f"{sha256(os.fsencode(os.path.realpath(path))).hexdigest()[:20]}-{kind}"
    file = cache / f"{key}-{stat.st_mtime_ns:x}-{stat.st_size:x}"
    with contextlib.suppress(OSError):
        return file.read_bytes()
    picture = draw(read_job(path))
    with contextlib.suppress(OSError, LinkvizError):
        cache.mkdir(parents=True, exist_ok=True)
        for old in cache.glob(f"{key}-*"):
            old.unlink(missing_ok=True)
        save_bytes(str(file), picture)
    return picture
