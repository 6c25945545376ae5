from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.ops import unary_union

from linkviz.sheetmetal.plate import Plate
from tests.sheetmetal.plates import angled, joggled, random_plate


def solid(plate: Plate) -> shapely.Polygon:
    """Return one face of the flat pattern as a general geometry library sees it."""
    holes = unary_union([shapely.Point(h.at).buffer(h.diameter / 2.0, quad_segs=2000) for h in plate.holes])
    return shapely.Polygon(plate.blank.points(math.radians(0.05))) - holes


def test_mass_is_volume_times_7850(rng: np.random.Generator) -> None:
    for _ in range(10):
        plate = random_plate(rng)
        face = solid(plate)
        assert plate.area == pytest.approx(face.area, rel=1e-6)
        assert plate.mass == pytest.approx(face.area * plate.thickness * 1e-9 * 7850.0, rel=1e-6)
        assert plate.centre == pytest.approx((face.centroid.x, face.centroid.y), abs=1e-3)


def test_the_edge_view_has_the_volume_of_the_middle_line() -> None:
    plate = joggled()
    bend = plate.profile.bends[0]
    expected = sum(plate.profile.flats) + 2.0 * bend.angle * (bend.inside + plate.thickness / 2.0)
    view = shapely.Polygon(plate.edge_view())
    assert view.is_valid
    assert view.area == pytest.approx(expected * plate.thickness, rel=2e-3)
    x0, _, x1, _ = view.bounds
    assert x1 - x0 == pytest.approx(8.0 + plate.thickness, abs=1e-9)


def test_the_bent_plate_is_as_long_as_asked() -> None:
    plate = joggled()
    ys = [y for _, y in plate.finished_outline()]
    assert (min(ys), max(ys)) == pytest.approx((-190.0, 30.0))


def test_bend_lines_lie_in_the_middle_of_their_bends() -> None:
    plate = joggled()
    first, second = plate.bend_lines
    spans = plate.profile.spans()
    assert -first.y == pytest.approx((spans[1][0] + spans[1][1]) / 2.0)
    assert -second.y == pytest.approx((spans[3][0] + spans[3][1]) / 2.0)
    assert (first.up, second.up) == (True, False)
    assert (first.length, second.half) == pytest.approx((60.0, (spans[3][1] - spans[3][0]) / 2.0))
    assert first.words.startswith("45.0") and first.words.endswith("up")


def test_the_other_plate_of_a_pair_is_its_mirror_image_bent_the_same_way() -> None:
    plate = joggled(shift=8.0)
    other = plate.mirrored("rear plate")
    assert other.blank.extent == pytest.approx((-38.0, plate.blank.extent[1], 30.0, 30.0))
    assert [h.x for h in other.holes] == [-h.x for h in plate.holes]
    assert [h.y for h in other.holes] == [h.y for h in plate.holes]
    assert [line.up for line in other.bend_lines] == [line.up for line in plate.bend_lines]
    assert other.mass == pytest.approx(plate.mass)


def test_a_plate_that_runs_up_is_the_one_that_runs_down_turned_over() -> None:
    plate = joggled()
    turned = tuple(hole.replace(y=-hole.y) for hole in plate.nominal)
    up = plate.replace(down=False, nominal=turned)
    assert [h.y for h in up.holes] == pytest.approx([-h.y for h in plate.holes])
    assert [line.y for line in up.bend_lines] == pytest.approx([-line.y for line in plate.bend_lines])
    assert up.finished((3.0, 150.0)) == pytest.approx((3.0, -plate.finished((3.0, -150.0))[1]))
    assert np.array(up.edge_view()) == pytest.approx(np.array([(x, -y) for x, y in plate.edge_view()]))


def test_a_flat_plate_has_no_bends_and_moves_no_hole() -> None:
    plate = angled(0.0)
    assert plate.bend_lines == ()
    assert plate.holes == plate.nominal
