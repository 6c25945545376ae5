"""Copies of unsaved work: the whole job, written every few seconds, found again after a crash or a power cut."""

from __future__ import annotations

import contextlib
import json
import os
import threading
import time
import uuid
from pathlib import Path
from typing import TYPE_CHECKING, Any

from linkviz.book.lock import alive
from linkviz.book.migrate import from_note
from linkviz.book.model import SUFFIX, Whole
from linkviz.book.read import job_from_data, parse_job
from linkviz.book.write import quick_text
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.session.document import Document
from linkviz.session.seen import another
from linkviz.vehicle.read import toml_data
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.text import MOST_WRITTEN, decode_utf8, read_bytes

if TYPE_CHECKING:
    from filelock import FileLock

OLD_SUFFIX = ".vehicle.toml"
"""Copies of the time before jobs: a vehicle, and a note (JSON) beside it."""
_MARK = "# "
_EXPECTED = "a copy of unsaved work"
_LAST = 4.0e9
"""Copies are not made in the next century, s since the epoch."""


class Leftover(Frozen):
    """Unsaved work of a session that ended without saving.

    Attributes
    ----------
    file : Path
        The copy.
    document : Document
        What it holds; `path` is the file the work belongs to.
    when : float
        Time of the copy, s since the epoch.
    seen : str or None
        Mark (`linkviz.session.seen`) of that file as the session had last read or written it; None in older copies.
    """

    file: Path
    document: Document
    when: float
    seen: str | None = None

    @property
    def saved_later(self) -> bool:
        """Return whether the file the work belongs to was written after the copy was made."""
        path = self.document.path
        try:
            return bool(path) and Path(str(path)).stat().st_mtime > self.when + 1.0
        except OSError:
            return False

    @property
    def file_changed(self) -> bool:
        """Return whether the file the work belongs to is known to be another than the one the session had."""
        path = self.document.path
        return bool(path) and self.seen is not None and another(str(path), self.seen)


class Unsaved:
    """Copies of unsaved work in a folder.

    Parameters
    ----------
    folder : Path
        Where they lie.

    Notes
    -----
    A copy belongs to a session that runs while its lock file is held; the system lets go of that lock when the
    process ends, however it ends. One thread writes; the latest copy asked for wins.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._id = uuid.uuid4().hex[:12]
        self._asking = threading.Lock()
        self._writing = threading.Lock()
        self._wanted: tuple[Document, str | None] | None = None
        self._thread: threading.Thread | None = None
        self._lock: FileLock | None = None

    @property
    def file(self) -> Path:
        """Return the copy of this session."""
        return self.folder / f"{self._id}{SUFFIX}"

    def ask(self, document: Document, seen: str | None = None) -> None:
        """Keep a copy soon, off this thread; as `keep`."""
        with self._asking:
            idle = self._wanted is None
            self._wanted = (document, seen)
        if idle:
            self._thread = threading.Thread(target=self._work, name="linkviz-autosave", daemon=True)
            self._thread.start()

    def wait(self) -> None:
        """Wait until what was asked for is on the disk."""
        if self._thread is not None:
            self._thread.join()

    def _work(self) -> None:
        with self._writing:
            wanted = self._take()
            if wanted is not None:
                self._write(*wanted)

    def _take(self) -> tuple[Document, str | None] | None:
        with self._asking:
            wanted, self._wanted = self._wanted, None
        return wanted

    def keep(self, document: Document, seen: str | None = None) -> None:
        """Keep a copy now; `seen` is the mark of the document's own file as it was last read or written."""
        self._take()
        with self._writing:
            self._write(document, seen)

    def _write(self, document: Document, seen: str | None) -> None:
        note = json.dumps({"path": document.path, "form": document.form, "seen": seen, "when": time.time()})
        # a convenience: a full or read-only disk must not stop the work
        with contextlib.suppress(OSError, LinkvizError):
            self.folder.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                self._lock = _held(self.folder / f"{self._id}.lock")
            save_text(self.file, f"{_MARK}{note}\n{quick_text(document.whole)}")

    def drop(self) -> None:
        """Forget the copy of this session: the work was saved or thrown away on purpose."""
        self._take()
        with self._writing:
            with contextlib.suppress(OSError):
                self.file.unlink(missing_ok=True)
            if self._lock is not None:
                self._lock.release()
                self._lock = None
            with contextlib.suppress(OSError):
                (self.folder / f"{self._id}.lock").unlink(missing_ok=True)

    def leftovers(self) -> list[Leftover]:
        """Return unsaved work of sessions that are gone, latest first."""
        found = []
        for file in self.folder.glob("*.toml"):
            try:
                leftover = _old(file) if file.name.endswith(OLD_SUFFIX) else self._new(file)
            except (LinkvizError, OSError, TypeError, ValueError, AttributeError, ArithmeticError, RecursionError):
                continue
            if leftover is not None:
                found.append(leftover)
        return sorted(found, key=lambda leftover: -leftover.when)

    def _new(self, file: Path) -> Leftover | None:
        key = file.name.removesuffix(SUFFIX)
        if key == self._id or _runs(self.folder / f"{key}.lock"):
            return None
        text = _text(file)
        note = _note(text.partition("\n")[0].removeprefix(_MARK)) if text.startswith(_MARK) else {}
        return _leftover(file, parse_job(text, str(file)), note)

    def forget(self, leftover: Leftover) -> None:
        """Remove a leftover."""
        key = leftover.file.name.removesuffix(SUFFIX).removesuffix(OLD_SUFFIX)
        for name in (leftover.file.name, f"{key}.json", f"{key}.lock"):
            with contextlib.suppress(OSError):
                (leftover.file.parent / name).unlink(missing_ok=True)


def _held(path: Path) -> FileLock:
    from filelock import FileLock

    # taken and let go in different threads
    lock = FileLock(path, thread_local=False)
    lock.acquire(timeout=0)
    return lock


def _runs(path: Path) -> bool:
    """Return whether the session that holds a lock file runs."""
    from filelock import FileLock, Timeout

    if not path.exists():
        return False
    try:
        with FileLock(path).acquire(timeout=0):
            return False
    except Timeout:
        return True


def _old(file: Path) -> Leftover | None:
    """Return work kept before there were jobs: a vehicle and a note that names the process."""
    note_file = file.parent / f"{file.name.removesuffix(OLD_SUFFIX)}.json"
    note = _note(_text(note_file)) if note_file.exists() else {}
    if alive(int(note.get("pid") or 0)):
        return None
    data = from_note(toml_data(_text(file), str(file)), note)
    return _leftover(file, job_from_data(data, str(file)), note)


def _text(file: Path) -> str:
    return decode_utf8(read_bytes(file, _EXPECTED, MOST_WRITTEN), str(file), _EXPECTED)


def _note(text: str) -> dict[str, Any]:
    try:
        note = json.loads(text)
    except (ValueError, RecursionError):
        return {}
    return note if isinstance(note, dict) else {}


def _leftover(file: Path, whole: Whole, note: dict[str, Any]) -> Leftover:
    path, when, form, seen = (note.get(key) for key in ("path", "when", "form", "seen"))
    # a time that no clock shows stands for nothing
    made = float(when) if isinstance(when, int | float) and 0 < when < _LAST else file.stat().st_mtime
    own = path if isinstance(path, str) and os.path.isabs(path) else None
    document = Document.of(whole, own, "job" if form == "job" else "vehicle" if form == "vehicle" else None)
    return Leftover(file, document, made, seen if isinstance(seen, str) else None)
