"""The full solve once more, one state after the other, compiled by numba: what `linkviz bench` measures ours against.

The equations are the very same functions (`linkviz.linkage.equations`); seed, steps and the end of the steps are those
of `linkviz.linkage.solve` and `linkviz.linkage.energy`. Used by nothing but the bench and its test.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

import numpy as np

from linkviz.linkage import equations
from linkviz.linkage.closed_form import bar_numbers, bar_side, trailing
from linkviz.linkage.energy import REACH, STILL, ldl_step, turned
from linkviz.linkage.layout import Array, Layout

STEPS = 12
"""Most steps of Newton's method; three or four do."""


def _without_del(function: Any) -> Any:
    """Return a function of `equations` without its ``del`` lines, which numba does not take and has no use for."""
    lines = inspect.getsource(function).splitlines()
    space: dict[str, Any] = {"Any": Any, "cos": np.cos, "sin": np.sin, "sqrt": np.sqrt}
    exec("\n".join(line for line in lines if not line.startswith("    del ")), space)
    return space[function.__name__]


def compiled(layout: Layout) -> Callable[[Array, Array], tuple[Array, Array]]:
    """Return the solve of one layout as a compiled function of heaves and rolls, shape (n,), mm and rad.

    It returns (x, y, pitch, yaw), shape (4, n), and the stretch of the links, shape (5, n).

    Raises
    ------
    ImportError
        If numba is not installed.
    """
    from numba import njit

    side_view, rear_view, link_energy, link_length = (
        njit(_without_del(getattr(equations, name)))
        for name in ("side_view", "rear_view", "link_energy", "link_length")
    )
    still, reach = STILL, REACH

    newton, turn = njit(ldl_step), njit(turned)

    @njit
    def all_states(
        heave: Any, roll: Any, table: Any, branch: Any, numbers: Any, bar: Any, side: Any, geometry: Any,
        length: Any, stiffness: Any,
    ) -> Any:  # fmt: skip
        n = len(heave)
        q, e = np.empty((4, n)), np.empty((5, n))
        alphas = np.interp(heave, table[0], table[1])
        for i in range(n):
            h, r = heave[i], roll[i]
            _, x, sine, cosine, _ = side_view(alphas[i], branch, *numbers)
            pitch, yaw = np.arctan2(sine, cosine), 0.0
            across, radicand = rear_view(x, h, pitch, r, *bar)
            y = -across + side * np.sqrt(max(radicand, 0.0))
            for _ in range(STEPS):
                t = link_energy(
                    x, y, h, pitch, yaw, r, geometry[0, 0], geometry[1, 0], geometry[2, 0], geometry[3, 0],
                    geometry[4, 0], geometry[5, 0], length[0], stiffness[0],
                )  # fmt: skip
                g0, g1, g2, g3, a, b, c, d, ee, f, gg, hh, ii, jj = t
                for k in range(1, 5):
                    t = link_energy(
                        x, y, h, pitch, yaw, r, geometry[0, k], geometry[1, k], geometry[2, k], geometry[3, k],
                        geometry[4, k], geometry[5, k], length[k], stiffness[k],
                    )  # fmt: skip
                    g0, g1, g2, g3 = g0 + t[0], g1 + t[1], g2 + t[2], g3 + t[3]
                    a, b, c, d, ee = a + t[4], b + t[5], c + t[6], d + t[7], ee + t[8]
                    f, gg, hh, ii, jj = f + t[9], gg + t[10], hh + t[11], ii + t[12], jj + t[13]
                step, _ = newton((g0, g1, g2, g3), (a, b, c, d, ee, f, gg, hh, ii, jj))
                s0, s1, s2, s3 = turn(step, np.cos(yaw), np.sin(yaw))
                x, y, pitch, yaw = x + s0, y + s1, pitch + s2, yaw + s3
                if max(max(abs(s0), abs(s1)), reach * max(abs(s2), abs(s3))) <= still:
                    break
            q[0, i], q[1, i], q[2, i], q[3, i] = x, y, pitch, yaw
            for k in range(5):
                e[k, i] = length[k] * -1.0 + link_length(
                    x, y, h, pitch, yaw, r, geometry[0, k], geometry[1, k], geometry[2, k], geometry[3, k],
                    geometry[4, k], geometry[5, k],
                )  # fmt: skip
        return q, e

    links = trailing(layout)
    geometry = np.ascontiguousarray(np.concatenate([layout.axle.T, (layout.centre - layout.frame).T]))
    table = (links.heave, links.alpha)

    def solve(heave: Array, roll: Array) -> tuple[Array, Array]:
        held = np.clip(heave, links.low, links.high)
        q, e = all_states(
            held, roll, table, links.branch, links.numbers, bar_numbers(layout), bar_side(layout), geometry,
            layout.length, layout.stiffness,
        )  # fmt: skip
        return q, e

    return solve
