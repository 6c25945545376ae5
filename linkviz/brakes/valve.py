"""What a load-sensing valve lets through: line pressures in MPa, angles of its arm in rad."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from linkviz.frozen import Frozen

Array = NDArray[np.float64]


class Valve(Frozen):
    """A load-dependent proportioning valve.

    Attributes
    ----------
    knee : float
        Pressure up to which front and rear are the same, with the arm as built, MPa.
    per_rad : float
        How the knee rises as the arm turns towards laden, MPa/rad.
    least, most : float
        Where the knee is held by the valve's own stops, MPa.
    slope : float
        Rise of the rear pressure per rise of the front pressure above the knee, 0 to below 1.

    Notes
    -----
    p_r = p_f up to p_k and p_k + m (p_f - p_k) above; p_k = p_0 + c (beta - beta_0), held between least and most
    (Limpert, Brake Design and Safety, load-dependent proportioning valves).
    """

    knee: float
    per_rad: float
    least: float
    most: float
    slope: float

    def knee_at(self, turn: ArrayLike) -> Array:
        """Return the knee for the arm turned from as built, + towards laden, MPa."""
        turn = np.asarray(turn, dtype=float)
        return np.clip(self.knee + self.per_rad * turn, self.least, self.most)


def rear_pressure(front: ArrayLike, knee: ArrayLike, slope: float) -> Array:
    """Return the rear line pressure for a front line pressure, MPa; see `Valve`."""
    front, knee = np.asarray(front, dtype=float), np.asarray(knee, dtype=float)
    return np.where(front <= knee, front, knee + slope * (front - knee))
