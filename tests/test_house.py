"""The rules of the house that no linter knows."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "linkviz", "tests", "demo_vehicles", "icons"}
LINES = 400
SLOW = ("sympy", "scipy", "tomlkit", "PIL", "shapely", "PySide6", "pyqtgraph", "contourpy", "mujoco")
NAMES_OF_FORMATS = ("http://www.w3.org/",)
"""Beginnings of addresses that name a format and are never visited."""


def tracked() -> list[Path]:
    """Return the files of the project: those that git knows, or all of a copy without git."""
    done = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode != 0:
        pytest.skip("this copy of the project is not a git clone")
    return [Path(name) for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


def test_only_the_agreed_entries_stand_at_the_top() -> None:
    strange = {path.parts[0] for path in tracked()} - TOP
    assert not {name for name in strange if not name.startswith(".")}


def test_files_are_short_enough_to_hold_in_mind() -> None:
    long = {
        str(path): lines
        for path in tracked()
        if path.parts[0] == "linkviz" and path.suffix == ".py"
        if (lines := len((ROOT / path).read_text(encoding="utf-8").splitlines())) > LINES
    }
    assert not long


@pytest.mark.parametrize("module", ["linkviz", "linkviz.commands", "linkviz.bootstrap.start"])
def test_start_imports_nothing_slow(module: str) -> None:
    code = f"import sys, {module}; print(*(name for name in {SLOW!r} if name in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


def test_the_set_up_uses_only_pythons_own_library() -> None:
    found = set()
    for path in [ROOT / "linkviz" / "__main__.py", *(ROOT / "linkviz" / "bootstrap").glob("*.py")]:
        text = path.read_text(encoding="utf-8")
        found |= set(re.findall(r"^\s*(?:from|import) (\w+)", text, flags=re.MULTILINE))
    assert found - {"linkviz"} <= sys.stdlib_module_names
    assert found & {"subprocess", "tomllib"}


def _mirrors(path: Path) -> bool:
    """Tell whether a test file has code on its path: a module of that name, or the one its name begins with."""
    folder = Path("linkviz", *path.parts[1:-1])
    stem = path.stem.removeprefix("test_")
    if (ROOT / folder).is_dir() and (stem == folder.name or stem.startswith(f"{folder.name}_")):
        return True
    words = stem.split("_")
    beginnings = ["_".join(words[: n + 1]) for n in range(len(words))]
    return any((ROOT / folder / f"{name}.py").is_file() or (ROOT / folder / name).is_dir() for name in beginnings)


def test_tests_mirror_the_code() -> None:
    tests = [path for path in tracked() if path.parts[0] == "tests" and path.name.startswith("test_")]
    assert Path("tests/vehicle/test_read.py") in tests
    free = {Path("tests/test_house.py")}
    assert not [str(path) for path in tests if path not in free and path.parts[1] != "external" and not _mirrors(path)]


def test_no_address_on_a_network_is_written_anywhere() -> None:
    registry = "py" + "pi"
    found = []
    for path in tracked():
        if path.suffix in {".png", ".gif", ".ttf", ".pdf"} or path == Path("tests/test_house.py"):
            continue
        for number, line in enumerate((ROOT / path).read_text(encoding="utf-8").splitlines(), start=1):
            for name in NAMES_OF_FORMATS:
                line = line.replace(name, "")
            if re.search(r"\b(?:https?|ftp|git|ssh)://", line) or registry in line.lower():
                found.append(f"{path}:{number}: {line.strip()[:100]}")
    assert not found


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None cannot be counted from Python 3.12 on")
def test_this_qt_does_not_lose_references_to_none(qapp: object) -> None:
    from PySide6.QtWidgets import QWidget

    widget = QWidget()
    before = sys.getrefcount(None)
    for _ in range(2000):
        widget.update()
    assert sys.getrefcount(None) > before - 200
