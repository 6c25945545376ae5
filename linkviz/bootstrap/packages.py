"""System packages: looked for, and installed where that needs no password."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass

from linkviz.bootstrap import qt_libraries
from linkviz.bootstrap.messages import SetUpFailed, say

SCREEN_TOOLS = {"Xvfb": "xvfb", "openbox": "openbox", "xdotool": "xdotool"}
"""Programs of the tests with a real window, with their Debian packages."""


@dataclass(frozen=True)
class Wants:
    """What is missing on a system.

    Attributes
    ----------
    needed, useful : tuple of str
        Debian packages without which nothing goes on, and such as only a part needs.
    """

    needed: tuple[str, ...] = ()
    useful: tuple[str, ...] = ()


def look(new_environment: bool, tests: bool) -> Wants:
    """Find out which system packages are missing.

    Parameters
    ----------
    new_environment : bool
        Whether a virtual environment has to be made.
    tests : bool
        Whether the tests are to be run, which need Qt even without a screen.
    """
    needed: list[str] = []
    useful: list[str] = []
    if new_environment and importlib.util.find_spec("ensurepip") is None:
        needed.append(f"python{sys.version_info.major}.{sys.version_info.minor}-venv")
    libraries = qt_libraries.missing_qt_libraries()
    drawing = [name for name in libraries if name in qt_libraries.DRAWING]
    (needed if tests else useful).extend(qt_libraries.debian_packages(drawing))
    useful.extend(qt_libraries.debian_packages([name for name in libraries if name not in drawing]))
    if tests and sys.platform.startswith("linux"):
        useful.extend(package for tool, package in SCREEN_TOOLS.items() if shutil.which(tool) is None)
    return Wants(tuple(needed), tuple(useful))


def may_install() -> bool:
    """Tell whether this process may install system packages by itself."""
    return sys.platform.startswith("linux") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def _apt(*words: str) -> str:
    """Run apt-get; return what it said if it failed, else nothing."""
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C.UTF-8"}
    done = subprocess.run(
        ["apt-get", "-q", "-y", "-o", "DPkg::Lock::Timeout=300", *words],
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
    )
    if done.returncode == 0:
        return ""
    lines = done.stdout.strip().splitlines()
    return "\n".join([line for line in lines if line.startswith("E:")] or lines[-5:] or [f"exit {done.returncode}"])


def install(packages: list[str]) -> str:
    """Install Debian packages as root.

    Returns
    -------
    str
        Empty, or what went wrong.
    """
    say("Installing system packages: " + " ".join(packages))
    words = ("install", "--no-install-recommends", *packages)
    if not _apt(*words):
        return ""
    # a fresh system has no package lists, or old ones
    _apt("update")
    return _apt(*words)


def provide(new_environment: bool, tests: bool, window: bool) -> None:
    """Install what is missing if that is allowed; otherwise say what to install.

    Parameters
    ----------
    new_environment, tests : bool
        As for `look`.
    window : bool
        Whether a window on the screen is asked for, which makes its libraries needed.

    Raises
    ------
    SetUpFailed
        If something is missing without which it cannot go on.
    """
    wants = look(new_environment, tests)
    if not wants.needed and not wants.useful:
        return
    if may_install():
        trouble = install([*wants.needed, *wants.useful])
        if trouble and wants.useful and wants.needed:
            # one package that is not to be had must not keep the needed ones away
            trouble = install(list(wants.needed)) or trouble
        wants = look(new_environment, tests)
        if trouble and (wants.needed or wants.useful):
            say("The system's package manager said:\n" + trouble)
    if wants.needed or (window and wants.useful):
        raise SetUpFailed(_what_to_do(wants, window))
    if wants.useful:
        part = "the tests with a real window" if tests else "the window and some pictures"
        say(f"Going on; {part} will need: {qt_libraries.install_command(list(wants.useful))}")


def _what_to_do(wants: Wants, window: bool) -> str:
    packages = [*wants.needed, *wants.useful] if window or wants.needed else list(wants.needed)
    if shutil.which("apt-get") is None:
        return (
            "Parts of the system are missing that cannot be installed from here. Debian calls their packages\n"
            f"    {' '.join(packages)}\n"
            "Install those of your system that answer to them, then run the same command again."
        )
    return (
        "Parts of the system are missing. Install them with this command (it asks for the administrator's password):\n"
        f"    {qt_libraries.install_command(packages)}\n"
        "Then run the same command again."
    )
