"""Closed form: where the links would put the axle if they were rigid and it could not yaw.

Side view first (the trailing links as a planar four-bar), then rear view (the lateral bar). It draws nothing by
itself: it seeds the full solve, tells its branch from the others, and knows where travel ends and which link ends it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any

import numpy as np

from linkviz.frozen import Frozen
from linkviz.linkage import equations
from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.tape import NUMBER, STATES, Tape

SEARCH = 1.6
"""How far the lower links are turned from design in search of the end of travel, rad."""
_NODES = 257
"""Nodes of the table of height against lower-link angle."""
_LEAST = 1.0
"""Least length of a projected link, mm; below it there is no side-view linkage to speak of."""


class Trailing(Frozen, eq=False):
    """The trailing links in side view, with the travel they allow.

    Attributes
    ----------
    numbers : tuple of float
        Arguments of `equations.side_view` after alpha and branch, mm.
    branch : float
        +1 or -1: on which side of the line of centres the upper joint lies at design.
    alpha, heave : ndarray, shape (nodes,)
        Lower-link angle (rad) against height (mm); height rises strictly.
    low, high : float
        Lowest and highest heave the links allow, mm.
    stop_low, stop_high : str
        What ends the travel there, in words.
    """

    numbers: tuple[float, ...]
    branch: float
    alpha: Array
    heave: Array
    low: float
    high: float
    stop_low: str
    stop_high: str

    def at(self, heave: Array) -> tuple[Array, Array]:
        """Return (x, pitch) at heaves inside the limits, mm and rad, exact to rounding.

        The height is inverted by Newton steps with the derived rate from the table's guess, held between the nodes
        that bracket it; where the rate vanishes (a dead point) halving takes over.
        """
        heave = np.clip(np.asarray(heave, dtype=float), self.low, self.high)
        if self.low == self.high:  # held at design: there is no linkage to speak of
            return np.zeros_like(heave), np.zeros_like(heave)
        right = np.clip(np.searchsorted(self.heave, heave), 1, len(self.heave) - 1)
        one, two = self.alpha[right - 1], self.alpha[right]
        lower, upper = np.minimum(one, two), np.maximum(one, two)
        alpha = np.interp(heave, self.heave, self.alpha)
        for _ in range(4):
            height, _, _, _, rate = self._view(alpha)
            with np.errstate(all="ignore"):
                step = (height - heave) / rate
            alpha = np.clip(np.where(np.isfinite(step), alpha - step, alpha), lower, upper)
        height, x, sine, cosine, _ = self._view(alpha)
        off = ~(np.abs(height - heave) < 1e-9)
        if off.any():
            alpha[off] = self._halved(heave[off], one[off], two[off])
            _, x, sine, cosine, _ = self._view(alpha)
        return x, np.arctan2(sine, cosine)

    def _view(self, alpha: Array) -> tuple[Array, ...]:
        with np.errstate(all="ignore"):
            result: tuple[Array, ...] = equations.side_view(alpha, self.branch, *self.numbers)
        return result

    def _halved(self, heave: Array, one: Array, two: Array) -> Array:
        """Find the angle by halving between an angle that is too low and one that is too high."""
        for _ in range(60):
            middle = (one + two) / 2
            below = self._view(middle)[0] < heave
            one, two = np.where(below, middle, one), np.where(below, two, middle)
        return (one + two) / 2


def side_view_numbers(frame: Array, axle: Array, centre: Array) -> tuple[tuple[Array, ...], Array]:
    """Return the arguments of `equations.side_view` after alpha and branch, and the lower links' angle at design.

    Parameters
    ----------
    frame, axle : ndarray, shape (..., 4, 3)
        Ends of the trailing links: frame ends, mm, and axle ends relative to the axle centre, mm.
    centre : ndarray, shape (..., 3)
        Axle centre at design, mm.

    Returns
    -------
    numbers : tuple of 12 ndarray, shape (...)
        mm, for the mean points of each pair in side view.
    design : ndarray, shape (...)
        rad.
    """
    frame, axle, c = frame[..., ::2], axle[..., ::2], centre[..., ::2]
    f_l, f_u = frame[..., :2, :].mean(axis=-2), frame[..., 2:, :].mean(axis=-2)
    a_l, a_u = axle[..., :2, :].mean(axis=-2), axle[..., 2:, :].mean(axis=-2)
    low, up = a_l + c - f_l, a_u + c - f_u
    lower, upper = np.hypot(low[..., 0], low[..., 1]), np.hypot(up[..., 0], up[..., 1])
    pairs = [(v[..., 0], v[..., 1]) for v in (f_l, f_u, a_l, a_u, c)]
    numbers = (*pairs[0], lower, *pairs[1], upper, *pairs[2], *pairs[3], *pairs[4])
    return numbers, np.arctan2(low[..., 1], low[..., 0])


def trailing(layout: Layout) -> Trailing:
    """Return the side-view linkage of a layout; layouts that differ in the lateral bar share it."""
    return _trailing(
        layout.frame[:BAR].tobytes(),
        layout.axle[:BAR].tobytes(),
        layout.centre.tobytes(),
    )


@lru_cache(maxsize=64)
def _trailing(frame_bytes: bytes, axle_bytes: bytes, centre_bytes: bytes) -> Trailing:
    frame, axle = (np.frombuffer(v).reshape(BAR, 3) for v in (frame_bytes, axle_bytes))
    found, angle = side_view_numbers(frame, axle, np.frombuffer(centre_bytes))
    numbers, design = tuple(float(v) for v in found), float(angle)
    _, _, lower, fux, fuz, upper, alx, alz, aux, auz, cx, cz = numbers
    arm = (aux - alx, auz - alz)
    bracket = float(np.hypot(*arm))
    if min(lower, upper, bracket) < _LEAST:
        what = "the upper and the lower links meet the axle at one height and place, so that nothing holds its pitch"
        if bracket >= _LEAST:
            what = f"the {'lower' if lower < _LEAST else 'upper'} links have no length in side view"
        return _held(numbers, 1.0, design, what)
    line = (fux - (alx + cx), fuz - (alz + cz))
    branch = 1.0 if line[0] * arm[1] - line[1] * arm[0] >= 0 else -1.0
    return _with_limits(numbers, branch, design)


def _held(numbers: tuple[float, ...], branch: float, design: float, what: str) -> Trailing:
    """Return a side-view linkage that cannot leave its design height, with what holds it in words."""
    return Trailing(numbers, branch, np.array([design] * 2), np.array([0.0, 1e-9]), 0.0, 0.0, what, what)


def _with_limits(numbers: tuple[float, ...], branch: float, design: float) -> Trailing:
    def height(alpha: Array) -> tuple[Array, Array]:
        with np.errstate(all="ignore"):
            h, _, _, _, rate = equations.side_view(alpha, branch, *numbers)
        return h, rate

    sign = float(np.sign(height(np.array([design]))[1][0])) or 1.0

    def good(alpha: Array) -> np.ndarray:
        _, rate = height(alpha)
        return np.isfinite(rate) & (rate * sign > 0)

    if not good(np.array([design]))[0]:
        what = "the trailing links stand at a dead point at design height"
        return _held(numbers, branch, design, what)
    ends = [_last_good(good, design, way) for way in (-sign, sign)]
    # Nodes crowd towards the ends, where the height turns over and a straight table is at its worst.
    middle, half = (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2
    alpha = middle - half * np.cos(np.linspace(0.0, np.pi, _NODES))
    alpha[0], alpha[-1] = ends
    heave = height(alpha)[0]
    words = [_what_stops(numbers, branch, end, abs(end - design)) for end in ends]
    return Trailing(
        numbers,
        branch,
        alpha,
        heave,
        float(heave[0]),
        float(heave[-1]),
        words[0],
        words[1],
    )


def _last_good(good: Callable[[Array], np.ndarray], design: float, way: float) -> float:
    """Return the angle furthest from design, one way, up to which the linkage works."""
    steps = design + way * np.linspace(0.0, SEARCH, 801)
    bad = np.flatnonzero(~good(steps))
    if not len(bad):
        return float(steps[-1])
    inside, outside = float(steps[bad[0] - 1]), float(steps[bad[0]])
    for _ in range(60):
        middle = (inside + outside) / 2
        if good(np.array([middle]))[0]:
            inside = middle
        else:
            outside = middle
    return inside


def _what_stops(numbers: tuple[float, ...], branch: float, alpha: float, turned: float) -> str:
    """Say in words what ends the travel at an angle of the lower links."""
    if turned >= SEARCH - 1e-9:
        return "the lower links have turned as far as they can"
    flx, flz, lower, fux, fuz, upper, alx, alz, aux, auz, _, _ = numbers
    bracket = float(np.hypot(aux - alx, auz - alz))
    joint = np.array([flx + lower * np.cos(alpha), flz + lower * np.sin(alpha)])
    apart = float(np.hypot(fux - joint[0], fuz - joint[1]))
    with np.errstate(all="ignore"):
        _, _, sine, cosine, _ = equations.side_view(alpha, branch, *numbers)
    pitch = float(np.degrees(np.arctan2(sine, cosine)))
    if apart > (upper + bracket) * (1 - 1e-6):
        return "the upper links are pulled out straight and too short to follow"
    if apart < abs(upper - bracket) * (1 + 1e-6) + 1e-6:
        return "the upper links are folded up against the axle and too long to follow"
    turn = f" (the pinion has turned {abs(pitch):.0f}\N{DEGREE SIGN})" if np.isfinite(pitch) else ""
    along = np.arctan2(-sine, cosine)
    arm = np.arctan2(auz - alz, aux - alx) + along
    top = joint + bracket * np.array([np.cos(arm), np.sin(arm)])
    steep_upper = abs(top[1] - fuz) / upper
    which = "upper" if steep_upper > abs(np.sin(alpha)) else "lower"
    return f"the {which} links can turn no further{turn}"


class ClosedForm(Frozen, eq=False):
    """The closed form at n states; every array has shape (n,).

    Attributes
    ----------
    heave : ndarray
        Where the axle stands, mm: as asked, or the limit of travel.
    x, y : ndarray
        mm; where the lateral bar cannot span the gap, y is the place where it comes nearest.
    pitch : ndarray
        rad.
    radicand : ndarray
        Square under the root of the lateral bar's quadratic, mm^2; negative where the bar is too short.
    side : float
        +1 if the bar's axle end lies left of its frame end at design, else -1.
    """

    heave: Array
    x: Array
    y: Array
    pitch: Array
    radicand: Array
    side: float


def bar_side(layout: Layout) -> float:
    """Return +1 if the bar's axle end lies left of its frame end at design, else -1."""
    return 1.0 if layout.centre[1] + layout.axle[BAR, 1] >= layout.frame[BAR, 1] else -1.0


