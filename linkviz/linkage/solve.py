"""The full solve: where the axle stands at given heave and roll, links on their bushings.

Seeded by the closed form, checked against its branch, held at its limits.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from linkviz.linkage import equations
from linkviz.linkage.closed_form import bar_numbers, bar_side, trailing
from linkviz.linkage.energy import Bools, Problem, minimise, stretch
from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.pose import Poses

_CHUNK = 2048
"""States carried side by side: many more would not fit the processor's cache."""
_TOLERANCE = 1e-9

BAR_TOO_SHORT = "the lateral bar is too short to span from its frame end to its axle end"
BINDS = "the links bind: there is no place near the design one where their bushings come to rest"


def solve(layout: Layout, heave: ArrayLike, roll: ArrayLike) -> Poses:
    """Find the pose of least bushing energy at each state.

    Parameters
    ----------
    layout : Layout
        The mechanism, brackets on.
    heave : float or ndarray, shape (n,)
        Axle centre above its design height, mm.
    roll : float or ndarray, shape (n,)
        Roll of the axle, rad, left wheel up +. Broadcast against heave.

    Returns
    -------
    Poses
        One per state. Where the axle cannot get it stands at the limit, `reached` is false and `stopped_by` says
        what stops it; no value is ever NaN.

    Raises
    ------
    ValueError
        If a heave or a roll is not a finite number.
    """
    return solve_all([(layout, heave, roll)])[0]


def solve_all(requests: Sequence[tuple[Layout, ArrayLike, ArrayLike]]) -> list[Poses]:
    """As `solve`, for several layouts in one go; returns one `Poses` per request."""
    parts, seeds, starts = [], [], []
    for layout, heave, roll in requests:
        h, r = np.broadcast_arrays(
            np.atleast_1d(np.asarray(heave, float)),
            np.atleast_1d(np.asarray(roll, float)),
        )
        if not (np.isfinite(h).all() and np.isfinite(r).all()):
            raise ValueError("heave and roll must be finite numbers")
        links = trailing(layout)
        held = np.clip(h, links.low, links.high)
        x, pitch = links.near(held)
        across, radicand = equations.rear_view(x, held, pitch, r, *bar_numbers(layout))
        y = -across + bar_side(layout) * np.sqrt(np.maximum(radicand, 0.0))
        parts.append(Problem.of(layout, held, np.ascontiguousarray(r)))
        seeds.append(np.stack([x, y, pitch, np.zeros_like(x)]))
        starts.append((h, radicand))
    problem = Problem.joined(parts)
    seed = np.concatenate(seeds, axis=1) if len(seeds) > 1 else seeds[0]
    q, found, e = _in_chunks(problem, seed)
    results, at = [], 0
    for (layout, _, _), part, (asked, radicand) in zip(requests, parts, starts, strict=True):
        span = slice(at, at + len(part.heave))
        at = span.stop
        results.append(
            _poses(
                layout,
                part,
                q[:, span],
                found[span],
                e[:, span],
                seed[:, span],
                asked,
                radicand,
            )
        )
    return results


def _in_chunks(problem: Problem, seed: Array) -> tuple[Array, Bools, Array]:
    pieces = []
    for start in range(0, max(seed.shape[1], 1), _CHUNK):
        span = slice(start, start + _CHUNK)
        part = problem[span]
        q, found = minimise(part, seed[:, span])
        pieces.append((q, found, stretch(part, q)))
    if len(pieces) == 1:
        return pieces[0]
    q, found, e = (np.concatenate(p, axis=-1) for p in zip(*pieces, strict=True))
    return q, found, e


def _poses(
    layout: Layout,
    part: Problem,
    q: Array,
    found: Bools,
    e: Array,
    seed: Array,
    asked: Array,
    radicand: Array,
) -> Poses:
    links = trailing(layout)
    ax, ay, az = layout.axle[BAR]
    cp, sp, cy, sy = np.cos(q[2]), np.sin(q[2]), np.cos(q[3]), np.sin(q[3])
    cr, sr = np.cos(part.roll), np.sin(part.roll)
    lateral = sy * cp * ax + (sy * sp * sr + cy * cr) * ay + (sy * sp * cr - cy * sr) * az
    lateral += layout.centre[1] - layout.frame[BAR, 1] + q[1]
    # The design branch: bar on its side, pitch near the closed form's, axle not turned round.
    branch = (lateral * bar_side(layout) > 0) & (np.abs(q[2] - seed[2]) < 0.5) & (np.abs(q[3]) < 0.7)
    low, high = asked < links.low - _TOLERANCE, asked > links.high + _TOLERANCE
    short = radicand < 0
    binds = ~(found & branch)
    reached = ~(low | high | short | binds)
    words: tuple[str, ...]
    if reached.all():
        words = ("",) * len(asked)
    else:
        choice = np.select(
            [low, high, short, binds],
            np.array([links.stop_low, links.stop_high, BAR_TOO_SHORT, BINDS]),
            default="",
        )
        words = tuple(str(w) for w in choice)
    return Poses(
        part.heave,
        part.roll,
        q[0],
        q[1],
        q[2],
        q[3],
        np.ascontiguousarray(e.T),
        reached,
        words,
    )
