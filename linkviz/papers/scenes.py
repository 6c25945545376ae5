"""The pictures on the papers: an axle lifted or with its parts on, at rest."""

from __future__ import annotations

from linkviz.analysis.setup import Setup
from linkviz.papers.order import Order
from linkviz.picture.rear import rear_view
from linkviz.picture.scenes import scene_of
from linkviz.picture.shapes import Drawing


def rear(order: Order, setup: Setup, title: str, behind: str = "none") -> Drawing:
    """Return the rear view of a setup at rest under a title, with another state dashed behind it.

    Parameters
    ----------
    order : Order
    setup : Setup
    title : str
    behind : {"as built", "lifted", "none"}
        What is dashed.
    """
    scene = scene_of(order.comparison.vehicle, setup, unit=order.heading.unit, behind=behind)
    return rear_view(scene).replace(title=title)
