"""The mechanism as plain numbers: five links between the body and the axle."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from linkviz.frozen import Frozen

Array = NDArray[np.float64]

LINKS = ("lower_left", "lower_right", "upper_left", "upper_right", "lateral_bar")
"""Order of the links in every array of this package."""

Spot = tuple[float, float, float]

BAR = 4
"""Index of the lateral bar."""


class Layout(Frozen, eq=False):
    """Five links on a rigid axle, in the body frame of `linkviz.conventions`.

    Attributes
    ----------
    centre : ndarray, shape (3,)
        Axle centre at design height, mm.
    frame : ndarray, shape (5, 3)
        Frame ends, mm, fixed to the body.
    axle : ndarray, shape (5, 3)
        Axle ends relative to the axle centre at design, mm, fixed to the axle.
    length : ndarray, shape (5,)
        Free lengths of the links, mm.
    stiffness : ndarray, shape (5,)
        Axial stiffness of each link with its two bushings in series, N/mm.
    """

    centre: Array
    frame: Array
    axle: Array
    length: Array
    stiffness: Array

    @classmethod
    def from_points(cls, centre: Array, frame: Array, axle: Array, stiffness: Array) -> Layout:
        """Build a layout from points measured at design height (all in the body frame, mm)."""
        centre, frame, axle = (np.asarray(v, dtype=float) for v in (centre, frame, axle))
        length = np.linalg.norm(axle - frame, axis=-1)
        return cls(centre, frame, axle - centre, length, np.asarray(stiffness, dtype=float))

    def ends(self, i: int) -> tuple[Spot, Spot]:
        """Return the frame end and the axle end of link i at design height, body frame, mm."""
        fx, fy, fz = self.frame[i].tolist()
        ax, ay, az = (self.axle[i] + self.centre).tolist()
        return (fx, fy, fz), (ax, ay, az)

    def with_bar(
        self,
        drop: float = 0.0,
        shift: float = 0.0,
        longer: float = 0.0,
        axle_raise: float = 0.0,
    ) -> Layout:
        """Return the layout with the lateral bar moved by brackets.

        Parameters
        ----------
        drop : float
            Frame end of the bar moved down, mm.
        shift : float
            Frame end of the bar moved away from the centre plane (outboard +), mm.
        longer : float
            Bar lengthened, mm.
        axle_raise : float
            Axle end of the bar moved up, mm.
        """
        if not (drop or shift or longer or axle_raise):
            return self
        frame, axle, length = self.frame.copy(), self.axle.copy(), self.length.copy()
        outboard = 1.0 if frame[BAR, 1] >= 0 else -1.0
        frame[BAR] += (0.0, outboard * shift, -drop)
        axle[BAR, 2] += axle_raise
        length[BAR] += longer
        return self.replace(frame=frame, axle=axle, length=length)
