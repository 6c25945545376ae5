"""What is recorded once and run in portions gives what the function itself gives."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
import pytest

from linkviz.linkage import equations
from linkviz.linkage.tape import CHUNK, FEW_KEPT, NUMBER, STATES, WIDE, Tape


def _sums(*arguments: Any) -> tuple[Any, ...]:
    return tuple(np.add.reduce(term, axis=0) for term in equations.link_energy(*arguments))


LINK_ENERGY = Tape(_sums, (STATES,) * 6 + (WIDE,) * 8)


def _arguments(n: int, columns: int) -> list[Any]:
    random = np.random.default_rng(n)
    pose = [*random.uniform(-30, 30, (3, n)), *random.uniform(-0.3, 0.3, (3, n))]
    ends = random.uniform(-500, 500, (6, 5, columns))
    return [*pose, *ends, np.full((5, columns), 430.0), np.full((5, columns), 5000.0)]


@pytest.mark.parametrize("n", [0, 1, 5, 9, CHUNK - 1, CHUNK, CHUNK + 1, 2 * CHUNK + 77])
@pytest.mark.parametrize("each_its_own", [False, True])
def test_link_energy_in_any_number_of_states(n: int, each_its_own: bool) -> None:
    arguments = _arguments(n, n if each_its_own else 1)
    for one, other in zip(LINK_ENERGY(n, *arguments), _sums(*arguments), strict=True):
        assert one.shape == (n,)
        assert np.allclose(one, other, rtol=1e-11, atol=1e-6)


def test_calls_do_not_share_results_nor_touch_what_they_are_given() -> None:
    first, second = _arguments(300, 1), _arguments(301, 1)
    kept = [np.copy(v) for v in first]
    one = LINK_ENERGY(300, *first)
    before = [np.copy(v) for v in one]
    LINK_ENERGY(301, *second)
    LINK_ENERGY(300, *_arguments(300, 1)[::1])
    assert all((a == b).all() for a, b in zip(one, before, strict=True))
    assert all((a == b).all() for a, b in zip(first, kept, strict=True))


def test_threads_do_not_write_into_one_another() -> None:
    cases = [_arguments(n, 1) for n in (2048, 2048, 700, 2048, 3000, 700)]
    expected = [_sums(*case) for case in cases]
    with ThreadPoolExecutor(3) as pool:
        for _ in range(5):
            for found, right in zip(pool.map(lambda a: LINK_ENERGY(len(a[0]), *a), cases), expected, strict=True):
                assert all(np.allclose(a, b, rtol=1e-11, atol=1e-6) for a, b in zip(found, right, strict=True))


def _signs(a: Any, b: Any, c: Any) -> tuple[Any, ...]:
    return (
        -a - b, -a + b, a - -b, -a * -b, -(a * b) / c, np.abs(-a), (-a) ** 2, c**-1.0, c**-2.0, 2.0 * a - 3.0 / c,
        np.cos(-a), np.sin(-a), np.arctan2(-a, -b), np.maximum(-a, -b), np.minimum(-a, b), np.sqrt(c), a, -a,
    )  # fmt: skip


def test_signs_powers_and_extents() -> None:
    random = np.random.default_rng(4)
    a, b, c = random.normal(size=50), random.normal(size=(5, 50)), 1.75
    tape = Tape(_signs, (STATES, WIDE, NUMBER))
    for one, other in zip(tape(50, a, b, c), _signs(a, b, c), strict=True):
        assert one == pytest.approx(np.broadcast_to(other, one.shape), rel=1e-15)


def test_what_comes_of_one_number_has_its_extent() -> None:
    (one,) = Tape(lambda a: (a * 2.0,), (NUMBER,))(3, 4.0)
    assert one.shape == (1,) and one[0] == 8.0


def test_a_power_it_cannot_take_is_refused() -> None:
    with pytest.raises(NotImplementedError):
        Tape(lambda a: (a**2.5,), (STATES,))


def test_numpy_is_left_as_it_was() -> None:
    before = np.getbufsize(), np.geterr()
    LINK_ENERGY(3, *_arguments(3, 1))
    assert (np.getbufsize(), np.geterr()) == before


def test_few_states_in_turn_are_laid_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    laid: list[int] = []
    laid_out = Tape._laid_out
    monkeypatch.setattr(Tape, "_laid_out", lambda self, n, shapes: laid.append(n) or laid_out(self, n, shapes))  # type: ignore[func-returns-value]
    tape = Tape(lambda a, b: [a * b + a], (STATES, STATES))
    for n in (1, 2, 81, 1, 2, 81, CHUNK + 3, 1, CHUNK + 3, 300, CHUNK + 300):
        a, b = np.linspace(1.0, 2.0, n), np.linspace(3.0, 5.0, n)
        np.testing.assert_array_equal(tape(n, a, b)[0], a * b + a)
    assert laid == [1, 2, 81, CHUNK, 3, 300]
    for n in range(1, 2 * FEW_KEPT):
        tape(n, 1.0, 2.0)
    assert laid.count(CHUNK) == 1 and len(tape._kept.programs[0]) == FEW_KEPT
