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

import sympy as sp

from linkviz.frozen import Frozen


class Piece(Frozen):
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


class _Turned(Frozen):
    """One link along axes that are turned by the yaw the axle has: ahead, to the left, up. Symbols, and their stages.

    The axle end is (m, across, n) from the axle centre, which is (ahead, left, above) from the frame end.
    """

    stages: list[tuple[str, sp.Expr]]
    m: sp.Symbol
    across: sp.Symbol
    n: sp.Symbol
    ahead: sp.Symbol
    left: sp.Symbol
    above: sp.Symbol
    length: sp.Symbol

    @classmethod
    def new(cls) -> _Turned:
        x, y, heave, pitch, yaw, roll, ax, ay, az, gx, gy, gz = LINK_ARGUMENTS
        link = cls([], *_symbols("m across n ahead left above length"))
        sin_p, cos_p = link.stage("sin_pitch", sp.sin(pitch)), link.stage("cos_pitch", sp.cos(pitch))
        sin_y, cos_y = link.stage("sin_yaw", sp.sin(yaw)), link.stage("cos_yaw", sp.cos(yaw))
        sin_r, cos_r = link.stage("sin_roll", sp.sin(roll)), link.stage("cos_roll", sp.cos(roll))
        link.stage("across", ay * cos_r - az * sin_r)
        up = link.stage("up", ay * sin_r + az * cos_r)
        link.stage("m", ax * cos_p + up * sin_p)
        link.stage("n", up * cos_p - ax * sin_p)
        link.stage("ahead", link.stage("x_ahead", x * cos_y + y * sin_y) + gx * cos_y + gy * sin_y)
        link.stage("left", link.stage("y_left", y * cos_y - x * sin_y) + gy * cos_y - gx * sin_y)
        link.stage("above", heave + gz)
        w = [link.stage(f"w{k}", expression) for k, expression in zip("xyz", link.vector(), strict=True)]
        link.stage("length", sp.sqrt(sum(v * v for v in w)))
        return link

    def stage(self, name: str, expression: sp.Expr) -> sp.Symbol:
        self.stages.append((name, expression))
        return sp.Symbol(name, real=True)

    def vector(self) -> tuple[sp.Expr, sp.Expr, sp.Expr]:
        return self.m + self.ahead, self.across + self.left, self.n + self.above


def link_length() -> Piece:
    """Derive the length of one link."""
    link = _Turned.new()
    results = (("length", link.length),)
    return Piece("link_length", LINK_ARGUMENTS, results, "Length of one spatial link (mm, rad).", tuple(link.stages))


def link_energy() -> Piece:
    """Derive gradient and Hessian of the energy of one link on its bushings, 1/2 k (length - free)^2.

    Along the axes of `_Turned` the derivatives are short: the arm (m, across, n) goes with yaw by (-across, m, 0) and
    with pitch by (n, 0, -m). They are over the place along these axes, so that a step is to be turned back. A test
    differentiates the bare energy and finds the same.
    """
    free, stiffness = _symbols("free stiffness")
    link = _Turned.new()
    stage, length = link.stage, link.length
    m, across, n, ahead, left, above = link.m, link.across, link.n, link.ahead, link.left, link.above
    wx, wy, wz = _symbols("wx wy wz")
    ratio = stage("ratio", 1 / length)
    force = stage("force", stiffness * (length - free))
    dx, dy, dz = stage("dx", wx * ratio), stage("dy", wy * ratio), stage("dz", wz * ratio)
    d_pitch = stage("dp", dx * n - dz * m)
    d_yaw = stage("dw", dy * m - dx * across)
    tension = stage("tension", force * ratio)
    rest = stage("rest", stiffness - tension)
    kx, ky = stage("kx", rest * dx), stage("ky", rest * dy)
    kp, kw = stage("kp", rest * d_pitch), stage("kw", rest * d_yaw)
    tm, tn, ta = stage("tm", tension * m), stage("tn", tension * n), stage("ta", tension * across)
    fore = stage("fore", tm * ahead)
    results = (
        ("g_ahead", force * dx),
        ("g_left", force * dy),
        ("g_pitch", force * d_pitch),
        ("g_yaw", force * d_yaw),
        ("h_ahead_ahead", kx * dx + tension),
        ("h_ahead_left", kx * dy),
        ("h_ahead_pitch", kx * d_pitch + tn),
        ("h_ahead_yaw", kx * d_yaw - ta),
        ("h_left_left", ky * dy + tension),
        ("h_left_pitch", ky * d_pitch),
        ("h_left_yaw", ky * d_yaw + tm),
        ("h_pitch_pitch", kp * d_pitch - fore - tn * above),
        ("h_pitch_yaw", kp * d_yaw + tn * left),
        ("h_yaw_yaw", kw * d_yaw - fore - ta * left),
    )
    return Piece(
        "link_energy",
        (*LINK_ARGUMENTS, free, stiffness),
        results,
        "Gradient and Hessian of one link's bushing energy over place ahead and to the left, pitch, yaw (N, mm, rad).",
        tuple(link.stages),
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
