"""Documents from files and into files: jobs and vehicles."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

from linkviz.analysis.setup import Setup
from linkviz.book.form import Form, form_of_file, refuse_other
from linkviz.book.lock import Held, Lock, Lost, holder_of, take
from linkviz.book.model import SUFFIX, Whole
from linkviz.book.read import read_either
from linkviz.book.write import write_job
from linkviz.errors import LinkvizError
from linkviz.letters import cut, visible
from linkviz.session.document import Document
from linkviz.session.seen import NONE_THERE, UNKNOWN, Changed, another, bytes_there, mark_of, mark_of_bytes
from linkviz.session.unsaved import Leftover
from linkviz.vehicle.saving import save_bytes
from linkviz.vehicle.text import MOST_WRITTEN
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
        return Document.of(found, full, "job")
    return Document(found, Setup(lift=lift), full, form="vehicle")


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


def save(document: Document, path: str, known: str | None = None) -> str:
    """Write a document as what it is in that file: all of it into a job, its vehicle into a vehicle file.

    Parameters
    ----------
    document : Document
        What to write.
    path : str
        Where to.
    known : str or None
        Mark (`linkviz.session.seen`) of the only bytes that may be written over; None if any may.

    Returns
    -------
    str
        Mark of what was written.

    Raises
    ------
    Changed
        If the file is another than the known one. One that is gone is written again.
    OtherForm
        If a file of the other form lies there that was chosen by its name only.
    LinkvizError
        If it cannot be written; the old file, if any, stays whole.
    """
    form = document.form_in(path)
    if known is None:
        refuse_other(path, form)
    elif another(path, known):
        raise Changed(path)
    text = write_job(document.whole, path) if form == "job" else write_vehicle(document.vehicle, path)
    return mark_of_bytes(text.encode())


def saved_part(document: Document, before: Document | None) -> Document:
    """Return what of a document is on the disk after a save; a vehicle file holds neither job nor setup."""
    if document.is_job:
        return document
    known = before or Document(document.vehicle)
    return document.replace(setup=known.setup, job=known.job)


class Hold:
    """The lock on the job that is open, whether it may be saved, and what its file was.

    Attributes
    ----------
    read_only : bool
        Whether the job is only looked at.
    seen : str
        Mark of the file as it was last read or written here; `NONE_THERE` where there was none.
    """

    def __init__(self) -> None:
        self.read_only = False
        self.seen = NONE_THERE
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
        self._lock, self._path, self.read_only, self.seen = None, "", False, NONE_THERE

    def touch(self) -> None:
        """Show others that the job is still open here."""
        if self._lock is not None:
            self._lock.touch()

    @contextlib.contextmanager
    def moving_to(self, path: str, form: Form) -> Iterator[None]:
        """Hold another file from now on if what is done inside succeeds; the present one until then.

        A job is locked. What the file was before that is remembered: if it changes while it is read, that is seen at
        the save.

        Raises
        ------
        Held
            If somebody else has it; the present lock stays.
        """
        mine = path == self._path and self._lock is not None and self._lock.mine
        lock = take(Path(path)) if form == "job" and not mine else None
        try:
            seen = mark_of(path)
            yield
        except BaseException:
            if lock is not None:
                lock.release()
            raise
        if not mine:
            self.drop()
            self._lock, self._path = lock, path
        self.seen = seen

    def take_up(self, leftover: Leftover) -> tuple[Document, Document | None]:
        """Hold the file that work of an earlier session belongs to; raises as `moving_to`.

        Returns
        -------
        tuple of Document
            The work, and what its file holds now; None if that cannot be read or is the work itself.
        """
        work, saved = leftover.document, None
        path = work.path or ""
        if path and work.form is None:
            work = work.kept_in(path, form_of_file(path))
        with self.moving_to(path, (path and work.form) or "vehicle"), contextlib.suppress(LinkvizError):
            saved = load(path) if path else None
        if saved is None or not _holds(saved, work):
            # what the work began with may be written over, not what others made of it before or after the copy
            self.seen = UNKNOWN if leftover.seen is None else leftover.seen
        return work, None if saved is not None and saved.same(work) else saved

    @contextlib.contextmanager
    def writing(self, path: str, form: Form) -> Iterator[str | None]:
        """Write a file inside; it is held from then on if it is another one than the present and could be written.

        Yields
        ------
        str or None
            Mark of what may be written over; None for another file than the present one, which was chosen by its name.

        Raises
        ------
        ReadOnly
            If the job is only looked at.
        Lost
            If somebody took the lock over while this program slept.
        Held
            If somebody else has the file.
        """
        known = None
        if path == self._path:
            self._may_write(path)
            known = self.seen
        with self.moving_to(path, form):
            yield known

    def save(self, document: Document, path: str, over: str | None = None) -> None:
        """Save a document to a file, which is held from then on; raises as `save` and `writing`.

        `over` is the mark of what others made of the present file, if that may be written over.
        """
        with self.writing(path, document.form_in(path)) as known:
            mark = save(document, path, over or known)
        self.seen = mark

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


def _holds(file: Document, work: Document) -> bool:
    """Return whether a file holds some work, as far as a file of its form can."""
    if file.is_job != work.is_job:
        return False
    return file.same(work) if file.is_job else file.vehicle == work.vehicle


def free_name(folder: Path, stem: str, suffix: str = SUFFIX) -> Path:
    """Return a file name no file of a folder has yet."""
    path, number = folder / f"{stem}{suffix}", 2
    while os.path.lexists(path):
        path, number = folder / f"{stem}-{number}{suffix}", number + 1
    return path


def put_aside(path: str) -> tuple[str, str]:
    """Copy a file that is to be written over to a new name beside it, one that no list of jobs or vehicles takes up.

    Returns
    -------
    tuple of str
        Path of the copy, and mark of what it holds; "" and `NONE_THERE` if there is no such file any more.

    Raises
    ------
    LinkvizError
        If it cannot be read or copied, or is larger than any file of ours.
    """
    file = Path(path)
    try:
        content = bytes_there(path)
    except FileNotFoundError:
        return "", NONE_THERE
    except OSError as error:
        raise _not_kept(path, f"cannot be read ({error.strerror})") from None
    if content is None:
        raise _not_kept(path, "is a device or a pipe now")
    if len(content) > MOST_WRITTEN:
        raise _not_kept(path, f"has more than {MOST_WRITTEN // 1_000_000} MB now and is no file of this program")
    # read by what it holds it opens as what it was; the second job of a number, or vehicle of a name, it is not
    copy = free_name(file.parent, f"{file.stem}.replaced", file.suffix)
    save_bytes(copy, content)
    return str(copy), mark_of_bytes(content)


def _not_kept(path: str, why: str) -> LinkvizError:
    return LinkvizError(
        f"{visible(path)} {why}, so that it was neither kept nor saved over. Choose Save as and another name; "
        "nothing was lost."
    )


__all__ = ["Held", "Hold", "Lost", "ReadOnly", "free_name", "full_path", "load", "put_aside", "save", "saved_part"]