def bar_numbers(layout: Layout) -> tuple[float, float, float, float, float, float, float]:
    """Return the arguments of `equations.rear_view` after the pose, mm."""
    ax, ay, az = layout.axle[BAR]
    gx, gy, gz = layout.centre - layout.frame[BAR]
    return (ax, ay, az, gx, gy, gz, float(layout.length[BAR]))


def closed_form(layout: Layout, heave: Array, roll: Array) -> ClosedForm:
    """Return the closed-form pose at each state.

    Parameters
    ----------
    layout : Layout
        The mechanism, brackets on.
    heave, roll : ndarray, shape (n,)
        mm and rad. A heave beyond the limits is held at the limit.
    """
    links = trailing(layout)
    heave = np.clip(heave, links.low, links.high)
    x, pitch = links.at(heave)
    across, radicand = equations.rear_view(x, heave, pitch, roll, *bar_numbers(layout))
    side = bar_side(layout)
    y = -across + side * np.sqrt(np.maximum(radicand, 0.0))
    return ClosedForm(heave, x, y, pitch, radicand, side)


def _seed(alpha: Any, heave: Any, roll: Any, branch: Any, side: Any, *numbers: Any) -> tuple[Any, Any, Any, Any]:
    """Return x, y, pitch and the bar's radicand by the angle of the lower links."""
    _, x, sine, cosine, _ = equations.side_view(alpha, branch, *numbers[:12])
    pitch = np.arctan2(sine, cosine)
    across, radicand = equations.rear_view(x, heave, pitch, roll, *numbers[12:])
    return x, -across + side * np.sqrt(np.maximum(radicand, 0.0)), pitch, radicand


@cache
def _seed_tape() -> Tape:
    return Tape(_seed, (STATES,) * 3 + (NUMBER,) * 21)


def seed(layout: Layout, heave: Array, roll: Array) -> tuple[Array, Array]:
    """Return the closed form good to about 0.01 mm, which is enough to begin a solve with.

    Parameters
    ----------
    layout : Layout
        The mechanism, brackets on.
    heave, roll : ndarray, shape (n,)
        mm, within the limits, and rad.

    Returns
    -------
    q : ndarray, shape (4, n)
        x, y in mm, pitch, yaw in rad.
    radicand : ndarray, shape (n,)
        As `ClosedForm`.
    """
    links = trailing(layout)
    if links.low == links.high:  # held at design: there is no linkage to speak of
        form = closed_form(layout, heave, roll)
        return np.stack([form.x, form.y, form.pitch, np.zeros_like(form.x)]), form.radicand
    alpha = np.interp(heave, links.heave, links.alpha)
    numbers = (links.branch, bar_side(layout), *links.numbers, *bar_numbers(layout))
    x, y, pitch, radicand = _seed_tape()(len(heave), alpha, heave, roll, *numbers)
    return np.stack([x, y, pitch, np.zeros_like(x)]), radicand
