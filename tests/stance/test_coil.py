from __future__ import annotations

import pytest

from linkviz.stance import coil


def test_series_and_parallel() -> None:
    assert coil.in_series(40.0, 60.0) == pytest.approx(24.0)
    assert coil.in_parallel(40.0, 60.0) == pytest.approx(100.0)


def test_two_halves_of_a_coil_in_series_are_the_coil() -> None:
    whole, half = coil.rate(14.0, 120.0, 6.0), coil.rate(14.0, 120.0, 3.0)
    assert coil.in_series(half, half) == pytest.approx(whole)


def test_free_length_bears_the_force() -> None:
    assert coil.free_length(225.0, 3684.0, 26.0) == pytest.approx(225.0 + 141.6923, abs=1e-4)


@pytest.mark.parametrize("bad", [(0.0, 120.0, 6.0), (14.0, -1.0, 6.0), (14.0, 120.0, 0.0)])
def test_no_coil_of_nothing(bad: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="above zero"):
        coil.rate(*bad)


def test_stress_is_torsion_with_wahl() -> None:
    plain = 8.0 * 4000.0 * 120.0 / (3.141592653589793 * 14.0**3)
    assert coil.shear_stress(4000.0, 14.0, 120.0) == pytest.approx(plain * coil.wahl(120.0 / 14.0))
