"""Whether the system is set to move less; Qt does not tell.

Asked once, when the program starts. Where it has to be asked by a command, the command runs while the window is made.
"""

from __future__ import annotations

import configparser
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

_WAIT_S = 1.0
"""A command that has said nothing for so long says nothing."""
_SPI_GETCLIENTAREAANIMATION = 0x1042
"""Windows: "Animation effects" (SystemParametersInfo)."""


def ask() -> Callable[[], bool]:
    """Begin to ask the system; return a function that returns whether it is set to move less."""
    if sys.platform == "win32":
        return _windows
    if sys.platform == "darwin":
        return _by_command(["defaults", "read", "com.apple.universalaccess", "reduceMotion"], "1")
    if _in_file("kdeglobals", "KDE", "AnimationDurationFactor", ("0", "0.0")):
        return lambda: True
    if any(
        _in_file(f"gtk-{version}/settings.ini", "Settings", "gtk-enable-animations", ("0", "false"))
        for version in ("4.0", "3.0")
    ):
        return lambda: True
    desktop = os.environ.get("XDG_CURRENT_DESKTOP", "").lower()
    if not desktop or "kde" in desktop:
        return lambda: False
    return _by_command(["gsettings", "get", "org.gnome.desktop.interface", "enable-animations"], "false")


def _in_file(name: str, section: str, key: str, values: tuple[str, ...]) -> bool:
    base = Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config")
    reader = configparser.ConfigParser(strict=False, interpolation=None)
    try:
        reader.read(base / name, encoding="utf-8")
        return reader.get(section, key, fallback="").strip().lower() in values
    except (OSError, ValueError, configparser.Error):
        return False


def _by_command(words: list[str], meant: str) -> Callable[[], bool]:
    try:
        process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    except OSError:
        return lambda: False

    def answer() -> bool:
        try:
            told, _ = process.communicate(timeout=_WAIT_S)
        except (subprocess.TimeoutExpired, OSError, ValueError):
            process.kill()
            process.communicate()
            return False
        return told.strip().lower() == meant

    return answer


def _windows() -> bool:
    import ctypes

    system = getattr(ctypes, "windll", None)
    if system is None:
        return False
    moves = ctypes.c_int(1)
    asked = system.user32.SystemParametersInfoW(_SPI_GETCLIENTAREAANIMATION, 0, ctypes.byref(moves), 0)
    return bool(asked) and not moves.value
