from __future__ import annotations

import pytest

from linkviz.session.snapping import GRIDS, grid_step, held_straight, other_corners, snap, snap_shift, to_grid

OWN = ((0.0, 300.0), (203.0, 300.0))


def test_the_grid_is_what_is_left_when_nothing_else_holds() -> None:
    assert snap((57.3, 431.2), 5.0, 1.0, OWN).corner == (55.0, 430.0)
    assert snap((57.3, 431.2), 0.0, 1.0, OWN).corner == (57.3, 431.2)
    assert snap((57.3, 431.2), 5.0, 1.0, OWN).words == ""


def test_a_corner_of_something_else_comes_first() -> None:
    found = snap((104.0, 296.0), 5.0, 1.0, OWN, ((101.3, 298.7), (110.0, 290.0)))
    assert found.corner == (101.3, 298.7)
    assert found.on


def test_upright_and_level_with_own_corners() -> None:
    found = snap((206.0, 431.2), 5.0, 1.0, OWN, last=1)
    assert found.corner == (203.0, 430.0)
    assert found.words == "upright"
    assert found.lines == (((203.0, 300.0), (203.0, 430.0)),)
    both = snap((1.0, 402.0), 5.0, 1.0, (*OWN, (203.0, 403.7)), last=2)
    assert both.corner == (0.0, 403.7)
    assert both.words == "upright and level"


def test_the_reach_is_one_of_the_screen_not_of_the_vehicle() -> None:
    assert snap((208.0, 431.2), 0.0, 0.5, OWN).corner[0] == 203.0
    assert snap((208.0, 431.2), 0.0, 2.0, OWN).corner[0] == 208.0


def test_a_place_on_an_own_corner_keeps_to_one_line() -> None:
    assert snap((204.0, 303.0), 0.0, 1.0, OWN[1:]).words == "upright"


@pytest.mark.parametrize(("at", "where"), [((250.0, 310.0), (250.0, 300.0)), ((210.0, 380.0), (203.0, 380.0))])
def test_an_edge_is_held_straight(at: tuple[float, float], where: tuple[float, float]) -> None:
    assert held_straight(at, OWN[1], 5.0).corner == where


def test_corners_moved_together_land_on_others_or_on_the_grid() -> None:
    assert snap_shift(OWN, (12.4, -7.6), 5.0, 1.0) == (10.0, -10.0)
    assert snap_shift(OWN, (12.4, -7.6), 5.0, 1.0, ((216.0, 291.0),)) == (13.0, -9.0)


def test_steps_follow_the_unit() -> None:
    assert grid_step(2, "mm") == 5.0
    assert grid_step(2, "in") == pytest.approx(6.35)
    assert grid_step(0, "in") == 0.0
    assert grid_step(99, "mm") == GRIDS["mm"][-1]
    assert to_grid((1.234, 5.678), 0.0) == (1.234, 5.678)


def test_other_corners_leave_one_outline_out() -> None:
    assert other_corners((OWN, ((1.0, 2.0),)), 0) == ((1.0, 2.0),)
