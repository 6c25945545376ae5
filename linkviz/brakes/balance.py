"""Who brakes how much: forces of the brakes, loads of the axles, adhesion used, which axle locks first.

Pressures in MPa, forces in N, lengths in mm. z is the deceleration in parts of gravity.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from linkviz.brakes.valve import rear_pressure
from linkviz.conventions import GRAVITY
from linkviz.frozen import Frozen

Array = NDArray[np.float64]
Axle = Literal["front", "rear"]


def disc_gain(friction: float, cylinder: float, count: float, radius: float, tyre_radius: float) -> float:
    """Return the braking force of both discs of an axle per line pressure, N/MPa.

    Parameters
    ----------
    friction : float
        Of the pads.
    cylinder : float
        Bore of a piston, mm.
    count : float
        Pistons that push on one pad.
    radius, tyre_radius : float
        Effective radius of the disc and loaded radius of the tyre, mm.

    Notes
    -----
    Two wheels, two pads each: 4 mu A r / R (Limpert, Brake Design and Safety, ch. 2 and 5).
    """
    return 4.0 * friction * count * math.pi / 4.0 * cylinder**2 * radius / tyre_radius


def drum_gain(factor: float, cylinder: float, count: float, radius: float, tyre_radius: float) -> float:
    """Return the braking force of both drums of an axle per line pressure, N/MPa.

    `factor` is the drum's brake factor C* (2 to 2.5 with a leading and a trailing shoe), `cylinder` the bore of a wheel
    cylinder and `count` how many there are per wheel; 2 A C* r / R (Limpert, as `disc_gain`).
    """
    return 2.0 * factor * count * math.pi / 4.0 * cylinder**2 * radius / tyre_radius


class Brake(Frozen):
    """The brakes of one axle: N/MPa above a threshold pressure in MPa below which springs hold the shoes back."""

    gain: float
    threshold: float = 0.0

    def force(self, pressure: ArrayLike) -> Array:
        """Return the braking force of the axle, N."""
        force: Array = self.gain * np.maximum(np.asarray(pressure, dtype=float) - self.threshold, 0.0)
        return force


class Standing(Frozen):
    """A vehicle on level ground.

    Attributes
    ----------
    weight : float
        N.
    wheelbase : float
        mm.
    to_front : float
        From the front axle back to the centre of gravity, mm.
    height : float
        Of the centre of gravity, mm.
    """

    weight: float
    wheelbase: float
    to_front: float
    height: float

    def loads(self, z: ArrayLike) -> tuple[Array, Array]:
        """Return the loads of the front and the rear axle while slowing by z, N.

        Z_f = W (l_r + z h) / L and Z_r = W (l_f - z h) / L (Gillespie, Fundamentals of Vehicle Dynamics, ch. 3).
        """
        shift = np.asarray(z, dtype=float) * self.height
        front: Array = self.weight * (self.wheelbase - self.to_front + shift) / self.wheelbase
        rear: Array = self.weight * (self.to_front - shift) / self.wheelbase
        return front, rear

    def ideal(self, z: ArrayLike) -> tuple[Array, Array]:
        """Return the braking forces that use the same adhesion at both axles, N: the loads times z."""
        front, rear = self.loads(z)
        return front * np.asarray(z, dtype=float), rear * np.asarray(z, dtype=float)

    def ideal_rear(self, front: ArrayLike) -> Array:
        """Return the ideal rear force for a front force, N: the parabola without z (Limpert, ch. 7)."""
        chi, psi = self.height / self.wheelbase, self.to_front / self.wheelbase
        share = np.asarray(front, dtype=float) / self.weight
        half = (1.0 - psi) / (2.0 * chi)
        return self.weight * (np.sqrt(half**2 + share / chi) - half - share)


class Lock(Frozen):
    """What happens as the pedal is pressed harder on a road.

    Attributes
    ----------
    axle : {"front", "rear"} or None
        Which locks first; None if neither does up to the greatest pressure.
    z : float
        Deceleration just before.
    pressure : float
        Front line pressure, MPa.
    """

    axle: Axle | None
    z: float
    pressure: float


class System(Frozen):
    """Brakes with a knee in the rear line, on a vehicle.

    Attributes
    ----------
    front, rear : Brake
    knee : float
        Of the valve as its arm stands, MPa.
    slope : float
        Of the valve above the knee.
    standing : Standing
    greatest : float
        Greatest front line pressure looked at, MPa.
    """

    front: Brake
    rear: Brake
    knee: float
    slope: float
    standing: Standing
    greatest: float = 20.0

    def forces(self, pressure: ArrayLike) -> tuple[Array, Array]:
        """Return the braking forces of the axles for a front line pressure, N."""
        return self.front.force(pressure), self.rear.force(rear_pressure(pressure, self.knee, self.slope))

    def deceleration(self, pressure: ArrayLike) -> Array:
        """Return z for a front line pressure, no wheel locked."""
        front, rear = self.forces(pressure)
        slowed: Array = (front + rear) / self.standing.weight
        return slowed

    def _corners(self) -> Array:
        """Return the pressures between which everything is linear, MPa."""
        found = {0.0, self.greatest, self.front.threshold, self.rear.threshold, self.knee}
        if self.slope > 0:  # the rear shoes may touch only above the knee
            found.add(self.knee + (self.rear.threshold - self.knee) / self.slope)
        return np.array(sorted(p for p in found if 0.0 <= p <= self.greatest))

    def pressure_for(self, z: ArrayLike) -> Array:
        """Return the front line pressure that slows by z, MPa; nan where the greatest pressure does not."""
        corners = self._corners()
        reached = self.deceleration(corners)
        first = int(np.flatnonzero(reached <= 0.0)[-1])
        found: Array = np.interp(np.asarray(z, dtype=float), reached[first:], corners[first:], right=np.nan)
        return found

    def share(self, z: ArrayLike) -> Array:
        """Return the rear axle's share of the braking, 0 to 1; nan where z cannot be had."""
        front, rear = self.forces(self.pressure_for(z))
        total = front + rear
        return np.divide(rear, total, out=np.full_like(total, np.nan), where=total > 0)

    def adhesion(self, z: ArrayLike) -> tuple[Array, Array]:
        """Return the adhesion used at the front and the rear axle: braking force over load; nan where not to be had."""
        front, rear = self.forces(self.pressure_for(z))
        ahead, behind = self.standing.loads(z)
        return front / ahead, np.where(behind > 0, rear / np.where(behind > 0, behind, 1.0), np.inf)

    def first_lock(self, friction: float) -> Lock:
        """Return which axle locks first on a road of some adhesion, and the deceleration at which it does.

        Everything is linear between a few pressures, so that the crossing is exact.
        """
        corners = self._corners()
        z = self.deceleration(corners)
        ahead, behind = self.standing.loads(z)
        front, rear = self.forces(corners)
        found: list[tuple[float, Axle]] = []
        for axle, more in (("front", front - friction * ahead), ("rear", rear - friction * behind)):
            over = np.flatnonzero(more >= 0)
            if len(over):
                i = int(over[0])
                part = -more[i - 1] / (more[i] - more[i - 1])
                found.append((float(corners[i - 1] + part * (corners[i] - corners[i - 1])), axle))  # type: ignore[arg-type]
        if not found:
            return Lock(None, float(z[-1]), self.greatest)
        pressure, first = min(found)
        return Lock(first, float(self.deceleration(pressure)), pressure)


def stopping_distance(speed: float, z: float) -> float:
    """Return v^2 / (2 z g), m, for a speed in m/s; from when the brakes bite."""
    return speed**2 / (2.0 * z * GRAVITY)


EVERYDAY = (0.15, 0.25, 0.35)
"""Decelerations of ordinary stops, in parts of gravity: an assumption, equally weighted."""


def pad_wear(system: System, stock: System, stops: tuple[float, ...] = EVERYDAY) -> tuple[float, float]:
    """Return how much energy front and rear brakes take against stock: 1 is as stock, 2 wears twice as fast.

    The energy of a stop is shared as the braking forces are; the mean over the given stops is compared.
    """
    now, then = (np.nanmean(s.share(np.array(stops))) for s in (system, stock))
    return float((1.0 - now) / (1.0 - then)), float(now / then) if then > 0 else 1.0
