from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import lsq_linear

from tests.segments import segment_distance


def test_against_bounded_least_squares() -> None:
    random = np.random.default_rng(9)
    p, d, a, e = random.uniform(-10, 10, (4, 300, 3))
    d[:20] = 0.0
    e[10:30] = 0.0
    e[40:60] = d[40:60] * 1.7
    ours = segment_distance(p, d, a, e)
    for i in range(300):
        found = lsq_linear(np.stack([d[i], -e[i]], axis=1), a[i] - p[i], bounds=(0, 1), tol=1e-14)
        assert ours[i] == pytest.approx(np.sqrt(2 * found.cost), abs=1e-6)
