"""From a bare ``python3 -m`` to an interpreter that has everything."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import NoReturn

from linkviz.bootstrap.messages import SetUpFailed, say
from linkviz.bootstrap.requirements import missing, read_requirements

MARK = "LINKVIZ_SET_UP"
"""Environment variable that names the prefix of the interpreter that a set-up started."""


def clone() -> Path | None:
    """Return the folder of the clone this package lies in; None if the package was installed."""
    folder = Path(__file__).resolve().parents[2]
    return folder if (folder / "pyproject.toml").is_file() else None


def wants_window(arguments: list[str]) -> bool:
    """Tell whether a command line opens the window: no words at all, or a file rather than a command."""
    return not arguments or (not arguments[0].startswith("-") and arguments[0].lower().endswith((".toml", ".csv")))


def ready(module: str, arguments: list[str]) -> None:
    """Return if this interpreter has everything; otherwise set up, and go on in one that has.

    Parameters
    ----------
    module : str
        What was started: ``linkviz`` or ``tests``.
    arguments : list of str
        Its command line.

    Raises
    ------
    SetUpFailed
        If it cannot be set up.
    """
    folder = clone()
    if folder is None:
        return
    tests = module == "tests"
    parts = {"program": read_requirements(folder / "pyproject.toml")}
    if tests:
        parts["tests"] = read_requirements(folder / "pyproject.toml", "test")
    lacking = missing(parts["tests" if tests else "program"])
    if not lacking:
        return
    # what only a set-up needs is not loaded at every start
    from linkviz.bootstrap import packages, qt_libraries
    from linkviz.bootstrap.environment import environment_of

    environment = environment_of(folder)
    if os.environ.get(MARK) == sys.prefix:
        environment.forget()
        raise SetUpFailed(
            f"The environment {environment.folder} has lost some of its packages: {', '.join(lacking)}.\n"
            "Run the same command again; it makes the environment anew."
        )
    fits = environment.fits(parts)
    window = not tests and wants_window(arguments) and qt_libraries.has_screen()
    if tests or window or not fits:
        packages.provide(not fits, tests, window)
    if not fits:
        environment.set_up(parts)
    _go_on(environment.python, environment.folder, module, arguments, folder)


def _go_on(python: Path, prefix: Path, module: str, arguments: list[str], folder: Path) -> NoReturn:
    os.environ[MARK] = str(prefix)
    if Path.cwd() != folder:
        known = os.environ.get("PYTHONPATH")
        os.environ["PYTHONPATH"] = str(folder) + (os.pathsep + known if known else "")
    command = [str(python), "-m", module, *arguments]
    if os.name == "nt":
        import subprocess

        raise SystemExit(subprocess.run(command, check=False).returncode)
    os.execv(command[0], command)


def start(module: str, arguments: list[str]) -> int:
    """Do what `ready` does, and put failures in words.

    Returns
    -------
    int
        0 if this interpreter has everything; else the exit code.
    """
    try:
        ready(module, arguments)
    except SetUpFailed as failure:
        say(str(failure))
        return 1
    except (OSError, RuntimeError) as error:
        say(f"The set-up cannot go on: {error}.\nPut that right, then run the same command again.")
        return 1
    except KeyboardInterrupt:
        say("Stopped. The same command takes it up again.")
        return 130
    return 0
