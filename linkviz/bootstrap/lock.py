"""One set-up at a time: a file lock that the system drops when its process ends."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from linkviz.bootstrap.messages import say


def _try(file: Any) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold the lock file `path`; wait, and say so, while another process has it.

    Raises
    ------
    OSError
        If the file cannot be made.
    """
    with path.open("a+", encoding="utf-8") as file:
        waiting = False
        while not _try(file):
            if not waiting:
                say(f"Another set-up is at work here ({path}); waiting for it.")
                waiting = True
            time.sleep(0.2)
        yield
        # the system drops the lock with the file; the empty file stays, so that nobody locks a name that is gone
        if sys.platform == "win32":
            import msvcrt

            os.lseek(file.fileno(), 0, os.SEEK_SET)
            msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)
