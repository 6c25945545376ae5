"""Deeds on whole envelopes, through the actions of the window; dialogs are answered as a person would."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import ezdxf
import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QDialog, QMessageBox

from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.envelope_text import parse_envelopes
from linkviz.vehicle.read import read_vehicle
from linkviz.window.import_outlines import ImportDialog, TakeDialog
from linkviz.window.window import MainWindow


@pytest.fixture
def picked(window: MainWindow) -> MainWindow:
    window.session.set_view(envelope=0, page="clearance")
    window.frame_now()
    return window


def do(window: MainWindow, name: str) -> Any:
    """Do a deed; return the envelopes after it."""
    window.actions_by_name[name].trigger()
    window.frame_now()
    return window.session.document.vehicle.envelopes


def answer(kind: type, how: Any) -> None:
    """Answer the next dialog of a kind as soon as it is there."""

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, kind):
            how(dialog)
        else:
            QTimer.singleShot(20, look)

    QTimer.singleShot(20, look)


def test_duplicate_and_mirror_are_steps_that_can_be_undone(picked: MainWindow) -> None:
    before = picked.session.document
    tank, copy = do(picked, "env_duplicate")
    assert copy.name == f"{tank.name} 2"
    assert picked.session.view.envelope == 1
    mirrored = do(picked, "env_mirror")[1]
    assert {y for y, _ in mirrored.rear} == {-y for y, _ in copy.rear}
    picked.session.undo()
    picked.session.undo()
    assert picked.session.document == before


def test_an_envelope_goes_through_the_clipboard_as_text(picked: MainWindow) -> None:
    tank = picked.session.document.vehicle.envelopes[0]
    do(picked, "env_copy")
    assert parse_envelopes(QApplication.clipboard().text()) == (tank,)
    pasted = do(picked, "env_paste")
    assert pasted[1].rear == tank.rear
    assert pasted[1].name != tank.name
    QApplication.clipboard().setText("a shopping list")
    assert do(picked, "env_paste") == pasted
    assert "no envelopes" in picked.notice.text.text()


def test_without_a_picked_envelope_it_is_said(window: MainWindow) -> None:
    window.session.set_view(envelope=-1)
    for name in ("env_duplicate", "env_mirror", "env_copy"):
        before = window.session.document
        do(window, name)
        assert window.session.document is before
        assert "Pick an envelope first" in window.notice.text.text()


def test_envelopes_of_another_vehicle_are_taken(window: MainWindow) -> None:
    path = demo_vehicle_paths()[1]
    other = read_vehicle(path).envelopes
    assert other
    before = len(window.session.document.vehicle.envelopes)
    answer(TakeDialog, lambda dialog: dialog.accept())
    window.envelopes.take_from(str(path))
    made = window.session.document.vehicle.envelopes[before:]
    assert [e.rear for e in made] == [e.rear for e in other]
    assert window.session.undo_text.startswith("take ")
    answer(TakeDialog, lambda dialog: dialog.reject())
    window.envelopes.take_from(str(path))
    assert len(window.session.document.vehicle.envelopes) == before + len(other)


@pytest.mark.parametrize("ending", [".dxf", ".csv"])
def test_outlines_are_exported_and_imported(picked: MainWindow, tmp_path: Path, ending: str) -> None:
    path = str(tmp_path / f"tank{ending}")
    tank = picked.session.document.vehicle.envelopes[0]
    picked.envelopes.export_to(path)
    assert "Saved" in picked.notice.text.text()
    picked.envelopes.import_from(path)
    back = picked.session.document.vehicle.envelopes[1]
    assert back.name == f"{tank.name} 2"
    for one, other in zip(back.rear + back.side, tank.rear + tank.side, strict=True):
        assert one == pytest.approx(other, abs=1e-6)


def test_a_drawing_without_unit_is_asked_about_and_its_outline_chosen(window: MainWindow, tmp_path: Path) -> None:
    drawing = ezdxf.new()
    drawing.header["$INSUNITS"] = 0
    drawing.modelspace().add_lwpolyline([(0, 10), (20, 10), (20, 18)], close=True)
    path = str(tmp_path / "sketch.dxf")
    drawing.saveas(path)

    def inches(box: QMessageBox) -> None:
        answer(ImportDialog, choose)
        next(button for button in box.buttons() if button.text() == "Inches").click()

    def choose(dialog: ImportDialog) -> None:
        dialog.rear.setCurrentIndex(0)
        dialog.side.setCurrentIndex(1)
        dialog.accept()

    answer(QMessageBox, inches)
    window.envelopes.import_from(path)
    made = window.session.document.vehicle.envelopes[-1]
    assert made.side[1] == pytest.approx((508.0, 254.0))
    assert made.name.startswith("fuel tank")
    assert window.session.undo_text == "import fuel tank"


def test_a_file_that_is_none_is_told_in_a_dialog(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "a.dxf"
    path.write_text("nothing")
    seen: list[str] = []

    def close(dialog: QDialog) -> None:
        seen.append(dialog.windowTitle())
        dialog.reject()

    answer(QDialog, close)
    before = window.session.document
    window.envelopes.import_from(str(path))
    assert seen == ["This file cannot be taken"]
    assert window.session.document is before


def test_the_page_offers_the_deeds(picked: MainWindow) -> None:
    page = picked.side.page("clearance")
    actions = {action.text().split("\t")[0]: action for action in page.more.menu().actions()}
    actions["D&uplicate envelope"].trigger()
    assert len(picked.session.document.vehicle.envelopes) == 2


def test_the_table_of_corners_and_the_drawing_pick_the_same_corner(picked: MainWindow) -> None:
    page = picked.side.page("clearance")
    picked.session.set_view(corner=("side", 2))
    picked.frame_now()
    assert page.outline_view == "side"
    assert page.corners.currentRow() == 2
    page.corners.setCurrentCell(1, 1)
    assert picked.session.view.corner == ("side", 1)
