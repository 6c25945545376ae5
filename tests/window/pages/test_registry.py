"""The pages by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from linkviz.session.view import PAGES
from linkviz.window.pages.registry import ENTRIES
from linkviz.window.window import MainWindow


def test_every_page_of_the_view_has_an_entry_in_its_place() -> None:
    assert tuple(ENTRIES) == PAGES


def test_a_page_is_made_when_it_is_first_shown_and_kept(make_window: Callable[..., MainWindow]) -> None:
    window = make_window(page="counter")
    assert list(window.side._pages) == ["counter"]
    page = window.side.page("vehicle")
    assert window.side.page("vehicle") is page


def test_what_a_page_refuses_is_said_by_the_window(make_window: Callable[..., MainWindow]) -> None:
    window = make_window(page="vehicle")
    window.side.page("vehicle").refused.emit("Type a number.")
    window.frame_now()
    assert "Type a number." in window.notice.text.text()


def test_a_page_asks_for_a_deed_by_its_name(make_window: Callable[..., MainWindow]) -> None:
    window = make_window(page="clearance")
    window.side.page("clearance").asked.emit("draw")
    assert window.stage.drawing


@pytest.mark.parametrize("page", PAGES)
def test_looking_at_a_page_changes_nothing(qtbot: Any, make_window: Callable[..., MainWindow], page: str) -> None:
    window = make_window(page=page)
    before = window.session.document
    work = getattr(window.side.page(page), "_work", None)
    if work is not None:
        qtbot.waitUntil(lambda: not work.busy, timeout=30_000)
    window.frame_now()
    assert window.session.document is before
    assert not window.session.undo_text
