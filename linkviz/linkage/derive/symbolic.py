"""The link equations, derived symbolically.

Three pieces, each a list of named expressions of named symbols:

`side_view`
    The trailing links in side view: a planar four-bar whose coupler is the axle, with the angle of the lower
    link as parameter. The upper joint is the crossing of two circles (the loop-closure solution that also
    follows from Freudenstein's equation; Freudenstein 1955, Norton, Design of Machinery, ch. 4).
`rear_view`
    The lateral bar with pitch, fore-aft shift and roll known: one quadratic in y.
`link_length`, `link_energy`, `link_with_roll`
    Length of one spatial link; the energy of its bushings with first and second derivatives over
    (x, y, pitch, yaw), for the solve; the length with its derivatives over these and roll, for the roll centre.
"""

from __future__ import annotations

from dataclasses import dataclass

import sympy as sp


@dataclass(frozen=True)
class Piece:
    """One generated function: its name, arguments, results, docstring, and named steps on the way to the results."""

    name: str
    arguments: tuple[sp.Symbol, ...]
    results: tuple[tuple[str, sp.Expr], ...]
    summary: str
    stages: tuple[tuple[str, sp.Expr], ...] = ()


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
    x, heave, pitch, roll = _symbols("x heave pitch roll")
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


UNKNOWNS = ("x", "y", "pitch", "yaw")
"""What the solve looks for; roll is given, but its derivatives make the roll centre."""

LINK_ARGUMENTS = _symbols("x y heave pitch yaw roll ax ay az gx gy gz")
"""Pose, axle end relative to the axle centre, and axle centre minus frame end of one link."""


def link_vector() -> sp.Matrix:
    """Return the vector from the frame end to the axle end of one link."""
    x, y, heave, pitch, yaw, roll, ax, ay, az, gx, gy, gz = LINK_ARGUMENTS
    return _rotation(pitch, yaw, roll) * sp.Matrix([ax, ay, az]) + sp.Matrix([x + gx, y + gy, heave + gz])


def link_length() -> Piece:
    """Derive the length of one link."""
    w = link_vector()
    results = (("length", sp.sqrt(w.dot(w))),)
    return Piece("link_length", LINK_ARGUMENTS, results, "Length of one spatial link (mm, rad).")


def link_energy() -> Piece:
    """Derive gradient and Hessian of the energy of one link on its bushings, 1/2 k (length - free)^2.

    The rotation is taken apart, yaw outside pitch outside roll, so that the derivatives share their parts: turning
    the arm u by yaw has the derivative (-u_y, u_x, 0), and pitch swaps (m, n) for (n, -m). A test differentiates the
    bare energy and finds the same.
    """
    x, y, heave, pitch, yaw, roll, ax, ay, az, gx, gy, gz = LINK_ARGUMENTS
    free, stiffness = _symbols("free stiffness")
    stages: list[tuple[str, sp.Expr]] = []

    def stage(name: str, expression: sp.Expr) -> sp.Symbol:
        stages.append((name, expression))
        return sp.Symbol(name, real=True)

    sp_, cp_ = stage("sin_pitch", sp.sin(pitch)), stage("cos_pitch", sp.cos(pitch))
    sy_, cy_ = stage("sin_yaw", sp.sin(yaw)), stage("cos_yaw", sp.cos(yaw))
    sr_, cr_ = stage("sin_roll", sp.sin(roll)), stage("cos_roll", sp.cos(roll))
    across = stage("across", ay * cr_ - az * sr_)
    up = stage("up", ay * sr_ + az * cr_)
    m = stage("m", ax * cp_ + up * sp_)
    n = stage("n", up * cp_ - ax * sp_)
    ux, uy = stage("ux", m * cy_ - across * sy_), stage("uy", m * sy_ + across * cy_)
    wx, wy, wz = (
        stage("wx", ux + (x + gx)),
        stage("wy", uy + (y + gy)),
        stage("wz", n + (heave + gz)),
    )
    length = stage("length", sp.sqrt(wx * wx + wy * wy + wz * wz))
    ratio = stage("ratio", 1 / length)
    force = stage("force", stiffness * (length - free))
    dx, dy, dz = (
        stage("dx", wx * ratio),
        stage("dy", wy * ratio),
        stage("dz", wz * ratio),
    )
    px, py = stage("px", cy_ * n), stage("py", sy_ * n)
    d_pitch = stage("dp", dx * px + dy * py - dz * m)
    d_yaw = stage("dw", dy * ux - dx * uy)
    tension = stage("tension", force * ratio)
    rest = stage("rest", stiffness - tension)
    kx, ky = stage("kx", rest * dx), stage("ky", rest * dy)
    kp, kw = stage("kp", rest * d_pitch), stage("kw", rest * d_yaw)
    results = (
        ("g_x", force * dx),
        ("g_y", force * dy),
        ("g_pitch", force * d_pitch),
        ("g_yaw", force * d_yaw),
        ("h_x_x", kx * dx + tension),
        ("h_x_y", kx * dy),
        ("h_x_pitch", kx * d_pitch + tension * px),
        ("h_x_yaw", kx * d_yaw - tension * uy),
        ("h_y_y", ky * dy + tension),
        ("h_y_pitch", ky * d_pitch + tension * py),
        ("h_y_yaw", ky * d_yaw + tension * ux),
        (
            "h_pitch_pitch",
            kp * d_pitch + tension * (m * m + n * n - m * (wx * cy_ + wy * sy_) - n * wz),
        ),
        ("h_pitch_yaw", kp * d_yaw + tension * (py * (ux - wx) + px * (wy - uy))),
        ("h_yaw_yaw", kw * d_yaw + tension * (ux * (ux - wx) + uy * (uy - wy))),
    )
    return Piece(
        "link_energy",
        (*LINK_ARGUMENTS, free, stiffness),
        results,
        "Gradient and Hessian of one link's bushing energy over (x, y, pitch, yaw) (N, mm, rad).",
        tuple(stages),
    )


def link_with_roll() -> Piece:
    """Derive length, gradient and Hessian of one link's length over the unknowns and roll."""
    x, y, _, pitch, yaw, roll = LINK_ARGUMENTS[:6]
    names, variables = (*UNKNOWNS, "roll"), (x, y, pitch, yaw, roll)
    w = link_vector()
    length = sp.Symbol("length", real=True)
    first = [w.diff(v) for v in variables]
    d = [sp.Symbol(f"d_{n}", real=True) for n in names]
    stages = [("length", sp.sqrt(w.dot(w)))]
    stages += [(s.name, w.dot(v) / length) for s, v in zip(d, first, strict=True)]
    results: list[tuple[str, sp.Expr]] = []
    for i in range(5):
        for j in range(i, 5):
            second = (first[i].dot(first[j]) + w.dot(first[i].diff(variables[j])) - d[i] * d[j]) / length
            results.append((f"d_{names[i]}_{names[j]}", second))
    return Piece(
        "link_with_roll",
        LINK_ARGUMENTS,
        (
            *((n, sp.Symbol(n, real=True)) for n in ("length", *(s.name for s in d))),
            *results,
        ),
        "Length of one spatial link, gradient and Hessian over (x, y, pitch, yaw, roll) (mm, rad).",
        tuple(stages),
    )


def pieces() -> tuple[Piece, ...]:
    """Return every derived piece, in the order in which it is printed."""
    return (
        side_view(),
        side_view_radicand(),
        rear_view(),
        link_length(),
        link_energy(),
        link_with_roll(),
    )
