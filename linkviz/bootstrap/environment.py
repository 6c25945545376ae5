"""The virtual environment of a clone: made, stamped, made anew when it does not fit any more."""

from __future__ import annotations

import hashlib
import json
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from linkviz.bootstrap.lock import locked
from linkviz.bootstrap.messages import SetUpFailed, say
from linkviz.bootstrap.requirements import fingerprint

STAMP = "linkviz-set-up.json"
BUSY = "linkviz-set-up.unfinished"
LOG = "linkviz-set-up.log"


@dataclass(frozen=True)
class Environment:
    """A virtual environment that belongs to one clone.

    Attributes
    ----------
    folder : pathlib.Path
        Where it is, or is to be.
    """

    folder: Path

    @property
    def python(self) -> Path:
        """The interpreter."""
        return self.folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    def stamp(self) -> dict[str, str]:
        """Return what the last finished set-up wrote; empty if there was none."""
        try:
            found = json.loads((self.folder / STAMP).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return found if isinstance(found, dict) else {}

    def fits(self, parts: Mapping[str, list[str]]) -> bool:
        """Tell whether it is whole and holds what the parts require.

        Parameters
        ----------
        parts : mapping of str to list of str
            The requirements of each part, ``program`` and perhaps ``tests``.
        """
        stamp = self.stamp()
        return (
            stamp.get("python") == platform.python_version()
            and all(stamp.get(part) == fingerprint(requirements) for part, requirements in parts.items())
            and not (self.folder / BUSY).exists()
            and self.python.exists()
        )

    def forget(self) -> None:
        """Drop the stamp: what it says has been found untrue."""
        (self.folder / STAMP).unlink(missing_ok=True)
        (self.folder / BUSY).touch()

    def set_up(self, parts: Mapping[str, list[str]]) -> None:
        """Make it fit; wait if another process is at it.

        Parameters
        ----------
        parts : mapping of str to list of str
            As for `fits`.

        Raises
        ------
        SetUpFailed
            If the environment cannot be made or filled.
        """
        try:
            with locked(self.folder.with_name(self.folder.name + ".lock")):
                if not self.fits(parts):
                    self._make(parts)
        except OSError as error:
            raise SetUpFailed(
                f"The environment of the program cannot be made in {self.folder}: {error.strerror or error}.\n"
                "Make room there, or make the folder writable, then run the same command again."
            ) from error

    def _make(self, parts: Mapping[str, list[str]]) -> None:
        requirements = list(dict.fromkeys(line for part in parts.values() for line in part))
        stamp = self.stamp()
        if not self._usable():
            self._remove()
            stamp = {}
        busy = self.folder / BUSY
        self.folder.mkdir(parents=True, exist_ok=True)
        busy.touch()
        (self.folder / STAMP).unlink(missing_ok=True)
        if not self.python.exists():
            say(f"Setting up, once; this takes a few minutes. Making the environment {self.folder}")
            self._run([sys.executable, "-m", "venv", str(self.folder)], "Python could not make a virtual environment")
        else:
            say(f"Bringing the environment {self.folder} up to date")
        say(f"Getting {len(requirements)} packages and what they need")
        self._run(
            [str(self.python), "-m", "pip", "install", "--progress-bar", "off", "--no-input", *requirements],
            "pip could not install the packages that the program needs",
        )
        stamp["python"] = platform.python_version()
        stamp |= {part: fingerprint(wanted) for part, wanted in parts.items()}
        (self.folder / STAMP).write_text(json.dumps(stamp, indent=1) + "\n", encoding="utf-8")
        busy.unlink()
        say("Set up.")

    def _usable(self) -> bool:
        """Tell whether the interpreter there can be kept: whole, of this version, with pip."""
        if (self.folder / BUSY).exists() or not self.python.exists():
            return False
        command = [str(self.python), "-c", "import pip, platform; print(platform.python_version())"]
        try:
            done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
        except (OSError, subprocess.TimeoutExpired):
            return False
        return done.returncode == 0 and done.stdout.strip() == platform.python_version()

    def _remove(self) -> None:
        if not self.folder.exists() and not self.folder.is_symlink():
            return
        ours = (self.folder / BUSY).exists() or (self.folder / "pyvenv.cfg").exists()
        if self.folder.is_symlink() or not self.folder.is_dir() or (any(self.folder.iterdir()) and not ours):
            raise SetUpFailed(
                f"{self.folder} is not an environment made by this program.\n"
                "Move it away, then run the same command again."
            )
        say(f"The environment {self.folder} is unfinished or belongs to another Python; making it anew")
        # the mark of unfinished work goes last, so that a removal cut short is known as one
        (self.folder / BUSY).touch()
        for entry in self.folder.iterdir():
            if entry.name == BUSY:
                continue
            if entry.is_dir() and not entry.is_symlink():
                shutil.rmtree(entry)
            else:
                entry.unlink()

    def _run(self, command: list[str], trouble: str) -> None:
        """Run one step, its output in the log; tell which packages pip is getting."""
        log = self.folder / LOG
        astray = ("PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT")
        environment = {key: value for key, value in os.environ.items() if key not in astray}
        environment |= {"PYTHONUNBUFFERED": "1", "PIP_USER": "0"}
        lines: list[str] = []
        with (
            log.open("a", encoding="utf-8") as file,
            subprocess.Popen(
                command,
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                text=True,
                errors="replace",
            ) as process,
        ):
            assert process.stdout is not None
            for line in process.stdout:
                file.write(line)
                lines.append(line.rstrip())
                if line.startswith("Collecting "):
                    say("  " + line.split()[1])
                elif line.startswith("Installing collected packages"):
                    say("  putting them in place")
        if process.returncode != 0:
            raise SetUpFailed(_explain(trouble, lines, log))


def _explain(trouble: str, lines: list[str], log: Path) -> str:
    said = [line for line in lines if line.startswith("ERROR")] or [line for line in lines if line][-3:]
    text = "\n".join(lines).lower()
    if "no space left" in text:
        what = "The disk is full: make room for about 1 GB."
    elif any(sign in text for sign in ("connection", "name resolution", "timed out", "no matching distribution")):
        what = "This computer could not reach the place that pip gets packages from: see to the network connection."
    else:
        what = "See what pip says above."
    return "\n".join(
        [
            f"The set-up could not be finished: {trouble}.",
            *(f"    {line}" for line in said[:4]),
            what + " Then run the same command again; it starts afresh.",
            f"Everything that was said is in {log}",
        ]
    )


def _cache() -> Path:
    base = os.environ.get("LOCALAPPDATA" if os.name == "nt" else "XDG_CACHE_HOME", "")
    return Path(base) if base else Path.home() / ".cache"


def _writable(folder: Path) -> bool:
    return os.access(folder, os.W_OK | os.X_OK)


def environment_of(clone: Path) -> Environment:
    """Return the environment of a clone: ``.venv`` in it, or a folder in the user's cache if it is read-only.

    Raises
    ------
    SetUpFailed
        If neither place can be written.
    """
    inside = clone / ".venv"
    if _writable(clone) and (not inside.exists() or _writable(inside)):
        return Environment(inside)
    key = hashlib.sha256(str(clone).encode()).hexdigest()[:12]
    outside = _cache() / "linkviz" / f"environment-{key}"
    try:
        outside.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SetUpFailed(
            f"Neither {clone} nor {outside.parent} can be written ({error.strerror or error}), and the program needs\n"
            "a place for the packages it uses. Make one of them writable, then run the same command again."
        ) from error
    if not _writable(outside.parent):
        raise SetUpFailed(
            f"Neither {clone} nor {outside.parent} can be written, and the program needs a place for the packages\n"
            "it uses. Make one of them writable, then run the same command again."
        )
    return Environment(outside)
