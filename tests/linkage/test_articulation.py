from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage.articulation import free_articulation
from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.measures import link_force
from linkviz.linkage.solve import solve
from tests.layouts import bench_layout, random_layout


def test_the_force_passes_the_limit_at_the_roll_that_is_found() -> None:
    layout, heave = bench_layout(), np.array([-75.0, 0.0, 75.0])
    roll = free_articulation(layout, heave, 8000.0)
    assert ((roll > 0.0) & np.isfinite(roll)).all()
    for h, r in zip(heave, roll, strict=True):
        just_below = [np.abs(link_force(layout, solve(layout, h, s * (r - 5e-4)))).max() for s in (1.0, -1.0)]
        just_above = [np.abs(link_force(layout, solve(layout, h, s * (r + 5e-4)))).max() for s in (1.0, -1.0)]
        assert max(just_below) <= 8000.0 < max(just_above)


def test_against_a_root_finder() -> None:
    from scipy.optimize import brentq

    layout = bench_layout()
    found = free_articulation(layout, np.array([-50.0]), 4000.0)[0]

    def excess(roll: float) -> float:
        return max(float(np.abs(link_force(layout, solve(layout, -50.0, s * roll))).max()) for s in (1, -1)) - 4000.0

    assert found == pytest.approx(brentq(excess, 0.0, 0.3), abs=2e-4)


def test_a_higher_limit_leaves_more_and_softer_bushings_too() -> None:
    layout, heave = bench_layout(), np.array([-60.0, 20.0])
    little, much = (free_articulation(layout, heave, f) for f in (2000.0, 6000.0))
    assert (much > little).all()
    soft = Layout(layout.centre, layout.frame, layout.axle, layout.length, layout.stiffness / 2)
    assert (free_articulation(soft, heave, 2000.0) > little).all()


def test_nothing_passes_an_enormous_limit_at_small_roll() -> None:
    assert np.isinf(free_articulation(bench_layout(), np.array([0.0]), 1e9, most=0.05)[0])


def test_a_bound_axle_has_none() -> None:
    assert free_articulation(bench_layout(), np.array([-100.0]), 1.0)[0] == 0.0


def test_a_limit_must_be_a_force() -> None:
    with pytest.raises(ValueError, match="above 0"):
        free_articulation(bench_layout(), np.array([0.0]), 0.0)


def test_mirrored() -> None:
    layout = random_layout(np.random.default_rng(2))
    swap, turn = [1, 0, 3, 2, BAR], np.array([1.0, -1.0, 1.0])
    other = Layout(
        layout.centre, (layout.frame * turn)[swap], (layout.axle * turn)[swap], layout.length[swap],
        layout.stiffness[swap],
    )  # fmt: skip
    heave = np.array([-50.0, 30.0])
    assert free_articulation(layout, heave, 4000.0) == pytest.approx(free_articulation(other, heave, 4000.0), abs=1e-6)
