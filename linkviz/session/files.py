"""Documents from files and into files: jobs and vehicles."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from linkviz.analysis.setup import Setup
from linkviz.book.lock import Held, Lock, Lost, holder_of, take
from linkviz.book.model import SUFFIX, Whole
from linkviz.book.read import read_either
from linkviz.book.write import write_job
from linkviz.errors import LinkvizError
from linkviz.letters import cut, visible
from linkviz.session.document import Document
from linkviz.vehicle.write import write_vehicle


class ReadOnly(LinkvizError):
    """A job that is only looked at."""


def load(path: str, lift: float = 0.0) -> Document:
    """Return the document of a job file, or of a vehicle file at a lift (mm).

    Raises
    ------
    FileRefused
        If the file cannot be taken.
    """
    found = read_either(path)
    full = full_path(path)
    if isinstance(found, Whole):
        return Document.of(found, full)
    return Document(found, Setup(lift=lift), full)


def full_path(path: str) -> str:
    """Return where a file lies, links followed.

    Raises
    ------
    LinkvizError
        If no file can be called so.
    """
    try:
        return str(Path(path).resolve())
    except (OSError, ValueError, RuntimeError) as error:
        raise LinkvizError(f"{visible(cut(path, 200))} is no name of a file ({error}). Choose another.") from None


def save(document: Document, path: str) -> None:
    """Write a document: all of it into a job file, its vehicle into a vehicle file.

    Raises
    ------
    LinkvizError
        If it cannot be written; the old file, if any, stays whole.
    """
    if path.endswith(SUFFIX):
        write_job(document.whole, path)
    else:
        write_vehicle(document.vehicle, path)


def saved_part(document: Document, path: str, before: Document | None) -> Document:
    """Return what of a document is on the disk after a save; a vehicle file holds neither job nor setup."""
    if path.endswith(SUFFIX):
        return document
    known = before or Document(document.vehicle)
    return replace(document, setup=known.setup, job=known.job)


class Hold:
    """The lock on the job that is open, and whether it may be saved.

    Attributes
    ----------
    read_only : bool
        Whether the job is only looked at.
    """

    def __init__(self) -> None:
        self.read_only = False
        self._lock: Lock | None = None
        self._path = ""

    def look(self, path: str) -> None:
        """Look at a file without a lock."""
        self.drop()
        self._path, self.read_only = path, True

    def drop(self) -> None:
        """Give the present file free."""
        if self._lock is not None:
            self._lock.release()
        self._lock, self._path, self.read_only = None, "", False

    def touch(self) -> None:
        """Show others that the job is still open here."""
        if self._lock is not None:
            self._lock.touch()

    @contextlib.contextmanager
    def moving_to(self, path: str) -> Iterator[None]:
        """Hold another file from now on if what is done inside succeeds; the present one until then.

        Raises
        ------
        Held
            If somebody else has it; the present lock stays.
        """
        if path == self._path and self._lock is not None and self._lock.mine:
            yield
            return
        lock = take(Path(path)) if path.endswith(SUFFIX) else None
        try:
            yield
        except BaseException:
            if lock is not None:
                lock.release()
            raise
        self.drop()
        self._lock, self._path = lock, path

    @contextlib.contextmanager
    def writing(self, path: str) -> Iterator[None]:
        """Write a file inside; it is held from then on if it is another one than the present and could be written.

        Raises
        ------
        ReadOnly
            If the job is only looked at.
        Lost
            If somebody took the lock over while this program slept.
        Held
            If somebody else has the file.
        """
        if path == self._path:
            self._may_write(path)
        with self.moving_to(path):
            yield

    def _may_write(self, path: str) -> None:
        if self.read_only:
            raise ReadOnly(
                f"{visible(path)} is open elsewhere, so it is only looked at here. Choose Save as and another name; "
                "nothing was lost."
            )
        if self._lock is None or self._lock.mine:
            return
        there = holder_of(Path(path))
        if there is not None:
            raise Lost(
                f"{visible(path)} was opened by {there.words()} while this program slept, and may have been changed. "
                "Choose Save as and another name; nothing was lost."
            )


def free_name(folder: Path, stem: str, suffix: str = SUFFIX) -> Path:
    """Return a file name no file of a folder has yet."""
    path, number = folder / f"{stem}{suffix}", 2
    while os.path.lexists(path):
        path, number = folder / f"{stem}-{number}{suffix}", number + 1
    return path


__all__ = ["Held", "Hold", "Lost", "ReadOnly", "free_name", "full_path", "load", "save", "saved_part"]
