"""What is handed on: a wheel and an sdist that hold the demos and the icons, and run in a clean environment.

Left out of the usual run, since it makes an environment: ``python3 -m tests -m soak tests/test_packaging.py``.
"""

from __future__ import annotations

import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
pytestmark = [pytest.mark.soak, pytest.mark.timeout(1200)]


def call(*words: str | Path, at: Path) -> str:
    """Run a command and return what it prints."""
    done = subprocess.run([str(word) for word in words], cwd=at, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the wheel and the sdist, built of what git lists."""
    out = tmp_path_factory.mktemp("dist")
    call(sys.executable, "-m", "venv", out / "builder", at=out)
    builder = out / "builder" / "bin" / "python"
    call(builder, "-m", "pip", "install", "-q", "build", at=out)
    call(builder, "-m", "build", "--outdir", out, ROOT, at=out)
    return out


def test_both_hold_the_demos_the_icons_and_the_licence(built: Path) -> None:
    with zipfile.ZipFile(next(built.glob("*.whl"))) as archive:
        wheel = archive.namelist()
    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        sdist = archive.getnames()
    demos = sorted(path.name for path in (ROOT / "demo_vehicles").iterdir())
    icons = sorted(path.name for path in (ROOT / "icons").iterdir())
    for names, start in ((wheel, "linkviz/_data/"), (sdist, "")):
        for folder, wanted in (("demo_vehicles", demos), ("icons", icons)):
            there = sorted(name.rsplit("/", 1)[-1] for name in names if f"{start}{folder}/" in name)
            assert there == wanted
    assert any(name.endswith("LICENSE") for name in wheel)
    assert any(name.endswith("share/applications/linkviz.desktop") for name in wheel)
    assert any(name.endswith("hicolor/scalable/apps/linkviz.svg") for name in wheel)


def test_the_wheel_runs_in_a_clean_environment(built: Path, tmp_path: Path) -> None:
    call(sys.executable, "-m", "venv", tmp_path / "clean", at=tmp_path)
    home = tmp_path / "clean" / "bin"
    call(home / "python", "-m", "pip", "install", "-q", next(built.glob("*.whl")), at=tmp_path)
    assert call(home / "linkviz", "--version", at=tmp_path).startswith("linkviz ")
    demo = next(tmp_path.glob("clean/lib/python*/site-packages/linkviz/_data/demo_vehicles/*.vehicle.toml"))
    assert "good" in call(home / "linkviz", "check", demo, at=tmp_path)
    picture = tmp_path / "axle.png"
    call(home / "linkviz", "picture", demo, "--lift", "4in", "--out", picture, at=tmp_path)
    assert picture.read_bytes().startswith(b"\x89PNG")
