"""One writer for one job, also on a shared drive: a small file beside the job says who has it open.

The file is made whole in one step, so of two programs one gets it. Its holder touches it now and then; a lock whose
program has ended (same machine) or that nobody touched for a while (another machine) is stale and is taken over.
"""

from __future__ import annotations

import contextlib
import getpass
import json
import os
import socket
import sys
import tempfile
import time
import uuid
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen, values_of
from linkviz.letters import cut, visible
from linkviz.vehicle.saving import new_beside
from linkviz.vehicle.text import read_bytes

TOUCH_S = 60.0
"""How often a holder touches its lock, s."""
STALE_S = 900.0
"""A lock of another machine that nobody touched for this long is stale, s."""

LONGEST_NAME = 200
"""The lock of a job with a longer name, bytes, would have no name that a disk takes."""

_WAIT_S = 0.01
"""How long to wait for a program that removes a stale lock right now, s."""

_live: set[str] = set()
"""Locks this process holds, by token."""


class Holder(Frozen):
    """Who has a job open.

    Attributes
    ----------
    user, host : str
        Name of the person's account and of the machine.
    pid : int
        The program's process on that machine.
    since : float
        When it was opened, s since the epoch.
    token : str
        Tells this lock from every other.
    """

    user: str
    host: str
    pid: int
    since: float
    token: str

    def words(self) -> str:
        """Return who it is and since when, as part of a sentence."""
        try:
            since = time.strftime("%d %B, %H:%M", time.localtime(self.since)) if self.since else "an unknown time"
        except (ValueError, OverflowError, OSError):
            since = "an unknown time"
        who, where = (visible(cut(text, 60)) for text in (self.user, self.host))
        return f"{who or 'somebody'} on {where or 'another machine'} since {since}"


NOBODY = Holder("", "", 0, 0.0, "")
"""Stands for a holder of whom nothing is known."""


class Held(LinkvizError):
    """A job that another program has open."""

    def __init__(self, path: str, holder: Holder) -> None:
        self.path = path
        self.holder = holder
        super().__init__(
            f"{visible(path)} is open elsewhere: {holder.words()}. "
            "Look at it without saving, work on a copy, or close it there."
        )


class Lost(LinkvizError):
    """A lock that another program has taken over."""


class Lock:
    """A lock that is held; made by `take`."""

    def __init__(self, path: Path, holder: Holder) -> None:
        self.path = path
        self.holder = holder

    @property
    def mine(self) -> bool:
        """Return whether the lock is still this one: a stale one may have been taken over."""
        found = _read(self.path)
        return found is not None and found.token == self.holder.token

    def touch(self) -> None:
        """Show that the job is still open here."""
        if self.mine:
            with contextlib.suppress(OSError):
                os.utime(self.path)

    def release(self) -> None:
        """Give the job free."""
        _live.discard(self.holder.token)
        if self.mine:
            with contextlib.suppress(OSError):
                self.path.unlink(missing_ok=True)


def lock_path(path: Path) -> Path:
    """Return the lock file of a job; that of a very long name is called by its beginning and a mark of the rest."""
    name = path.name
    if len(name.encode(errors="replace")) > LONGEST_NAME:
        mark = sha256(name.encode(errors="replace")).hexdigest()[:16]
        name = f"{name[: LONGEST_NAME // 4]}-{mark}"
    return path.parent / f".{name}.lock"


def holder_of(path: Path) -> Holder | None:
    """Return who has a job open, stale or not, or None."""
    return _read(lock_path(path))


def take(path: Path) -> Lock | None:
    """Take the lock of a job.

    Parameters
    ----------
    path : pathlib.Path
        The job file.

    Returns
    -------
    Lock or None
        None where no lock can be written (a folder that may only be read, a full disk) and nobody has one: nothing
        can be saved there either.

    Raises
    ------
    Held
        If another program has it and is alive.
    """
    file = lock_path(Path(os.path.realpath(path)))
    me = Holder(_user(), socket.gethostname(), os.getpid(), time.time(), uuid.uuid4().hex)
    _live.add(me.token)
    try:
        there = _try(file, me)
    except OSError:
        _live.discard(me.token)
        there = _read(file)
        if there is None or _stale(file, there):
            return None
        raise Held(str(path), there) from None
    if there is None:
        return Lock(file, me)
    _live.discard(me.token)
    raise Held(str(path), there)


