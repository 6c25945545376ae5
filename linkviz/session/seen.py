"""What a file was when it was last read or written here: what others made of it since is not to be written over."""

from __future__ import annotations

import hashlib
import os
import stat

from linkviz.errors import LinkvizError
from linkviz.letters import visible
from linkviz.vehicle.text import MOST_WRITTEN, at_once

NONE_THERE = ""
"""Mark of a place where no file is."""
UNKNOWN = "?"
"""Mark of a file nobody here has read, or that cannot be read; it is that of no bytes."""


class Changed(LinkvizError):
    """A file that is to be saved to is another than the one that was read.

    Attributes
    ----------
    path : str
        The file.
    when : float or None
        When it was changed, s since the epoch, by the clock of its drive; None if nobody knows.
    """

    def __init__(self, path: str) -> None:
        self.path = path
        try:
            self.when: float | None = os.stat(path).st_mtime
        except OSError:
            self.when = None
        super().__init__(
            f"{visible(path)} was changed by another program since it was opened or last saved here. It was not "
            "saved, and nothing was lost. Choose Save as and another name."
        )


def bytes_there(path: str) -> bytes | None:
    """Return what is in a file, of more than any file of ours the beginning; None for a device or a pipe.

    Raises
    ------
    OSError, ValueError
        If there is no such file, or it cannot be read.
    """
    with open(path, "rb", opener=at_once) as stream:
        return stream.read(MOST_WRITTEN + 1) if stat.S_ISREG(os.fstat(stream.fileno()).st_mode) else None


def mark_of(path: str) -> str:
    """Return a mark of the bytes of a file, `NONE_THERE` or `UNKNOWN`.

    Its time says less: drives of others keep it to 2 s, and copying tools set it as they like.
    """
    try:
        content = bytes_there(path)
        # a device or pipe that lies there is refused in words when it is written
        return NONE_THERE if content is None else mark_of_bytes(content)
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError, ValueError):
        return NONE_THERE
    except OSError:
        return UNKNOWN


def another(path: str, known: str) -> bool:
    """Return whether a file is there that is not the known one; one that cannot be read is known to nobody."""
    there = mark_of(path)
    return there != NONE_THERE and (there == UNKNOWN or there != known)


def mark_of_bytes(content: bytes) -> str:
    """Return the mark of a file that holds some bytes; of more than any file of ours, by its beginning."""
    return hashlib.sha256(content[: MOST_WRITTEN + 1]).hexdigest()
