"""The coil itself: rate from its wire, stress, lengths. Lengths in mm, forces in N, moduli and stresses in MPa."""

from __future__ import annotations

import math
from typing import Final

SHEAR_MODULUS: Final = 79300.0
"""Shear modulus of spring steel, MPa; makers' figures are within some 2 % of it (Shigley, Table 10-5)."""


def rate(wire: float, coil: float, turns: float, shear_modulus: float = SHEAR_MODULUS) -> float:
    """Return the rate of a coil of round wire, N/mm.

    Parameters
    ----------
    wire : float
        Diameter of the wire, mm.
    coil : float
        Mean diameter of the coil, mm: outside diameter minus one wire.
    turns : float
        Active turns: all turns minus those that lie dead on the seats (two for squared ends).
    shear_modulus : float
        MPa.

    Raises
    ------
    ValueError
        If a measure is not above zero.

    Notes
    -----
    k = d^4 G / (8 D^3 N): torsion of the wire alone, good within some 2 % for D / d from 4 to 12.

    References
    ----------
    Budynas and Nisbett, Shigley's Mechanical Engineering Design, ch. 10, eq. 10-9.
    """
    if min(wire, coil, turns, shear_modulus) <= 0:
        raise ValueError("wire, coil, turns and shear modulus are above zero")
    return wire**4 * shear_modulus / (8.0 * coil**3 * turns)


def index(wire: float, coil: float) -> float:
    """Return the spring index C = D / d; ordinary coils have 4 to 12."""
    return coil / wire


def wahl(spring_index: float) -> float:
    """Return Wahl's factor (4C - 1) / (4C - 4) + 0.615 / C: shear and curvature (Wahl, Mechanical Springs)."""
    c = spring_index
    return (4.0 * c - 1.0) / (4.0 * c - 4.0) + 0.615 / c


def bergstrasser(spring_index: float) -> float:
    """Return Bergstrasser's factor (4C + 2) / (4C - 3), within 1 % of Wahl's (Shigley, eq. 10-5)."""
    c = spring_index
    return (4.0 * c + 2.0) / (4.0 * c - 3.0)


def shear_stress(force: float, wire: float, coil: float) -> float:
    """Return the greatest shear stress in the wire, K 8 F D / (pi d^3) with Wahl's K, MPa."""
    return wahl(index(wire, coil)) * 8.0 * force * coil / (math.pi * wire**3)


def solid_length(wire: float, all_turns: float) -> float:
    """Return the length with every turn on the next, mm: d N for squared and ground ends (Shigley, Table 10-1)."""
    return wire * all_turns


def free_length(length: float, force: float, rate_n_per_mm: float) -> float:
    """Return the length of the loose coil that bears a force at a length, mm."""
    return length + force / rate_n_per_mm


def in_series(*rates: float) -> float:
    """Return the rate of coils on top of one another, N/mm."""
    return 1.0 / sum(1.0 / k for k in rates)


def in_parallel(*rates: float) -> float:
    """Return the rate of coils side by side, N/mm."""
    return float(sum(rates))
