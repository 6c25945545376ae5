from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from linkviz.analysis.doubt.uncertainty import Uncertainty, run
from linkviz.analysis.setup import Setup
from linkviz.session import doubt
from linkviz.session.document import Document
from linkviz.session.view import View
from linkviz.window import doubts, keep
from linkviz.window.doubts import Doubts
from linkviz.window.pages.counter import SMALL
from linkviz.window.window import MainWindow


@pytest.fixture(autouse=True)
def few_trials(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doubt, "STAGES", (100, 120))


ANSWERS: dict[Setup, list[Uncertainty]] = {}
"""Answers of the stages by setup: the vehicle is the same in all of these tests."""


def answers_of(
    document: Document, report: Callable[[float], None], cancelled: Callable[[], bool]
) -> Iterator[Uncertainty]:
    """Yield the answers of the stages, worked out once for all tests."""
    if document.setup not in ANSWERS:
        ANSWERS[document.setup] = list(doubt.work_out(document, report, cancelled))
    yield from ANSWERS[document.setup]


@pytest.fixture
def sure(window: MainWindow, qtbot: Any, monkeypatch: pytest.MonkeyPatch) -> Iterator[MainWindow]:
    """Give a window whose measuring error has been worked out, all stages."""
    window.doubts.wait()
    monkeypatch.setattr(doubts, "work_out", answers_of)
    window.doubts = Doubts(window, still_ms=0)
    window.doubts.changed.connect(lambda: window._told("view"))
    window.frame_now()
    qtbot.waitUntil(lambda: not window.doubts.busy, timeout=90_000)
    window.frame_now()
    yield window
    window.doubts.wait()


def test_the_counter_says_how_far_each_figure_may_be_off(sure: MainWindow) -> None:
    page = sure.side.page("counter")
    gap = next(i for i in range(page.columns.rowCount()) if page.columns.item(i, 0).text() == "Tightest shaft gap")
    item = page.columns.item(gap, 2)
    assert item.data(SMALL).startswith("±")
    assert "95 of 100" in item.toolTip()
    texts = page.certainty.sentences.texts()
    assert any(text.startswith("Tightest shaft gap, lifted: 13 mm deep; 95 of 100") for text in texts)
    assert page.certainty.state.text() == "from 120 trials"
    assert page.certainty.bar.isHidden() and page.certainty.stop.isHidden()


def test_a_point_to_measure_again_is_picked_in_the_drawings(sure: MainWindow) -> None:
    table = sure.side.page("counter").certainty.table
    assert table.rowCount() >= 3
    shares = [int(table.item(i, 1).text().removesuffix(" %")) for i in range(table.rowCount())]
    assert shares == sorted(shares, reverse=True)
    table.setCurrentCell(0, 0)
    sure.frame_now()
    assert sure.session.view.point == "driveshaft.pinion_joint"
    assert sure.frame is not None and sure.frame.scene.point == "driveshaft.pinion_joint"


def test_an_old_answer_stays_and_is_said_to_be_old(sure: MainWindow) -> None:
    page = sure.side.page("counter")
    before = page.certainty.sentences.texts()
    sure.doubts._work._still_ms = 60000
    sure.session.edit_setup("bracket drop", drop=60.0)
    sure.frame_now()
    assert page.certainty.sentences.texts() == before
    assert page.certainty.state.text() == "before the last change"
    assert page.columns.item(1, 2).data(SMALL).startswith("(±")
    assert "Before the last change" in page.columns.item(1, 2).toolTip()


def test_it_can_be_turned_off_and_that_is_remembered(sure: MainWindow) -> None:
    page = sure.side.page("counter")
    assert sure.actions_by_name["doubt"].isChecked()
    page.certainty.switch.click()
    sure.frame_now()
    assert not sure.session.view.doubt and not sure.doubts.busy
    assert page.certainty.sentences.texts() == () and page.certainty.table.isHidden()
    assert not page.columns.item(1, 2).data(SMALL)
    assert not sure.actions_by_name["doubt"].isChecked()
    assert keep.view_values(keep.kept_layout(sure))["doubt"] is False
    assert View().doubt


def test_it_is_stopped_by_its_button(window: MainWindow, qtbot: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doubt, "STAGES", (100_000,))
    window.doubts.wait()
    window.doubts = Doubts(window, still_ms=0)
    window.doubts.changed.connect(lambda: window._told("view"))
    window.frame_now()
    page = window.side.page("counter")
    qtbot.waitUntil(lambda: page.certainty.stop.isVisibleTo(page), timeout=20000)
    page.certainty.stop.click()
    window.frame_now()
    assert not window.doubts.busy
    assert page.certainty.stop.isHidden()


@pytest.mark.parametrize("page", ["counter", "clearance"])
def test_progress_moves_the_bar_and_works_out_no_frame(
    window: MainWindow, page: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.session.set_view(page=page)
    window.frame_now()
    told: list[object] = []
    monkeypatch.setattr(window, "_told", told.append)
    window.doubts.progressed.emit(0.37)
    assert window.side.page(page).certainty.bar.value() == 37
    assert told == []


def test_the_clearance_page_tells_of_the_gap_alone(sure: MainWindow) -> None:
    sure.session.set_view(page="clearance")
    sure.frame_now()
    texts = sure.side.page("clearance").certainty.sentences.texts()
    assert texts[0].startswith("Tightest shaft gap")
    assert all("95 % confidence" in text for text in texts[1:])


def test_stages_report_their_share_of_all(window: MainWindow) -> None:
    document: Document = window.session.shown
    shares: list[float] = []
    answers = list(doubt.work_out(document, shares.append, lambda: False))
    assert [answer.trials for answer in answers] == [100, 120, 120]
    assert shares == sorted(shares) and shares[-1] == pytest.approx(1.0)
    assert answers[1].sure is None and answers[2].sure is not None
    whole = run(document.vehicle, document.setup, 120)
    assert whole is not None
    assert answers[-1].cases["lifted"].results["worst_gap"] == whole.cases["lifted"].results["worst_gap"]
    assert list(doubt.work_out(document, shares.append, lambda: True)) == []


def test_it_is_not_loaded_with_the_window() -> None:
    code = (
        "import sys, linkviz.window.main; print([m for m in sys.modules if m.startswith('linkviz.analysis.doubt.unc')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("deed", ["limits", "equations"])
def test_the_counter_leads_to_what_looks_closer(window: MainWindow, monkeypatch: pytest.MonkeyPatch, deed: str) -> None:
    asked: list[bool] = []
    action = window.actions_by_name[deed]
    action.triggered.disconnect()
    action.triggered.connect(lambda: asked.append(True))
    window.side.page("counter").closer[deed].click()
    assert len(asked) == 1


def test_it_begins_by_itself_once_the_document_is_still(window: MainWindow, qtbot: Any, monkeypatch: Any) -> None:
    monkeypatch.setattr(doubts, "work_out", answers_of)
    monkeypatch.setattr(doubts, "STILL_MS", 20)
    own = Doubts()
    assert own.ask(window.session.shown, True).found is None
    with qtbot.waitSignal(own.changed, timeout=20000):
        pass
    qtbot.waitUntil(lambda: own.ask(window.session.shown, True).found is not None, timeout=20000)
    assert not own.ask(window.session.shown, True).stale
    lower = window.session.shown.with_setup(drop=30.0)
    monkeypatch.setattr(own._work, "_still_ms", 3_600_000)
    assert own.ask(lower, True).stale
    own.wait()
