from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.contact_map import ROLLS, TRAVELS, contact_map
from linkviz.analysis.clearance.pairs import pair_gap, watched_pairs
from linkviz.analysis.setup import Setup
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.read import read_vehicle


@pytest.mark.parametrize("path", demo_vehicle_paths(), ids=lambda path: path.name)
@pytest.mark.parametrize("drop", [0.0, 90.0])
def test_the_map_is_what_measuring_everything_says(path, drop: float) -> None:
    build = Build.of(read_vehicle(path), Setup(lift=100.0, drop=drop))
    found = contact_map(build)
    assert found.gap.shape == (TRAVELS, ROLLS)
    pick = np.s_[::25, ::16]
    travel, roll = (grid.ravel() for grid in np.meshgrid(found.travel[::25], found.roll[::16], indexing="ij"))
    poses = solve(build.layout, travel - 100.0, roll)
    every = np.stack([pair_gap(build, pair, poses).distance for pair in found.pairs])
    least, gap, deep = every.min(axis=0), found.gap[pick].ravel(), found.deep[pick].ravel()
    assert gap[~deep] == pytest.approx(least[~deep], abs=1e-6)
    assert (least[deep] <= gap[deep] + 1e-6).all()
    margins = np.array([pair.margin for pair in found.pairs])[:, None]
    assert (found.near[pick].ravel() == (every < margins).any(axis=0)).all()
    named = every[found.pair[pick].ravel(), np.arange(len(travel))]
    assert named[~deep] == pytest.approx(least[~deep], abs=1e-6)
    assert found.near.any()


def test_some_pairs_on_a_grid_of_ones_own() -> None:
    build = Build.of(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0))
    pairs = watched_pairs(build.vehicle, build.setup)
    shaft = tuple(pair for pair in pairs if pair.one == "driveshaft" and pair.other == "fuel tank")
    found = contact_map(build, np.linspace(-90.0, 85.0, 8), np.radians([-5.0, 0.0, 5.0]), shaft)
    assert found.gap.shape == (8, 3)
    assert set(np.unique(found.pair)) == {0}
    assert found.gap[found.worst] == found.gap.min() < 0


def test_nothing_to_watch() -> None:
    build = Build.of(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0))
    found = contact_map(build, pairs=())
    assert np.isinf(found.gap).all()
    assert (found.pair == -1).all()
    assert not found.near.any()
