from __future__ import annotations

import numpy as np
import pytest

from linkviz.clearance.bodies import ball, between, box, capsule, cylinder, fixed, rigid, span
from linkviz.clearance.gap import gap as tube_gap
from linkviz.clearance.pair import Compound, gap
from linkviz.clearance.solid import Solid
from linkviz.linkage.pose import rotation

HOLLOW = Solid.from_outlines(
    [(-120.0, 220.0), (120.0, 220.0), (120.0, 480.0), (60.0, 480.0), (60.0, 300.0), (-60.0, 330.0), (-60.0, 480.0)],
    [(-200.0, 200.0), (300.0, 240.0), (300.0, 350.0), (50.0, 360.0), (40.0, 500.0), (-200.0, 450.0)],
)


def turned(random: np.random.Generator, n: int) -> np.ndarray:
    return rotation(*random.uniform(-1.5, 1.5, (3, n)))


def test_a_capsule_and_a_drawn_solid_agree_with_the_tube() -> None:
    random = np.random.default_rng(5)
    p, q = random.uniform((-400.0, -300.0, 50.0), (400.0, 300.0, 650.0), (2, 400, 3))
    ours, tube = gap(span(25.0), between(p, q), Compound(HOLLOW)), tube_gap(HOLLOW, p, q, 25.0)
    assert ours.distance == pytest.approx(tube.distance, abs=1e-6)
    assert (ours.distance < -25.0).sum() > 40
    assert (ours.distance > 0).sum() > 100


def test_a_search_from_near_states_ends_at_the_same_gap() -> None:
    random = np.random.default_rng(6)
    can, tank = cylinder(-120.0, 120.0, 300.0), Compound(HOLLOW)
    turn, place = turned(random, 200), random.uniform(-700.0, 700.0, (200, 3))
    first = gap(can, rigid(turn, place), tank)
    moved = rigid(turn, place + random.uniform(-20.0, 20.0, (200, 3)))
    again = gap(can, moved, tank, start=first.simplex)
    apart = again.distance > 0
    assert again.distance[apart] == pytest.approx(gap(can, moved, tank).distance[apart], abs=1e-6)
    assert (gap(can, moved, tank).distance > 0).tolist() == apart.tolist()


@pytest.mark.parametrize(
    "body", [ball(60.0), cylinder(-80.0, 90.0, 70.0), box((-50.0, -60.0, -70.0), (80.0, 40.0, 30.0))]
)
def test_no_jump_on_the_way_in(body) -> None:
    """Moved by a step, a gap changes by no more than the step: outside, at the skin and inside."""
    steps = np.linspace(400.0, 0.0, 801)
    turn = np.repeat(rotation(np.array([0.3]), np.array([-0.2]), np.array([0.5])), len(steps), axis=0)
    for way in ([1.0, 0.2, 0.1], [0.0, 1.0, 0.4], [0.3, -0.5, 1.0]):
        place = np.array([0.0, 0.0, 350.0]) + steps[:, None] * np.array(way) / np.linalg.norm(way)
        for other in (capsule((-100.0, 0.0, 300.0), (120.0, 30.0, 380.0), 20.0), cylinder(-150.0, 150.0, 40.0)):
            at_other = fixed(len(steps), (0.0, 0.0, 350.0 if other.disc else 0.0))
            found = gap(body, rigid(turn, place), other, at_other).distance
            assert found[0] > 0 > found[-1]
            deep = found < -20.0 if body.disc else np.zeros(len(found), dtype=bool)
            assert np.abs(np.diff(found))[~deep[1:]].max() < 0.5 + 0.02
            assert np.abs(np.diff(found)).max() < 6.0


def test_moved_out_by_its_depth_a_body_is_clear() -> None:
    random = np.random.default_rng(8)
    one, other = cylinder(-100.0, 100.0, 150.0), box((-90.0, -50.0, -70.0), (60.0, 80.0, 40.0))
    turn, place = turned(random, 200), random.uniform(-90.0, 90.0, (200, 3))
    inside = gap(one, rigid(turn, place), other)
    assert (inside.distance < 0).all()
    way = inside.on_b - inside.on_a
    assert np.linalg.norm(way, axis=1) == pytest.approx(-inside.distance, abs=1e-9)
    out = gap(one, rigid(turn, place + way * 1.000001), other).distance
    assert out.min() > -1e-3
    assert np.median(np.abs(out)) < 1e-2


def test_frames_of_other_states_are_refused() -> None:
    with pytest.raises(ValueError, match="same states"):
        gap(ball(10.0), fixed(3), ball(10.0), fixed(2))
    with pytest.raises(ValueError, match="common frame"):
        gap(ball(10.0), fixed(3), Compound(HOLLOW), fixed(3))
