from __future__ import annotations

import numpy as np
import pytest
import shapely

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import answers
from linkviz.analysis.clearance.movers import Places, things
from linkviz.analysis.clearance.swept import swept
from linkviz.analysis.setup import Setup
from linkviz.clearance.bodies import Body
from linkviz.clearance.distance import farthest
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.outline_files import read_outlines, write_outlines
from linkviz.vehicle.read import read_vehicle

AXES = {"rear": (1, 2), "side": (0, 2)}


@pytest.fixture(scope="module")
def build() -> Build:
    return Build.of(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0))


def shape(regions) -> shapely.Geometry:
    return shapely.union_all([shapely.Polygon(region.outer, region.holes) for region in regions])


@pytest.mark.parametrize("name", ["driveshaft", "lateral bar", "housing", "left tyre"])
def test_the_outline_holds_the_part_at_every_state_and_no_more(build: Build, name: str) -> None:
    found, thing = swept(build, name), things(build.vehicle, build.setup)[name]
    random = np.random.default_rng(3)
    low, high = build.window
    travel, roll = random.uniform(low, high, 300), random.uniform(*np.radians([-5.0, 5.0]), 300)
    places = Places(build, solve(build.layout, travel - 100.0, roll))
    for view, (across, up) in AXES.items():
        outline = shape(getattr(found, view))
        reach = []
        for angle in np.linspace(0.0, 2.0 * np.pi, 16, endpoint=False):
            way = np.zeros((3, len(travel)))
            way[across], way[up] = np.cos(angle), np.sin(angle)
            for piece in thing.pieces:
                assert isinstance(piece.body, Body)
                point = farthest(piece.body, places[piece.frame], way)[1] + piece.body.radius * way
                assert shapely.contains_xy(outline.buffer(0.5), point[across], point[up]).all()
            most = max((np.array(ring) @ [np.cos(angle), np.sin(angle)]).max() for ring in outline_rings(outline))
            reach.append(most)
        heave = np.linspace(low, high, 60) - 100.0
        grid = np.meshgrid(heave, np.radians(np.linspace(-5.0, 5.0, 9)))
        ends = Places(build, solve(build.layout, *(g.ravel() for g in grid)))
        for angle, most in zip(np.linspace(0.0, 2.0 * np.pi, 16, endpoint=False), reach, strict=True):
            way = np.zeros((3, len(ends)))
            way[across], way[up] = np.cos(angle), np.sin(angle)
            true = max(
                float((farthest(p.body, ends[p.frame], way)[1] * way).sum(axis=0).max()) + p.body.radius
                for p in thing.pieces
            )
            assert true - 0.5 <= most <= true + 1.0


def outline_rings(outline: shapely.Geometry) -> list[list[tuple[float, float]]]:
    return [list(part.exterior.coords) for part in getattr(outline, "geoms", [outline])]


def test_the_deepest_place_lies_in_what_is_touched(build: Build) -> None:
    found, worst = swept(build, "driveshaft"), answers(build).worst[0]
    assert worst.sign == "hit" and worst.pair.words == "driveshaft to fuel tank"
    zone = found.zones["fuel tank"]
    x, y, z = worst.on_other
    assert shape(zone.touched_rear).distance(shapely.Point(y, z)) < 3.0
    assert shape(zone.touched_side).distance(shapely.Point(x, z)) < 3.0
    # what is touched is part of what is swept
    for view in AXES:
        touched = shape(getattr(zone, f"touched_{view}"))
        assert touched.difference(shape(getattr(found, view)).buffer(3.0)).area < 1.0


def test_a_drop_that_clears_leaves_nothing_touched(build: Build) -> None:
    clear = Build.of(build.vehicle, Setup(lift=100.0, drop=110.0))
    assert not swept(clear, "driveshaft").zones["fuel tank"].touched
    assert not any("touched" in name for name in swept(clear, "driveshaft").outlines())


def test_outlines_go_to_a_cutter_and_back(build: Build, tmp_path) -> None:
    outlines = swept(build, "driveshaft").outlines()
    assert {name.split(" ")[0] for name in outlines} == {"driveshaft", "fuel"}
    for ending in ("dxf", "csv"):
        path = tmp_path / f"zone.{ending}"
        write_outlines(path, outlines)
        back = read_outlines(path)
        area = sum(shapely.Polygon(ring).area for group in outlines.values() for ring in group)
        assert sum(shapely.Polygon(ring).area for group in back.values() for ring in group) == pytest.approx(area)


def test_no_such_part(build: Build) -> None:
    with pytest.raises(KeyError):
        swept(build, "drop bracket")
