"""Both views side by side: one scale, one ground."""

from __future__ import annotations

from dataclasses import dataclass

from linkviz.picture.rear import rear_view
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Drawing
from linkviz.picture.side import side_view


@dataclass(frozen=True)
class Pane:
    """A drawing and the box it stands in: left and width, screen points."""

    drawing: Drawing
    left: float
    width: float


def sheet(scene: Scene, width: float) -> tuple[Pane, Pane]:
    """Return both views of a scene, each as wide as its extent asks.

    Parameters
    ----------
    scene : Scene
        What to draw.
    width : float
        Of the whole sheet, screen points.
    """
    rear, side = rear_view(scene), side_view(scene)
    wide = [d.extent[2] - d.extent[0] for d in (rear, side)]
    first = round(width * wide[0] / (wide[0] + wide[1]))
    return Pane(rear, 0.0, first), Pane(side, first, width - first)
