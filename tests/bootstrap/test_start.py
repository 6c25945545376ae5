"""A clone from nothing to running, with a package source that is a folder: no network, real environments."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from linkviz.bootstrap.environment import BUSY, STAMP
from linkviz.bootstrap.start import MARK, clone, start, wants_window

ROOT = Path(__file__).resolve().parents[2]


def put_wheel(folder: Path, version: str) -> None:
    """Write the wheel of a small package."""
    info = f"linkviz_trial-{version}.dist-info"
    with zipfile.ZipFile(folder / f"linkviz_trial-{version}-py3-none-any.whl", "w") as wheel:
        wheel.writestr("linkviz_trial.py", f"VERSION = {version!r}\n")
        wheel.writestr(f"{info}/METADATA", f"Metadata-Version: 2.1\nName: linkviz-trial\nVersion: {version}\n")
        wheel.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nGenerator: x\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{info}/RECORD", "")


class Clone:
    """A clone whose program prints the version of the one package that it needs."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "clone"
        self.wheels = folder / "wheels"
        self.wheels.mkdir()
        package = self.folder / "linkviz"
        shutil.copytree(ROOT / "linkviz" / "bootstrap", package / "bootstrap")
        for name in ("__init__.py", "__main__.py"):
            shutil.copy(ROOT / "linkviz" / name, package)
        (package / "commands.py").write_text(
            "import linkviz_trial\n\n\ndef main(words):\n    print(linkviz_trial.VERSION, words)\n    return 3\n",
            encoding="utf-8",
        )
        self.wants("linkviz-trial>=1")

    def wants(self, requirement: str) -> None:
        text = f'[project]\nname = "linkviz"\ndependencies = ["{requirement}"]\n'
        (self.folder / "pyproject.toml").write_text(text, encoding="utf-8")

    def begin(self, *words: str) -> subprocess.Popen[str]:
        environment = {key: value for key, value in os.environ.items() if not key.startswith(("PIP_", MARK))}
        environment |= {"PIP_NO_INDEX": "1", "PIP_FIND_LINKS": str(self.wheels), "PIP_CONFIG_FILE": os.devnull}
        return subprocess.Popen(
            [sys.executable, "-m", "linkviz", *words],
            cwd=self.folder,
            env=environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            stdin=subprocess.DEVNULL,
            text=True,
        )

    def run(self, *words: str) -> tuple[int, str, str]:
        with self.begin(*words) as process:
            out, err = process.communicate(timeout=100)
        assert "Traceback" not in err, err
        return process.returncode, out.strip(), err


@pytest.fixture
def fresh(tmp_path: Path) -> Clone:
    return Clone(tmp_path)


def test_the_way_of_a_clone(fresh: Clone) -> None:
    # a source without the package: told, nothing half-made is taken for whole
    code, out, err = fresh.run("check", "a b")
    assert (code, out) == (1, "")
    assert "pip could not install the packages" in err
    assert "run the same command again" in err
    assert (fresh.folder / ".venv" / BUSY).exists()

    # two runs at once on top of that: both come through, one set up
    put_wheel(fresh.wheels, "1.0")
    with fresh.begin("check", "a b") as one, fresh.begin() as other:
        first, second = one.communicate(timeout=100), other.communicate(timeout=100)
    assert (one.returncode, first[0].strip()) == (3, "1.0 ['check', 'a b']"), first
    assert (other.returncode, second[0].strip()) == (3, "1.0 []"), second
    assert (first[1] + second[1]).count("Set up.") == 1

    # set up: nothing is said, nothing is done
    stamp = (fresh.folder / ".venv" / STAMP).read_bytes()
    assert fresh.run() == (3, "1.0 []", "")

    # the project asks for more: brought up to date
    put_wheel(fresh.wheels, "2.0")
    fresh.wants("linkviz-trial>=2")
    code, out, err = fresh.run()
    assert (code, out) == (3, "2.0 []")
    assert "up to date" in err
    assert (fresh.folder / ".venv" / STAMP).read_bytes() != stamp

    # the package is gone from a stamped environment: told, and healed by the next run
    for found in (fresh.folder / ".venv").rglob("linkviz_trial*"):
        shutil.rmtree(found) if found.is_dir() else found.unlink()
    code, out, err = fresh.run()
    assert (code, out) == (1, "")
    assert "has lost some of its packages: linkviz-trial>=2" in err


def test_an_old_python_is_told_so() -> None:
    code = (
        "import sys, runpy\n"
        "sys.version_info = (3, 9, 1)\n"
        "sys.argv = ['linkviz']\n"
        f"sys.path.insert(0, {str(ROOT)!r})\n"
        "runpy.run_module({!r}, run_name='__main__')\n"
    )
    for module in ("linkviz", "tests"):
        done = subprocess.run(
            [sys.executable, "-c", code.format(module)], capture_output=True, text=True, check=False, timeout=60
        )
        assert done.returncode == 1
        assert "need" in done.stderr and "Python 3.11 or newer; this is 3.9" in done.stderr
        assert "Traceback" not in done.stderr


def test_an_interpreter_that_has_everything_goes_straight_on(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("it set up again")

    monkeypatch.setattr(os, "execv", never)
    monkeypatch.delenv(MARK, raising=False)
    assert clone() == ROOT
    assert start("tests", []) == 0


@pytest.mark.parametrize(
    ("words", "window"),
    [([], True), (["a.vehicle.toml"], True), (["check", "a.vehicle.toml"], False), (["--help"], False)],
)
def test_a_window_is_asked_for_by_no_command(words: list[str], window: bool) -> None:
    assert wants_window(words) is window


@pytest.mark.parametrize(
    "trouble", [PermissionError(13, "Permission denied", "/x/bin/python"), RuntimeError("Could not determine home")]
)
def test_what_the_system_refuses_is_said_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], trouble: Exception
) -> None:
    def refuse(*_: object) -> None:
        raise trouble

    monkeypatch.setattr("linkviz.bootstrap.start.missing", lambda _: ["linkviz-trial"])
    monkeypatch.setattr("linkviz.bootstrap.environment.environment_of", refuse)
    assert start("linkviz", []) == 1
    said = capsys.readouterr().err
    assert str(trouble) in said and "run the same command again" in said
