"""The derivation as people read it: the same equations in small named steps, printed as trees that can be drawn.

`symbolic` derives what the program runs; here every step stands by itself, in the order a reader follows. A test puts
the steps into one another and finds the expressions of `symbolic` again, so that the two cannot drift apart.
Run ``python -m linkviz.linkage.derive`` to print them anew.
"""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

import sympy as sp
from sympy.printing.numpy import NumPyPrinter

from linkviz.frozen import Frozen

TARGET = Path(__file__).resolve().parent.parent / "shown_equations.py"


class Shown(Frozen):
    """One step: the symbol it gives, what it is, its unit, words."""

    section: str
    symbol: sp.Symbol
    expression: sp.Expr
    unit: str
    words: str


def _s(names: str) -> tuple[sp.Symbol, ...]:
    return tuple(sp.symbols(names, real=True))


def side_steps() -> tuple[Shown, ...]:
    """Return the trailing links in side view, step by step."""
    alpha, s, flx, flz, lower, fux, fuz, upper = _s("alpha s f_lx f_lz L_l f_ux f_uz L_u")
    alx, alz, aux, auz, cx, cz = _s("a_lx a_lz a_ux a_uz c_x c_z")
    px, pz, gx, gz, d, bx, bz, b, m, r, kx, kz, sine, cosine, x, h = _s(
        "p_x p_z g_x g_z d b_x b_z b m r k_x k_z sin_theta cos_theta x h"
    )

    def step(symbol: sp.Symbol, expression: sp.Expr, unit: str, words: str = "") -> Shown:
        return Shown("side", symbol, expression, unit, words)

    return (
        step(px, flx + lower * sp.cos(alpha), "mm", "Axle joint of the lower links, at their angle"),
        step(pz, flz + lower * sp.sin(alpha), "mm"),
        step(gx, fux - px, "mm", "From there to the frame joint of the upper links"),
        step(gz, fuz - pz, "mm"),
        step(d, sp.sqrt(gx**2 + gz**2), "mm"),
        step(bx, aux - alx, "mm", "The axle between its lower and its upper joint, as built"),
        step(bz, auz - alz, "mm"),
        step(b, sp.sqrt(bx**2 + bz**2), "mm"),
        step(m, (d**2 + b**2 - upper**2) / 2, "mm\N{SUPERSCRIPT TWO}", "Crossing of the two circles, about the joints"),
        step(r, sp.sqrt(b**2 * d**2 - m**2), "mm\N{SUPERSCRIPT TWO}", "Where this root turns 0 travel ends"),
        step(kx, (m * gx - s * r * gz) / d**2, "mm", "The axle between its joints, as it stands now"),
        step(kz, (m * gz + s * r * gx) / d**2, "mm"),
        step(sine, (bz * kx - bx * kz) / b**2, "", "Pitch of the axle: the turn from one to the other"),
        step(cosine, (bx * kx + bz * kz) / b**2, ""),
        step(x, px - cosine * alx - sine * alz - cx, "mm", "Axle centre, forward and up from design"),
        step(h, pz + sine * alx - cosine * alz - cz, "mm"),
    )


def rear_steps() -> tuple[Shown, ...]:
    """Return the lateral bar in rear view, step by step."""
    x, h, theta, phi, ax, ay, az, qx, qy, qz, length, t = _s("x h theta phi a_x a_y a_z q_x q_y q_z L t")
    u, v, wx, wz, y = _s("u v w_x w_z y")

    def step(symbol: sp.Symbol, expression: sp.Expr, words: str = "") -> Shown:
        return Shown("rear", symbol, expression, "mm", words)

    return (
        step(u, ay * sp.cos(phi) - az * sp.sin(phi), "The bar's axle end, rolled with the axle"),
        step(v, ay * sp.sin(phi) + az * sp.cos(phi)),
        step(wx, ax * sp.cos(theta) + v * sp.sin(theta) + x + qx, "From the frame end to the axle end, along the car"),
        step(wz, v * sp.cos(theta) - ax * sp.sin(theta) + h + qz, "and upwards"),
        step(y, t * sp.sqrt(length**2 - wx**2 - wz**2) - u - qy, "What is left of the bar's length is sideways"),
    )


def full_steps() -> tuple[Shown, ...]:
    """Return one link in space, with the force in its bushings, step by step."""
    x, y, h, theta, psi, phi, ax, ay, az, qx, qy, qz = _s("x y h theta psi phi a_x a_y a_z q_x q_y q_z")
    length, k, u, v, m, n, wx, wy, wz, long, e, force, energy = _s("L k u v m n w_x w_y w_z w e F U")

    def step(symbol: sp.Symbol, expression: sp.Expr, unit: str = "mm", words: str = "") -> Shown:
        return Shown("full", symbol, expression, unit, words)

    return (
        step(u, ay * sp.cos(phi) - az * sp.sin(phi), words="The axle end: rolled,"),
        step(v, ay * sp.sin(phi) + az * sp.cos(phi)),
        step(m, ax * sp.cos(theta) + v * sp.sin(theta), words="pitched,"),
        step(n, v * sp.cos(theta) - ax * sp.sin(theta)),
        step(wx, m * sp.cos(psi) - u * sp.sin(psi) + x + qx, words="turned in plan and put in its place"),
        step(wy, m * sp.sin(psi) + u * sp.cos(psi) + y + qy),
        step(wz, n + h + qz),
        step(long, sp.sqrt(wx**2 + wy**2 + wz**2), words="Distance of the two ends now"),
        step(e, long - length, words="How far the bushings have given way"),
        step(force, k * e, "N", "Force in the link"),
        step(energy, k * e**2 / 2, "N mm", "Energy in its bushings; the axle stands where the sum over all is least"),
    )


