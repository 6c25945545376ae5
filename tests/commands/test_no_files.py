"""Files that are none of ours, and names that no file has, through the commands: refused in words, left as they are."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from linkviz.commands import main
from linkviz.resources import demo_vehicle_paths
from tests.hang import no_hang

SOUND = Path(demo_vehicle_paths()[0]).read_text(encoding="utf-8")


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """Return what a command says that refuses what it is given."""
    with no_hang():
        assert main(words) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.strip()
    assert "Traceback" not in said.err
    assert all(line.isprintable() for line in said.err.splitlines())
    assert len(said.err) < 200_000
    return said.err


STRANGE = {
    "zeros": b"\0" * 3_000_000,
    "large": b"# more\n" * 300_000,
    "utf16": SOUND.encode("utf-16"),
    "utf32": SOUND.encode("utf-32"),
    "bom": b"\xef\xbb\xbf",
    "latin": SOUND.replace("name = ", 'name = "\xfc" # ', 1).encode("latin-1"),
    "overlong": SOUND.replace("name = ", 'name = "', 1).encode() + b"\xc0\xaf",
    "surrogate": b'name = "\xed\xa0\x80"\n',
    "brackets": b"x = " + b"[" * 10_000 + b"]" * 10_000,
    "digits": b"x = " + b"9" * 5000,
    "dotted": b"x" + b".a" * 100_000 + b" = 1",
    "million": b"[measuring]\n" + b"a=1\n" * 200_000,
    "rows": b"x = [" + b"[1,2,3]," * 100_000 + b"]",
}


@pytest.mark.parametrize("command", ["check", "explain", "sheet", "sweep"])
def test_files_that_are_none_of_ours(tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str) -> None:
    for kind, data in STRANGE.items():
        path = tmp_path / (f"{kind}.csv" if command == "sheet" else f"{kind}.job.toml")
        path.write_bytes(data)
        assert str(path) in refused(capsys, command, str(path)), kind
        assert path.read_bytes() == data
    assert len(list(tmp_path.iterdir())) == len(STRANGE)


@pytest.mark.parametrize("command", ["check", "explain", "sheet", "sweep"])
def test_things_that_are_no_files(tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str) -> None:
    os.mkfifo(tmp_path / "pipe.vehicle.toml")
    (tmp_path / "folder.vehicle.toml").mkdir()
    (tmp_path / "round.vehicle.toml").symlink_to(tmp_path / "round.vehicle.toml")
    (tmp_path / "gone.vehicle.toml").symlink_to(tmp_path / "nowhere")
    (tmp_path / "device.vehicle.toml").symlink_to("/dev/zero")
    there = {p.name: stat.S_IFMT(p.lstat().st_mode) for p in tmp_path.iterdir()}
    for name in (
        *there,
        "a\0b",
        "n" * 5000,
        "\x1b[31m\u202e\x9b",
        "C:\\con",
        "\\\\server\\x",
        "con",
        "../../x",
        "\udcff",
    ):
        refused(capsys, command, str(tmp_path / name))
    assert {p.name: stat.S_IFMT(p.lstat().st_mode) for p in tmp_path.iterdir()} == there


PLACES = ["a\0b", "n" * 5000, "pipe", "folder", "no/such/folder"]


@pytest.mark.parametrize("place", PLACES, ids=[ascii(place)[:9] for place in PLACES])
@pytest.mark.parametrize("kind", ["png", "svg", "csv"])
def test_places_where_nothing_can_be_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], place: str, kind: str
) -> None:
    os.mkfifo(tmp_path / f"pipe.{kind}")
    (tmp_path / f"folder.{kind}").mkdir()
    there = {p.name: stat.S_IFMT(p.lstat().st_mode) for p in tmp_path.iterdir()}
    out, file = str(tmp_path / f"{place}.{kind}"), str(demo_vehicle_paths()[0])
    words = ["sweep", file, "--travel=0:10:5"] if kind == "csv" else ["picture", file]
    assert main([*words, "--out", out]) == 1
    assert "could not be saved" in capsys.readouterr().err
    assert {p.name: stat.S_IFMT(p.lstat().st_mode) for p in tmp_path.iterdir()} == there


def test_names_of_a_sound_file_are_no_orders_to_the_screen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "a\x1b]0;title\x07\x9b\u202e.vehicle.toml"
    path.write_text(SOUND, encoding="utf-8")
    assert main(["check", str(path)]) == 0
    said = capsys.readouterr().out
    assert "good" in said
    assert all(line.isprintable() for line in said.splitlines())


def test_a_name_that_is_no_text_is_told_on_a_real_screen(tmp_path: Path) -> None:
    path = os.fsencode(tmp_path) + b"/br\xfccke.vehicle.toml"
    Path(os.fsdecode(path)).write_text(SOUND, encoding="utf-8")
    for words, code in (([b"check", path], 0), ([b"check", path + b".gone"], 1), ([b"explain", path + b".gone"], 1)):
        command = [sys.executable.encode(), b"-m", b"linkviz", *words]
        done = subprocess.run(command, capture_output=True, env=os.environ | {"PYTHONUTF8": "1"}, check=False)
        assert done.returncode == code, done.stderr
        assert b"Traceback" not in done.stderr
        assert b"\\udcfc" in (done.stderr if code else done.stdout)
