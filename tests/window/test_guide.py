from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from linkviz.picture.measuring import measuring_views
from linkviz.picture.shapes import Arrow, Label
from linkviz.resources import demo_vehicle_paths
from linkviz.session.edits import point_of
from linkviz.units import format_length
from linkviz.vehicle.read import read_vehicle
from linkviz.window import guide, tour
from linkviz.window.guide import LEAVES, Guide
from linkviz.window.window import MainWindow


@pytest.mark.parametrize("path", demo_vehicle_paths(), ids=lambda path: path.name)
def test_the_lengths_in_a_picture_are_those_of_the_vehicle(path: Any) -> None:
    vehicle = read_vehicle(path)
    point = point_of(vehicle, "links.lower_left.frame")
    rear, side = measuring_views(vehicle, [("frame end", point)], "mm")
    texts = {s.text for d in (rear, side) for s in d.shapes if isinstance(s, Label)}
    assert texts == {"frame end", *(f"{k} {format_length(abs(v))}" for k, v in zip("xyz", point, strict=True))}
    tips = {s.tip for s in rear.shapes if isinstance(s, Arrow)}
    assert tips == {(-point[1], point[2])}
    assert {s.tip for s in side.shapes if isinstance(s, Arrow)} == {(point[0], point[2])}


def test_every_page_has_words_and_a_picture_that_fit(window: MainWindow, qtbot: Any) -> None:
    for theme in ("light", "dark"):
        dialog = Guide(theme, "in", window)
        dialog.show()
        seen = []
        for leaf in LEAVES:
            assert dialog.title.text() == leaf.title
            assert dialog.picture.shown
            assert dialog.text.height() >= dialog.text.heightForWidth(dialog.text.width())
            seen.append(dialog.picture.grab().toImage())
            qtbot.keyClick(dialog, Qt.Key.Key_Right)
        assert not dialog.next.isEnabled()
        assert seen[2] != seen[3] != seen[4]
        qtbot.keyClick(dialog, Qt.Key.Key_Left)
        assert dialog.at == len(LEAVES) - 2
        dialog.close()


def test_the_cautions_stand_where_they_belong() -> None:
    assert "stands first" in LEAVES[0].text
    assert "licensed mechanic" in " ".join(leaf.text for leaf in LEAVES)


def test_the_guide_is_in_the_help_menu(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[Guide] = []
    monkeypatch.setattr(guide.Guide, "exec", lambda dialog: shown.append(dialog) or 0)
    window.actions_by_name["guide"].trigger()
    assert len(shown) == 1


def test_the_tour_goes_from_part_to_part_and_is_remembered(window: MainWindow, qtbot: Any) -> None:
    assert not tour.toured(window)
    window.actions_by_name["tour"].trigger()
    (card,) = window.findChildren(tour.Tour)
    for i, (_, title, _) in enumerate(tour.CARDS):
        assert card.title.text() == title
        assert card.count.text() == f"{i + 1} of {len(tour.CARDS)}"
        over = card.geometry().intersected(
            window.stage.geometry().translated(window.stage.mapTo(window, window.stage.rect().topLeft()))
        )
        assert over.isEmpty()
        for label in card.findChildren(QLabel):
            if label.wordWrap():
                assert label.height() >= label.heightForWidth(label.width())
        qtbot.mouseClick(card.next, Qt.MouseButton.LeftButton)
    assert tour.toured(window)
    assert not card.isVisible()


def test_the_tour_is_left_at_once_and_hides_nothing_else(window: MainWindow, qtbot: Any) -> None:
    window.desk.tour()
    (card,) = window.findChildren(tour.Tour)
    # the window is worked as if it were not there
    window.session.edit_setup("bracket drop", drop=40.0)
    window.frame_now()
    assert window.controls.drop.box.text() == "40 mm"
    window.actions_by_name["counter"].trigger()
    window.frame_now()
    assert not card.isVisible()
    window.actions_by_name["counter"].trigger()
    window.frame_now()
    qtbot.waitUntil(card.isVisible)
    qtbot.mouseClick(card.skip, Qt.MouseButton.LeftButton)
    assert tour.toured(window)
