from __future__ import annotations

import os
from pathlib import Path

import pytest

from linkviz.analysis.setup import Setup
from linkviz.book.model import Whole
from linkviz.book.thumbnail import thumbnail
from linkviz.book.write import write_job
from linkviz.errors import LinkvizError


def drawn(whole: Whole) -> bytes:
    return f"lift {whole.setup.lift}".encode()


def test_a_picture_is_made_once_and_again_when_the_job_changes(whole: Whole, tmp_path: Path) -> None:
    job, cache = tmp_path / "a.job.toml", tmp_path / "cache"
    write_job(whole, job)
    assert thumbnail(job, cache, drawn, "light") == b"lift 100.0"
    (kept,) = cache.iterdir()
    kept.write_bytes(b"kept")
    assert thumbnail(job, cache, drawn, "light") == b"kept"
    write_job(Whole(whole.job, Setup(lift=50.0), whole.vehicle), job)
    os.utime(job, (1.0, 1.0))
    assert thumbnail(job, cache, drawn, "light") == b"lift 50.0"
    assert len(list(cache.iterdir())) == 1
    thumbnail(job, cache, drawn, "dark")
    assert len(list(cache.iterdir())) == 2


def test_a_job_in_letters_of_another_system_has_a_picture(whole: Whole, tmp_path: Path) -> None:
    job = Path(os.fsdecode(os.fsencode(tmp_path) + b"/f\xfcr.job.toml"))
    write_job(whole, job)
    assert thumbnail(job, tmp_path / "cache", drawn, "light") == b"lift 100.0"
    assert len(list((tmp_path / "cache").iterdir())) == 1


def test_a_cache_that_takes_nothing_is_no_matter(whole: Whole, tmp_path: Path) -> None:
    write_job(whole, tmp_path / "a.job.toml")
    (tmp_path / "file").write_text("")
    assert thumbnail(tmp_path / "a.job.toml", tmp_path / "file", drawn, "light") == b"lift 100.0"


def test_a_job_that_cannot_be_read_has_no_picture(tmp_path: Path) -> None:
    (tmp_path / "a.job.toml").write_text("x")
    for name in ("a.job.toml", "none.job.toml"):
        with pytest.raises(LinkvizError):
            thumbnail(tmp_path / name, tmp_path / "cache", drawn, "light")
    assert not (tmp_path / "cache").exists()
