"""Drawing and dragging with a mouse in both panes; places are given in mm of the outline."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from linkviz.picture.scene import to_view
from linkviz.resources import demo_vehicle_paths
from linkviz.session import edits
from linkviz.session.edits import ViewName
from linkviz.window.pane import Pane
from linkviz.window.window import MainWindow

NO_KEYS = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton
REAR = ((100.0, 300.0), (300.0, 300.0), (300.0, 450.0), (100.0, 450.0))
SIDE = ((400.0, 280.0), (800.0, 280.0), (800.0, 460.0))


def at(window: MainWindow, view: ViewName, corner: tuple[float, float]) -> QPoint:
    """Return where a corner of an outline stands in its pane, screen points."""
    lift = window.session.shown.setup.lift
    return window.stage.panes[view].place(to_view(view, corner, lift)).toPoint()


def click(window: MainWindow, qtbot: Any, view: ViewName, corner: tuple[float, float]) -> None:
    pane = window.stage.panes[view]
    qtbot.mouseMove(pane, at(window, view, corner))
    qtbot.mouseClick(pane, LEFT, pos=at(window, view, corner))


def drag(window: MainWindow, pane: Pane, start: QPoint, end: QPoint, keys: Any = None) -> None:
    """Drag with the left button, with stops on the way."""
    keys = keys or Qt.KeyboardModifier.NoModifier
    QTest.mousePress(pane, LEFT, keys, start)
    for part in (0.3, 0.6, 1.0):
        where = start + (end - start) * part
        QTest.mouseMove(pane, where)
        _held_move(pane, where, keys)
        window.frame_now()
    QTest.mouseRelease(pane, LEFT, keys, end)
    window.frame_now()


def _held_move(pane: Pane, where: QPoint, keys: Any) -> None:
    """Send a move with the button held, which QTest leaves out."""
    from PySide6.QtCore import QEvent, QPointF
    from PySide6.QtGui import QMouseEvent

    place = QPointF(where)
    event = QMouseEvent(
        QEvent.Type.MouseMove, place, QPointF(pane.mapToGlobal(where)), Qt.MouseButton.NoButton, LEFT, keys
    )
    pane.mouseMoveEvent(event)


def close_up(window: MainWindow, scale: float = 1.0) -> None:
    """Look closer, so that a screen point is no more than a millimetre."""
    camera = window.stage.camera
    camera.scale, camera.v, camera.fitted = scale, 400.0 + window.session.shown.setup.lift, False
    camera.u = {"rear": 0.0, "side": 600.0}
    window.frame_now()


@pytest.fixture
def near(make_window: Any) -> MainWindow:
    window = make_window((1280, 900))
    close_up(window, 0.8)
    return window


# -- the pencil


def test_an_envelope_is_drawn_with_the_mouse_in_both_views(near: MainWindow, qtbot: Any) -> None:
    window = near
    before = window.session.document
    window.actions_by_name["draw"].trigger()
    assert window.stage.drawing
    for corner in REAR:
        click(window, qtbot, "rear", corner)
    click(window, qtbot, "rear", REAR[0])
    assert window.session.document is before
    window.frame_now()
    assert "side view" in window.notice.text.text()
    for corner in SIDE:
        click(window, qtbot, "side", corner)
    click(window, qtbot, "side", SIDE[0])
    assert not window.stage.drawing
    made = window.session.document.vehicle.envelopes[-1]
    assert made.rear == REAR
    assert made.side == SIDE
    assert made.margin > 0
    window.frame_now()
    assert window.session.view.envelope == 1
    assert window.session.view.page == "clearance"
    assert window.side.page("clearance").table.item(1, 0).text() == made.name
    assert (made.name, window.session.undo_text) == ("fuel tank 2", "draw fuel tank 2")
    window.session.undo()
    assert window.session.document == before


def test_it_can_be_drawn_in_the_side_view_first_and_closed_with_enter(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    for corner in SIDE:
        click(window, qtbot, "side", corner)
    qtbot.keyClick(window.stage.side, Qt.Key.Key_Return)
    qtbot.keyClick(window.stage.rear, Qt.Key.Key_Return)
    made = window.session.document.vehicle.envelopes[-1]
    assert made.side == SIDE
    # Enter alone takes a plain block of the same height
    assert {z for _, z in made.rear} == {280.0, 460.0}


def test_corners_snap_to_five_millimetres(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    click(window, qtbot, "rear", (101.7, 298.4))
    assert window.stage.pencil.corners == ((100.0, 300.0),)


def test_a_crossing_edge_is_refused_while_drawing(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    for corner in ((100.0, 300.0), (300.0, 450.0), (300.0, 300.0)):
        click(window, qtbot, "rear", corner)
    click(window, qtbot, "rear", (150.0, 450.0))
    assert "cross" in window.notice.text.text()
    assert len(window.stage.pencil.corners) == 3


def test_too_few_corners_are_refused(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    for corner in REAR[:2]:
        click(window, qtbot, "rear", corner)
    qtbot.keyClick(window.stage.rear, Qt.Key.Key_Return)
    assert "3 corners" in window.notice.text.text()
    assert window.stage.pencil.first is None


def test_outlines_that_share_no_height_are_refused(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    for corner in (*REAR, REAR[0]):
        click(window, qtbot, "rear", corner)
    for corner in ((400.0, 550.0), (600.0, 550.0), (600.0, 600.0)):
        click(window, qtbot, "side", corner)
    qtbot.keyClick(window.stage.side, Qt.Key.Key_Return)
    assert "share no height" in window.notice.text.text()
    assert window.stage.drawing
    assert len(window.session.document.vehicle.envelopes) == 1


def test_the_other_view_has_to_wait(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    click(window, qtbot, "rear", REAR[0])
    click(window, qtbot, "side", SIDE[0])
    assert window.stage.pencil.corners == REAR[:1]
    assert "rear view" in window.notice.text.text()


def test_backspace_and_esc_take_corners_back_before_esc_leaves(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.actions_by_name["draw"].trigger()
    for corner in (*REAR, REAR[0]):
        click(window, qtbot, "rear", corner)
    pane = window.stage.rear
    qtbot.keyClick(pane, Qt.Key.Key_Backspace)
    assert window.stage.pencil.corners == REAR
    qtbot.keyClick(pane, Qt.Key.Key_Backspace)
    assert window.stage.pencil.corners == REAR[:3]
    for left in (2, 1, 0):
        qtbot.keyClick(pane, Qt.Key.Key_Escape)
        assert window.stage.pencil.corners == REAR[:left]
        assert window.stage.drawing
    qtbot.keyClick(pane, Qt.Key.Key_Escape)
    window.frame_now()
    assert not window.stage.drawing
    assert not window.actions_by_name["draw"].isChecked()
    assert not window.notice.isVisible()
    assert window.session.undo_text == ""


# -- the hand on envelopes


def pick_tank(window: MainWindow) -> edits.Envelope:
    window.session.set_view(envelope=0)
    window.frame_now()
    return window.session.document.vehicle.envelopes[0]


def test_a_click_picks_an_envelope_and_a_click_beside_it_lets_go(near: MainWindow, qtbot: Any) -> None:
    window = near
    click(window, qtbot, "side", (600.0, 400.0))
    assert window.session.view.envelope == 0
    click(window, qtbot, "side", (600.0, 150.0))
    assert window.session.view.envelope == -1


def test_a_corner_is_dragged(near: MainWindow) -> None:
    window = near
    tank = pick_tank(window)
    start = tank.side[0]
    goal = (start[0] + 40.0, start[1] - 20.0)
    drag(window, window.stage.side, at(window, "side", start), at(window, "side", goal))
    moved = window.session.document.vehicle.envelopes[0]
    assert moved.side[0] == pytest.approx((round(goal[0] / 5) * 5, round(goal[1] / 5) * 5), abs=5.0)
    assert moved.side[0][0] % 5 == 0
    assert moved.side[1:] == tank.side[1:]
    assert moved.rear == tank.rear
    assert window.session.undo_text == "move corner"
    window.session.undo()
    assert window.session.document.vehicle.envelopes[0] == tank


def test_undo_during_a_drag_calls_it_off_and_takes_nothing_else_back(near: MainWindow) -> None:
    window = near
    window.session.edit_setup("drop", drop=20.0)
    before = window.session.document
    tank = pick_tank(window)
    pane, place = window.stage.side, at(window, "side", tank.side[0])
    QTest.mousePress(pane, LEFT, NO_KEYS, place)
    for step in (20, 40):
        _held_move(pane, place + QPoint(step, -step), NO_KEYS)
    window.frame_now()
    assert window.session.shown != before
    assert window.actions_by_name["undo"].text() == "&Undo move corner"
    window.actions_by_name["undo"].trigger()
    _held_move(pane, place + QPoint(60, -60), NO_KEYS)
    QTest.mouseRelease(pane, LEFT, NO_KEYS, place + QPoint(60, -60))
    assert window.session.shown == window.session.document == before
    window.actions_by_name["undo"].trigger()
    assert window.session.document.setup.drop != 20.0


@pytest.mark.parametrize("way", ["redo during a drag", "undo before it", "another file"])
def test_a_drag_ends_where_the_vehicle_becomes_another(near: MainWindow, way: str) -> None:
    window = near
    tank = pick_tank(window)
    session = window.session
    session.edit_vehicle(edits.rename(session.document.vehicle, "Other"), "rename")
    if way == "redo during a drag":
        session.undo()
    window.frame_now()
    pane, place = window.stage.side, at(window, "side", tank.side[0])
    QTest.mousePress(pane, LEFT, NO_KEYS, place)
    if way != "undo before it":
        _held_move(pane, place + QPoint(30, -30), NO_KEYS)
    if way == "another file":
        session.new_from(str(demo_vehicle_paths()[1]))
        session.set_view(envelope=0)
    else:
        window.actions_by_name["redo" if way == "redo during a drag" else "undo"].trigger()
    after = session.document
    _held_move(pane, place + QPoint(60, -60), NO_KEYS)
    QTest.mouseRelease(pane, LEFT, NO_KEYS, place + QPoint(60, -60))
    assert session.shown == session.document == after


def test_a_corner_dragged_over_another_edge_is_refused_and_the_last_good_place_stays(near: MainWindow) -> None:
    window = near
    tank = pick_tank(window)
    (x0, z0), far = tank.side[0], tank.side[3]
    drag(window, window.stage.side, at(window, "side", (x0, z0)), at(window, "side", (far[0] + 60.0, far[1] + 40.0)))
    assert "cross" in window.notice.text.text()
    from linkviz.session.outline import why_refused

    assert why_refused(window.session.document.vehicle.envelopes[0].side) == ""


def test_an_edge_is_dragged(near: MainWindow) -> None:
    window = near
    tank = pick_tank(window)
    lowest = max(range(len(tank.rear)), key=lambda i: -tank.rear[i][1] - tank.rear[(i + 1) % len(tank.rear)][1])
    a, b = tank.rear[lowest], tank.rear[(lowest + 1) % len(tank.rear)]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    drag(window, window.stage.rear, at(window, "rear", middle), at(window, "rear", (middle[0], middle[1] - 30.0)))
    moved = window.session.document.vehicle.envelopes[0].rear
    assert moved[lowest][1] == pytest.approx(a[1] - 30.0, abs=5.0)
    assert moved[(lowest + 1) % len(moved)][1] == pytest.approx(b[1] - 30.0, abs=5.0)


def test_the_whole_part_is_dragged_in_both_views_at_once(near: MainWindow) -> None:
    window = near
    tank = pick_tank(window)
    drag(window, window.stage.rear, at(window, "rear", (-180.0, 400.0)), at(window, "rear", (-200.0, 430.0)))
    moved = window.session.document.vehicle.envelopes[0]
    by = (moved.rear[0][0] - tank.rear[0][0], moved.rear[0][1] - tank.rear[0][1])
    assert by == pytest.approx((-20.0, 30.0), abs=5.0)
    assert all(m[1] - t[1] == by[1] for m, t in zip(moved.side, tank.side, strict=True))
    assert all(m[0] == t[0] for m, t in zip(moved.side, tank.side, strict=True))
    assert window.session.undo_text == "move envelope"


def test_a_double_click_on_an_edge_inserts_a_corner_and_delete_removes_it(near: MainWindow, qtbot: Any) -> None:
    window = near
    tank = pick_tank(window)
    i = next(i for i, (a, b) in enumerate(zip(tank.side, tank.side[1:], strict=False)) if abs(a[0] - b[0]) > 200)
    a, b = tank.side[i], tank.side[i + 1]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    pane = window.stage.side
    qtbot.mouseDClick(pane, LEFT, pos=at(window, "side", middle))
    assert len(window.session.document.vehicle.envelopes[0].side) == len(tank.side) + 1
    assert window.session.undo_text == "insert corner"
    window.frame_now()
    qtbot.keyClick(pane, Qt.Key.Key_Delete)
    assert window.session.document.vehicle.envelopes[0] == tank


def test_arrow_keys_nudge_the_picked_envelope(near: MainWindow, qtbot: Any) -> None:
    window = near
    tank = pick_tank(window)
    for _ in range(3):
        qtbot.keyClick(window.stage.rear, Qt.Key.Key_Right)
    moved = window.session.document.vehicle.envelopes[0]
    # right on the screen is right of the vehicle, which is -y
    assert moved.rear[0][0] == pytest.approx(tank.rear[0][0] - 15.0)
    window.session.undo()
    assert window.session.document.vehicle.envelopes[0] == tank


# -- the hand on points


def test_a_point_is_dragged_with_its_mirror(near: MainWindow) -> None:
    window = near
    window.session.set_view(page="vehicle")
    window.frame_now()
    vehicle = window.session.document.vehicle
    x, _, z = vehicle.links.upper_left.frame
    drag(window, window.stage.side, at(window, "side", (x, z)), at(window, "side", (x + 40.0, z + 16.0)))
    moved = window.session.document.vehicle.links
    name = window.session.view.point
    assert name in ("links.upper_left.frame", "links.upper_right.frame")
    assert moved.upper_left.frame[0] == pytest.approx(x + 40.0, abs=1.5)
    assert moved.upper_left.frame[2] == pytest.approx(z + 16.0, abs=1.5)
    assert moved.upper_right.frame[0] == moved.upper_left.frame[0]
    assert moved.upper_right.frame[1] == -moved.upper_left.frame[1]
    assert window.session.undo_text.startswith("move upper")
    window.session.undo()
    assert window.session.document.vehicle == vehicle


def test_points_are_only_taken_on_the_vehicle_page(near: MainWindow) -> None:
    window = near
    x, _, z = window.session.document.vehicle.links.upper_left.frame
    drag(window, window.stage.side, at(window, "side", (x, z)), at(window, "side", (x + 40.0, z)))
    assert window.session.undo_text == ""


def test_a_picked_point_is_nudged_and_let_go(near: MainWindow, qtbot: Any) -> None:
    window = near
    window.session.set_view(page="vehicle", point="links.lateral_bar.frame")
    window.frame_now()
    y = window.session.document.vehicle.links.lateral_bar.frame[1]
    pane = window.stage.rear
    qtbot.keyClick(pane, Qt.Key.Key_Left)
    qtbot.keyClick(pane, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert window.session.document.vehicle.links.lateral_bar.frame[1] == pytest.approx(y + 11.0)
    qtbot.keyClick(pane, Qt.Key.Key_Escape)
    assert window.session.view.point == ""


def test_esc_calls_a_drag_off(near: MainWindow, qtbot: Any) -> None:
    window = near
    before = window.session.document
    tank = pick_tank(window)
    pane, start = window.stage.side, at(window, "side", tank.side[0])
    QTest.mousePress(pane, LEFT, Qt.KeyboardModifier.NoModifier, start)
    _held_move(pane, start + QPoint(30, 0), Qt.KeyboardModifier.NoModifier)
    assert window.session.previewing
    qtbot.keyClick(pane, Qt.Key.Key_Escape)
    QTest.mouseRelease(pane, LEFT, Qt.KeyboardModifier.NoModifier, start + QPoint(30, 0))
    assert window.session.document is before
    assert window.session.shown is before


# -- the camera


def test_wheel_zooms_about_the_mouse_and_fit_shows_all(window: MainWindow, qtbot: Any) -> None:
    from PySide6.QtCore import QPointF
    from PySide6.QtGui import QWheelEvent

    pane, camera = window.stage.rear, window.stage.camera
    scale = camera.scale
    place = QPointF(100.0, 120.0)
    before = pane.plane(place)
    event = QWheelEvent(
        place,
        QPointF(pane.mapToGlobal(place.toPoint())),
        QPoint(),
        QPoint(0, 240),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    pane.wheelEvent(event)
    assert camera.scale == pytest.approx(scale * 1.15**2)
    assert pane.plane(place) == pytest.approx(before)
    window.actions_by_name["fit"].trigger()
    assert camera.scale == pytest.approx(scale)


def test_both_panes_stand_on_one_ground(window: MainWindow, qtbot: Any) -> None:
    rear, side = window.stage.rear, window.stage.side
    assert rear.place((0.0, 0.0)).y() == pytest.approx(side.place((0.0, 0.0)).y())
    qtbot.mousePress(rear, Qt.MouseButton.RightButton, pos=QPoint(100, 100))
    qtbot.mouseMove(rear, QPoint(130, 140))
    qtbot.mouseRelease(rear, Qt.MouseButton.RightButton, pos=QPoint(130, 140))
    assert rear.place((0.0, 0.0)).y() == pytest.approx(side.place((0.0, 0.0)).y())
    assert not window.stage.camera.fitted


def test_everything_is_in_sight_after_a_fit(window: MainWindow) -> None:
    for pane in window.stage.panes.values():
        assert pane.drawing is not None
        u0, v0, u1, v1 = pane.drawing.extent
        low, high = pane.place((u0, v0)), pane.place((u1, v1))
        assert low.x() >= -1
        assert high.x() <= pane.width() + 1
        assert low.y() <= pane.height() + 1
        assert high.y() >= -1
