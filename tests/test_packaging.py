"""What is handed on: wheel, sdist, and a folder that runs without Python, made by the lines of ``DEVELOPERS.md``.

The first two hold the demos and the icons; all of them are run.

Left out of the usual run, since it makes an environment: ``python3 -m tests -m soak tests/test_packaging.py``.
"""

from __future__ import annotations

import io
import os
import pickle
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from linkviz.analysis.doubt.apart import WORD
from linkviz.analysis.doubt.uncertainty import Uncertainty
from linkviz.analysis.setup import Setup
from linkviz.resources import LIBRARIES, demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle

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


@pytest.fixture(scope="module")
def folder(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder that runs without Python."""
    at = tmp_path_factory.mktemp("folder")
    for name in ("build", "dist"):
        (at / name).mkdir()
    shutil.copy(next(built.glob("*.whl")), at / "dist")
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    lines = re.search(r"^    python3 -m venv build/venv.*?(?=\n\n)", text, re.MULTILINE | re.DOTALL)
    assert lines is not None
    environment = {**os.environ, "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(
        ["bash", "-ec", lines[0]], cwd=at, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.strip().endswith(call(at / "dist" / "linkviz" / "linkviz", "--version", at=at).strip())
    return at / "dist" / "linkviz"


def test_the_folder_does_what_the_program_does(folder: Path, tmp_path: Path) -> None:
    demo, program = demo_vehicle_paths()[0], folder / "linkviz"
    there = call(program, "explain", demo, "--lift=100", "--drop=90", at=tmp_path)
    assert there == call(sys.executable, "-m", "linkviz", "explain", demo, "--lift=100", "--drop=90", at=ROOT)
    for name in ("a.png", "a.svg", "a.gif"):
        call(program, "picture", demo, "--lift=100", f"--out={name}", "--size=320x200", at=tmp_path)
        assert (tmp_path / name).stat().st_size > 1000
    papers = call(program, "papers", demo, "--lift=100", "--drop=98", "--out=papers", at=tmp_path)
    assert papers.count("wrote ") == 6


def test_the_folder_has_the_licences_of_all_libraries(folder: Path) -> None:
    there = {
        path.name.removesuffix(".dist-info").rpartition("-")[0].replace("_", "-").lower()
        for path in folder.rglob("*.dist-info")
    }
    assert {name.lower().replace("_", "-") for name in LIBRARIES} <= there
    assert list(folder.rglob("linkviz/LICENSE"))


def test_the_folder_works_out_the_measuring_error_apart(folder: Path) -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    asked = pickle.dumps((vehicle, Setup(lift=100.0), (300,)))
    done = subprocess.run([str(folder / "linkviz"), WORD], input=asked, capture_output=True, check=True)
    stream = io.BytesIO(done.stdout)
    said = list(iter(lambda: pickle.load(stream), None))
    assert any(isinstance(one, float) for one in said)
    assert isinstance(said[-1], Uncertainty)
    assert said[-1].sure is not None


def test_the_window_of_the_folder_stays_open(folder: Path, tmp_path: Path) -> None:
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path), "XDG_STATE_HOME": str(tmp_path)}
    words = [str(folder / "linkviz"), str(demo_vehicle_paths()[0])]
    with subprocess.Popen(words, env=environment, stderr=subprocess.PIPE, text=True) as window:
        with pytest.raises(subprocess.TimeoutExpired):
            window.wait(20.0)
        window.terminate()
        said = window.communicate()[1]
    assert "Traceback" not in said and "Error" not in said
    assert not [path for path in tmp_path.rglob("*.log") if path.stat().st_size]
