"""The same axle as built, lifted and with parts on, side by side, going through its travel: frames with captions."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.compare import Name, compare, setups_of
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.picture.rear import rear_view
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Drawing
from linkviz.picture.swing import swung
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle

FRAMES = 48
"""Frames of one cycle through the travel window."""


def caption_of(name: Name, setup: Setup, unit: Unit) -> str:
    """Return what a state is, in words for a customer."""
    if name == "as built":
        return "As built"
    lifted = f"Lifted {format_length(setup.lift, unit)}" if setup.lift else "As built"
    if name == "lifted":
        return f"{lifted}, no parts"
    return f"{lifted}, bracket {format_length(setup.drop, unit)}" if setup.drop else f"{lifted}, parts on"


def frames_against(
    vehicle: Vehicle, setup: Setup, unit: Unit = "mm", count: int = FRAMES
) -> Iterator[tuple[Drawing, ...]]:
    """Yield frames of one cycle through the travel, each a rear view of every state side by side.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        What is compared: as built always, lifted with a lift, corrected with parts on.
    unit : {"mm", "in"}
        Unit of the lengths in the captions.
    count : int
        How many frames.

    Notes
    -----
    The title of each view says the state, its caption how far the axle swings sideways over the travel. All views of
    all frames have one extent, so that nothing jumps.
    """
    cases = compare(vehicle, setup).cases
    states = [(name, Build.of(vehicle, each), cases[name].swing) for name, each in setups_of(setup).items()]
    travels = [swung(states[0][1].window, i / count) for i in range(count)]
    moving = [
        [rear_view(Scene(live=study(build, travel, 0.0), unit=unit)) for travel in travels] for _, build, _ in states
    ]
    boxes = np.array([drawing.extent for column in moving for drawing in column])
    extent = (*boxes[:, :2].min(axis=0).tolist(), *boxes[:, 2:].max(axis=0).tolist())
    for i in range(count):
        yield tuple(
            column[i].replace(
                title=caption_of(name, build.setup, unit),
                caption=f"swings {format_length(swing, unit)}",
                extent=extent,
            )
            for column, (name, build, swing) in zip(moving, states, strict=True)
        )
