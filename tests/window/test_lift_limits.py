from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import Qt

from linkviz.analysis.limits import DEFAULTS, run_out
from linkviz.window.lift_limits import LiftLimits, kept_limits
from linkviz.window.window import MainWindow


@pytest.fixture
def dialog(window: MainWindow, qtbot: Any) -> Iterator[LiftLimits]:
    made = LiftLimits(window.session, window.colours, window)
    made.show()
    qtbot.waitUntil(lambda: made.chart.found is not None)
    yield made
    made.close()
    made.wait()


def test_it_says_which_lift_and_what_sets_it(window: MainWindow, dialog: LiftLimits) -> None:
    found = run_out(window.session.document.vehicle, DEFAULTS)
    assert dialog.sentences.texts()[0] == found.said("mm")
    assert dialog.chart.accessibleDescription() == found.said("mm")
    assert any("let the axle drop" in text for text in dialog.sentences.texts())


def test_limits_are_typed_and_remembered_as_the_shops_own(window: MainWindow, dialog: LiftLimits, qtbot: Any) -> None:
    before = window.session.document
    box = dialog.boxes["wheelbase_change"]
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, '1"')
    qtbot.keyClick(box, Qt.Key.Key_Return)
    assert dialog.isVisible() and dialog.limits.wheelbase_change == pytest.approx(25.4)
    limits = dialog.limits
    qtbot.waitUntil(lambda: dialog.chart.found is not None and dialog.chart.found.limits == limits)
    assert dialog.sentences.texts()[0] == run_out(before.vehicle, limits).said("mm")
    assert kept_limits(window.session) == limits
    assert window.session.document is before


def test_a_limit_that_makes_no_sense_is_refused_in_words(dialog: LiftLimits, qtbot: Any) -> None:
    box = dialog.boxes["link_angle_deg"]
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, "95")
    qtbot.keyClick(box, Qt.Key.Key_Return)
    assert "outside" in dialog.refusal.text()
    assert dialog.limits == DEFAULTS


def test_remembered_limits_that_make_no_sense_are_left_aside(window: MainWindow) -> None:
    window.session.store.keep_limits({"link_angle_deg": -4.0, "pinion_change_deg": 5.0})
    assert kept_limits(window.session).link_angle_deg == DEFAULTS.link_angle_deg
    assert kept_limits(window.session).pinion_change_deg == 5.0


def test_it_follows_the_session(window: MainWindow, dialog: LiftLimits, qtbot: Any) -> None:
    window.session.edit_setup("ride height", lift=190.0)
    qtbot.waitUntil(lambda: dialog.chart.lift == 190.0)
    assert any("beyond that" in text for text in dialog.sentences.texts())


@pytest.mark.parametrize("size", [(760, 520), (1000, 700)])
def test_curves_limits_and_lifts_lie_in_the_picture(dialog: LiftLimits, size: tuple[int, int]) -> None:
    dialog.resize(*size)
    assert dialog.grab().toImage().width() >= size[0]
    found = dialog.chart.found
    assert found is not None
    for strip, key in enumerate(("link_angle", "pinion_change", "wheelbase_change")):
        crossing = next(c for c in found.crossings if c.key == key)
        limit = crossing.limit if key == "wheelbase_change" else getattr(found.limits, f"{key}_deg")
        sign = 1.0 if key == "link_angle" else -1.0
        at = dialog.chart.place(strip, crossing.lift, sign * limit)
        assert dialog.chart.rect().contains(at.toPoint())


def test_the_menu_opens_it(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[LiftLimits] = []
    monkeypatch.setattr(LiftLimits, "exec", lambda self: opened.append(self))
    window.actions_by_name["limits"].trigger()
    assert len(opened) == 1


def test_the_heading_answers_the_question(window: MainWindow, dialog: LiftLimits, qtbot: Any) -> None:
    qtbot.waitUntil(lambda: dialog.chart.found is not None)
    first = dialog.chart.found.first
    assert dialog.heading.text() == f"{window.session.document.vehicle.name}: up to {first.lift:.0f} mm"
    dialog.boxes["link_angle_deg"].entered.emit(5.0)
    qtbot.waitUntil(lambda: dialog.heading.text().endswith("not within these limits"))


def test_what_fails_is_said(dialog: LiftLimits, qtbot: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dialog.work, "_work", lambda _: 1 / 0)
    dialog._set("link_angle_deg", 20.0)
    qtbot.waitUntil(lambda: "report is in the log" in dialog.heading.text())
