from __future__ import annotations

import numpy as np
import pytest

from linkviz.linkage.closed_form import bar_side, closed_form, seed, trailing
from linkviz.linkage.layout import BAR, Layout
from linkviz.linkage.solve import solve
from tests.layouts import STIFFNESS, bench_layout, random_layout


def test_design_height_is_the_design_pose() -> None:
    form = closed_form(bench_layout(), np.zeros(1), np.zeros(1))
    assert (form.x, form.y, form.pitch) == (
        pytest.approx([0.0], abs=1e-9),
        pytest.approx([0.0], abs=1e-9),
        pytest.approx([0.0], abs=1e-12),
    )


def test_heights_are_met_and_lengths_kept() -> None:
    """The pose found at each height has the planar link lengths of the design, worked out by hand here."""
    layout = bench_layout()
    heave = np.linspace(-177.0, 250.0, 41)
    form = closed_form(layout, heave, np.zeros_like(heave))
    for first, second in ((0, 1), (2, 3)):
        frame = layout.frame[[first, second]].mean(axis=0)[[0, 2]]
        arm = layout.axle[[first, second]].mean(axis=0)[[0, 2]]
        design = np.linalg.norm(arm + layout.centre[[0, 2]] - frame)
        c, s = np.cos(form.pitch), np.sin(form.pitch)
        x = layout.centre[0] + form.x + c * arm[0] + s * arm[1] - frame[0]
        z = layout.centre[2] + heave - s * arm[0] + c * arm[1] - frame[1]
        assert np.hypot(x, z) == pytest.approx(np.full(41, design), abs=1e-7)


def test_bar_length_is_kept_with_roll() -> None:
    layout = bench_layout()
    heave, roll = np.array([-80.0, 0.0, 60.0]), np.radians([4.0, -5.0, 2.0])
    form = closed_form(layout, heave, roll)
    assert form.radicand.min() > 0
    for i in range(3):
        c, s = np.cos(form.pitch[i]), np.sin(form.pitch[i])
        tilt = np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])
        cr, sr = np.cos(roll[i]), np.sin(roll[i])
        lean = np.array([[1, 0, 0], [0, cr, -sr], [0, sr, cr]])
        end = layout.centre + [form.x[i], form.y[i], heave[i]] + tilt @ lean @ layout.axle[BAR]
        assert np.linalg.norm(end - layout.frame[BAR]) == pytest.approx(layout.length[BAR], abs=1e-9)


def test_near_the_full_solve_in_pure_heave() -> None:
    """Expected quality: 0.5 mm of x, 0.6 mm of y, 0.2 deg of pitch over +-125 mm on the bench layout."""
    layout, heave = bench_layout(), np.linspace(-125.0, 125.0, 51)
    form, full = closed_form(layout, heave, np.zeros(51)), solve(layout, heave, 0.0)
    assert np.abs(form.x - full.x).max() < 0.5
    assert np.abs(form.y - full.y).max() < 0.6
    assert np.degrees(np.abs(form.pitch - full.pitch)).max() < 0.2


def test_travel_ends_where_the_radicand_does() -> None:
    links = trailing(bench_layout())
    assert links.low == pytest.approx(-177.6, abs=0.1)
    assert "upper links" in links.stop_low
    held = closed_form(bench_layout(), np.array([-400.0]), np.zeros(1))
    assert held.heave[0] == links.low
    assert np.isfinite([held.x[0], held.y[0], held.pitch[0]]).all()


def test_dead_point_of_the_lower_links() -> None:
    """Equal parallel links turn until they stand upright: the height they end at is known by hand."""
    frame = np.array([(400, 400, 300), (400, -400, 300), (400, 300, 500), (400, -300, 500), (-100, -400, 450)], float)
    axle = np.array([(0, 400, 300), (0, -400, 300), (0, 300, 500), (0, -300, 500), (-100, 400, 400)], float)
    links = trailing(Layout.from_points(np.array([0.0, 0.0, 370.0]), frame, axle, STIFFNESS))
    assert links.high == pytest.approx(400.0, abs=0.1)
    assert links.low == pytest.approx(-400.0, abs=0.1)
    assert "upper links" in links.stop_high  # both pairs and the axle stand in one line there


@pytest.mark.parametrize("which", ["bracket", "upper"])
def test_links_that_hold_nothing_are_named(which: str) -> None:
    layout = bench_layout()
    frame, axle = layout.frame.copy(), (layout.axle + layout.centre).copy()
    if which == "bracket":
        axle[2:4, [0, 2]] = axle[0:2, [0, 2]]
    else:
        frame[2:4, [0, 2]] = axle[2:4, [0, 2]]
    broken = Layout.from_points(layout.centre, frame, axle, STIFFNESS)
    poses = solve(broken, [0.0, 50.0], 0.0)
    assert not poses.reached[1]
    assert poses.stopped_by[1]
    assert np.isfinite(poses.x).all()


def test_bar_side_follows_the_bar() -> None:
    layout = bench_layout()
    assert bar_side(layout) == 1.0
    mirrored = Layout.from_points(
        layout.centre, layout.frame * [1, -1, 1], (layout.axle + layout.centre) * [1, -1, 1], STIFFNESS
    )
    assert bar_side(mirrored) == -1.0


def test_table_inversion_is_exact_on_random_layouts() -> None:
    random = np.random.default_rng(8)
    for _ in range(20):
        layout = random_layout(random)
        links = trailing(layout)
        heave = np.linspace(links.low, min(links.high, 300.0), 25)
        x, pitch = links.at(heave)
        near, radicand = seed(layout, heave, np.zeros(25))
        assert np.abs(x - near[0]).max() < 2.0
        assert np.abs(pitch - near[2]).max() < 0.02
        again = closed_form(layout, heave, np.zeros(25))
        spans = (again.radicand > 1e4) & (radicand > 1e4)
        assert np.abs(near[1] - again.y)[spans].max(initial=0.0) < 5.0
        assert again.x == pytest.approx(x, abs=1e-9)
