"""The state on disk: recent files, the window as it was left, unsaved work. All writes are atomic."""

from __future__ import annotations

import json
import os
import sys
import tempfile
import time
import uuid
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from linkviz.errors import LinkvizError
from linkviz.job.setup import Setup
from linkviz.session.document import Document
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.write import write_vehicle

RECENT_LIMIT = 10
"""Recent files remembered."""
SUFFIX = ".vehicle.toml"


def state_dir() -> Path:
    """Return the folder for state: ``$XDG_STATE_HOME/linkviz``, or what the system has in its place."""
    base = os.environ.get("XDG_STATE_HOME", "")
    if not base and sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA", "")
    return Path(base or Path.home() / ".local" / "state") / "linkviz"


def write_atomic(path: Path, text: str) -> None:
    """Write a text file so that the old one stays whole if it fails."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


@dataclass(frozen=True)
class Leftover:
    """Unsaved work of a session that ended without saving.

    Attributes
    ----------
    file : Path
        The autosaved vehicle.
    document : Document
        What it holds; `path` is the file the work belongs to.
    when : float
        Time of the autosave, s since the epoch.
    """

    file: Path
    document: Document
    when: float


def _alive(pid: int) -> bool:
    if pid <= 0:
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


class Store:
    """State files of one session.

    Parameters
    ----------
    folder : Path or None
        Where they are kept; `state_dir` if None.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or state_dir()
        self._id = uuid.uuid4().hex[:12]

    def _json(self, name: str) -> dict[str, Any]:
        try:
            found = json.loads((self.folder / name).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return found if isinstance(found, dict) else {}

    def _put(self, name: str, value: dict[str, Any]) -> None:
        # state is a convenience: a full or read-only disk must not stop the work
        try:
            write_atomic(self.folder / name, json.dumps(value, indent=1))
        except OSError:
            return

    def recent(self) -> list[str]:
        """Return the recent files that are still there, latest first."""
        found = self._json("recent.json").get("files", [])
        names = found if isinstance(found, list) else []
        return [name for name in names if isinstance(name, str) and Path(name).exists()]

    def add_recent(self, path: str) -> None:
        """Put a file at the head of the recent ones."""
        full = str(Path(path).resolve())
        files = [full, *(name for name in self.recent() if name != full)][:RECENT_LIMIT]
        self._put("recent.json", {"files": files})

    def layout(self) -> dict[str, Any]:
        """Return the window as it was left; empty if it never was."""
        return self._json("window.json")

    def keep_layout(self, layout: dict[str, Any]) -> None:
        """Remember how the window is left."""
        self._put("window.json", layout)

    def autosave(self, document: Document) -> None:
        """Keep a copy of unsaved work."""
        file = self.folder / "autosave" / f"{self._id}{SUFFIX}"
        setup = document.setup
        meta = {
            "path": document.path,
            "pid": os.getpid(),
            "when": time.time(),
            "setup": {name: getattr(setup, name) for name in setup.__dataclass_fields__},
        }
        # the note first: without it the copy would look like the leftover of a session that is gone
        self._put(f"autosave/{self._id}.json", meta)
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            write_vehicle(document.vehicle, str(file))
        except (OSError, LinkvizError):
            return

    def drop_autosave(self) -> None:
        """Forget the copy of this session's unsaved work: it was saved or thrown away on purpose."""
        for name in (f"{self._id}{SUFFIX}", f"{self._id}.json"):
            (self.folder / "autosave" / name).unlink(missing_ok=True)

    def leftovers(self) -> list[Leftover]:
        """Return unsaved work of sessions that are gone, latest first."""
        found = []
        for file in (self.folder / "autosave").glob(f"*{SUFFIX}"):
            key = file.name.removesuffix(SUFFIX)
            meta = self._json(f"autosave/{key}.json")
            try:
                if key == self._id or _alive(int(meta.get("pid") or 0)):
                    continue
                vehicle = read_vehicle(str(file))
                setup = Setup(**{name: float(value) for name, value in meta.get("setup", {}).items()})
                when = float(meta.get("when", 0.0))
            except (LinkvizError, OSError, TypeError, ValueError, AttributeError):
                continue
            path = meta.get("path")
            found.append(Leftover(file, Document(vehicle, setup, path if isinstance(path, str) else None), when))
        return sorted(found, key=lambda leftover: -leftover.when)

    def forget(self, leftover: Leftover) -> None:
        """Remove a leftover."""
        leftover.file.unlink(missing_ok=True)
        key = leftover.file.name.removesuffix(SUFFIX)
        (leftover.file.parent / f"{key}.json").unlink(missing_ok=True)