def _try(file: Path, me: Holder) -> Holder | None:
    """Make a lock, in place of a stale one if need be; return who has it instead, or None if it is made."""
    for _ in range(5):
        if _make(file, me):
            return None
        there = _read(file)
        if not os.path.lexists(file):
            continue
        if there is None and _age(file) <= STALE_S:
            return NOBODY
        if there is not None and not _stale(file, there):
            return there
        _move_away(file, there)
    return NOBODY


def _move_away(file: Path, stale: Holder | None) -> None:
    """Remove a stale lock, if it still is the one that was found stale; one program at a time."""
    with contextlib.suppress(OSError), _alone(file):
        if _read(file) == stale:
            aside = file.with_name(f"{file.name}.{uuid.uuid4().hex[:8]}")
            os.replace(file, aside)
            aside.unlink(missing_ok=True)


@contextlib.contextmanager
def _alone(file: Path) -> Iterator[None]:
    """Keep others from removing a lock file; raises OSError if another program is at it or has removed it.

    The system's lock is on the file itself and goes with it, so that nothing is left behind. Without one (a drive
    that knows none, a lock that is no file) there are only the looks before and after.
    """
    try:
        import fcntl

        handle = os.open(file, os.O_RDONLY | os.O_NONBLOCK | os.O_NOFOLLOW)
    except (ImportError, OSError):
        yield
        return
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            time.sleep(_WAIT_S)
            raise
        except OSError:
            pass
        if not os.path.samestat(os.fstat(handle), os.lstat(file)):
            raise FileNotFoundError(2, "another one is there now")
        yield
    finally:
        os.close(handle)


def _make(file: Path, me: Holder) -> bool:
    """Make the lock file with its text in one step; return False if there is one already."""
    text = json.dumps(values_of(me), indent=1).encode()
    handle, name = new_beside(file)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(text)
        try:
            os.link(name, file)
        except FileExistsError:
            return False
        except OSError:  # a drive that knows no links
            try:
                handle = os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
            except FileExistsError:
                return False
            try:
                with os.fdopen(handle, "wb") as stream:
                    stream.write(text)
            except OSError:  # half a lock would keep everybody out
                with contextlib.suppress(OSError):
                    os.unlink(file)
                raise
        return True
    finally:
        with contextlib.suppress(OSError):
            os.unlink(name)


def _read(file: Path) -> Holder | None:
    try:
        data = json.loads(read_bytes(file, "a lock"))
        return Holder(str(data["user"]), str(data["host"]), int(data["pid"]), float(data["since"]), str(data["token"]))
    except (LinkvizError, ValueError, TypeError, KeyError, OverflowError, RecursionError):
        return None


def _stale(file: Path, there: Holder) -> bool:
    if there.host == socket.gethostname():
        if there.pid == os.getpid():
            return there.token not in _live
        if not alive(there.pid):
            return True
    return _age(file) > STALE_S


def _age(file: Path) -> float:
    """Return how long ago a file was touched, s, by the clock of the drive it lies on if that can be asked."""
    now = time.time()
    with contextlib.suppress(OSError):
        handle, name = tempfile.mkstemp(prefix=".clock.", dir=file.parent)
        os.close(handle)
        now = os.stat(name).st_mtime
        os.unlink(name)
    try:
        return now - file.lstat().st_mtime
    except OSError:
        return 0.0


def _user() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return ""


def alive(pid: int) -> bool:
    """Return whether a process of this machine runs."""
    if not 0 < pid < 2**31:
        return False
    if sys.platform == "win32":
        import ctypes

        handle = ctypes.windll.kernel32.OpenProcess(0x1000, False, pid)
        if handle:
            ctypes.windll.kernel32.CloseHandle(handle)
        return bool(handle)
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
