from __future__ import annotations

import numpy as np
import pytest


@pytest.fixture
def rng() -> np.random.Generator:
    """Return the same random numbers in every run."""
    return np.random.default_rng(6935)
