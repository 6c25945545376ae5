"""Goals by brute force: no drop on a 0.1 mm grid does better."""

from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.bracket.goals import goals, ground_clearance
from linkviz.analysis.build import Build
from linkviz.analysis.compare import clearance_states, travel_grid
from linkviz.analysis.goals import (
    LONGEST,
    centring,
    clear_drop,
    least_sway_drop,
    level_drop,
    restore_drop,
    restore_raise,
)
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study, study_all
from linkviz.linkage.measures import bar_angle
from linkviz.linkage.solve import solve_all
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle

DEMOS = demo_vehicle_paths()
LIFT = 101.6


def near(drop: float | None) -> np.ndarray:
    """Return every 0.1 mm for 10 mm either way of a drop, and every mm of the rest."""
    assert drop is not None
    fine = np.arange(round(drop, 1) - 10.0, drop + 10.0, 0.1)
    return np.concatenate([fine[fine >= 0.0], np.arange(0.0, LONGEST + 0.5, 1.0)])


@pytest.fixture(params=DEMOS, ids=[p.name.split(".")[0] for p in DEMOS], scope="module")
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    return read_vehicle(request.param)


def test_no_drop_on_the_grid_restores_or_levels_better(vehicle: Vehicle) -> None:
    built = study(Build.of(vehicle, Setup()), 0.0).bar_angle[0]
    for drop, wanted in ((restore_drop(vehicle, LIFT), built), (level_drop(vehicle, LIFT), 0.0)):
        assert drop is not None
        layouts = [Build.of(vehicle, Setup(lift=LIFT, drop=float(d))).layout for d in (drop, *near(drop))]
        poses = solve_all([(layout, -LIFT, 0.0) for layout in layouts])
        off = np.array([abs(bar_angle(b, p)[0] - wanted) for b, p in zip(layouts, poses, strict=True)])
        assert off[0] <= off[1:].min()


def test_no_drop_on_the_grid_sways_less(vehicle: Vehicle) -> None:
    drop = least_sway_drop(vehicle, LIFT)
    grid = near(drop)
    builds = [Build.of(vehicle, Setup(lift=LIFT, drop=float(d))) for d in (drop, *grid)]
    heave = travel_grid(builds[0]) - LIFT
    sways = [float(np.ptp(p.y)) for p in solve_all([(build.layout, heave, 0.0) for build in builds])]
    assert sways[0] <= min(sways[1:]) + 1e-3
    assert abs(grid[int(np.argmin(sways[1:]))] - drop) <= 0.1 + 0.01


def test_no_shorter_drop_on_the_grid_clears(vehicle: Vehicle) -> None:
    """Looked at where it matters: the last 6 mm below it, all of them and not every fifth."""
    drop = clear_drop(vehicle, LIFT)
    assert drop is not None
    margins = np.array([envelope.margin for envelope in vehicle.envelopes])

    def spare(drops: np.ndarray) -> np.ndarray:
        builds = [Build.of(vehicle, Setup(lift=LIFT, drop=float(d))) for d in drops]
        found = study_all([(build, *clearance_states(build)) for build in builds])
        return np.array([min((g.distance - m).min() for g, m in zip(s.gaps, margins, strict=True)) for s in found])

    assert spare(np.array([drop]))[0] >= 0.0
    assert (spare(np.arange(drop - 0.1, drop - 6.0, -0.1)) < 0.0).all()
    assert (spare(np.arange(0.0, drop - 6.0, 3.0)) < 0.0).all()


@pytest.mark.parametrize("by", ["shift", "bar_longer"])
def test_centring_centres(vehicle: Vehicle, by: str) -> None:
    setup = Setup(lift=LIFT, drop=60.0)
    value = centring(vehicle, setup, by)  # type: ignore[arg-type]
    assert value is not None and abs(value) > 1.0
    assert study(Build.of(vehicle, setup.with_(**{by: value})), 0.0).offset == pytest.approx(0.0, abs=1e-6)


def test_raising_the_axle_end_gives_the_same_angle_and_another_roll_centre(vehicle: Vehicle) -> None:
    up, down = restore_raise(vehicle, LIFT), restore_drop(vehicle, LIFT)
    assert up is not None and down is not None
    raised = study(Build.of(vehicle, Setup(lift=LIFT, axle_raise=up)), 0.0)
    dropped = study(Build.of(vehicle, Setup(lift=LIFT, drop=down)), 0.0)
    assert raised.bar_angle[0] == pytest.approx(dropped.bar_angle[0], abs=1e-8)
    assert raised.roll_centre[0] - dropped.roll_centre[0] == pytest.approx(up, rel=0.1)


def test_the_table_tells_each_goal_as_the_model_does(vehicle: Vehicle) -> None:
    rows = {goal.key: goal for goal in goals(vehicle, Setup(lift=LIFT), 30.0)}
    assert set(rows) == {
        "none", "restore", "level", "least_sway", "clear", "centred_shift", "centred_bar", "raise",
    }  # fmt: skip
    assert min(rows.values(), key=lambda goal: goal.sway).key == "least_sway"
    assert rows["level"].bar_angle == pytest.approx(0.0, abs=1e-8)
    assert rows["centred_shift"].offset == pytest.approx(0.0, abs=1e-6)
    assert rows["clear"].spare == pytest.approx(0.0, abs=0.1)
    assert rows["none"].spare < rows["clear"].spare
    restore = rows["restore"]
    assert restore.setup is not None
    again = study(Build.of(vehicle, restore.setup), travel_grid(Build.of(vehicle, restore.setup)))
    assert restore.sway == pytest.approx(float(np.ptp(again.poses.y)))
    assert restore.offset == pytest.approx(again.offset)
    assert restore.ground == pytest.approx(rows["none"].ground - restore.setup.drop)


def test_a_goal_that_cannot_be_reached_says_why(vehicle: Vehicle) -> None:
    bare = vehicle.replace(driveshaft=None, envelopes=())
    rows = {goal.key: goal for goal in goals(bare, Setup(lift=LIFT, drop=50.0))}
    assert rows["clear"].setup is None and "no driveshaft" in rows["clear"].why
    assert rows["restore"].spare == float("inf")
    assert rows["set"].setup == Setup(lift=LIFT, drop=50.0)


def test_the_ground_comes_up_as_the_wheels_do(vehicle: Vehicle) -> None:
    setup = Setup(lift=LIFT, drop=80.0)
    more = vehicle.replace(travel=vehicle.travel.replace(jounce=vehicle.travel.jounce + 20))
    assert ground_clearance(vehicle, setup, 30.0) - ground_clearance(more, setup, 30.0) == pytest.approx(20.0)
    assert ground_clearance(vehicle, setup.with_(lift=LIFT + 10), 30.0) == pytest.approx(
        ground_clearance(vehicle, setup, 30.0) + 10.0
    )
