"""The equations as they are shown are those that are run, and what is committed is what is derived."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
import sympy as sp

from linkviz.linkage import equations, shown_equations
from linkviz.linkage.derive import shown, symbolic
from linkviz.linkage.derive.shown import Shown


def test_committed_source_is_what_the_derivation_prints() -> None:
    assert shown.TARGET.read_text(encoding="utf-8") == shown.print_module()
    assert shown.receipt() == shown_equations.RECEIPT


def test_printing_again_changes_nothing_in_another_process() -> None:
    code = "from linkviz.linkage.derive import shown; import sys; sys.stdout.write(shown.print_module())"
    environment = {"PYTHONHASHSEED": "4711", "PATH": ""}
    done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    assert done.stdout == shown.TARGET.read_text(encoding="utf-8")


def put_together(steps: tuple[Shown, ...]) -> dict[str, sp.Expr]:
    """Return every step with the earlier ones put in, so that only what is given is left."""
    whole: dict[sp.Symbol, sp.Expr] = {}
    for step in steps:
        whole[step.symbol] = step.expression.subs(whole)
    return {symbol.name: expression for symbol, expression in whole.items()}


NAMES = {
    "branch": "s", "flx": "f_lx", "flz": "f_lz", "lower": "L_l", "fux": "f_ux", "fuz": "f_uz", "upper": "L_u",
    "alx": "a_lx", "alz": "a_lz", "aux": "a_ux", "auz": "a_uz", "cx": "c_x", "cz": "c_z",
    "heave": "h", "pitch": "theta", "yaw": "psi", "roll": "phi", "ax": "a_x", "ay": "a_y", "az": "a_z",
    "gx": "q_x", "gy": "q_y", "gz": "q_z", "length": "L",
}  # fmt: skip


def same(ours: sp.Expr, theirs: sp.Expr, numbers: dict[str, float]) -> None:
    """Compare two expressions in 30 digits at the same place."""
    at = {sp.Symbol(name, real=True): value for name, value in numbers.items()}
    renamed = {symbol: sp.Symbol(NAMES.get(symbol.name, symbol.name), real=True) for symbol in theirs.free_symbols}
    one, other = ours.evalf(30, subs=at), theirs.subs(renamed, simultaneous=True).evalf(30, subs=at)
    assert one.is_number and other.is_number
    assert abs(one - other) < 1e-18 * (1 + abs(other))


def test_the_side_view_is_that_of_the_derivation() -> None:
    whole, derived = put_together(shown.side_steps()), dict(symbolic.side_view().results)
    numbers = {
        "alpha": 3.24, "s": 1.0, "f_lx": 560.0, "f_lz": 400.0, "L_l": 567.2, "f_ux": 300.0, "f_uz": 560.0, "L_u": 296.1,
        "a_lx": 3.0, "a_lz": -60.0, "a_ux": 10.0, "a_uz": 130.0, "c_x": 2.0, "c_z": 370.0,
    }  # fmt: skip
    for step, piece in (("x", "x"), ("h", "heave"), ("sin_theta", "sin_pitch"), ("cos_theta", "cos_pitch")):
        same(whole[step], derived[piece], numbers)
    radicand = symbolic.side_view_radicand().results[0][1]
    same(whole["r"] ** 2, radicand, numbers)


POSE = {
    "x": 11.0, "y": -7.0, "h": -60.0, "theta": 0.11, "psi": -0.04, "phi": 0.09, "a_x": -130.0, "a_y": 430.0,
    "a_z": 70.0, "q_x": 130.0, "q_y": 440.0, "q_z": -150.0, "L": 874.0, "t": 1.0, "k": 6000.0,
}  # fmt: skip


def test_the_rear_view_is_that_of_the_derivation() -> None:
    whole, derived = put_together(shown.rear_steps()), dict(symbolic.rear_view().results)
    side = sp.Symbol("t", real=True)
    same(whole["y"], -derived["across"] + side * sp.sqrt(derived["radicand"]), POSE)


def test_a_link_in_space_is_that_of_the_derivation() -> None:
    whole = put_together(shown.full_steps())
    w = symbolic.link_vector()
    same(whole["w"], sp.sqrt(w.dot(w)), POSE)
    # the force of the shown steps against the gradient that the solve uses: F = dU/dL, and dL/dx = w_x / w
    numbers = [POSE[n] for n in ("x", "y", "h", "theta", "psi", "phi", "a_x", "a_y", "a_z", "q_x", "q_y", "q_z")]
    ahead, left = equations.link_energy(*numbers, POSE["L"], POSE["k"])[:2]
    gradient = np.cos(POSE["psi"]) * ahead - np.sin(POSE["psi"]) * left
    at = {sp.Symbol(name, real=True): value for name, value in POSE.items()}
    ours = float((whole["F"] * whole["w_x"] / whole["w"]).evalf(30, subs=at))
    assert ours == pytest.approx(gradient, rel=1e-12)
    energy = sp.diff(whole["U"], sp.Symbol("x", real=True)).evalf(30, subs=at)
    assert float(energy) == pytest.approx(gradient, rel=1e-12)


def test_printed_functions_are_the_expressions() -> None:
    random = np.random.default_rng(8)
    derived = {(one.section, one.symbol.name): one.expression for one in shown.steps()}
    for step in shown_equations.STEPS:
        values = dict(zip(step.takes, random.uniform(0.2, 0.9, len(step.takes)), strict=True))
        if step.symbol in ("r", "y"):
            values |= {"b": 3.0, "d": 2.0, "L": 5.0, "m": 1.0} | {k: 1.5 for k in ("q_y", "u")}
            values = {name: values[name] for name in step.takes}
        expected = derived[step.section, step.symbol].evalf(
            20, subs={sp.Symbol(name, real=True): value for name, value in values.items()}
        )
        assert step.of(**values) == pytest.approx(float(expected), rel=1e-12), step.symbol


def evaluated(tree: tuple, values: dict[str, float]) -> float:
    """Return the value of a printed tree: what is drawn, read by another rule than the one it was made by."""
    kind, *rest = tree
    if kind == "sym":
        return values[rest[0]]
    if kind == "num":
        return float(rest[0])
    if kind == "add":
        return sum((1 if sign == "+" else -1) * evaluated(part, values) for sign, part in rest[0])
    if kind == "mul":
        return float(np.prod([evaluated(part, values) for part in rest[0]]))
    if kind == "fn":
        return float(getattr(np, rest[0])(evaluated(rest[1], values)))
    inside = [evaluated(part, values) for part in rest]
    return {
        "neg": lambda a: -a, "frac": lambda a, b: a / b, "pow": lambda a, b: a**b, "sqrt": lambda a: a**0.5, "abs": abs,
    }[kind](*inside)  # fmt: skip


def test_what_is_drawn_means_what_is_computed() -> None:
    for step in shown_equations.STEPS:
        values = {name: 0.3 + 0.07 * i for i, name in enumerate(step.takes)}
        values |= {name: 4.0 for name in ("b", "d", "L") if name in values}
        assert evaluated(step.tree, values) == pytest.approx(float(step.of(**values)), rel=1e-12), step.symbol
