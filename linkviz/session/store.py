"""The state on disk: recent files, the window as it was left, unsaved work. All writes are atomic."""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

from linkviz.errors import LinkvizError
from linkviz.session.unsaved import Unsaved
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.text import read_bytes

RECENT_LIMIT = 10
"""Recent files remembered."""


def state_dir() -> Path:
    """Return the folder for state: ``$XDG_STATE_HOME/linkviz``, or what the system has in its place."""
    return _folder("XDG_STATE_HOME", ".local/state")


def cache_dir() -> Path:
    """Return the folder for what can be made again: ``$XDG_CACHE_HOME/linkviz``, or what the system has instead."""
    return _folder("XDG_CACHE_HOME", ".cache")


def _folder(variable: str, usual: str) -> Path:
    """Return our folder in the one that a variable names (XDG Base Directory: only an absolute one counts)."""
    for name in (variable, "LOCALAPPDATA") if sys.platform == "win32" else (variable,):
        if os.path.isabs(base := os.environ.get(name, "")):
            return Path(base) / "linkviz"
    try:
        return Path.home() / usual / "linkviz"
    except RuntimeError:  # an account without a home, as in a container
        return Path(tempfile.gettempdir()) / f"linkviz-{getattr(os, 'getuid', int)()}" / usual


class Store:
    """State files of one session.

    Parameters
    ----------
    folder : Path or None
        Where they are kept; `state_dir` if None.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or state_dir()
        self.unsaved = Unsaved(self.folder / "autosave")
        self._limits: dict[str, Any] | None = None

    def _json(self, name: str) -> dict[str, Any]:
        try:
            found = json.loads(read_bytes(self.folder / name, "a state of the program"))
        except (LinkvizError, ValueError, RecursionError):
            return {}
        return found if isinstance(found, dict) else {}

    def _put(self, name: str, value: dict[str, Any]) -> None:
        # state is a convenience: a full or read-only disk must not stop the work
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            save_text(self.folder / name, json.dumps(value, indent=1))
        except (OSError, LinkvizError):
            return

    def recent(self) -> list[str]:
        """Return the recent files that are still there, latest first."""
        found = self._json("recent.json").get("files", [])
        names = found if isinstance(found, list) else []
        return [name for name in names[:RECENT_LIMIT] if isinstance(name, str) and os.path.exists(name)]

    def add_recent(self, path: str) -> None:
        """Put a file at the head of the recent ones."""
        full = str(Path(path).resolve())
        files = [full, *(name for name in self.recent() if name != full)][:RECENT_LIMIT]
        self._put("recent.json", {"files": files})

    def layout(self) -> dict[str, Any]:
        """Return the window as it was left; empty if it never was."""
        return self._json("window.json")

    def limits(self) -> dict[str, Any]:
        """Return the limits of links that the shop goes by; empty if it never said. Read from the disk once."""
        if self._limits is None:
            self._limits = self._json("limits.json")
        return dict(self._limits)

    def keep_limits(self, limits: dict[str, float]) -> None:
        """Remember the limits of links that the shop goes by."""
        self._limits = dict(limits)
        self._put("limits.json", limits)

    def parts(self) -> str:
        """Return the file of the shop's own catalogue of parts; "" if it named none."""
        found = self._json("parts.json").get("file")
        return found if isinstance(found, str) else ""

    def keep_parts(self, path: str) -> None:
        """Remember the file of the shop's catalogue of parts."""
        self._put("parts.json", {"file": path})

    def keep_layout(self, layout: dict[str, Any]) -> None:
        """Remember how the window is left."""
        self._put("window.json", layout)

    def remembered(self, name: str) -> dict[str, Any]:
        """Return what was remembered under the name of a file; empty if nothing was."""
        return self._json(name)

    def remember(self, name: str, value: dict[str, Any]) -> None:
        """Remember something under the name of a file."""
        self._put(name, value)
