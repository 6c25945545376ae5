"""Flat patterns against rolling the neutral line in small steps, and against the formulas of a joggle."""

from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.errors import LinkvizError
from linkviz.sheetmetal.neutral import Neutral
from linkviz.sheetmetal.plate import Plate
from linkviz.sheetmetal.profile import Bend, Joggle, Profile, steepest_angle
from tests.sheetmetal.plates import angled, joggled, random_plate


def rolled(profile: Profile, s: float, steps: int = 20_000) -> tuple[float, float]:
    """Roll the plate by small steps: the neutral line turns it, the middle of the plate follows. (along, off), mm.

    Nothing of `Profile.place` is used: the turn of every small length of the flat pattern is added up.
    """
    edges, curves, middles = [profile.start], [], []
    for index, flat in enumerate(profile.flats):
        edges.append(edges[-1] + flat)
        curves.append(0.0)
        middles.append(1.0)
        if index < len(profile.bends):
            bend = profile.bends[index]
            neutral = bend.inside + bend.neutral.k * profile.thickness / 2.0
            edges.append(edges[-1] + neutral * bend.angle)
            curves.append((1.0 if bend.up else -1.0) / neutral)
            # a length at the middle of the plate over a length at the neutral line
            middles.append((bend.inside + profile.thickness / 2.0) / neutral)
    cuts = np.unique(np.concatenate([np.linspace(profile.start, s, steps), [e for e in edges if e < s]]))
    half = (cuts[1:] + cuts[:-1]) / 2.0
    piece = np.clip(np.searchsorted(edges, half) - 1, 0, len(curves) - 1)
    step = np.diff(cuts)
    lean = np.cumsum(np.array(curves)[piece] * step)
    lean = lean - np.array(curves)[piece] * step / 2.0
    along = profile.start + float(np.sum(np.cos(lean) * np.array(middles)[piece] * step))
    return along, float(np.sum(np.sin(lean) * np.array(middles)[piece] * step))


def assert_holes_come_right(plate: Plate) -> None:
    for nominal, flat in zip(plate.nominal, plate.holes, strict=True):
        along, _ = rolled(plate.profile, -flat.y)
        assert -along == pytest.approx(nominal.y, abs=0.001)
        assert flat.x == nominal.x


def test_rolling_the_neutral_line_puts_every_hole_at_its_drop(rng: np.random.Generator) -> None:
    for _ in range(40):
        assert_holes_come_right(random_plate(rng))


@pytest.mark.parametrize("lean", [0.0, 20.0, 45.0, 60.0])
def test_the_holes_of_an_angled_plate_come_to_their_rise(lean: float) -> None:
    assert_holes_come_right(angled(math.radians(lean)))


def test_rolling_sets_the_joggle_off_by_its_offset(rng: np.random.Generator) -> None:
    for _ in range(10):
        offset, inside, thickness = rng.uniform(4.0, 20.0), rng.uniform(4.0, 15.0), rng.uniform(3.0, 10.0)
        angle = rng.uniform(0.5, 1.0) * steepest_angle(offset, inside, thickness)
        joggle = Joggle(offset, angle, inside, thickness, Neutral.by("din", inside, thickness))
        profile = joggle.profile(-30.0, 60.0, 160.0)
        along, off = rolled(profile, profile.end)
        assert off == pytest.approx(offset, abs=0.001)
        assert along == pytest.approx(160.0, abs=0.001)
        assert profile.place(profile.end).lean == pytest.approx(0.0, abs=1e-12)


def test_holes_beyond_a_joggle_move_by_what_it_is_longer() -> None:
    plate = joggled()
    bend = plate.profile.bends[0]
    joggle = Joggle(8.0, bend.angle, 9.0, 6.0, bend.neutral)
    # written out again: rho_m 12, DIN's k for r/t 1.5
    k = 0.65 + 0.5 * math.log10(1.5)
    beta = math.radians(45.0)
    web = (8.0 - 24.0 * (1.0 - math.cos(beta))) / math.sin(beta)
    growth = 2.0 * (9.0 + 3.0 * k) * beta + web - 24.0 * math.sin(beta) - web * math.cos(beta)
    assert joggle.growth == pytest.approx(growth, abs=1e-12)
    moved = [n.y - f.y for n, f in zip(plate.nominal, plate.holes, strict=True)]
    assert moved == pytest.approx([0.0, 0.0, growth, growth])


def test_there_and_back(rng: np.random.Generator) -> None:
    for _ in range(20):
        profile = random_plate(rng).profile
        for s in rng.uniform(profile.start - 5.0, profile.end + 5.0, 20):
            assert profile.flat_of(profile.place(s).along) == pytest.approx(s, abs=1e-9)


def test_the_steepest_joggle_has_no_straight_part() -> None:
    angle = steepest_angle(3.0, 9.0, 6.0)
    assert Joggle(3.0, angle, 9.0, 6.0, Neutral.of_shop(0.8)).web == pytest.approx(0.0, abs=1e-9)
    with pytest.raises(LinkvizError, match=r"3\.0 mm is wanted"):
        Joggle(3.0, angle + 0.05, 9.0, 6.0, Neutral.of_shop(0.8))


def test_what_cannot_be_made_is_refused() -> None:
    neutral = Neutral.of_shop(0.8)
    with pytest.raises(LinkvizError, match="above 0"):
        Joggle(0.0, 0.3, 9.0, 6.0, neutral)
    with pytest.raises(LinkvizError, match="longer"):
        Joggle(8.0, 0.6, 9.0, 6.0, neutral).profile(-30.0, 60.0, 65.0)
    with pytest.raises(LinkvizError, match="75 deg"):
        Profile(4.0, 0.0, (50.0, 50.0), (Bend(math.radians(90.0), 4.0, True, neutral),))
