"""Cardan joints: working angles, the unevenness they bring, what is left of it after two of them.

An angle is that between two shafts, 0 or more, rad; joints in phase and shafts in one plane unless said.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

SMOOTH = float(np.radians(3.0))
"""Joint angle up to which a shaft runs smoothly, rad (U.S. Army TM 5-4210-230-14&P-1, drive shaft inspection)."""


def angle_between(one: ArrayLike, other: ArrayLike) -> Array:
    """Return the angle between vectors, shape (..., 3) each, rad, 0 to pi.

    atan2(|a x b|, a . b): the same as the arccos of the unit vectors' product, and exact near 0 too.
    """
    a, b = np.asarray(one, dtype=float), np.asarray(other, dtype=float)
    angle: Array = np.arctan2(np.linalg.norm(np.cross(a, b), axis=-1), (a * b).sum(axis=-1))
    return angle


def sloping(angle: ArrayLike) -> Array:
    """Return the unit vector towards the rear of a shaft in the x-z plane, shape (..., 3).

    `angle` is + when the shaft falls towards the rear (a pinion with its nose up, a gearbox tilted back), rad.
    """
    a = np.asarray(angle, dtype=float)
    return np.stack([-np.cos(a), np.zeros_like(a), -np.sin(a)], axis=-1)


def speed_ratio(joint: ArrayLike, turned: ArrayLike) -> Array:
    """Return output speed over input speed of one joint.

    cos b / (1 - sin^2 b cos^2 th): b the joint's angle, th the angle the input has turned from where its yoke stands
    in the plane of the two shafts, rad.
    """
    b, th = np.asarray(joint, dtype=float), np.asarray(turned, dtype=float)
    ratio: Array = np.cos(b) / (1.0 - np.sin(b) ** 2 * np.cos(th) ** 2)
    return ratio


def speed_variation(joint: ArrayLike) -> Array:
    """Return how unevenly a joint turns: (greatest - least) output speed over the input speed, 1/cos b - cos b."""
    b = np.asarray(joint, dtype=float)
    variation: Array = 1.0 / np.cos(b) - np.cos(b)
    return variation


def lead(joint: ArrayLike) -> Array:
    """Return the greatest angle by which the output of a joint leads or lags its input, rad, for angles below pi/2."""
    c = np.sqrt(np.cos(np.asarray(joint, dtype=float)))
    found: Array = np.arctan((1.0 / c - c) / 2.0)
    return found


def residual_angle(one: ArrayLike, other: ArrayLike, crossed: bool = False) -> Array:
    """Return the angle of the single joint that would turn as unevenly as both do together, rad.

    sqrt(|b1^2 - b2^2|) with both in phase (VDI 2722; SAE AE-7), sqrt(b1^2 + b2^2) with the yokes a quarter turn out of
    phase (`crossed`).
    """
    a, b = np.asarray(one, dtype=float) ** 2, np.asarray(other, dtype=float) ** 2
    left: Array = np.sqrt(a + b if crossed else np.abs(a - b))
    return left
