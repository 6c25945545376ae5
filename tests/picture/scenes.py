"""Scenes of the demo vehicles for the tests of pictures and painters."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

from linkviz.analysis.build import Build
from linkviz.analysis.compare import zones
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.picture import Scene
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle


@lru_cache(maxsize=1)
def demos() -> tuple[Vehicle, ...]:
    """Return the demo vehicles: bar behind the axle, short links in inches, bar ahead of the axle."""
    return tuple(read_vehicle(path) for path in demo_vehicle_paths())


def build_of(which: int, **setup: float) -> Build:
    """Return a demo vehicle with a setup on."""
    return Build.of(demos()[which], Setup(**setup))


def scene_of(
    which: int = 0,
    travel: float = 0.0,
    roll_deg: float = 0.0,
    ghost: bool = True,
    zoned: bool = False,
    setup: dict[str, float] | None = None,
    **scene: Any,
) -> Scene:
    """Return a scene of a demo vehicle, by default lifted by 100 mm with the axle as built behind it."""
    build = build_of(which, **(setup if setup is not None else {"lift": 100.0}))
    roll = math.radians(roll_deg)
    return Scene(
        live=study(build, travel, roll),
        ghost=study(build_of(which), travel, roll) if ghost else None,
        ghost_name="as built" if ghost else "",
        zones=zones(build) if zoned else (),
        **scene,
    )
