"""The pictures on the papers: an axle as built, lifted or with its parts on, at rest."""

from __future__ import annotations

from linkviz.job.build import Build
from linkviz.job.compare import zones
from linkviz.job.setup import Setup
from linkviz.job.study import study
from linkviz.papers.order import Order
from linkviz.picture.rear import rear_view
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Drawing
from linkviz.picture.side import side_view


def scene(order: Order, setup: Setup, ghost: Setup | None = None, name: str = "") -> Scene:
    """Return the scene of a setup at rest, with another one dashed behind it."""
    vehicle = order.comparison.vehicle
    build = Build.of(vehicle, setup)
    behind = study(Build.of(vehicle, ghost), 0.0, 0.0) if ghost is not None else None
    return Scene(
        live=study(build, 0.0, 0.0), ghost=behind, ghost_name=name, zones=zones(build), unit=order.heading.unit
    )


def rear(order: Order, setup: Setup, title: str, ghost: Setup | None = None, name: str = "") -> Drawing:
    """Return the rear view of a setup under a title."""
    return _titled(rear_view(scene(order, setup, ghost, name)), title)


def side(order: Order, setup: Setup, title: str, ghost: Setup | None = None, name: str = "") -> Drawing:
    """Return the side view of a setup under a title."""
    return _titled(side_view(scene(order, setup, ghost, name)), title)


def _titled(drawing: Drawing, title: str) -> Drawing:
    return Drawing(title, drawing.shapes, drawing.extent, drawing.caption, drawing.letters)
