from __future__ import annotations

import os
from pathlib import Path

import pytest

from linkviz.book.model import Whole
from linkviz.book.thumbnail import thumbnail
from linkviz.book.write import write_job
from linkviz.errors import LinkvizError
from linkviz.job.setup import Setup


def test_a_picture_is_made_once_and_again_when_the_job_changes(whole: Whole, tmp_path: Path) -> None:
    job, cache = tmp_path / "a.job.toml", tmp_path / "cache"
    write_job(whole, job)
    first = thumbnail(job, cache)
    assert first.startswith("<?xml")
    (kept,) = cache.iterdir()
    kept.write_text("kept")
    assert thumbnail(job, cache) == "kept"
    write_job(Whole(whole.job, Setup(lift=50.0), whole.vehicle), job)
    os.utime(job, (1.0, 1.0))
    second = thumbnail(job, cache)
    assert second not in ("kept", first)
    assert len(list(cache.iterdir())) == 1
    assert thumbnail(job, cache, "dark") not in (first, second)


def test_a_job_that_cannot_be_read_has_no_picture(tmp_path: Path) -> None:
    (tmp_path / "a.job.toml").write_text("x")
    for name in ("a.job.toml", "none.job.toml"):
        with pytest.raises(LinkvizError):
            thumbnail(tmp_path / name, tmp_path / "cache")
    assert not (tmp_path / "cache").exists()
