"""Scenes without a window."""

from __future__ import annotations

from linkviz.analysis.build import Build
from linkviz.analysis.compare import zones
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.picture.scene import Scene
from linkviz.picture.swing import swung
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle

FRAMES = 60
"""Pictures of a moving GIF; one cycle through the travel window."""


def scene_of(
    vehicle: Vehicle,
    setup: Setup,
    travel: float = 0.0,
    roll: float = 0.0,
    unit: Unit | None = None,
    behind: str = "as built",
    zoned: bool = True,
) -> Scene:
    """Return the scene of one state; lengths in mm, roll in rad. Its zones take most of the time."""
    return _scene(vehicle, setup, [travel], roll, unit, behind, zoned)[0]


def moving_scenes(vehicle: Vehicle, setup: Setup, roll: float, unit: Unit | None, behind: str) -> list[Scene]:
    """Return the scenes of one cycle through the travel window."""
    window = Build.of(vehicle, setup).window
    travels = [swung(window, i / FRAMES) for i in range(FRAMES)]
    return _scene(vehicle, setup, travels, roll, unit, behind)


def _scene(
    vehicle: Vehicle,
    setup: Setup,
    travels: list[float],
    roll: float,
    unit: Unit | None,
    behind: str,
    zoned: bool = True,
) -> list[Scene]:
    build = Build.of(vehicle, setup)
    ghosts = {"as built": Setup(), "lifted": setup.without_parts()}
    ghost = ghosts.get(behind)
    ghost_build = None if ghost is None or ghost == setup else Build.of(vehicle, ghost)
    found = zones(build) if zoned else ()
    return [
        Scene(
            live=study(build, travel, roll),
            ghost=study(ghost_build, travel, roll) if ghost_build else None,
            ghost_name=behind if ghost_build else "",
            zones=found,
            unit=unit or vehicle.units,
        )
        for travel in travels
    ]
