"""Least bushing energy at many states at once: Newton's method with the derived gradient and Hessian.

U(q) = 1/2 sum k_i e_i^2 over q = (x, y, pitch, yaw), where e_i is the stretch of link i. Every state is solved by
itself from its own seed, so that states are independent; numpy carries them side by side.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from linkviz.frozen import Frozen
from linkviz.linkage import equations
from linkviz.linkage.layout import Array, Layout
from linkviz.linkage.tape import STATES, WIDE, Tape

Bools = NDArray[np.bool_]
Indices = NDArray[np.intp]

_PLAIN = 6
"""Newton steps taken without looking back; a seed from the closed form needs 3 or 4."""
_DAMPED = 120
"""Most steps of the guarded method for the few states that need it."""
_FEW = 256
"""States that are carried on together to the end."""
_ROUNDING = 1e-12
"""A rise of the energy by this share of it, and of that of 1 mm, is rounding, and does not stop the guarded method."""
REACH = 400.0
"""Length that turns an angle step into mm when steps are judged, mm."""
_WILD = 60.0
"""A step beyond this (mm) is not trusted: the state goes to the guarded method."""
STILL = 5e-4
"""A step below this (mm) is the last: the next would be its square over some 200 mm, about 1e-9 mm."""


class Problem(Frozen, eq=False):
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

    def arguments(self, q: Array) -> tuple[Array, ...]:
        """Return the arguments of `equations.link_energy` at poses (4, n)."""
        return (q[0], q[1], self.heave, q[2], q[3], self.roll, *self.geometry, self.length, self.stiffness)


def stretch(p: Problem, q: Array) -> Array:
    """Return the stretch of each link, shape (5, n), mm."""
    return _stretch_tape()(len(p.heave), *p.arguments(q)[:-1])[0]


def energy(p: Problem, q: Array) -> Array:
    """Return U, shape (n,), N mm."""
    e = stretch(p, q)
    result: Array = 0.5 * (p.stiffness * e * e).sum(axis=0)
    return result


def slope(*arguments: Any) -> tuple[tuple[Any, ...], tuple[Any, ...]]:
    """Return gradient and Hessian of U, four and ten parts, from the arguments of `equations.link_energy`."""
    sums = tuple(np.add.reduce(term, axis=0) for term in equations.link_energy(*arguments))
    return sums[:4], sums[4:]


def turned(step: Any, cos_yaw: Any, sin_yaw: Any) -> tuple[Any, Any, Any, Any]:
    """Return a step ahead and to the left (as `equations.link_energy` has it) as one along x and y."""
    ahead, left, pitch, yaw = step
    return cos_yaw * ahead - sin_yaw * left, sin_yaw * ahead + cos_yaw * left, pitch, yaw


def _full_step(*arguments: Any) -> tuple[Any, ...]:
    """Return the four parts of Newton's step, its size and the least pivot (NaN if one is)."""
    step, pivots = ldl_step(*slope(*arguments))
    yaw = arguments[4]
    step = turned(step, np.cos(yaw), np.sin(yaw))
    least = np.minimum(np.minimum(pivots[0], pivots[1]), np.minimum(pivots[2], pivots[3]))
    return *step, _size(step), least


@cache
def _newton() -> Tape:
    return Tape(_full_step, (STATES,) * 6 + (WIDE,) * 8)


def _stretch(*arguments: Any) -> tuple[Any]:
    return (equations.link_length(*arguments[:-1]) - arguments[-1],)


@cache
def _stretch_tape() -> Tape:
    return Tape(_stretch, (STATES,) * 6 + (WIDE,) * 7)


def curvature(p: Problem, q: Array) -> tuple[tuple[Array, ...], tuple[Array, ...], tuple[Array, ...]]:
    """Return what the rates at a pose are made of.

    Returns
    -------
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
    return first, tuple(hessian), tuple(mixed)


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


def _size(step: Any) -> Any:
    """Return the size of a step in mm, angles by what they move at `REACH`."""
    return np.maximum(
        np.maximum(np.abs(step[0]), np.abs(step[1])),
        REACH * np.maximum(np.abs(step[2]), np.abs(step[3])),
    )


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
    found, going = np.zeros(n, dtype=bool), np.ones(n, dtype=bool)
    live: Indices | slice = slice(None)
    part, at = p, q
    for _ in range(_PLAIN):
        *step, size, least = _newton()(at.shape[1], *part.arguments(at))
        with np.errstate(invalid="ignore"):
            wild = ~((least > 0) & (size < _WILD))
            still = size <= STILL
        for row, move in zip(at, step, strict=True):
            row += np.where(going, move, 0.0)  # one that has arrived stays, whatever the others do
        if at is not q:
            q[:, live] = at
        found[live] |= going & still & ~wild
        going &= ~(still | wild)
        if not going.any():
            break
        if at is q and (n < _FEW or going.sum() * 2 > n):
            continue  # few, or most of them go on: cutting them out would cost more than it saves
        live = np.flatnonzero(going) if isinstance(live, slice) else live[going]
        part, at, going = p[live], q[:, live], np.ones(len(live), dtype=bool)
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
        gradient, hessian = slope(*part.arguments(at))
        bare, positive = _turned_step(gradient, hessian, at)
        there = positive & (_size(bare) <= 1e-6)
        found[live[there]] = True
        h = list(hessian)
        scale = (1.0, 1.0, REACH**2, REACH**2)
        typical = part.stiffness.max(axis=0)
        for i, s in zip((0, 4, 7, 9), scale, strict=True):
            h[i] = h[i] + damping[live] * typical * s
        step, positive = _turned_step(gradient, tuple(h), at)
        with np.errstate(all="ignore"):
            step = step * np.minimum(1.0, 40.0 / np.maximum(_size(step), 1e-12))
            before = energy(part, at)
            better = positive & (energy(part, at + step) <= before + _ROUNDING * (before + typical))
        q[:, live] = np.where(there, at + bare, np.where(better, at + step, at))
        damping[live] = np.where(better, damping[live] * 0.2, np.minimum(damping[live] * 6.0 + 1e-6, 1e9))
        live = live[~there]
    return q, found


def _turned_step(gradient: tuple[Array, ...], hessian: tuple[Array, ...], at: Array) -> tuple[Array, Bools]:
    step, positive = newton_step(gradient, hessian)
    return np.stack(turned(step, np.cos(at[3]), np.sin(at[3]))), positive
