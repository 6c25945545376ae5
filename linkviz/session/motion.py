"""The running axle: travel as a function of elapsed time."""

from __future__ import annotations

import math

from linkviz.picture.swing import swung

PERIOD_S = 4.0
"""Time of one whole cycle through the travel window, s."""


def travel_at(elapsed: float, window: tuple[float, float], period: float = PERIOD_S) -> float:
    """Return the travel of an axle that swings through its window.

    Parameters
    ----------
    elapsed : float
        Time since the start, s. At 0 the axle stands in the middle of the window.
    window : tuple of float
        (rebound, jounce), mm; the first is negative.
    period : float
        Time of one cycle, s.

    Returns
    -------
    float
        Travel from rest, mm, jounce +.
    """
    return swung(window, elapsed / period)


def time_of(travel: float, window: tuple[float, float], period: float = PERIOD_S) -> float:
    """Return a time at which `travel_at` gives this travel while the axle rises, s.

    Travel outside the window counts as its end.
    """
    low, high = window
    if high <= low:
        return 0.0
    sine = (travel - (low + high) / 2.0) / ((high - low) / 2.0)
    return math.asin(min(1.0, max(-1.0, sine))) / (2.0 * math.pi) * period


STOPS = 8
"""Places in one cycle at which an axle stands that goes on stop by stop."""


def next_stop(stop: int, travel: float, window: tuple[float, float]) -> tuple[int, float]:
    """Return the next place of an axle that goes on stop by stop: up to its bump, back, down and back.

    Parameters
    ----------
    stop : int
        The stop it was brought to last.
    travel : float
        Where it stands, mm, jounce +; if it was moved away since, it goes on from there.
    window : tuple of float
        (rebound, jounce), mm.

    Returns
    -------
    (int, float)
        The stop, 0 to `STOPS` - 1, and its travel, mm.
    """
    places = [travel_at(PERIOD_S * i / STOPS, window) for i in range(STOPS)]
    if abs(places[stop % STOPS] - travel) > 0.01:
        up = STOPS // 4
        return next(((i, places[i]) for i in range(up + 1) if places[i] > travel + 0.01), (up + 1, places[up + 1]))
    following = (stop + 1) % STOPS
    return following, places[following]
