"""Springs and dampers in either view: where they were measured, else in proportion; the right one mirrors the left."""

from __future__ import annotations

from linkviz.picture import parts
from linkviz.picture.proportions import Proportions
from linkviz.picture.shapes import Shape
from linkviz.picture.stand import Put


def sprung(p: Proportions, body: Put, axle: Put, side: float, damper_nearer: bool) -> list[Shape]:
    """Return spring and damper of one side, the nearer one last; `side` is 1 for the left, -1 for the right."""
    damper, spring = _damper(p, body, axle, side), _spring(p, body, axle, side)
    return [*spring, *damper] if damper_nearer else [*damper, *spring]


def _damper(p: Proportions, body: Put, axle: Put, side: float) -> list[Shape]:
    (ax, ay, az), (bx, by, bz) = p.damper_axle, p.damper_body
    return parts.damper(axle(ax, side * ay, az), body(bx, side * by, bz), p.damper_radius)


def _spring(p: Proportions, body: Put, axle: Put, side: float) -> list[Shape]:
    (ax, ay, az), (bx, by, bz), r = p.spring_axle, p.spring_body, p.spring_radius
    low, high = axle(ax, side * ay, az), body(bx, side * by, bz)
    foot, cap = axle(ax, side * ay, az - 0.3 * p.tube), body(bx, side * by, bz + 0.05 * p.radius)
    return [
        *parts.coil(low, high, r, 6, 0.026 * p.radius),
        parts.tube(foot, low, 0.8 * r, 1.25 * r, "seat"),
        parts.tube(high, cap, 1.3 * r, 1.1 * r, "seat"),
    ]
