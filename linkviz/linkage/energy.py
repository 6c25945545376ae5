"""Least bushing energy at many states at once: Newton's method with the derived gradient and Hessian.

U(q) = 1/2 sum k_i e_i^2 over q = (x, y, pitch, yaw), where e_i is the stretch of link i. Every state is solved by
itself from its own seed, so that states are independent; numpy carries them side by side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from linkviz.linkage import equations
from linkviz.linkage.layout import Array, Layout

Bools = NDArray[np.bool_]
Indices = NDArray[np.intp]

_PLAIN = 6
"""Newton steps taken without looking back; a seed from the closed form needs 3 or 4."""
_DAMPED = 120
"""Most steps of the guarded method for the few states that need it."""
REACH = 400.0
"""Length that turns an angle step into mm when steps are judged, mm."""
_WILD = 60.0
"""A step beyond this (mm) is not trusted: the state goes to the guarded method."""
STILL = 1e-3
"""A step below this (mm) is the last: the next would be its square over some 200 mm, below 1e-8 mm."""


@dataclass(frozen=True, eq=False)
class Problem:
    """States to solve: each array is (5, n) or (5, 1), heave and roll (n,).

    `geometry` are the six arrays (ax, ay, az, gx, gy, gz) of `equations.link_length`, mm; `length` is the free length,
    mm; `stiffness` N/mm.
    """

    geometry: tuple[Array, ...]
    length: Array
    stiffness: Array
    heave: Array
    roll: Array

    @classmethod
    def of(cls, layout: Layout, heave: Array, roll: Array) -> Problem:
        """Return the states of one layout."""
        a, g = layout.axle, layout.centre - layout.frame
        geometry = tuple(np.ascontiguousarray(column[:, None]) for column in (*a.T, *g.T))
        return cls(geometry, layout.length[:, None], layout.stiffness[:, None], heave, roll)

    @classmethod
    def joined(cls, parts: list[Problem]) -> Problem:
        """Return the states of several layouts side by side."""
        if len(parts) == 1:
            return parts[0]

        def wide(values: list[Array]) -> Array:
            return np.concatenate(
                [np.broadcast_to(v, (5, len(p.heave))) for v, p in zip(values, parts, strict=True)],
                axis=1,
            )

        geometry = tuple(wide([p.geometry[i] for p in parts]) for i in range(6))
        return cls(
            geometry,
            wide([p.length for p in parts]),
            wide([p.stiffness for p in parts]),
            np.concatenate([p.heave for p in parts]),
            np.concatenate([p.roll for p in parts]),
        )

    def __getitem__(self, which: slice | Indices) -> Problem:
        """Return some of the states."""

        def cut(v: Array) -> Array:
            return v if v.shape[1] == 1 and len(self.heave) != 1 else v[:, which]

        return Problem(
            tuple(cut(v) for v in self.geometry),
            cut(self.length),
            cut(self.stiffness),
            self.heave[which],
            self.roll[which],
        )


@dataclass(frozen=True, eq=False)
class Slope:
    """Gradient and Hessian of U: four and ten arrays (n,), in the order of `equations.link_energy`."""

    gradient: tuple[Array, ...]
    hessian: tuple[Array, ...]


def stretch(p: Problem, q: Array) -> Array:
    """Return the stretch of each link, shape (5, n), mm."""
    result: Array = equations.link_length(q[0], q[1], p.heave, q[2], q[3], p.roll, *p.geometry) - p.length
    return result


def energy(p: Problem, q: Array) -> Array:
    """Return U, shape (n,), N mm."""
    e = stretch(p, q)
    result: Array = 0.5 * (p.stiffness * e * e).sum(axis=0)
    return result


def _slope(p: Problem, q: Array) -> Slope:
    pose = (q[0], q[1], p.heave, q[2], q[3], p.roll)
    terms = equations.link_energy(*pose, *(*p.geometry, p.length, p.stiffness))
    sums = tuple(t.sum(axis=0) for t in terms)
    return Slope(sums[:4], sums[4:])


def curvature(p: Problem, q: Array) -> tuple[Array, tuple[Array, ...], tuple[Array, ...], tuple[Array, ...]]:
    """Return what the rates at a pose are made of.

    Returns
    -------
    force : ndarray, shape (5, n)
        In each link, N.
    first : tuple of ndarray, shape (5, n)
        Derivatives of the lengths over (x, y, pitch, yaw, roll).
    hessian : tuple of ndarray, shape (n,)
        Of U over (x, y, pitch, yaw), as `newton_step` takes it.
    mixed : tuple of ndarray, shape (n,)
        Derivatives of the gradient of U over roll.
    """
    length, *rest = equations.link_with_roll(q[0], q[1], p.heave, q[2], q[3], p.roll, *p.geometry)
    first, second = tuple(np.broadcast_to(v, length.shape) for v in rest[:5]), iter(rest[5:])
    force: Array = p.stiffness * (length - p.length)
    hessian: list[Array] = []
    mixed: list[Array] = []
    for i in range(4):
        for j in range(i, 5):
            term = (p.stiffness * first[i] * first[j] + force * next(second)).sum(axis=0)
            (hessian if j < 4 else mixed).append(term)
    return force, first, tuple(hessian), tuple(mixed)


def newton_step(gradient: tuple[Array, ...], hessian: tuple[Array, ...]) -> tuple[Array, Bools]:
    """Solve H s = -g for each state by L D L^T without pivoting.

    Returns
    -------
    step : ndarray, shape (4, n)
    positive : ndarray of bool, shape (n,)
        Whether H is positive definite there; the step means nothing where it is not.
    """
    with np.errstate(all="ignore"):
        step, pivots = ldl_step(gradient, hessian)
    d0, d1, d2, d3 = pivots
    positive = (d0 > 0) & (d1 > 0) & (d2 > 0) & (d3 > 0)
    return np.stack(step), positive


def ldl_step(gradient: Any, hessian: Any) -> Any:
    """Return the four parts of the step and the four pivots; plain arithmetic, for arrays and for single numbers."""
    g0, g1, g2, g3 = gradient
    h00, h01, h02, h03, h11, h12, h13, h22, h23, h33 = hessian
    r0 = 1.0 / h00
    l1, l2, l3 = h01 * r0, h02 * r0, h03 * r0
    d1 = h11 - l1 * h01
    m12, m13 = h12 - l1 * h02, h13 - l1 * h03
    r1 = 1.0 / d1
    l12, l13 = m12 * r1, m13 * r1
    d2 = h22 - l2 * h02 - l12 * m12
    m23 = h23 - l2 * h03 - l12 * m13
    r2 = 1.0 / d2
    l23 = m23 * r2
    d3 = h33 - l3 * h03 - l13 * m13 - l23 * m23
    y1 = g1 - l1 * g0
    y2 = g2 - l2 * g0 - l12 * y1
    y3 = g3 - l3 * g0 - l13 * y1 - l23 * y2
    s3 = -y3 / d3
    s2 = -y2 * r2 - l23 * s3
    s1 = -y1 * r1 - l12 * s2 - l13 * s3
    s0 = -g0 * r0 - l1 * s1 - l2 * s2 - l3 * s3
    return (s0, s1, s2, s3), (h00, d1, d2, d3)


def _size(step: Array) -> Array:
    """Return the size of a step in mm, angles by what they move at `REACH`."""
    result: Array = np.maximum(
        np.maximum(np.abs(step[0]), np.abs(step[1])),
        REACH * np.maximum(np.abs(step[2]), np.abs(step[3])),
    )
    return result


def minimise(p: Problem, seed: Array) -> tuple[Array, Bools]:
    """Go from each seed to the least of U nearest to it.

    Parameters
    ----------
    p : Problem
        The states.
    seed : ndarray, shape (4, n)
        x, y in mm, pitch, yaw in rad.

    Returns
    -------
    q : ndarray, shape (4, n)
        The pose at the least.
    found : ndarray of bool, shape (n,)
        Whether it is a least: the steps have died out and the Hessian is positive definite.
    """
    q = seed.copy()
    n = q.shape[1]
    found = np.zeros(n, dtype=bool)
    live: Indices | None = None
    part, at = p, q
    for _ in range(_PLAIN):
        slope = _slope(part, at)
        step, positive = newton_step(slope.gradient, slope.hessian)
        size = _size(step)
        with np.errstate(invalid="ignore"):
            wild = ~(positive & (size < _WILD))
            still = size <= STILL
        at = at + step
        done = still & ~wild
        if live is None:
            q, found = at, done
        else:
            q[:, live], found[live] = at, done
        go_on = ~(still | wild)
        if not go_on.any():
            break
        if live is None and go_on.sum() * 2 > n:
            continue  # most of them go on: cutting them out would cost more than it saves
        live = np.flatnonzero(go_on) if live is None else live[go_on]
        part, at = p[live], q[:, live]
    lost = np.flatnonzero(~found)
    if len(lost):
        q[:, lost], found[lost] = _guarded(p[lost], seed[:, lost])
    return q, found


def _guarded(p: Problem, seed: Array) -> tuple[Array, Bools]:
    """As `minimise`, by steps that are damped until they lower the energy (Levenberg; Marquardt 1963)."""
    q = seed.copy()
    n = q.shape[1]
    found = np.zeros(n, dtype=bool)
    damping = np.full(n, 1e-3)
    live = np.arange(n)
    for _ in range(_DAMPED):
        if not len(live):
            break
        part, at = p[live], q[:, live]
        slope = _slope(part, at)
        _, positive = newton_step(slope.gradient, slope.hessian)
        bare, _ = newton_step(slope.gradient, slope.hessian)
        there = positive & (_size(bare) <= 1e-6)
        found[live[there]] = True
        h = list(slope.hessian)
        scale = (1.0, 1.0, REACH**2, REACH**2)
        typical = part.stiffness.max(axis=0)
        for i, s in zip((0, 4, 7, 9), scale, strict=True):
            h[i] = h[i] + damping[live] * typical * s
        step, positive = newton_step(slope.gradient, tuple(h))
        with np.errstate(all="ignore"):
            step = step * np.minimum(1.0, 40.0 / np.maximum(_size(step), 1e-12))
            better = positive & (energy(part, at + step) <= energy(part, at))
        q[:, live] = np.where(better & ~there, at + step, at)
        damping[live] = np.where(better, damping[live] * 0.2, np.minimum(damping[live] * 6.0 + 1e-6, 1e9))
        live = live[~there]
    return q, found
