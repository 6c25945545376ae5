from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.errors import LinkvizError
from linkviz.papers import files
from linkviz.papers.files import AlreadyThere, write_papers
from linkviz.papers.registry import papers_of
from tests.papers.orders import order_of

TWO = papers_of(("cut", "packing"))


def test_papers_are_written_under_the_name_of_the_job(tmp_path: Path) -> None:
    told: list[str] = []
    out = tmp_path / "new" / "folder"

    def progress(title: str) -> bool:
        told.append(title)
        return True

    written = write_papers(order_of(), TWO, out, progress=progress)
    names = ["2026-114-cut-side-plate.dxf", "2026-114-cut-valve-plate.dxf", "2026-114-packing-list.pdf"]
    assert [path.name for path in written] == names
    assert sorted(path.name for path in out.iterdir()) == names
    assert told == ["Cutting files", "Packing list", ""]
    assert written[2].read_bytes().startswith(b"%PDF-")


def test_what_is_there_is_left_alone_unless_asked_for(tmp_path: Path) -> None:
    mine = tmp_path / "2026-114-packing-list.pdf"
    mine.write_bytes(b"mine")
    with pytest.raises(AlreadyThere, match=r"packing-list.pdf is there already, and nothing was written") as caught:
        write_papers(order_of(), TWO, tmp_path)
    assert caught.value.paths == (mine,)
    assert [path.name for path in tmp_path.iterdir()] == [mine.name]
    assert mine.read_bytes() == b"mine"
    write_papers(order_of(), TWO, tmp_path, overwrite=True)
    assert mine.read_bytes().startswith(b"%PDF-")
    with pytest.raises(AlreadyThere, match=r"side-plate.dxf, .*packing-list.pdf are there already"):
        write_papers(order_of(), TWO, tmp_path)


@pytest.mark.parametrize("stop", ["Packing list", ""])
def test_stopped_before_the_end_nothing_is_written(tmp_path: Path, stop: str) -> None:
    assert write_papers(order_of(), TWO, tmp_path / "out", progress=lambda title: title != stop) == ()
    assert not (tmp_path / "out").exists()


def test_a_paper_that_fails_leaves_nothing_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise LinkvizError("no room on the disk")

    monkeypatch.setattr(files, "save_bytes", fail)
    with pytest.raises(LinkvizError, match="no room"):
        write_papers(order_of(), TWO, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(LinkvizError, match="Choose a folder"):
        write_papers(order_of(), TWO, tmp_path / "file" / "out")


def test_there_is_no_paper_of_another_name() -> None:
    with pytest.raises(LinkvizError, match="Choose from template, cut"):
        papers_of(("poster",))
    assert len(papers_of()) == 6
    assert [paper.name for paper in papers_of(("packing", "cut"))] == ["cut", "packing"]
