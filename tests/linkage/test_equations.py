"""The generated equations: what is committed is what the derivation prints, and the derivation is right."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
import sympy as sp

from linkviz.linkage import equations
from linkviz.linkage.derive import printer, symbolic


def test_committed_source_is_what_the_derivation_prints() -> None:
    assert printer.TARGET.read_text(encoding="utf-8") == printer.print_module()


def test_receipt_names_the_derivation_that_was_run() -> None:
    assert printer.receipt() == equations.RECEIPT


def test_printing_again_changes_nothing_in_another_process() -> None:
    """Hash order must not leak into the source."""
    code = "from linkviz.linkage.derive import printer; import sys; sys.stdout.write(printer.print_module())"
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONHASHSEED": "4711", "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout == printer.TARGET.read_text(encoding="utf-8")


def _numbers(random: np.random.Generator) -> list[float]:
    pose = [*random.uniform(-30, 30, 3), *random.uniform(-0.3, 0.3, 3)]
    return [*pose, *random.uniform(-500, 500, 6)]


def _along_x_and_y(terms: tuple[float, ...], yaw: float) -> list[float]:
    """Turn gradient and Hessian from axes ahead and to the left of the axle to those of the body."""
    turn = np.eye(4)
    turn[:2, :2] = [[np.cos(yaw), -np.sin(yaw)], [np.sin(yaw), np.cos(yaw)]]
    hessian = np.zeros((4, 4))
    upper = np.triu_indices(4)
    hessian[upper] = terms[4:]
    hessian = hessian + np.triu(hessian, 1).T
    return [*(turn @ terms[:4]), *(turn @ hessian @ turn.T)[upper]]


def test_energy_derivatives_are_those_of_the_bare_energy() -> None:
    """The staged derivation against sympy's own derivative of 1/2 k (|w| - free)^2, in 30 digits."""
    free, stiffness = sp.symbols("free stiffness")
    w = symbolic.link_vector()
    bare = stiffness * (sp.sqrt(w.dot(w)) - free) ** 2 / 2
    arguments = symbolic.LINK_ARGUMENTS
    by_name = {s.name: s for s in arguments}
    unknowns = [by_name[n] for n in symbolic.UNKNOWNS]
    expected = [sp.diff(bare, v) for v in unknowns]
    expected += [sp.diff(bare, unknowns[i], unknowns[j]) for i in range(4) for j in range(i, 4)]
    random = np.random.default_rng(3)
    for _ in range(3):
        numbers = _numbers(random)
        ours = _along_x_and_y(equations.link_energy(*numbers, 430.0, 5000.0), numbers[4])
        at = dict(zip(arguments, numbers, strict=True)) | {free: 430.0, stiffness: 5000.0}
        theirs = [float(e.evalf(30, subs=at)) for e in expected]
        assert ours == pytest.approx(theirs, rel=1e-10, abs=1e-6)


def test_link_with_roll_by_complex_steps() -> None:
    """First derivatives of the length against the complex-step method (Squire and Trapp 1998)."""
    random = np.random.default_rng(5)
    numbers = _numbers(random)
    _length, *rest = equations.link_with_roll(*numbers)
    for k, place in enumerate((0, 1, 3, 4, 5)):
        moved = [complex(v) for v in numbers]
        moved[place] += 1e-30j
        assert rest[k] == pytest.approx(equations.link_length(*moved).imag / 1e-30, rel=1e-12)


def test_link_with_roll_second_derivatives() -> None:
    random = np.random.default_rng(6)
    numbers = _numbers(random)
    places = (0, 1, 3, 4, 5)
    second = iter(equations.link_with_roll(*numbers)[6:])
    for i in range(5):
        for j in range(i, 5):
            moved = [complex(v) for v in numbers]
            moved[places[j]] += 1e-30j
            assert next(second) == pytest.approx(
                equations.link_with_roll(*moved)[1 + i].imag / 1e-30, rel=1e-9, abs=1e-12
            )


def test_side_view_rate_is_the_derivative_of_height() -> None:
    numbers = (560.0, 400.0, 567.2, 300.0, 560.0, 296.1, 0.0, -60.0, 10.0, 130.0, 0.0, 370.0)
    alpha = np.pi + 0.1
    height, *_, rate = equations.side_view(alpha, 1.0, *numbers)
    step = 1e-6
    above, below = (equations.side_view(alpha + s, 1.0, *numbers)[0] for s in (step, -step))
    assert rate == pytest.approx((above - below) / (2 * step), rel=1e-7)
    assert height == pytest.approx((above + below) / 2, abs=1e-6)
