"""The full solve: where the axle stands at given heave and roll, links on their bushings.

Seeded by the closed form, checked against its branch, held at its limits.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from linkviz.linkage import equations
from linkviz.linkage.closed_form import bar_side, trailing
from linkviz.linkage.closed_form import seed as seed_of
from linkviz.linkage.energy import Bools, Problem, minimise
from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.pose import Poses, rotation_rows
from linkviz.linkage.tape import STATES, WIDE, Tape

TOLERANCE = 1e-9
"""How far beyond its end of travel an axle may be asked to go and still be said to get there, mm."""
_PITCH, _YAW = 0.5, 0.7
"""A pose further than this from the seed's pitch, or turned by more than this, is on another branch, rad."""

BAR_TOO_SHORT = "the lateral bar is too short to span from its frame end to its axle end"
BINDS = "the links bind against one another"


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
        part = Problem.of(layout, np.clip(h, links.low, links.high), np.ascontiguousarray(r))
        begin, radicand = seed_of(layout, part.heave, part.roll)
        parts.append(part)
        seeds.append(begin)
        starts.append((h, radicand))
    problem = Problem.joined(parts)
    seed = np.concatenate(seeds, axis=1) if len(seeds) > 1 else seeds[0]
    q, found = minimise(problem, seed)
    e, sideways = _standing(problem, q)
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
                sideways[span],
                seed[:, span],
                asked,
                radicand,
            )
        )
    return results


def on_branch(reach: Array, q: Array, seed: Array) -> Bools:
    """Return which poses lie on the branch the mechanism was built on.

    Parameters
    ----------
    reach : ndarray, shape (n,)
        From the bar's frame end sideways to its axle end, + on the side it was built on, mm.
    q, seed : ndarray, shape (4, n)
        The poses (x, y, pitch, yaw) and what they were sought from, mm and rad.
    """
    near: Bools = (reach > 0) & (np.abs(q[2] - seed[2]) < _PITCH) & (np.abs(q[3]) < _YAW)
    return near


def _stretch_and_sideways(*arguments: Any) -> tuple[Any, Any]:
    *pose_and_links, free, ax, ay, az, gy = arguments
    _, y, _, pitch, yaw, roll = pose_and_links[:6]
    row = rotation_rows(roll, pitch, yaw)[1]
    return equations.link_length(*pose_and_links) - free, row[0] * ax + row[1] * ay + row[2] * az + (gy + y)


@cache
def _standing_tape() -> Tape:
    return Tape(_stretch_and_sideways, (STATES,) * 6 + (WIDE,) * 7 + (STATES,) * 4)


def _standing(p: Problem, q: Array) -> tuple[Array, Array]:
    """Return the stretch of the links, (5, n), and how far left of its frame end the bar's axle end is, (n,), mm."""
    bar = (p.geometry[i][BAR] for i in (0, 1, 2, 4))
    e, sideways = _standing_tape()(len(p.heave), *p.arguments(q)[:-1], *bar)
    return e, sideways


def _poses(
    layout: Layout,
    part: Problem,
    q: Array,
    found: Bools,
    e: Array,
    sideways: Array,
    seed: Array,
    asked: Array,
    radicand: Array,
) -> Poses:
    links = trailing(layout)
    branch = on_branch(sideways * bar_side(layout), q, seed)
    low, high = asked < links.low - TOLERANCE, asked > links.high + TOLERANCE
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
    return Poses(part.heave, part.roll, q[0], q[1], q[2], q[3], e.T, reached, words)
