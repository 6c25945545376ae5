"""The system libraries that Qt loads: which of them are missing here, and how to get them."""

from __future__ import annotations

import ctypes
import os
import shutil
import sys
from collections.abc import Callable, Mapping

DRAWING = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
}
"""Libraries without which nothing can be drawn, screen or no screen, with their Debian packages."""
SCREEN = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
"""Libraries for a window on a screen, with their Debian packages."""


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def has_screen(environment: Mapping[str, str] = os.environ) -> bool:
    """Tell whether there is a screen to open a window on."""
    if not sys.platform.startswith("linux"):
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def missing_qt_libraries(screen: bool = True, loads: Callable[[str], bool] = _loads) -> list[str]:
    """Return the libraries that Qt will not find, by file name; always none except on Linux.

    Parameters
    ----------
    screen : bool
        Whether a window on a screen is wanted, rather than a picture in a file.
    loads : callable
        Tells whether a library can be loaded.
    """
    if not sys.platform.startswith("linux"):
        return []
    wanted = DRAWING | SCREEN if screen else DRAWING
    return [library for library in wanted if not loads(library)]


def debian_packages(libraries: list[str]) -> list[str]:
    """Return the Debian packages that bring the libraries."""
    known = DRAWING | SCREEN
    return [known[library] for library in libraries]


def install_command(packages: list[str]) -> str:
    """Return the command that installs Debian packages, as a person types it."""
    return "sudo apt-get install --no-install-recommends " + " ".join(packages)


def advice(libraries: list[str]) -> str:
    """Say which libraries are missing and how to get them; empty if none are.

    Parameters
    ----------
    libraries : list of str
        What `missing_qt_libraries` returned.
    """
    if not libraries:
        return ""
    lines = ["The window and the pictures need system libraries that are missing here: " + ", ".join(libraries) + "."]
    if shutil.which("apt-get"):
        lines.append("Install them with:  " + install_command(debian_packages(libraries)))
    else:
        lines.append("Install the packages of your system that contain them.")
    lines.append("Then run the same command again.")
    return "\n".join(lines)
