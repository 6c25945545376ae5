"""The solid of two outlines, against counts and volumes worked by hand and against single points."""

from __future__ import annotations

import numpy as np
import pytest

from linkviz.clearance.solid import Solid, inside

BOX_REAR = [(-1.0, 0.0), (1.0, 0.0), (1.0, 4.0), (-1.0, 4.0)]
BOX_SIDE = [(10.0, 0.0), (16.0, 0.0), (16.0, 4.0), (10.0, 4.0)]
ELL = [(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 10.0), (0.0, 10.0)]
WIDE = [(0.0, -5.0), (20.0, -5.0), (20.0, 15.0), (0.0, 15.0)]
COMB = [(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (6.0, 2.0), (3.0, 2.0), (3.0, 6.0), (0.0, 6.0)]
SLOPED = [(0.0, 0.0), (8.0, 1.0), (9.0, 7.0), (4.0, 3.0), (1.0, 8.0)]
PAIRS = {
    "box": (BOX_REAR, BOX_SIDE),
    "ell": (ELL, WIDE),
    "comb and comb": (COMB, COMB),
    "sloped": (SLOPED, COMB),
    "sloped twice": (SLOPED, [(-3.0, 2.0), (5.0, -1.0), (4.0, 9.0), (2.0, 4.0)]),
}


def volume(solid: Solid) -> float:
    """Return the volume by the divergence theorem: it is right only if the faces close and look outwards."""
    total = 0.0
    for face in solid.faces:
        for b, c in ((1, 2), (2, 3)):
            total += float(np.dot(face[0], np.cross(face[b], face[c]))) / 6
    return total


def slices(solid: Solid, count: int = 4000) -> float:
    """Return the volume as the sum of thin slices: width in rear view times width in side view."""
    low = max(solid.rear[:, 1].min(), solid.side[:, 1].min())
    high = min(solid.rear[:, 1].max(), solid.side[:, 1].max())
    z = low + (np.arange(count) + 0.5) * (high - low) / count
    return float((width(solid.rear, z) * width(solid.side, z)).sum() * (high - low) / count)


def width(outline: np.ndarray, z: np.ndarray) -> np.ndarray:
    before = np.roll(outline, 1, axis=0)
    crossing = []
    for (u0, v0), (u1, v1) in zip(before, outline, strict=True):
        if v0 != v1:
            at = u0 + (u1 - u0) * (z - v0) / (v1 - v0)
            crossing.append(np.where((v0 > z) != (v1 > z), at, np.inf))
    places = np.sort(np.array(crossing), axis=0)
    places = np.where(np.isfinite(places), places, 0.0)
    signs = np.where(np.arange(len(places)) % 2 == 0, -1.0, 1.0)[:, None]
    return (signs * places).sum(axis=0)


def test_a_box_has_six_faces_and_twelve_edges() -> None:
    solid = Solid.from_outlines(BOX_REAR, BOX_SIDE)
    assert solid.faces.shape == (6, 4, 3)
    assert solid.edges.shape == (12, 2, 3)
    assert volume(solid) == pytest.approx(2 * 6 * 4)


@pytest.mark.parametrize("name", PAIRS)
def test_the_surface_closes_and_looks_outwards(name: str) -> None:
    solid = Solid.from_outlines(*PAIRS[name])
    assert volume(solid) == pytest.approx(slices(solid), rel=2e-3)
    a, b, c, d = solid.faces.transpose(1, 0, 2)
    area = np.linalg.norm(np.cross(c - a, d - b), axis=1)
    assert (area[:, None] * solid.normals).sum(axis=0) == pytest.approx([0, 0, 0], abs=1e-9)


@pytest.mark.parametrize("name", PAIRS)
def test_just_behind_each_face_is_solid_and_just_before_it_is_not(name: str) -> None:
    solid = Solid.from_outlines(*PAIRS[name])
    middle = solid.faces.mean(axis=1)
    assert solid.contains(middle - 1e-6 * solid.normals).all()
    assert not solid.contains(middle + 1e-6 * solid.normals).any()


@pytest.mark.parametrize("name", PAIRS)
def test_every_face_names_its_own_edges(name: str) -> None:
    solid = Solid.from_outlines(*PAIRS[name])
    for face, around in zip(solid.faces, solid.around, strict=True):
        corners = {tuple(np.round(c, 6) + 0.0) for c in face}
        ends = {tuple(np.round(c, 6) + 0.0) for c in solid.edges[around].reshape(-1, 3)}
        assert ends == corners


@pytest.mark.parametrize("name", PAIRS)
def test_the_sense_of_the_outlines_does_not_matter(name: str) -> None:
    rear, side = PAIRS[name]
    forward, back = Solid.from_outlines(rear, side), Solid.from_outlines(rear[::-1], side[::-1])
    assert volume(back) == pytest.approx(volume(forward))
    assert len(back.faces) == len(forward.faces)


def test_all_faces_of_a_box_are_outer_and_the_notch_of_an_ell_is_not() -> None:
    assert Solid.from_outlines(BOX_REAR, BOX_SIDE).outer.all()
    ell = Solid.from_outlines(ELL, WIDE)
    middle = ell.faces.mean(axis=1)
    shelf = (np.abs(middle[:, 2] - 4.0) < 1e-9) & (middle[:, 1] > 4.0)
    wall = (np.abs(middle[:, 1] - 4.0) < 1e-9) & (middle[:, 2] > 4.0)
    assert shelf.any() and wall.any()
    assert (~ell.outer == (shelf | wall)).all()


def test_outlines_that_share_no_height_make_no_solid() -> None:
    high = [(x, z + 4.0) for x, z in BOX_SIDE]
    with pytest.raises(ValueError, match="share no height"):
        Solid.from_outlines(BOX_REAR, high)


def test_inside_counts_crossings() -> None:
    comb = np.array(COMB)
    u, v = np.array([1.5, 4.5, 7.5, 4.5, -1.0, 10.0]), np.array([5.0, 5.0, 5.0, 1.0, 1.0, 1.0])
    assert inside(comb, u, v).tolist() == [True, False, True, True, False, False]
    assert inside(comb, u.reshape(2, 3), v.reshape(2, 3)).shape == (2, 3)
