"""The Bracket page: the drawing at once, the design off the painting thread, goals that can be set."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from linkviz.analysis.bracket.catalogue import read_catalogue
from linkviz.analysis.bracket.design import design
from linkviz.analysis.bracket.table import BracketTable
from linkviz.analysis.limits import LinkLimits
from linkviz.analysis.setup import Setup
from linkviz.picture.shapes import Label
from linkviz.resources import demo_catalogue_path, demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.stock import Stock
from linkviz.vehicle.read import read_vehicle
from linkviz.window.lift_limits import keep_limits
from linkviz.window.pages import bracket_words as words
from linkviz.window.pages.bracket import BracketPage
from linkviz.window.window import MainWindow

MakeWindow = Callable[..., MainWindow]
VEHICLE = read_vehicle(demo_vehicle_paths()[0])


def open_page(
    qtbot: Any, make_window: MakeWindow, vehicle: Any = VEHICLE, **setup: float
) -> tuple[MainWindow, BracketPage]:
    window = make_window(document=Document(vehicle, Setup(**{"lift": 100.0, **setup})), page="bracket")
    page = window.side.page("bracket")
    assert isinstance(page, BracketPage)
    qtbot.waitUntil(lambda: page.design is not None and not page.working, timeout=30_000)
    return window, page


def row_of(page: BracketPage, key: str) -> int:
    return [goal.key for goal in page.design.goals].index(key)


def test_the_drawing_follows_the_drop_at_once(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=90.0)

    def written() -> set[str]:
        return {shape.text for shape in page.picture.sketch.drawings[0].shapes if isinstance(shape, Label)}

    assert "90 mm hole" in written()
    window.session.edit_setup("drop", drop=110.0)
    window.frame_now()
    assert "110 mm hole" in written()


def test_bounds_goals_and_checks_are_those_of_the_design(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, drop=98.0)
    own = design(VEHICLE, Setup(lift=100.0, drop=98.0))
    assert page.bounds.texts()[0].startswith(f"Shortest drop {own.drop_min:.0f} mm")
    assert page.bounds.texts()[1].startswith(f"Longest drop {own.drop_max:.0f} mm")
    shown = [page.goals.item(i, 1).text() for i in range(page.goals.rowCount())]
    assert shown == [
        f"{goal.setup.drop:.0f}" if goal.setup and goal.setup.drop else words.NOTHING for goal in own.goals
    ]
    assert page.checks.item(0, 1).text() == f"{100 * own.checks[0].utilisation:.0f} %"


def test_every_check_is_listed_when_asked_for_and_explains_itself(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, drop=98.0)
    few = page.checks.rowCount()
    page.all_checks.setChecked(True)
    assert page.checks.rowCount() == len(page.design.checks) + len(page.design.distances) > few
    page.checks.setCurrentCell(0, 0)
    worst = page.design.checks[0]
    for part in (worst.formula, worst.numbers, worst.source, worst.verdict):
        assert part in page.check_note.text()


def test_a_goal_is_set_and_taken_back(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window)
    row = row_of(page, "restore")
    page.goals.setCurrentCell(row, 0)
    page.set_button.click()
    assert window.session.document.setup.drop == pytest.approx(page.design.goals[row].setup.drop)
    assert window.session.undo_text == "set bracket: restore"
    window.session.undo()
    assert window.session.document.setup.drop == 0.0


def test_a_drop_outside_the_bounds_is_marked(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, drop=60.0)
    assert next(iter(words.bounds(page.design, "mm")))[1] == "hit"
    _, page = open_page(qtbot, make_window, drop=98.0)
    assert {sign for _, sign in words.bounds(page.design, "mm")} == {"ok"}


def test_what_was_not_measured_is_said(qtbot: Any, make_window: MakeWindow) -> None:
    bare = VEHICLE.replace(frame_bracket=None, bar_end=None, mass=None)
    _, page = open_page(qtbot, make_window, vehicle=bare, drop=98.0)
    assert any("[frame_bracket]" in text for text in page.missing.texts())
    assert not page.design.checks
    assert "not measured" in page.picture.sketch.accessibleDescription()


def test_it_goes_in_inches(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    window.session.set_view(unit="in")
    window.frame_now()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert page.goal_title.text().endswith("in")
    assert '"' in page.bounds.texts()[0]


def test_the_part_from_stock_is_used_and_taken_back(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window)
    best = page.answer.stock.best
    assert page.stock.texts()[0].startswith(f"From stock: {best.part.number}")
    page.use_button.click()
    document = window.session.document
    assert document.setup.drop == best.hole
    assert document.job.bracket.bracket() == best.part.bracket()
    window.frame_now()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert not page.design.proposed
    window.session.undo()
    assert window.session.document.job.bracket is None
    assert window.session.document.setup.drop == 0.0


def test_the_counter_page_proposes_the_part_and_the_hole(qtbot: Any, make_window: MakeWindow) -> None:
    window = make_window(document=Document(VEHICLE, Setup(lift=100.0)), page="counter")
    qtbot.waitUntil(lambda: window.live.slow_done, timeout=30_000)
    window.frame_now()
    said = [text for text in window.side.page("counter").sentences.texts() if text.startswith("From stock")]
    assert said[0].startswith("From stock: INV-101, short, two holes. The hole at 100 mm leaves the bar 0.")


def test_where_nothing_fits_it_says_why(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, lift=30.0)
    assert page.stock.texts()[0].startswith("From stock: nothing fits. The nearest, INV-101: No hole serves this lift")
    assert not page.use_button.isEnabled()


def test_a_shops_own_catalogue_is_taken_and_remembered(qtbot: Any, make_window: MakeWindow, tmp_path: Path) -> None:
    window, page = open_page(qtbot, make_window)
    own = tmp_path / "own.parts.toml"
    own.write_text('format = "linkviz-parts/1"\nname = "Own"\nbrackets = []\n', encoding="utf-8")
    window.session.choose_stock(str(own))
    window.frame_now()
    qtbot.waitUntil(lambda: page.stock_title.text() == "From stock: Own", timeout=30_000)
    assert Stock(window.session.store).path == own
    own.unlink()
    window.session.edit_setup("lift", lift=90.0)
    window.frame_now()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert "no file of this name" in page.stock.texts()[0]


def test_a_bracket_is_made_the_jobs_own_and_typed(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    page.own.button.click()
    window.frame_now()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert window.session.document.job.bracket.bracket() == page.design.bracket
    entry = page.own.form.entries["holes"][0]
    assert entry.text() == "98 mm"
    entry.setText("90, 4in")
    entry.setModified(True)
    entry.returnPressed.emit()
    assert window.session.document.job.bracket.holes == pytest.approx((90.0, 101.6))
    window.frame_now()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert page.bounds.texts()[0].startswith("The bracket has no hole at 98 mm, only at 90 mm, 102 mm")
    page.own.form.button.click()
    assert window.session.document.job.bracket is None


@pytest.mark.parametrize(("key", "text"), [("holes", "100, 90"), ("thickness", "900"), ("bolt", "M3 and a half")])
def test_a_bracket_that_makes_no_sense_is_refused_in_words(
    qtbot: Any, make_window: MakeWindow, key: str, text: str
) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    page.own.make_own()
    window.frame_now()
    before = window.session.document
    entry = page.own.form.entries[key][0]
    entry.setText(text)
    entry.setModified(True)
    entry.returnPressed.emit()
    window.frame_now()
    assert window.session.document is before
    assert "expected" in window.notice.text.text()


def own_two_holes(holes: tuple[float, ...] = (75.0, 100.0)) -> BracketTable:
    part = next(p for p in read_catalogue(demo_catalogue_path()).brackets if p.number == "INV-101").bracket()
    return BracketTable.of(part.with_holes(*holes))


def settle(qtbot: Any, window: MainWindow, page: BracketPage) -> None:
    window.frame_now()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)


def test_a_hole_is_clicked_or_chosen(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=90.0)
    picture = page.picture
    assert picture.combo.isHidden() and "in the hole, 90 mm" in picture.caption.text()
    window.session.edit_job("own", bracket=own_two_holes())
    window.frame_now()
    assert [picture.combo.itemText(i) for i in range(2)] == ["hole 1, 75 mm", "hole 2, 100 mm"]
    assert picture.combo.currentIndex() == -1 and "in no hole" in picture.caption.text()
    qtbot.mouseClick(picture.sketch, Qt.MouseButton.LeftButton, pos=picture.sketch.place_of(100.0).toPoint())
    window.frame_now()
    assert window.session.document.setup.drop == 100.0
    assert picture.caption.text() == "The bar hangs in hole 2, 100 mm below the original bolt."
    assert picture.combo.currentIndex() == 1
    qtbot.mouseClick(picture.sketch, Qt.MouseButton.LeftButton, pos=picture.sketch.place_of(20.0).toPoint())
    assert window.session.document.setup.drop == 100.0
    picture.combo.activated.emit(0)
    assert window.session.document.setup.drop == 75.0
    window.session.undo()
    assert window.session.document.setup.drop == 100.0


def test_a_joggle_is_said(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=135.0)
    part = next(p for p in read_catalogue(demo_catalogue_path()).brackets if p.joggle)
    window.session.edit_job("own", bracket=BracketTable.of(part.bracket()))
    window.frame_now()
    assert "stands 8 mm farther apart, bent by 40\N{DEGREE SIGN}" in page.picture.caption.text()
    assert page.picture.sketch.drawings[1].caption.endswith("joggle 8 mm at 40\N{DEGREE SIGN}")


def test_bounds_and_checks_follow_a_drag_in_the_same_frame(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    before = page.design
    window.session.edit_setup("drop", key="drag", drop=200.0)
    window.frame_now()
    assert page.design is before and page.working
    assert page.bounds.isEnabled() and page.strength.isEnabled() and page.checks.isEnabled()
    assert not page.goals.isEnabled() and not page.holes_button.isEnabled()
    exact = design(VEHICLE, Setup(lift=100.0, drop=200.0))
    shown = page.strength.texts()[0], page.checks.item(0, 1).text()
    assert shown == (next(iter(words.strength(exact)))[0], words.check_row(exact.checks[0])[1])
    assert next(iter(words.bounds(page.shown, "mm")))[1] == "ok"
    assert [sign for _, sign in words.bounds(page.shown, "mm")][1] == "hit"
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert page.goals.isEnabled() and page.shown is page.design is not before
    window.session.edit_setup("lift", lift=90.0)
    window.frame_now()
    assert not page.bounds.isEnabled(), "bounds of another lift are not known at once"


def test_the_proposed_holes_become_those_of_the_bracket(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    window.session.edit_job("own", bracket=own_two_holes())
    settle(qtbot, window, page)
    wanted = [hole.drop for hole in page.design.holes.holes]
    page.holes_button.click()
    assert window.session.document.job.bracket.holes == pytest.approx(wanted) and len(wanted) > 1
    assert window.session.document.job.bracket.steel == own_two_holes().steel
    window.session.undo()
    assert window.session.document.job.bracket.holes == (75.0, 100.0)


def test_the_anchor_distances_and_the_raise_are_shown(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    rows = page.design.anchors
    assert page.anchors.rowCount() == len(rows) > 3
    for i, row in enumerate(rows):
        assert page.anchors.item(i, 1).text() == f"{row.amplified:.2f}"
        assert ("no room" in page.anchors.item(i, 0).text()) is not row.allowed
    assert sum("as it is" in page.anchors.item(i, 0).text() for i in range(len(rows))) == 1
    restore, other = page.design.goal("restore"), page.design.goal("raise")
    assert f"{other.roll_centre - restore.roll_centre:.0f} mm higher" in page.raised.texts()[0]
    assert f"{100.0 * page.design.raised[0].utilisation:.0f} % of any allowable" in page.raised.texts()[1]
    window.session.edit_setup("raise", axle_raise=60.0, drop=50.0)
    settle(qtbot, window, page)
    assert len(page.raised.texts()) == 1 and "raising its end of the bar by 60 mm" in page.raised.texts()[0]
    window.session.edit_setup("raise", axle_raise=20.0)
    settle(qtbot, window, page)
    assert page.raised.texts()[0].endswith(
        "is not looked at: a drop bracket needs more than its anchor distance, 35 mm."
    )


def test_load_cases_and_rules_are_typed_and_kept_with_the_job(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    form, session = page.rules, window.session
    assert [form.cases.item(i, 0).text() for i in range(2)] == ["hard cornering, 1.0 g", "kerb strike, 2.0 g"]
    form.cases.item(1, 1).setText("3")
    settle(qtbot, window, page)
    assert session.document.job.load_cases[1].lateral_g == 3.0
    assert [case.lateral_g for case, _ in page.design.cases] == [1.0, 3.0]
    form.add_button.click()
    window.frame_now()
    form.add_button.click()
    window.frame_now()
    assert [case.name for case in session.document.job.load_cases[2:]] == ["another case", "another case, 2"]
    form.cases.setCurrentCell(0, 0)
    form.remove_button.click()
    window.frame_now()
    assert form.cases.rowCount() == 3 and "hard" not in form.cases.item(0, 0).text()
    entry = form.form.entries["highest_lift"][0]
    entry.setText("5in")
    entry.setModified(True)
    entry.returnPressed.emit()
    settle(qtbot, window, page)
    assert session.document.job.rules.highest_lift == pytest.approx(127.0)
    served = [lift for hole in page.design.holes.holes for lift in hole.serves]
    assert max([*served, *page.design.holes.unserved]) == pytest.approx(127.0)
    form.usual_button.click()
    assert session.document.job.load_cases == () and session.document.job.rules is None
    session.undo()
    assert session.document.job.rules is not None


@pytest.mark.parametrize(("cell", "text"), [((0, 1), "much"), ((0, 1), "50"), ((1, 0), "hard cornering, 1.0 g")])
def test_a_load_case_that_makes_no_sense_is_refused(
    qtbot: Any, make_window: MakeWindow, cell: tuple[int, int], text: str
) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    before, shown = window.session.document, page.rules.cases.item(*cell).text()
    page.rules.cases.item(*cell).setText(text)
    window.frame_now()
    assert window.session.document is before and page.rules.cases.item(*cell).text() == shown
    assert window.notice.text.text()


def test_the_shops_own_limits_of_links_bound_the_drop(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    before = {bound.key: bound.drop for bound in page.design.longest}
    keep_limits(window.session, LinkLimits(wheelbase_change=25.0))
    settle(qtbot, window, page)
    assert {bound.key: bound.drop for bound in page.design.longest}["links"] < before["links"] - 10.0


def test_what_no_hole_can_serve_is_said_in_the_unit_of_the_screen(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, drop=98.0)
    step = page.design.holes.step
    assert page.holes.texts()[-1].endswith(f"Holes stand at least {step:.1f} mm apart.")
    (*_, (inches, sign)) = words.holes(page.design, "in")
    assert inches.endswith('" apart.') and "mm" not in inches and sign == "warn"


def test_a_change_that_is_taken_back_at_once_leaves_the_page_as_it_was(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    window.session.edit_setup("drop", drop=105.0)
    window.frame_now()
    assert not page.goals.isEnabled()
    window.session.undo()
    window.frame_now()
    assert page.goals.isEnabled()
    assert page.design.setup.drop == 98.0


def test_the_own_form_is_filled_again_only_where_the_bracket_changed(
    qtbot: Any, make_window: MakeWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    page.own.make_own()
    window.frame_now()
    filled: list[object] = []
    fill = page.own.form.show_part
    monkeypatch.setattr(page.own.form, "show_part", lambda *given: (filled.append(given), fill(*given)))
    window.session.set_view(travel=10.0)
    window.frame_now()
    assert not filled
    window.session.edit_job("own", bracket=own_two_holes())
    window.frame_now()
    window.session.set_view(unit="in")
    window.frame_now()
    assert [given[1] for given in filled] == ["mm", "in"]
    assert page.own.form.entries["anchor"][0].text() == page.own.form.entries["anchor"][0]._shown


def test_a_goal_that_cannot_be_made_is_marked_with_a_sign_and_words(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, drop=98.0)
    found = page.design
    outside = 0
    for i, goal in enumerate(found.goals):
        drop = goal.setup.drop if goal.setup else 0.0
        item = page.goals.item(i, 0)
        bad = bool(drop) and not found.drop_min <= drop <= found.drop_max
        outside += bad
        assert item.icon().isNull() != bad, goal.label
        assert item.text() == (f"{goal.label}, too long" if bad else goal.label)
        assert (f"the longest drop is {found.drop_max:.0f} mm" in item.toolTip()) == bad
    assert outside
    page.goals.setCurrentCell(row_of(page, "level"), 0)
    assert "That is too long" in page.goal_note.text()


def test_a_drop_shorter_than_the_shortest_is_marked_too(qtbot: Any, make_window: MakeWindow) -> None:
    _, page = open_page(qtbot, make_window, drop=40.0)
    assert page.goals.item(row_of(page, "set"), 0).text() == "As set, too short"
    assert "the shortest drop is" in page.goals.item(row_of(page, "set"), 0).toolTip()


def test_the_own_form_speaks_to_people(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=98.0)
    page.own.make_own()
    window.frame_now()
    form = page.own.form
    said = [label.text() for label in form.findChildren(QLabel)]
    # no key of the file that says less than its words
    for key in ("End top", "Tube outer", "Fit", "Anchor", "Bolt", "Start", "Brace start"):
        assert key not in said
    assert form.entries["thickness"][0].accessibleName() == "Bracket, plate thickness"
    assert form.entries["mass"][0].placeholderText() == "not known, kg"
    assert form.inner["joggle"].entries["angle_deg"][0].placeholderText() == "45\N{DEGREE SIGN} if left empty"


def test_the_bar_is_drawn_as_it_hangs_at_rest(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window, drop=90.0)
    at_rest = page.picture.sketch.drawings
    window.session.set_view(travel=70.0)
    window.session.edit_setup("drop", drop=95.0)
    window.frame_now()
    assert page.picture.sketch.drawings != at_rest
    window.session.edit_setup("drop", drop=90.0)
    window.frame_now()
    assert page.picture.sketch.drawings == at_rest


def test_a_bracket_of_before_is_not_made_the_jobs_own(qtbot: Any, make_window: MakeWindow) -> None:
    window, page = open_page(qtbot, make_window)
    assert page.own.button.isEnabled()
    window.session.edit_setup("lift", lift=60.0)
    window.frame_now()
    assert not page.own.button.isEnabled()
    qtbot.waitUntil(lambda: not page.working, timeout=30_000)
    assert page.own.button.isEnabled()
    page.own.button.click()
    own = window.session.document.job.bracket
    assert own is not None and own == BracketTable.of(page.design.bracket)


def test_a_design_that_fails_is_said(qtbot: Any, make_window: MakeWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    window, page = open_page(qtbot, make_window)
    monkeypatch.setattr(page._work, "_work", lambda _: 1 / 0)
    window.session.edit_setup("lift", lift=60.0)
    window.frame_now()
    qtbot.waitUntil(lambda: "report is in the log" in page.goal_note.text())
    assert not page.goals.isEnabled()
