"""Outlines made of straight pieces: arcs, capsules, rounded boxes, coils."""

from __future__ import annotations

import math
from collections.abc import Sequence

from linkviz.picture.shapes import Pt

_HALF = tuple((math.cos(math.pi * k / 8), math.sin(math.pi * k / 8)) for k in range(9))


def arc(centre: Pt, radius: float, start: float, end: float, steps: int = 12) -> tuple[Pt, ...]:
    """Return points on an arc, angles in rad counter-clockwise from the right."""
    cu, cv = centre
    turn = (end - start) / steps
    return tuple(
        (cu + radius * math.cos(start + k * turn), cv + radius * math.sin(start + k * turn)) for k in range(steps + 1)
    )


def capsule(p: Pt, q: Pt, radius: float) -> tuple[Pt, ...]:
    """Return the outline of a round-ended strip from p to q."""
    du, dv = q[0] - p[0], q[1] - p[1]
    length = math.hypot(du, dv)
    eu, ev = (du / length * radius, dv / length * radius) if length > 1e-9 else (radius, 0.0)
    far = tuple((q[0] + s * eu + c * ev, q[1] + s * ev - c * eu) for c, s in _HALF)
    near = tuple((p[0] - s * eu - c * ev, p[1] - s * ev + c * eu) for c, s in _HALF)
    return far + near


def strip(p: Pt, q: Pt, half: float) -> tuple[Pt, ...]:
    """Return the outline of a square-ended strip from p to q, `half` to each side."""
    du, dv = q[0] - p[0], q[1] - p[1]
    length = math.hypot(du, dv) or 1.0
    nu, nv = -dv / length * half, du / length * half
    return ((p[0] + nu, p[1] + nv), (q[0] + nu, q[1] + nv), (q[0] - nu, q[1] - nv), (p[0] - nu, p[1] - nv))


def box(low: Pt, high: Pt, radius: float = 0.0) -> tuple[Pt, ...]:
    """Return an upright rectangle with rounded corners."""
    (u0, v0), (u1, v1) = low, high
    if radius <= 0:
        return ((u0, v0), (u1, v0), (u1, v1), (u0, v1))
    r, quarter = radius, math.pi / 2
    corners = ((u1 - r, v1 - r), (u0 + r, v1 - r), (u0 + r, v0 + r), (u1 - r, v0 + r))
    return tuple(p for k, c in enumerate(corners) for p in arc(c, r, k * quarter, (k + 1) * quarter, 4))


def smooth(points: Sequence[Pt], cut: float = 0.25, rounds: int = 2) -> tuple[Pt, ...]:
    """Round off a closed outline by cutting its corners (Chaikin's rule)."""
    result = list(points)
    for _ in range(rounds):
        after = [*result[1:], result[0]]
        result = [
            (p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f)
            for p, q in zip(result, after, strict=True)
            for f in (cut, 1.0 - cut)
        ]
    return tuple(result)


def coil(bottom: Pt, top: Pt, radius: float, turns: int) -> tuple[tuple[tuple[Pt, ...], ...], tuple[tuple[Pt, ...], ...]]:
    """Return the front and the back strokes of a coil spring between two seats.

    Parameters
    ----------
    bottom, top : (float, float)
        Middles of the seats, mm.
    radius : float
        Radius of the coil, mm.
    turns : int
        Whole turns.

    Returns
    -------
    tuple
        Front strokes and back strokes, each a polyline.
    """
    du, dv = top[0] - bottom[0], top[1] - bottom[1]
    length = math.hypot(du, dv) or 1.0
    eu, ev = du / length, dv / length
    nu, nv = ev, -eu

    def at(along: float, across: float) -> Pt:
        return (
            bottom[0] + eu * along * length + nu * across * radius,
            bottom[1] + ev * along * length + nv * across * radius,
        )

    pitch = 1.0 / (turns + 0.5)
    bend = ((-1.0, -0.05), (-0.86, 0.03), (-0.3, 0.17), (0.3, 0.33), (0.86, 0.47), (1.0, 0.55))
    front, back = [], []
    for k in range(turns + 1):
        front.append(tuple(at(pitch * (k + max(min(s, 0.5), 0.0)), a) for a, s in bend))
        if k < turns:
            back.append((at(pitch * (k + 0.5), 1.0), at(pitch * (k + 1.0), -1.0)))
    return tuple(front), tuple(back)
