"""Drawing with typed values, snaps and keys alone; what is refused is refused while it is drawn."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QMouseEvent

from linkviz.picture.scene import to_view
from linkviz.session.edits import ViewName
from linkviz.session.kinds import KINDS
from linkviz.window.window import MainWindow

NONE = Qt.KeyboardModifier.NoModifier
CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def near(make_window: Any) -> MainWindow:
    """Give a window that looks closely, with nothing drawn on the vehicle."""
    window = make_window((1280, 900))
    vehicle = window.session.document.vehicle
    window.session.edit_vehicle(vehicle.replace(envelopes=()), "clear the stage")
    camera = window.stage.camera
    camera.scale, camera.v, camera.fitted = 0.8, 500.0, False
    camera.u = {"rear": 0.0, "side": 600.0}
    window.frame_now()
    return window


def at(window: MainWindow, view: ViewName, corner: tuple[float, float]) -> QPoint:
    return window.stage.panes[view].place(to_view(view, corner, window.session.shown.setup.lift)).toPoint()


def hover(
    window: MainWindow, view: ViewName, corner: tuple[float, float], keys: Any = NONE, held: bool = False
) -> None:
    pane, place = window.stage.panes[view], QPointF(at(window, view, corner))
    button = LEFT if held else Qt.MouseButton.NoButton
    event = QMouseEvent(QEvent.Type.MouseMove, place, pane.mapToGlobal(place), Qt.MouseButton.NoButton, button, keys)
    pane.mouseMoveEvent(event)


def click(window: MainWindow, qtbot: Any, view: ViewName, corner: tuple[float, float], keys: Any = NONE) -> None:
    hover(window, view, corner, keys)
    qtbot.mouseClick(window.stage.panes[view], LEFT, keys, at(window, view, corner))


def begin(window: MainWindow) -> Any:
    window.actions_by_name["draw"].trigger()
    window.frame_now()
    return window.stage.bar


def red(window: MainWindow, view: ViewName) -> int:
    """Return how many pixels of a pane have the colour of danger."""
    pane = window.stage.panes[view]
    image = QImage(pane.size(), QImage.Format.Format_RGB32)
    pane.render(image)
    wanted = pane.colours.danger
    return sum(
        image.pixelColor(x, y).name() == wanted for x in range(0, image.width(), 2) for y in range(image.height())
    )


def test_digits_in_the_drawing_begin_a_typed_corner(near: MainWindow, qtbot: Any) -> None:
    window, bar = near, begin(near)
    pane = window.stage.rear
    pane.setFocus()
    qtbot.keyClicks(pane, "1")
    assert window.focusWidget() is bar.boxes[0]
    qtbot.keyClicks(bar.boxes[0], "00.5")
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Return)
    qtbot.keyClicks(bar.boxes[1], "300")
    qtbot.keyClick(bar.boxes[1], Qt.Key.Key_Return)
    assert window.stage.pencil.corners == ((100.5, 300.0),)
    assert [label.text() for label in bar.names] == ["dy", "dz"]
    qtbot.keyClicks(bar.boxes[0], "-200")
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Return)
    assert window.stage.pencil.corners[-1] == (-99.5, 300.0)
    bar.way.setCurrentIndex(1)
    bar.show_pencil()
    qtbot.keyClicks(bar.boxes[0], "6 in")
    qtbot.keyClicks(bar.boxes[1], "90")
    qtbot.keyClick(bar.boxes[1], Qt.Key.Key_Return)
    assert window.stage.pencil.corners[-1] == pytest.approx((-99.5, 452.4))
    # Enter with nothing typed closes, and again takes a plain block
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Return)
    assert window.stage.pencil.first is not None
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Return)
    assert not window.stage.drawing
    assert not bar.isVisible()
    assert window.session.document.vehicle.envelopes[0].rear[1] == (-99.5, 300.0)


def test_what_is_typed_wrong_stays_to_be_corrected(near: MainWindow, qtbot: Any) -> None:
    window, bar = near, begin(near)
    window.stage.pencil.put("rear", (0.0, 300.0))
    qtbot.keyClicks(bar.boxes[0], "tall")
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Return)
    assert "not a length" in window.notice.text.text()
    assert bar.boxes[0].text() == "tall"
    assert window.stage.pencil.corners == ((0.0, 300.0),)
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Escape)
    assert bar.boxes[0].text() == ""
    qtbot.keyClick(bar.boxes[0], Qt.Key.Key_Escape)
    assert window.stage.pencil.corners == ()


def test_the_kind_gives_name_and_margin(near: MainWindow, qtbot: Any) -> None:
    window, bar = near, begin(near)
    exhaust = [kind.name for kind in KINDS].index("exhaust")
    bar.kinds.setCurrentIndex(exhaust)
    bar.kinds.activated.emit(exhaust)
    for corner in ((0.0, 300.0), (100.0, 300.0), (100.0, 400.0)):
        window.stage.pencil.put("rear", corner)
    window.stage.pencil.close()
    window.stage.pencil.close()
    made = window.session.document.vehicle.envelopes[0]
    assert (made.name, made.margin) == ("exhaust", KINDS[exhaust].margin)


def test_corners_snap_in_line_onto_others_and_are_free_with_ctrl(near: MainWindow, qtbot: Any) -> None:
    window = near
    begin(window)
    pencil = window.stage.pencil
    click(window, qtbot, "rear", (101.0, 299.0))
    click(window, qtbot, "rear", (-150.0, 303.0))
    assert pencil.corners == ((100.0, 300.0), (-150.0, 300.0))
    hover(window, "rear", (-147.0, 420.0))
    assert pencil.pen.words == "upright"
    assert pencil.pen.corner[0] == -150.0
    hover(window, "rear", (-143.0, 421.0), CTRL)
    assert pencil.pen.corner == pytest.approx((-143.0, 421.0), abs=1.3)
    assert pencil.pen.corner[0] % 5.0 != 0.0
    hover(window, "rear", (-120.0, 421.0), SHIFT)
    assert pencil.pen.corner == (-150.0, 420.0)
    click(window, qtbot, "rear", (-150.0, 420.0))
    pencil.close()
    pencil.close()
    # a second one beside it takes its corner, whatever the grid
    window.session.set_view(grid=4)
    window.frame_now()
    begin(window)
    click(window, qtbot, "rear", (-146.0, 424.0))
    assert pencil.corners == ((-150.0, 420.0),)


def test_a_crossing_edge_is_hatched_and_named_while_the_mouse_is_there(near: MainWindow, qtbot: Any) -> None:
    window = near
    begin(window)
    pencil = window.stage.pencil
    for corner in ((100.0, 300.0), (300.0, 450.0), (300.0, 300.0)):
        pencil.put("rear", corner)
    hover(window, "rear", (150.0, 460.0))
    window.frame_now()
    assert pencil.fault.short == "edges 1 and 3 cross"
    assert "cross" in window.notice.text.text()
    assert red(window, "rear") > 300
    click(window, qtbot, "rear", (150.0, 460.0))
    assert len(pencil.corners) == 3
    hover(window, "rear", (330.0, 280.0))
    window.frame_now()
    assert pencil.fault is None
    assert "cross" not in pencil.sketch.words + window.notice.text.text()


def test_too_few_corners_and_no_area_are_named_at_the_first_corner(near: MainWindow) -> None:
    window = near
    begin(window)
    pencil = window.stage.pencil
    pencil.put("rear", (100.0, 300.0))
    pencil.put("rear", (200.0, 300.0))
    hover(window, "rear", (100.0, 300.0))
    assert pencil.closing
    assert pencil.fault is not None
    assert pencil.fault.short == "needs 3 corners"
    pencil.put("rear", (300.0, 300.25))
    hover(window, "rear", (100.0, 300.0))
    assert pencil.fault.short == "encloses nothing"


def test_an_envelope_is_drawn_with_the_keys_alone(near: MainWindow, qtbot: Any) -> None:
    window = near
    begin(window)
    pane, pencil = window.stage.rear, window.stage.pencil
    key = Qt.Key
    pane.setFocus()
    steps = [key.Key_Space, key.Key_Right, key.Key_Right, key.Key_Space, key.Key_Up, key.Key_Up, key.Key_Space]
    for step in steps:
        qtbot.keyClick(pane, step, SHIFT if step != key.Key_Space else NONE)
    (y, z), second, third = pencil.corners
    # right on the screen is the vehicle's right, -y
    assert second == (y - 100.0, z)
    assert third == (y - 100.0, z + 100.0)
    assert not window.session.view.playing
    qtbot.keyClick(pane, key.Key_Return)
    qtbot.keyClick(window.stage.side, key.Key_Return)
    assert len(window.session.document.vehicle.envelopes) == 1


def draw_block(window: MainWindow) -> Any:
    begin(window)
    for corner in ((0.0, 300.0), (200.0, 300.0), (200.0, 400.0), (0.0, 400.0)):
        window.stage.pencil.put("rear", corner)
    window.stage.pencil.close()
    window.stage.pencil.close()
    window.frame_now()
    return window.session.document.vehicle.envelopes[0]


def test_corners_are_picked_nudged_inserted_and_deleted_with_the_keys(near: MainWindow, qtbot: Any) -> None:
    window = near
    draw_block(window)
    pane, key = window.stage.rear, Qt.Key

    def rear() -> Any:
        return window.session.document.vehicle.envelopes[0].rear

    qtbot.keyClick(pane, key.Key_PageDown)
    qtbot.keyClick(pane, key.Key_PageDown)
    assert window.session.view.corner == ("rear", 1)
    qtbot.keyClick(pane, key.Key_Left)
    qtbot.keyClick(pane, key.Key_Up, CTRL)
    assert rear()[1] == (205.0, 301.0)
    qtbot.keyClick(pane, key.Key_Insert)
    assert rear()[2] == (202.5, 350.5)
    assert window.session.view.corner == ("rear", 2)
    qtbot.keyClick(pane, key.Key_Delete)
    assert len(rear()) == 4
    qtbot.keyClick(pane, key.Key_PageUp)
    assert window.session.view.corner == ("rear", 3)
    qtbot.keyClick(pane, key.Key_Escape)
    assert window.session.view.corner is None
    assert window.session.view.envelope == 0
    qtbot.keyClick(pane, key.Key_Escape)
    assert window.session.view.envelope == -1
    qtbot.keyClick(pane, key.Key_PageDown)
    assert window.session.view.envelope == 0


def test_a_dragged_corner_that_cannot_be_is_hatched_and_the_last_good_place_stays(near: MainWindow, qtbot: Any) -> None:
    window = near
    block = draw_block(window)
    qtbot.mousePress(window.stage.rear, LEFT, NONE, at(window, "rear", (0.0, 300.0)))
    hover(window, "rear", (-30.0, 300.0), held=True)
    good = window.session.shown.vehicle.envelopes[0].rear
    assert good[0] == (-30.0, 300.0)
    hover(window, "rear", (230.0, 360.0), held=True)
    window.frame_now()
    assert window.session.shown.vehicle.envelopes[0].rear == good
    assert "cross" in window.notice.text.text()
    assert red(window, "rear") > 100
    qtbot.mouseRelease(window.stage.rear, LEFT, NONE, at(window, "rear", (230.0, 360.0)))
    window.frame_now()
    assert window.session.document.vehicle.envelopes[0].rear == good
    assert red(window, "rear") == 0
    window.session.undo()
    assert window.session.document.vehicle.envelopes[0] == block


def test_undo_takes_back_corners_before_anything_else(near: MainWindow) -> None:
    window, undo = near, near.actions_by_name["undo"]
    before = window.session.document
    begin(window)
    assert undo.text() == "&Undo clear the stage"
    for corner in ((0.0, 300.0), (200.0, 300.0), (200.0, 400.0)):
        window.stage.pencil.put("rear", corner)
    window.stage.pencil.close()
    window.frame_now()
    assert undo.text() == "&Undo closing of the outline"
    for left in (3, 2, 1, 0):
        undo.trigger()
        assert len(window.stage.pencil.corners) == left
    window.frame_now()
    assert window.session.document is before
    undo.trigger()
    assert window.session.document is not before


def test_corners_are_taken_back_while_the_pen_is_on_the_first(near: MainWindow, qtbot: Any) -> None:
    begin(near)
    for corner in ((0.0, 300.0), (100.0, 300.0), (100.0, 400.0)):
        click(near, qtbot, "rear", corner)
    hover(near, "rear", (0.0, 300.0))
    assert near.stage.pencil.closing
    for _ in range(3):
        near.actions_by_name["undo"].trigger()
        near.frame_now()
    assert not near.stage.pencil.corners
    assert not near.stage.pencil.closing
