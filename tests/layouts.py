"""Layouts for tests, in mm: the bench geometry and random asymmetric ones. All invented."""

from __future__ import annotations

import numpy as np

from linkviz.linkage.layout import Layout

STIFFNESS = np.array([4000.0, 4000.0, 4000.0, 4000.0, 6000.0])


def bench_layout() -> Layout:
    """Return the layout the fixed values of these tests were found for."""
    frame = [(560, 420, 400), (560, -420, 400), (300, 330, 560), (300, -330, 560), (-130, -440, 520)]
    axle = [(0, 460, 310), (0, -460, 310), (10, 300, 500), (10, -300, 500), (-130, 430, 440)]
    return Layout.from_points(np.array([0.0, 0.0, 370.0]), np.array(frame, float), np.array(axle, float), STIFFNESS)


def random_layout(random: np.random.Generator) -> Layout:
    """Return a plausible layout that is not symmetric, its bar on either side, before or behind the axle."""
    height = random.uniform(340.0, 420.0)
    lower, upper = random.uniform(450.0, 800.0), random.uniform(330.0, 520.0)
    side = random.choice([-1.0, 1.0])
    ahead = random.choice([-1.0, 1.0]) * random.uniform(110.0, 190.0)
    base_low, base_up = height - random.uniform(40.0, 80.0), height + random.uniform(100.0, 170.0)

    def near(*point: float) -> tuple[float, ...]:
        return tuple(v + random.uniform(-15.0, 15.0) for v in point)

    frame = [
        near(lower, 430.0, base_low + 70.0),
        near(lower, -430.0, base_low + 70.0),
        near(upper, 330.0, base_up + 50.0),
        near(upper, -330.0, base_up + 50.0),
        near(ahead, -side * 440.0, height + 150.0),
    ]
    axle = [
        near(0.0, 460.0, base_low),
        near(0.0, -460.0, base_low),
        near(0.0, 300.0, base_up),
        near(0.0, -300.0, base_up),
        near(ahead, side * 430.0, height + 70.0),
    ]
    stiffness = random.uniform(2500.0, 8000.0, 5)
    return Layout.from_points(np.array([0.0, 0.0, height]), np.array(frame), np.array(axle), stiffness)
