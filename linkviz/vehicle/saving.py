"""Put a file on disk whole or not at all."""

from __future__ import annotations

import contextlib
import os
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from linkviz.errors import LinkvizError
from linkviz.letters import visible


def save_text(path: str | os.PathLike[str], text: str) -> None:
    """Write a file of text, as UTF-8, atomically; raises as `save_bytes`."""
    try:
        content = text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise LinkvizError(
            f"{_named(path)} could not be saved: {text[max(error.start - 30, 0) : error.end]!a} has a letter that is "
            "no text, as in the name of a file from another system. Nothing was changed; write it anew."
        ) from None
    save_bytes(path, content)


def save_bytes(path: str | os.PathLike[str], content: bytes) -> None:
    """Write a file atomically; see `saving`."""
    with saving(path) as stream:
        stream.write(content)


@contextlib.contextmanager
def saving(path: str | os.PathLike[str]) -> Iterator[BinaryIO]:
    """Write a file atomically: a reader finds the old file or the new one, never a part.

    Parameters
    ----------
    path : path
        Where to; a symbolic link is followed, the permissions of an old file are kept.

    Yields
    ------
    file
        What to write into; it is not to be closed.

    Raises
    ------
    LinkvizError
        If it cannot be written; the old file, if any, is whole, as it is if anything else is raised inside.
    """
    temporary = ""
    try:
        target = _place(path)
        old = target.stat().st_mode & 0o777 if target.exists() else None
        handle, temporary = new_beside(target, 0o666 if old is None else 0o600)
        with os.fdopen(handle, "wb") as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        if old is not None:
            os.chmod(temporary, old)
        os.replace(temporary, target)
    except BaseException as error:
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
        if not isinstance(error, OSError):
            raise
        reason = error.strerror or str(error)
        raise LinkvizError(
            f"{_named(path)} could not be saved: {reason}. Nothing was changed; "
            "save under another name or in a folder that you may write to."
        ) from error
    _sync_folder(target.parent)


def new_beside(target: Path, mode: int = 0o666) -> tuple[int, str]:
    """Make an empty file in the folder of another; return its open handle and its path.

    Parameters
    ----------
    target : pathlib.Path
        The other file; the new one is hidden and named after it.
    mode : int
        Permissions. The system takes off those that the user's files are not to have: asking it which those are would
        change them for all threads for a moment.

    Raises
    ------
    OSError
        If it cannot be made.
    """
    name = f"{target.parent}{os.sep}.{target.name[:40]}.{uuid.uuid4().hex[:12]}.tmp"
    return os.open(name, os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode), name


def _place(path: str | os.PathLike[str]) -> Path:
    """Return the file that a path leads to; raises OSError if none can be there."""
    try:
        target = Path(os.path.realpath(path))
    except ValueError as error:
        raise OSError(22, str(error)) from None
    if target.is_dir():
        raise IsADirectoryError(21, "it is a folder")
    if target.exists() and not target.is_file():
        raise OSError(22, "it is a device or a pipe")
    if target.exists() and not os.access(target, os.W_OK):
        raise PermissionError(13, "the file is write-protected")
    return target


def _named(path: str | os.PathLike[str]) -> str:
    return visible(os.fspath(path))


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut, where the system can do that."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