def read_steps() -> tuple[Shown, ...]:
    """Return what is read off the pose."""
    wy, wz, theta, p0, y, yr, rate, tyre, gamma = _s("w_y w_z theta P_0 y y_0 y_phi R gamma")
    beta, p, sway, z, uneven = _s("beta P s_w z_rc U_v")

    def step(symbol: sp.Symbol, expression: sp.Expr, unit: str, words: str) -> Shown:
        return Shown("read", symbol, expression, unit, words)

    return (
        step(beta, sp.atan(-wz / sp.Abs(wy)), "rad", "Bar angle, seen from behind"),
        step(p, p0 - theta, "rad", "Pinion angle: as built, less pitch"),
        step(sway, y - yr, "mm", "Sway: from where the axle rests"),
        step(z, tyre + rate, "mm", "Roll centre above the ground, by the rate of y with roll"),
        step(uneven, 1 / sp.cos(gamma) - sp.cos(gamma), "", "How unevenly the pinion's joint turns"),
    )


def steps() -> tuple[Shown, ...]:
    """Return all steps, in the order in which they are shown."""
    return (*side_steps(), *rear_steps(), *full_steps(), *read_steps())


# -- printing


def tree(e: sp.Expr) -> Any:
    """Return an expression as nested tuples: what `linkviz.window.formula` draws."""
    if e.is_Symbol:
        return ("sym", e.name)
    if e.is_Integer:
        return ("num", str(e)) if e >= 0 else ("neg", ("num", str(-e)))
    if e.is_Add:
        # what is added first, what is taken away after it
        return ("add", tuple(sorted(map(_signed, e.as_ordered_terms()), key=lambda term: term[0] == "-")))
    if e.is_Mul:
        top, bottom = sp.fraction(e)
        if bottom != 1:
            sign, rest = _signed(top)
            inner = ("frac", rest, tree(bottom))
            return ("neg", inner) if sign == "-" else inner
        sign, rest = _signed(e)
        return ("neg", rest) if sign == "-" else rest
    if e.is_Pow:
        base, exponent = e.args
        if exponent == sp.Rational(1, 2):
            return ("sqrt", tree(base))
        if exponent.is_negative:
            return ("frac", ("num", "1"), tree(1 / e))
        return ("pow", tree(base), tree(exponent))
    if isinstance(e, sp.Abs):
        return ("abs", tree(e.args[0]))
    return ("fn", {"atan": "arctan"}.get(e.func.__name__, e.func.__name__), tree(e.args[0]))


def _signed(e: sp.Expr) -> tuple[str, Any]:
    if e.could_extract_minus_sign() and not e.is_Add:
        return "-", _product(-e)
    return "+", _product(e)


def _product(e: sp.Expr) -> Any:
    if not e.is_Mul or sp.fraction(e)[1] != 1:
        return tree(e)
    plain = [f for f in e.as_ordered_factors() if not f.is_Function and not f.is_Add]
    rest = [f for f in e.as_ordered_factors() if f.is_Function or f.is_Add]
    return ("mul", tuple(tree(factor) for factor in (*plain, *rest)))


def receipt() -> str:
    """Return the hash of this file."""
    return hashlib.sha256(Path(__file__).read_text(encoding="utf-8").encode()).hexdigest()[:16]


def print_module() -> str:
    """Return the whole of ``linkviz/linkage/shown_equations.py``."""
    printer = NumPyPrinter({"fully_qualified_modules": False})
    lines = [
        '"""The equations as they are shown. GENERATED by `python -m linkviz.linkage.derive` with sympy '
        f"{sp.__version__}; do not edit.",
        "",
        f"Derivation: linkviz/linkage/derive/shown.py, sha256 {receipt()}.",
        '"""',
        "",
        "# ruff: noqa",
        "# fmt: off",
        "from collections.abc import Callable",
        "from typing import Any, NamedTuple",
        "",
        "from numpy import abs, arctan, cos, sin, sqrt",
        "",
        f'RECEIPT = "{receipt()}"',
        "",
        "",
        "class Step(NamedTuple):",
        '    """One step: section, symbol, tree of the expression, names it takes, function of these, unit, words."""',
        "",
        "    section: str",
        "    symbol: str",
        "    tree: Any",
        "    takes: tuple[str, ...]",
        "    of: Callable[..., Any]",
        "    unit: str",
        "    words: str",
        "",
        "",
        "STEPS: tuple[Step, ...] = (",
    ]
    for one in steps():
        takes = tuple(sorted(symbol.name for symbol in one.expression.free_symbols))
        lines.append(
            f"    Step({one.section!r}, {one.symbol.name!r}, {tree(one.expression)!r}, {takes!r}, "
            f"lambda {', '.join(takes)}: {printer.doprint(one.expression)}, {one.unit!r}, {one.words!r}),"
        )
    return "\n".join([*lines, ")", ""])


def write(path: Path = TARGET) -> None:
    """Write the module."""
    path.write_text(print_module(), encoding="utf-8")
