"""Shapes parts are made of: tubes, coils, dampers, eyes, arcs. All in mm on the paper."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from linkviz.picture.shapes import Circle, Path, Pt, Shape

_CAP = tuple((math.cos(a), math.sin(a)) for a in (math.pi / 2 + math.pi * k / 6 for k in range(7)))
_WIRE_CAP = _CAP[::2]
"""The end of a wire is too small to tell from a round one."""


def along(p: Pt, q: Pt) -> tuple[float, float, float]:
    """Return the unit vector from p to q and the distance; (1, 0, 0) for one point."""
    du, dv = q[0] - p[0], q[1] - p[1]
    d = math.hypot(du, dv)
    return (du / d, dv / d, d) if d > 1e-9 else (1.0, 0.0, 0.0)


def between(p: Pt, q: Pt, t: float) -> Pt:
    """Return the point a part t of the way from p to q."""
    return (p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]))


def beside(p: Pt, q: Pt, on: float, off: float) -> Pt:
    """Return the point `on` mm from p towards q and `off` mm to the left of that line."""
    du, dv, _ = along(p, q)
    return (p[0] + on * du - off * dv, p[1] + on * dv + off * du)


def capsule(p: Pt, q: Pt, radius: float, style: str, cap: tuple[Pt, ...] = _CAP) -> Path:
    """Return a rod with round ends from p to q; `cap` is half a circle of radius 1, rising side first."""
    du, dv, _ = along(p, q)
    (pu, pv), (qu, qv) = p, q
    du, dv = radius * du, radius * dv
    turned = [(c * du - n * dv, c * dv + n * du) for c, n in cap]
    points = (*((pu + u, pv + v) for u, v in turned), *((qu - u, qv - v) for u, v in turned))
    return Path(points, style, closed=True)


def tube(p: Pt, q: Pt, r_p: float, r_q: float, style: str) -> Path:
    """Return a rod with square ends, half width r_p at p and r_q at q."""
    _, _, d = along(p, q)
    corners = (beside(p, q, 0, r_p), beside(p, q, d, r_q), beside(p, q, d, -r_q), beside(p, q, 0, -r_p))
    return Path(corners, style, closed=True)


def shade(p: Pt, q: Pt, radius: float) -> Path:
    """Return the shaded lower third of a rod."""
    _, _, d = along(p, q)
    low, high = (-0.92, -0.35) if q[0] >= p[0] else (0.92, 0.35)
    corners = (
        beside(p, q, 0, low * radius),
        beside(p, q, d, low * radius),
        beside(p, q, d, high * radius),
        beside(p, q, 0, high * radius),
    )
    return Path(corners, "shade", closed=True)


def arc(centre: Pt, radius: float, start: float, stop: float, style: str) -> Path:
    """Return an arc between two directions, rad."""
    n = max(4, int(abs(stop - start) / 0.08) + 1)
    angles = (start + (stop - start) * k / n for k in range(n + 1))
    return Path(tuple((centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles), style)


def ring(radius: float, count: int = 24) -> Iterator[Pt]:
    """Yield points of a circle about the origin."""
    for k in range(count):
        a = 2.0 * math.pi * k / count
        yield (radius * math.cos(a), radius * math.sin(a))


def link(p: Pt, q: Pt, radius: float, style: str, eye: str = "eye") -> list[Shape]:
    """Return a link with an eye at either end."""
    shapes: list[Shape] = [capsule(p, q, radius, style)]
    for end in (p, q):
        shapes += [Circle(end, 1.45 * radius, style), Circle(end, 0.62 * radius, eye)]
    return shapes


def coil(low: Pt, high: Pt, radius: float, turns: int, wire: float) -> list[Shape]:
    """Return a coil spring: the strands behind, then those in front."""
    _, _, d = along(low, high)
    pitch = (d - 2.0 * wire) / turns
    behind: list[Shape] = []
    front: list[Shape] = []
    for k in range(turns):
        start = wire + k * pitch
        left, right = beside(low, high, start, radius), beside(low, high, start + 0.5 * pitch, -radius)
        front.append(capsule(left, right, wire, "spring", _WIRE_CAP))
        if k + 1 < turns:
            behind.append(
                capsule(right, beside(low, high, start + pitch, radius), 0.8 * wire, "spring_back", _WIRE_CAP)
            )
    return behind + front


def damper(low: Pt, high: Pt, radius: float) -> list[Shape]:
    """Return a damper: its tube below, its rod above, an eye at either end."""
    _, _, d = along(low, high)
    mid = between(low, high, 0.58)
    return [
        capsule(between(low, high, 0.5), high, 0.32 * radius, "rod"),
        tube(beside(low, high, 0.05 * d, 0), mid, radius, radius, "damper"),
        tube(between(low, high, 0.56), between(low, high, 0.60), 1.15 * radius, 1.15 * radius, "damper"),
        Circle(low, 0.85 * radius, "eye"),
        Circle(high, 0.85 * radius, "eye"),
    ]


def rounded(points: Sequence[Pt], radius: float) -> tuple[Pt, ...]:
    """Return a closed outline with its corners rounded."""
    result: list[Pt] = []
    count = len(points)
    for i, corner in enumerate(points):
        back, ahead = points[i - 1], points[(i + 1) % count]
        _, _, d0 = along(corner, back)
        _, _, d1 = along(corner, ahead)
        a, b = (between(corner, end, min(radius / max(d, 1e-9), 0.45)) for end, d in ((back, d0), (ahead, d1)))
        for t in (0.0, 0.25, 0.5, 0.75, 1.0):
            result.append(between(between(a, corner, t), between(corner, b, t), t))
    return tuple(result)


def polygon(points: Sequence[Pt], style: str) -> Path:
    """Return a closed path."""
    return Path(tuple(points), style, closed=True)


def line(p: Pt, q: Pt, style: str) -> Path:
    """Return a straight line."""
    return Path((p, q), style)
