from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog

from linkviz.window import graph_file
from linkviz.window.paths import MOST, beside, short_path
from linkviz.window.window import MainWindow


def test_a_path_loses_whole_folders_of_its_middle(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Path, "home", lambda: Path("/home/shop"))
    assert short_path("/home/shop/jobs") == "~/jobs"
    assert short_path("/home/shop") == "~"
    assert short_path("/srv/jobs/a.job.toml") == "/srv/jobs/a.job.toml"
    long = "/srv/work/jobs/2026/autumn/harbourwagonliftedfourinches/2026-014.job.toml"
    short = short_path(long)
    assert short == "/srv/.../2026-014.job.toml"
    assert short_path(long, 64) == "/srv/.../autumn/harbourwagonliftedfourinches/2026-014.job.toml"


@pytest.mark.parametrize("depth", range(12))
def test_it_is_cut_at_folders_only(depth: int) -> None:
    path = "/" + "/".join(f"folder{i}of{'x' * i}" for i in range(depth)) + "/2026-014.job.toml"
    short = short_path(path)
    assert len(short) <= MOST
    assert set(short.split("/")) <= {*path.split("/"), "..."}
    assert short.endswith("/2026-014.job.toml")


def test_dialogs_begin_beside_the_job(window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    began: list[Path] = []

    def ask(parent: object, title: str, start: str, *_: object) -> tuple[str, str]:
        began.append(Path(start).parent)
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    assert beside(window.session) == Path.home()
    window.session.save_as(str(tmp_path / "one.job.toml"))
    window.share.ask()
    graph_file.ask_graph(window)
    assert began == [tmp_path, tmp_path]
    assert beside(window.session, "/elsewhere") == Path("/elsewhere")
