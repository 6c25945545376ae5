"""Inequalities of the rules on how braking is shared between axles, as arithmetic. No approval follows from them.

k is the adhesion used (braking force over load) at an axle, z the deceleration in parts of gravity.

References
----------
Council Directive 71/320/EEC, Annex II, appendix on the distribution of braking among the axles, 3.1.1 (M1 and N1).
UN Regulation No. 13-H, Annex 5 (constants of the efficiency line from memory; that of the directive agrees with its own
N1 rule at k = 0.8, z = 0.61).
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

Bools = NDArray[np.bool_]
Kind = Literal["M1", "N1"]
"""M1: cars; N1: vans and pickups to 3.5 t."""

DIRECTIVE: Final = 0.85
"""Slope of the efficiency line in 71/320/EEC."""
REGULATION: Final = 0.7
"""Slope of the efficiency line in UN R13-H."""


def efficient(z: ArrayLike, k: ArrayLike, slope: float = REGULATION) -> Bools:
    """Return whether z >= 0.1 + slope (k - 0.2), asked for k from 0.2 to 0.8; outside that nothing is asked."""
    z, k = np.asarray(z, dtype=float), np.asarray(k, dtype=float)
    enough: Bools = z >= 0.1 + slope * (k - 0.2) - 1e-12
    return enough | (k < 0.2) | (k > 0.8)


def front_first(z: ArrayLike, front: ArrayLike, rear: ArrayLike, kind: Kind = "M1") -> Bools:
    """Return whether the front axle uses more adhesion than the rear one where 71/320/EEC asks for it.

    M1: z from 0.15 to 0.8, but from 0.3 to 0.45 the rear may be above while its k <= z + 0.05.
    N1: z from 0.15 to 0.5.
    """
    z, front, rear = (np.asarray(v, dtype=float) for v in (z, front, rear))
    above: Bools = front > rear
    if kind == "N1":
        return above | (z < 0.15) | (z > 0.5)
    excused = (z >= 0.3) & (z <= 0.45) & (rear <= z + 0.05 + 1e-12)
    return above | excused | (z < 0.15) | (z > 0.8)


def van_band(z: ArrayLike, front: ArrayLike, rear: ArrayLike) -> Bools:
    """Return whether both axles lie in the band that 71/320/EEC leaves to N1 in place of `front_first`.

    z from 0.15 to 0.30: k within z +- 0.08. z from 0.3 to 0.5: z >= k - 0.08 at the rear axle. z from 0.5 to 0.61:
    z >= 0.5 k + 0.21 at the rear axle.
    """
    z, front, rear = (np.asarray(v, dtype=float) for v in (z, front, rear))
    close = (np.abs(front - z) <= 0.08 + 1e-12) & (np.abs(rear - z) <= 0.08 + 1e-12)
    middle = z >= rear - 0.08 - 1e-12
    high = z >= 0.5 * rear + 0.21 - 1e-12
    asked = [(z >= 0.15) & (z < 0.3), (z >= 0.3) & (z < 0.5), (z >= 0.5) & (z <= 0.61)]
    held: Bools = np.select(asked, [close, middle, high], default=True)
    return held
