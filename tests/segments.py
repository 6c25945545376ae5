"""Distances of segments, from where `linkviz.clearance.segments` says that they come nearest."""

from __future__ import annotations

import numpy as np

from linkviz.clearance.segments import Array, segment_parameters


def segment_distance(p: Array, d: Array, a: Array, e: Array) -> Array:
    """Return the distance between segments, mm; arguments as `segment_parameters`."""
    s, t = segment_parameters(p, d, a, e)
    distance: Array = np.linalg.norm((p + s[..., None] * d) - (a + t[..., None] * e), axis=-1)
    return distance
