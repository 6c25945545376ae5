"""The link equations, derived symbolically.

Three pieces, each a list of named expressions of named symbols:

`side_view`
    The trailing links in side view: a planar four-bar whose coupler is the axle, with the angle of the lower
    link as parameter. The upper joint is the crossing of two circles (the loop-closure solution that also
    follows from Freudenstein's equation; Freudenstein 1955, Norton, Design of Machinery, ch. 4).
`rear_view`
    The lateral bar with pitch, fore-aft shift and roll known: one quadratic in y.
`link`
    Stretch of one spatial link with its first and second derivatives with respect to
    (x, y, pitch, yaw, roll), for the solve of least bushing energy.
"""

from __future__ import annotations

from dataclasses import dataclass

import sympy as sp


@dataclass(frozen=True)
class Piece:
    """One generated function: its name, arguments, results and docstring."""

    name: str
    arguments: tuple[sp.Symbol, ...]
    results: tuple[tuple[str, sp.Expr], ...]
    summary: str


def _symbols(names: str) -> tuple[sp.Symbol, ...]:
    return tuple(sp.symbols(names, real=True))


def side_view() -> Piece:
    """Derive the planar four-bar of the trailing links."""
    alpha, branch = _symbols("alpha branch")
    flx, flz, lower, fux, fuz, upper = _symbols("flx flz lower fux fuz upper")
    alx, alz, aux, auz, cx, cz = _symbols("alx alz aux auz cx cz")
    frame_l, frame_u = sp.Matrix([flx, flz]), sp.Matrix([fux, fuz])
    axle_l, axle_u = sp.Matrix([alx, alz]), sp.Matrix([aux, auz])

    joint_l = frame_l + lower * sp.Matrix([sp.cos(alpha), sp.sin(alpha)])
    bracket = axle_u - axle_l
    gap = frame_u - joint_l
    gap2 = gap.dot(gap)
    bracket2 = bracket.dot(bracket)
    along = (gap2 + bracket2 - upper**2) / 2
    radicand = bracket2 * gap2 - along**2
    root = sp.sqrt(radicand)
    coupler = (along * gap + branch * root * sp.Matrix([-gap[1], gap[0]])) / gap2
    # Ry(theta) in the x-z plane: (x, z) -> (x cos + z sin, -x sin + z cos)
    cos_t = bracket.dot(coupler) / bracket2
    sin_t = (bracket[1] * coupler[0] - bracket[0] * coupler[1]) / bracket2
    turn = sp.Matrix([[cos_t, sin_t], [-sin_t, cos_t]])
    centre = joint_l - turn * axle_l
    x, height = centre[0] - cx, centre[1] - cz
    return Piece(
        "side_view",
        (alpha, branch, flx, flz, lower, fux, fuz, upper, alx, alz, aux, auz, cx, cz),
        (
            ("heave", height),
            ("x", x),
            ("sin_pitch", sin_t),
            ("cos_pitch", cos_t),
            ("heave_rate", sp.diff(height, alpha)),
        ),
        "Trailing links in side view, by the angle of the lower link (mm, rad).",
    )


def side_view_radicand() -> Piece:
    """Derive what must not be negative for the upper joint to exist."""
    full = side_view()
    alpha, _, flx, flz, lower, fux, fuz, upper, alx, alz, aux, auz, _, _ = full.arguments
    gap2 = (fux - flx - lower * sp.cos(alpha)) ** 2 + (fuz - flz - lower * sp.sin(alpha)) ** 2
    bracket2 = (aux - alx) ** 2 + (auz - alz) ** 2
    radicand = bracket2 * gap2 - ((gap2 + bracket2 - upper**2) / 2) ** 2
    return Piece(
        "side_view_radicand",
        (alpha, flx, flz, lower, fux, fuz, upper, alx, alz, aux, auz),
        (("radicand", radicand),),
        "Square under the root of `side_view`, mm^4; negative where the links cannot meet.",
    )


def _rotation(pitch: sp.Expr, yaw: sp.Expr, roll: sp.Expr) -> sp.Matrix:
    def rx(a: sp.Expr) -> sp.Matrix:
        return sp.Matrix([[1, 0, 0], [0, sp.cos(a), -sp.sin(a)], [0, sp.sin(a), sp.cos(a)]])

    def ry(a: sp.Expr) -> sp.Matrix:
        return sp.Matrix([[sp.cos(a), 0, sp.sin(a)], [0, 1, 0], [-sp.sin(a), 0, sp.cos(a)]])

    def rz(a: sp.Expr) -> sp.Matrix:
        return sp.Matrix([[sp.cos(a), -sp.sin(a), 0], [sp.sin(a), sp.cos(a), 0], [0, 0, 1]])

    return rz(yaw) * ry(pitch) * rx(roll)


def rear_view() -> Piece:
    """Derive the lateral bar's quadratic in y, yaw zero."""
    x, heave, pitch, roll, side = _symbols("x heave pitch roll side")
    ax, ay, az, gx, gy, gz, length = _symbols("ax ay az gx gy gz length")
    arm = _rotation(pitch, sp.Integer(0), roll) * sp.Matrix([ax, ay, az])
    across = arm[1] + gy
    radicand = length**2 - (arm[0] + x + gx) ** 2 - (arm[2] + heave + gz) ** 2
    return Piece(
        "rear_view",
        (x, heave, pitch, roll, ax, ay, az, gx, gy, gz, length),
        (("across", across), ("radicand", radicand)),
        "Lateral bar in rear view: y = -across + side * sqrt(radicand); (gx, gy, gz) = centre - frame end (mm).",
    )


UNKNOWNS = ("x", "y", "pitch", "yaw", "roll")


def link() -> Piece:
    """Derive length, gradient and Hessian of one link's length over (x, y, pitch, yaw, roll)."""
    x, y, heave, pitch, yaw, roll = _symbols("x y heave pitch yaw roll")
    ax, ay, az, gx, gy, gz = _symbols("ax ay az gx gy gz")
    w = _rotation(pitch, yaw, roll) * sp.Matrix([ax, ay, az]) + sp.Matrix([x + gx, y + gy, heave + gz])
    variables = (x, y, pitch, yaw, roll)
    length = sp.Symbol("length", positive=True)
    first = [w.diff(v) for v in variables]
    gradient = [w.dot(d) / length for d in first]
    g = sp.symbols("g_x g_y g_pitch g_yaw g_roll", real=True)
    results: list[tuple[str, sp.Expr]] = [("length", sp.sqrt(w.dot(w)))]
    results += [(f"d_{n}", e) for n, e in zip(UNKNOWNS, gradient, strict=True)]
    for i in range(5):
        for j in range(i, 5):
            second = (first[i].dot(first[j]) + w.dot(first[i].diff(variables[j])) - g[i] * g[j]) / length
            results.append((f"d_{UNKNOWNS[i]}_{UNKNOWNS[j]}", second))
    return Piece(
        "link",
        (x, y, heave, pitch, yaw, roll, ax, ay, az, gx, gy, gz),
        tuple(results),
        "Length of one spatial link, its gradient and Hessian over (x, y, pitch, yaw, roll) (mm, rad).",
    )


def link_length_expression() -> tuple[tuple[sp.Symbol, ...], sp.Expr]:
    """Return the bare length of a link, for tests that differentiate it another way."""
    piece = link()
    return piece.arguments, piece.results[0][1]


def pieces() -> tuple[Piece, ...]:
    """Return every derived piece, in the order in which it is printed."""
    return (side_view(), side_view_radicand(), rear_view(), link())
