"""The lever of a load-sensing valve in side view: pivot on the body, arm, rod, point on the axle. mm and rad, x and z.

Angles are of the arm against the body's X, + towards Z.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from linkviz.errors import OutOfReach
from linkviz.frozen import Frozen

Array = NDArray[np.float64]
Place = tuple[float, float]
"""x forward and z up, mm."""


class Lever(Frozen):
    """Arm and rod as they were built.

    Attributes
    ----------
    pivot : (x, z)
        Where the arm turns, on the body, mm.
    arm : float
        Pivot to tip, mm.
    rod : float
        Tip to the point on the axle, mm, in space.
    side : float
        +1 or -1: on which side of the line from pivot to axle point the tip was built (+: to the left of it).
    angle : float
        Of the arm as built, rad.
    sense : float
        +1 or -1: the way the arm turns as the axle point goes up from where it was built.
    """

    pivot: Place
    arm: float
    rod: float
    side: float
    angle: float
    sense: float

    @classmethod
    def of(cls, pivot: Place, tip: Place, axle: Place, across: float = 0.0) -> Lever:
        """Take a lever as measured.

        Parameters
        ----------
        pivot, tip, axle : (x, z)
            Where the arm turns, where the rod hangs on it, and the rod's point on the axle, mm.
        across : float
            How far the rod leads out of the plane between its ends, mm.

        Raises
        ------
        OutOfReach
            If two of the points are one, or arm and rod stand in line: then it cannot be told which way the arm goes.
        """
        arm, rod = math.dist(pivot, tip), math.dist(tip, axle)
        if min(arm, rod) <= 0:
            raise OutOfReach("Two points of the brake valve's lever are one. Measure pivot, tip and axle point again.")
        lever, reach = np.subtract(tip, pivot), np.subtract(axle, pivot)
        # > 0 with the tip to the left of the line from pivot to axle point
        side = float(reach[0] * lever[1] - reach[1] * lever[0])
        along = np.subtract(axle, tip) / rod
        # how far the tip goes along the rod for each rad the arm turns, mm: nothing where the two stand in line
        pull = float(-along[0] * lever[1] + along[1] * lever[0])
        if abs(side) < 1e-6 * arm * rod or abs(pull) < 1e-6 * arm:
            raise OutOfReach(
                "The brake valve's arm and rod stand in line as measured, so that it cannot be told which way the arm "
                "goes. Measure pivot, tip and axle point again."
            )
        if not along[1]:
            raise OutOfReach(
                "The brake valve's rod lies level as measured, so that it cannot be told which way the arm goes as the "
                "axle goes up. Measure tip and axle point again."
            )
        return cls(
            pivot,
            arm,
            math.hypot(rod, across),
            math.copysign(1.0, side),
            math.atan2(lever[1], lever[0]),
            math.copysign(1.0, along[1] * pull),
        )


class Turned(Frozen, eq=False):
    """Where the arm stands, shape (n,) each.

    Attributes
    ----------
    angle : ndarray
        Of the arm, rad; at its limit where the rod cannot reach.
    turn : ndarray
        From as built, rad, + the way it goes as the axle goes up: towards *laden*.
    reached : ndarray of bool
        Whether arm and rod reach the axle point; where not, they stand in line.
    """

    angle: Array
    turn: Array
    reached: NDArray[np.bool_]


def turned(lever: Lever, x: ArrayLike, z: ArrayLike, across: ArrayLike = 0.0) -> Turned:
    """Return where the arm stands for places of the axle point.

    Parameters
    ----------
    lever : Lever
        Arm and rod.
    x, z : float or ndarray, shape (n,)
        The axle point, mm.
    across : float or ndarray, shape (n,)
        How far it is sideways from the plane of the arm, mm: the rod is on ball ends.

    Notes
    -----
    Circles of radius a about the pivot and r about the axle point, at a distance D, the bearing of the axle point
    being g: the tip is at g + s acos((a^2 + D^2 - r^2) / (2 a D)), with s the side it was built on. Arm and rod reach
    while |a - r| <= D <= a + r.
    """
    dx = np.atleast_1d(np.asarray(x, dtype=float)) - lever.pivot[0]
    dz = np.atleast_1d(np.asarray(z, dtype=float)) - lever.pivot[1]
    short = lever.rod**2 - np.square(np.asarray(across, dtype=float))
    apart = np.hypot(dx, dz)
    cosine = (lever.arm**2 + apart**2 - short) / (2.0 * lever.arm * np.maximum(apart, 1e-9))
    reached = (np.abs(cosine) <= 1.0) & (short > 0.0)
    angle = np.arctan2(dz, dx) + lever.side * np.arccos(np.clip(cosine, -1.0, 1.0))
    turn = np.remainder(angle - lever.angle + np.pi, 2.0 * np.pi) - np.pi
    return Turned(lever.angle + turn, lever.sense * turn, reached)


def tips(lever: Lever, angle: ArrayLike) -> Array:
    """Return where the tip of the arm is, shape (n, 2): x and z, mm."""
    a = np.atleast_1d(np.asarray(angle, dtype=float))
    return np.stack([lever.pivot[0] + lever.arm * np.cos(a), lever.pivot[1] + lever.arm * np.sin(a)], axis=-1)


def rise_for(lever: Lever, point: tuple[float, float, float], up: tuple[float, float, float]) -> float | None:
    """Return how far the axle point must go along `up` for the arm to stand as built, mm; None if no rise does it.

    Parameters
    ----------
    lever : Lever
        Arm and rod.
    point : (x, z, across)
        The axle point now: x, z and its distance sideways from the plane of the arm, mm.
    up : (x, z, across)
        Unit vector along which a bracket on the axle raises it.

    Notes
    -----
    The tip T is where it was built, so that |P + s u - T| = r: s^2 + 2 s u.(P - T) + |P - T|^2 - r^2 = 0. Of the two
    roots the one is taken that has the rod on the side of the tip it was built on; the smaller rise if both do.
    """
    tip = tips(lever, lever.angle)[0]
    way = np.array([point[0] - tip[0], point[1] - tip[1], point[2]])
    half = float(np.dot(up, way))
    root = half**2 - float(way @ way) + lever.rod**2
    if root < 0:
        return None
    for rise in sorted((-half - math.sqrt(root), -half + math.sqrt(root)), key=abs):
        x, z, across = np.add(point, np.multiply(rise, up))
        found = turned(lever, x, z, across)
        if found.reached[0] and abs(found.turn[0]) < 1e-6:
            return rise
    return None
