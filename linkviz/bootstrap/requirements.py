"""What the program needs from others: read from pyproject.toml, looked for in this interpreter."""

from __future__ import annotations

import hashlib
import operator
import re
import sys
import tomllib
from collections.abc import Callable
from importlib import metadata
from pathlib import Path

_FORM = re.compile(r"^\s*([A-Za-z0-9._-]+)\s*(?:\[[^\]]*\])?\s*([^;]*?)\s*(?:;\s*(.*?))?\s*$")
_BOUND = re.compile(r"^\s*(>=|<=|==|!=|>|<)\s*'?\"?([0-9][0-9.]*)'?\"?\s*$")
_COMPARE: dict[str, Callable[[tuple[int, ...], tuple[int, ...]], bool]] = {
    ">=": operator.ge,
    "<=": operator.le,
    "==": operator.eq,
    "!=": operator.ne,
    ">": operator.gt,
    "<": operator.lt,
}


def read_requirements(pyproject: Path, extra: str = "") -> list[str]:
    """Return the requirements of the project, with those of one extra.

    Parameters
    ----------
    pyproject : pathlib.Path
        The project's pyproject.toml.
    extra : str
        Name of an extra; empty for none.
    """
    project = tomllib.loads(pyproject.read_text(encoding="utf-8"))["project"]
    wanted: list[str] = list(project["dependencies"])
    if extra:
        wanted += project["optional-dependencies"][extra]
    return wanted


def fingerprint(requirements: list[str]) -> str:
    """Return a short hash of requirements, the same for the same text in the same order."""
    return hashlib.sha256("\n".join(requirements).encode()).hexdigest()[:16]


def _numbers(version: str) -> tuple[int, ...]:
    """Return the release of a version as numbers, without trailing zeros: ``6.10.0rc1`` gives ``(6, 10)``."""
    match = re.match(r"[0-9]+(?:\.[0-9]+)*", version)
    parts = [int(part) for part in match.group().split(".")] if match else []
    while parts and parts[-1] == 0:
        parts.pop()
    return tuple(parts)


def _within(version: str, bounds: str) -> bool:
    """Tell whether a version satisfies bounds such as ``>=6.10,<6.12``."""
    for bound in filter(None, (part.strip() for part in bounds.split(","))):
        match = _BOUND.match(bound)
        if match is None:
            raise ValueError(f"the bound {bound!r} is in a form that the set-up does not read")
        if not _COMPARE[match.group(1)](_numbers(version), _numbers(match.group(2))):
            return False
    return True


def missing(requirements: list[str], version_of: Callable[[str], str] = metadata.version) -> list[str]:
    """Return the requirements that an interpreter does not satisfy.

    Parameters
    ----------
    requirements : list of str
        Names with bounds, and at most a marker on ``python_version``.
    version_of : callable
        Gives the version of an installed package or raises `importlib.metadata.PackageNotFoundError`.

    Raises
    ------
    ValueError
        If a requirement is written in a form that is not read here.
    """
    python = f"{sys.version_info.major}.{sys.version_info.minor}"
    found = []
    for requirement in requirements:
        match = _FORM.match(requirement)
        if match is None:
            raise ValueError(f"the requirement {requirement!r} is in a form that the set-up does not read")
        name, bounds, marker = match.groups()
        if marker and not _within(python, marker.removeprefix("python_version")):
            continue
        try:
            version = version_of(name)
        except metadata.PackageNotFoundError:
            found.append(requirement)
            continue
        # a broken installation can have a name and no version
        if not version or not _within(version, bounds):
            found.append(requirement)
    return found
