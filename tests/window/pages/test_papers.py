"""The Papers page: what is seen, what is written, and that nothing is written over unasked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QFileDialog

from linkviz.analysis.setup import Setup
from linkviz.book.model import Job
from linkviz.papers.registry import NAMES, PAPERS
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.vehicle.read import read_vehicle
from linkviz.window import dialogs
from linkviz.window.pages.papers import UNCHECKED, PapersPage
from linkviz.window.window import MainWindow

MakeWindow = Callable[..., MainWindow]


def document(drop: float = 98.0, **changes: Any) -> Document:
    return Document(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0, drop=drop), **changes)


def page_of(qtbot: Any, window: MainWindow) -> PapersPage:
    page = window.side.page("papers")
    assert isinstance(page, PapersPage)
    qtbot.waitUntil(lambda: page.seen is not None and not page._work.busy, timeout=20_000)
    return page


def test_every_paper_is_listed_and_ticked(qtbot: Any, make_window: MakeWindow) -> None:
    page = page_of(qtbot, make_window(document=document(), page="papers"))
    assert page.list.count() == len(PAPERS)
    assert page.ticked() == PAPERS


def test_the_picked_paper_is_seen_and_its_pages_are_turned(qtbot: Any, make_window: MakeWindow) -> None:
    window = make_window(document=document(), page="papers")
    page = page_of(qtbot, window)
    assert page.place.text().startswith("Shop drawing, page 1 of")
    assert page.preview.page is page.seen.sheets[0]
    page.on.click()
    assert page.preview.page is page.seen.sheets[1]
    assert page.back.isEnabled()
    page.list.setCurrentRow(NAMES.index("customer"))
    qtbot.waitUntil(lambda: page.place.text() == "Customer sheet, page 1 of 1", timeout=20_000)
    assert not page.on.isEnabled()


def test_without_parts_it_says_what_is_not_made_and_why(qtbot: Any, make_window: MakeWindow) -> None:
    page = page_of(qtbot, make_window(document=document(drop=0.0), page="papers"))
    assert page.preview.page is None
    assert "nothing is made" in page.preview.words


def test_ticked_papers_are_written_and_said(
    qtbot: Any, make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = make_window(document=document(), page="papers")
    page = page_of(qtbot, window)
    page.list.item(NAMES.index("cut")).setCheckState(UNCHECKED)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(tmp_path / "out"))
    page.write_button.click()
    names = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert names == sorted(f"{paper.stem}.pdf" for paper in PAPERS if paper.pages)
    window.frame_now()
    assert f"Wrote {len(names)} files" in window.notice.text.text()


@pytest.mark.parametrize("answer", ["over", "stay"])
def test_what_is_there_is_written_over_only_when_that_is_said(
    qtbot: Any, make_window: MakeWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, answer: str
) -> None:
    page = page_of(qtbot, make_window(document=document(), page="papers"))
    paper = PAPERS[NAMES.index("packing")]
    there = tmp_path / f"{paper.stem}.pdf"
    there.write_text("mine", encoding="utf-8")
    asked = []
    monkeypatch.setattr(dialogs, "ask_overwrite", lambda _, folder, names: asked.append(names) or answer)
    page.write((paper,), tmp_path)
    assert asked == [[there.name]]
    assert (there.read_bytes()[:4] == b"%PDF") == (answer == "over")


def test_a_job_remembers_what_was_printed_and_undo_forgets_it(
    qtbot: Any, make_window: MakeWindow, tmp_path: Path
) -> None:
    window = make_window(document=document(job=Job(number="J-7")), page="papers")
    page = page_of(qtbot, window)
    page.write((PAPERS[NAMES.index("packing")],), tmp_path)
    assert (tmp_path / "j-7-packing-list.pdf").exists()
    assert [p.papers for p in window.session.document.job.printed] == [("Packing list",)]
    window.session.undo()
    assert window.session.document.job.printed == ()


def test_a_folder_that_cannot_be_made_is_said(qtbot: Any, make_window: MakeWindow, tmp_path: Path) -> None:
    window = make_window(document=document(), page="papers")
    page = page_of(qtbot, window)
    (tmp_path / "file").write_text("", encoding="utf-8")
    page.write((PAPERS[NAMES.index("packing")],), tmp_path / "file" / "folder")
    window.frame_now()
    assert "folder you may write to" in window.notice.text.text()


def test_nothing_ticked_is_said(qtbot: Any, make_window: MakeWindow) -> None:
    window = make_window(document=document(), page="papers")
    page = page_of(qtbot, window)
    for i in range(page.list.count()):
        page.list.item(i).setCheckState(UNCHECKED)
    page.write_button.click()
    window.frame_now()
    assert "Tick those to write" in window.notice.text.text()


def test_going_to_another_paper_and_straight_back_shows_the_first_again(qtbot: Any, make_window: MakeWindow) -> None:
    page = page_of(qtbot, make_window(document=document(), page="papers"))
    words = page.place.text()
    row = page.list.currentRow()
    page.list.setCurrentRow(row + 1)
    assert page.place.text() == "making it ..."
    page.list.setCurrentRow(row)
    assert page.place.text() == words


def test_while_another_paper_is_made_the_one_before_is_not_turned_under_its_name(
    qtbot: Any, make_window: MakeWindow
) -> None:
    page = page_of(qtbot, make_window(document=document(), page="papers"))
    before = page.preview.words
    assert page.on.isEnabled()
    page.list.setCurrentRow(NAMES.index("customer"))
    assert page.preview.words == before
    assert not page.on.isEnabled() and not page.back.isEnabled()


def test_a_paper_that_fails_is_said(qtbot: Any, make_window: MakeWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    page = page_of(qtbot, make_window(document=document(), page="papers"))
    monkeypatch.setattr(page._work, "_work", lambda _: 1 / 0)
    page.list.setCurrentRow(NAMES.index("customer"))
    qtbot.waitUntil(lambda: page.place.text() == "Customer sheet")
    assert "report is in the log" in page.preview.words
