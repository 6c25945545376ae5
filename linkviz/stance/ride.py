"""Ride height, rate and frequency of a coil whose seats come together as the axle moves; mm, N, N/mm, kg, Hz, rad."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from linkviz.conventions import GRAVITY
from linkviz.frozen import Frozen

Array = NDArray[np.float64]


class Seats(Frozen, eq=False):
    """How far apart the seats of a coil are as the axle moves, level; all of shape (n,).

    Attributes
    ----------
    heave : ndarray
        Axle centre up (+) from design, rising, mm.
    length : ndarray
        Between the seats, mm.
    motion : ndarray
        Motion ratio: by how much the seats come together for each mm the wheel goes up, -dL/dh.
    """

    heave: Array
    length: Array
    motion: Array

    @classmethod
    def of(cls, heave: Array, length: Array) -> Seats:
        """Take the motion ratio off the lengths."""
        return cls(heave, length, -np.gradient(length, heave, edge_order=2))

    def length_at(self, heave: float) -> float:
        """Return the length between the seats at one height, mm."""
        return float(np.interp(heave, self.heave, self.length))

    def motion_at(self, heave: float) -> float:
        """Return the motion ratio at one height."""
        return float(np.interp(heave, self.heave, self.motion))


class Coil(Frozen):
    """A coil between its seats.

    Attributes
    ----------
    rate : float
        N/mm.
    free_length : float
        Length of the loose coil, mm.
    spacer : float
        Thickness put between coil and seat, mm.
    """

    rate: float
    free_length: float
    spacer: float = 0.0

    def force(self, length: float) -> float:
        """Return the force of the coil between seats `length` apart, N; a loose coil pulls nothing."""
        return self.rate * max(self.free_length + self.spacer - length, 0.0)


def wheel_load(seats: Seats, coil: Coil, heave: float) -> float:
    """Return what one coil carries, at the wheel, N: force times motion ratio (virtual work).

    This is the sprung load of the corner, without axle, wheels and brakes.
    """
    return coil.force(seats.length_at(heave)) * seats.motion_at(heave)


def rest_heave(seats: Seats, coil: Coil, load: float) -> float | None:
    """Return the height at which a coil carries a load at the wheel, mm from design; None if nowhere in reach.

    Nor does it stand anywhere on a coil that is to carry nothing, or to pull: it lifts off.

    Parameters
    ----------
    seats : Seats
        Motion of the seats.
    coil : Coil
        The coil with its spacer.
    load : float
        Sprung load of the corner, N.

    Notes
    -----
    k (L_free + t - L(h)) m(h) = W, with m = -dL/dh. It rises with h in any ordinary layout; the first crossing upward
    from full rebound is taken. On a straight seat with motion ratio m a spacer t lifts by t / m, whatever the
    rate. Bushings that are twisted as the axle goes down are left out: they hold the body lower by some mm.
    """
    if load <= 0:
        return None
    force = coil.rate * np.maximum(coil.free_length + coil.spacer - seats.length, 0.0) * seats.motion - load
    found = np.flatnonzero((force[:-1] < 0) & (force[1:] >= 0))
    if not len(found):
        return None
    i = int(found[0])
    part = -force[i] / (force[i + 1] - force[i])
    return float(seats.heave[i] + part * (seats.heave[i + 1] - seats.heave[i]))


def coil_for(seats: Seats, rate: float, load: float, heave: float) -> Coil:
    """Return the coil of a rate that carries a load at a height: what must be in there if it stands like that."""
    return Coil(rate, seats.length_at(heave) + load / (rate * seats.motion_at(heave)))


def wheel_rate(rate: float, motion: float) -> float:
    """Return the rate of a coil at the wheel, k m^2, N/mm (Milliken, Race Car Vehicle Dynamics, ch. 16)."""
    return rate * motion**2


def ride_frequency(wheel_rate_n_per_mm: float, load: float) -> float:
    """Return the frequency at which a corner bounces on its coil, Hz.

    Parameters
    ----------
    wheel_rate_n_per_mm : float
        N/mm.
    load : float
        Sprung load of the corner, N.

    Notes
    -----
    sqrt(k g / W) / (2 pi): 3.13 over the root of the static deflection in inches (Gillespie, Fundamentals of Vehicle
    Dynamics, ch. 5). Tyres and dampers are left out: a tyre lowers it by some 5 %.
    """
    return math.sqrt(1000.0 * wheel_rate_n_per_mm * GRAVITY / load) / (2.0 * math.pi)


def body_pitch(front_rise: float, rear_rise: float, wheelbase: float) -> float:
    """Return how far the body, and so the headlights, have turned, rad; + is nose down."""
    return math.atan2(rear_rise - front_rise, wheelbase)


def centre_of_gravity_rise(front_rise: float, rear_rise: float, rear_share: float) -> float:
    """Return the rise of the centre of gravity, mm, taking the whole vehicle for body: somewhat too much, so safe.

    `rear_share` is the part of the weight on the rear axle: the centre of gravity is that part of the wheelbase
    behind the front axle.
    """
    return front_rise + (rear_rise - front_rise) * rear_share


def static_stability(track: float, cg_height: float) -> float:
    """Return the static stability factor T / (2 h), as NHTSA defines it; track and height in mm."""
    return track / (2.0 * cg_height)
