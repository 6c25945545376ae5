"""Propagation of distributions by Monte Carlo, after JCGM 101:2008 (Supplement 1 to the GUM).

Inputs are given distributions, drawn many times, put through the function, and the values that come out are read as
the distribution of the result. Nothing is linearised. Everything follows from the seed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from linkviz.frozen import Frozen

Array = NDArray[np.float64]
Kind = Literal["rectangular", "normal", "t", "arcsine", "inexact"]

COVERAGE = 0.95
"""Usual coverage probability."""
_CHUNK = 100_000


class Input(Frozen):
    """One quantity that is not known exactly.

    Attributes
    ----------
    name : str
        Its name.
    value : float
        Its best estimate, the middle of its distribution.
    spread : float
        Half width for "rectangular", "arcsine" and "inexact", standard deviation for "normal", scale for "t".
    kind : {"rectangular", "normal", "t", "arcsine", "inexact"}
        Its distribution (JCGM 101, 6.4): "rectangular" where only limits are known (6.4.2), "inexact" where the
        limits themselves are only known to within `more` (curvilinear trapezoid, 6.4.3), "arcsine" for a cycling
        quantity (6.4.6), "normal" for an estimate and its standard uncertainty (6.4.7), "t" for a mean of
        few readings (6.4.9).
    more : float
        Degrees of freedom of "t"; how far the half width of "inexact" may be off.
    """

    name: str
    value: float
    spread: float
    kind: Kind = "rectangular"
    more: float = 0.0

    def draw(self, random: np.random.Generator, trials: int) -> Array:
        """Return draws, shape (trials,)."""
        return self.value + self._around_zero(random, trials)

    def _around_zero(self, random: np.random.Generator, trials: int) -> Array:
        match self.kind:
            case "rectangular":
                return random.uniform(-self.spread, self.spread, trials)
            case "normal":
                return random.normal(0.0, self.spread, trials)
            case "t":
                return self.spread * random.standard_t(self.more, trials)
            case "arcsine":
                return self.spread * np.sin(random.uniform(0.0, 2.0 * np.pi, trials))
            case "inexact":
                half = random.uniform(self.spread - self.more, self.spread + self.more, trials)
                return half * random.uniform(-1.0, 1.0, trials)


class Summary(Frozen):
    """What a distribution comes to.

    Attributes
    ----------
    mean, u : float
        Mean and standard deviation of the values (JCGM 101, 7.6): estimate and standard uncertainty.
    low, high : float
        Ends of the coverage interval.
    coverage : float
        Its probability.
    """

    mean: float
    u: float
    low: float
    high: float
    coverage: float = COVERAGE


def symmetric(values: Array, coverage: float = COVERAGE) -> tuple[Array, Array]:
    """Return the probabilistically symmetric coverage interval along the first axis (JCGM 101, 7.7.2).

    As many values lie below it as above it: what is below the low end has half of what the coverage leaves.

    Parameters
    ----------
    values : ndarray, shape (trials, ...)
        Values of the result; infinite ones are allowed.
    coverage : float
        Between 0 and 1.

    Returns
    -------
    low, high : ndarray, shape (...)
        Order statistics: no value is made up between two others.
    """
    trials = len(values)
    inside = min(int(coverage * trials + 0.5), trials - 1)
    first = (trials - inside) // 2
    first = min(max(first, 1), trials - inside)
    picked = np.partition(values, (first - 1, first - 1 + inside), axis=0)
    return picked[first - 1], picked[first - 1 + inside]


def shortest(values: Array, coverage: float = COVERAGE) -> tuple[float, float]:
    """Return the shortest coverage interval of values, shape (trials,) (JCGM 101, 7.7.4)."""
    ordered = np.sort(values)
    trials = len(ordered)
    inside = min(int(coverage * trials + 0.5), trials - 1)
    width = ordered[inside:] - ordered[: trials - inside]
    i = int(width.argmin())
    return float(ordered[i]), float(ordered[i + inside])


def summary(values: Array, coverage: float = COVERAGE) -> Summary:
    """Return mean, standard deviation and symmetric coverage interval of values, shape (trials,).

    Raises
    ------
    ValueError
        If there are fewer than two values.
    """
    if len(values) < 2:
        raise ValueError("there must be at least two trials")
    low, high = symmetric(values, coverage)
    return Summary(float(values.mean()), float(values.std(ddof=1)), float(low), float(high), coverage)


def draws(inputs: Sequence[Input], trials: int, seed: int) -> Array:
    """Return independent draws of all inputs, shape (trials, inputs); the same for the same seed.

    Every input has a stream of its own, so that one that is added or left out does not change the others.
    """
    streams = np.random.SeedSequence(seed).spawn(len(inputs))
    columns = [given.draw(np.random.default_rng(s), trials) for given, s in zip(inputs, streams, strict=True)]
    return np.stack(columns, axis=-1) if columns else np.zeros((trials, 0))


def propagate(function: Callable[[Array], Array], inputs: Sequence[Input], trials: int, seed: int) -> Array:
    """Return values of a function of uncertain inputs.

    Parameters
    ----------
    function : callable
        From an array of shape (n, inputs), one trial a row, to the values, shape (n,) or (n, results).
    inputs : sequence of Input
        Independent of each other.
    trials : int
        How often; at least 2. JCGM 101, 7.2.2, asks for 10^4 / (1 - coverage) where two digits of the interval's
        ends are wanted.
    seed : int
        Where the random numbers begin.

    Returns
    -------
    ndarray, shape (trials,) or (trials, results)

    Raises
    ------
    ValueError
        If there are fewer than two trials.
    """
    if trials < 2:
        raise ValueError("there must be at least two trials")
    rows = draws(inputs, trials, seed)
    return np.concatenate([function(rows[i : i + _CHUNK]) for i in range(0, trials, _CHUNK)])


def shares(rows: Array, values: Array) -> tuple[Array, float]:
    """Return which share of the variance of a result each input accounts for.

    By the squared standardised coefficients of a linear regression of the result on the inputs, from the very trials
    of the propagation (Saltelli et al., Global Sensitivity Analysis: The Primer, 2008, ch. 1): for independent inputs
    and a nearly linear function these are the shares of the variance, as are (c_i u_i / u)^2 of the GUM (5.1.3).

    Parameters
    ----------
    rows : ndarray, shape (trials, inputs)
        The draws.
    values : ndarray, shape (trials,)
        The result of each; finite.

    Returns
    -------
    share : ndarray, shape (inputs,)
        0 for an input that does not vary; together as much as `explained`.
    explained : float
        Share that a linear function of the inputs accounts for at all (R squared); what it lacks to 1 is bends,
        corners and inputs acting together. 1 where the result does not vary.
    """
    centred = values - values.mean()
    whole = float(centred @ centred)
    varies = np.ptp(rows, axis=0) > 0 if len(rows) else np.zeros(rows.shape[1], dtype=bool)
    share = np.zeros(rows.shape[1])
    scale = max(1.0, float(np.abs(values).max(initial=0.0)))
    if whole <= len(values) * (1e-9 * scale) ** 2 or not varies.any():
        return share, 1.0
    x = rows[:, varies] - rows[:, varies].mean(axis=0)
    # inputs may be of very different size: each in units of its own spread
    size = np.sqrt((x * x).sum(axis=0))
    coefficient = np.linalg.lstsq(x / size, centred, rcond=None)[0]
    left = centred - (x / size) @ coefficient
    explained = float(1.0 - left @ left / whole)
    # independent inputs vary together by chance only: what that does to their shares is left out
    share[varies] = coefficient**2 / float(coefficient @ coefficient) * explained
    return share, explained
