"""The house: what may lie where, how long a file may be, and what must not be loaded at start."""

from __future__ import annotations

import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "linkviz", "tests", "demo_vehicles", "icons"}
LONGEST = 400
OWN_TESTS = {"tests/__main__.py", "tests/test_house.py", "tests/test_packaging.py"}
HEAVY = ("sympy", "scipy", "tomlkit", "PIL", "shapely", "ezdxf", "reportlab", "PySide6", "pyqtgraph")
HOST = re.compile(
    r"py" r"pi\.(org|io)|python" r"hosted\.|npm" r"js\.|crates\." r"io|proxy\.golang|deb\.debian|snapshot\.debian", re.I
)
TEXT = {".py", ".md", ".toml", ".svg", ".csv", ".txt", ".cfg", ".yml", ".yaml", ""}


def names(*words: str) -> list[str]:
    """Return the files that git lists."""
    git = ["git", "-c", f"safe.directory={ROOT}", "-C", str(ROOT), "ls-files", "-z"]
    done = subprocess.run([*git, *words], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.skip(f"only a clone can be looked at: {done.stderr.strip()}")
    return [name for name in done.stdout.split("\0") if name]


def kept() -> list[Path]:
    """Return the files of the project, and new ones among the code; a picture that somebody made here is theirs."""
    found = {*names("--cached"), *names("--others", "--exclude-standard", "--", "linkviz", "tests")}
    return [path for name in sorted(found) if (path := ROOT / name).is_file()]


def test_nothing_else_lies_at_the_top() -> None:
    top = {path.relative_to(ROOT).parts[0] for path in kept()}
    assert {name for name in top if not name.startswith(".")} <= TOP


def test_no_file_of_code_is_too_long() -> None:
    lengths = {
        str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines())
        for path in kept()
        if path.suffix == ".py" and path.is_relative_to(ROOT / "linkviz")
    }
    assert lengths
    assert {name: length for name, length in lengths.items() if length > LONGEST} == {}


def test_tests_lie_where_the_code_lies() -> None:
    strayed = []
    for path in kept():
        name = path.relative_to(ROOT).as_posix()
        folder = path.parent.relative_to(ROOT).as_posix()
        if not name.startswith("tests/") or not path.name.startswith("test_") or name in OWN_TESTS:
            continue
        if folder == "tests/external" or folder.startswith("tests/external/"):
            continue
        beside = ROOT / "linkviz" / path.parent.relative_to(ROOT / "tests")
        if not beside.is_dir() and not beside.with_suffix(".py").is_file():
            strayed.append(name)
    assert strayed == []


def test_no_package_source_is_named() -> None:
    found = []
    for path in kept():
        if path.suffix in TEXT:
            lines = path.read_text(encoding="utf-8").splitlines()
            found += [f"{path.relative_to(ROOT)}:{i}" for i, line in enumerate(lines, 1) if HOST.search(line)]
    assert found == []


@pytest.mark.parametrize("module", ["linkviz.commands", "linkviz.session.session"])
def test_heavy_packages_are_not_loaded_at_start(module: str) -> None:
    if importlib.util.find_spec(module) is None:
        pytest.skip(f"there is no {module}")
    code = f"import sys, {module}; print(*sorted(set({HEAVY!r}) & sys.modules.keys()))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []


def test_the_set_up_needs_nothing_but_python() -> None:
    code = (
        "import sys\n"
        "import linkviz.__main__, linkviz.bootstrap.start, linkviz.bootstrap.packages, linkviz.bootstrap.environment\n"
        "print(*sorted({name.partition('.')[0] for name in sys.modules} - sys.stdlib_module_names - {'linkviz'}))"
    )
    # isolated and without site: nothing that is installed can be seen
    done = subprocess.run(
        [sys.executable, "-S", "-c", code], cwd=ROOT, capture_output=True, text=True, check=False, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert set(done.stdout.split()) <= {"__main__", "_distutils_hack"}
