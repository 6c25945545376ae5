"""Where the measured points stand now, and what a drag on the drawing means for a measured point."""

from __future__ import annotations

import numpy as np

from linkviz.analysis.study import Study
from linkviz.linkage.layout import BAR, LINKS
from linkviz.session.edits import ViewName, on_axle, point_names, point_of
from linkviz.vehicle.described import table_points
from linkviz.vehicle.model import Point


def live_points(study: Study) -> dict[str, Point]:
    """Return where each measured point stands in the first state of a study, body frame, mm."""
    layout, vehicle = study.build.layout, study.build.vehicle
    centre = layout.centre
    names = [name for name in point_names(vehicle) if on_axle(name)]
    rows = np.array([_on_axle_now(study, name) for name in names]) - centre
    placed = study.poses[:1].place(centre, rows)[0]
    result = {name: _point(row) for name, row in zip(names, placed, strict=True)}
    for i, link in enumerate(LINKS):
        result[f"links.{link}.frame"] = _point(layout.frame[i])
    result |= {name: place for name, place in table_points(vehicle).items() if not on_axle(name)}
    return result


def _on_axle_now(study: Study, name: str) -> Point:
    x, y, z = point_of(study.build.vehicle, name)
    raised = study.build.setup.axle_raise if name == f"links.{LINKS[BAR]}.axle" else 0.0
    return (x, y, z + raised)


def _point(row: np.ndarray) -> Point:
    return (float(row[0]), float(row[1]), float(row[2]))


def dragged(study: Study, name: str, start: Point, view: ViewName, by: tuple[float, float], step: float) -> Point:
    """Return where a measured point goes when it is dragged in a view.

    Parameters
    ----------
    study : Study
        What is on the screen, n = 1.
    name : str
        The point.
    start : tuple of float
        Where it was measured before the drag, at design height, mm.
    view : {"rear", "side"}
        Where it is dragged.
    by : tuple of float
        How far, to the right and up in the view, mm.
    step : float
        It goes to whole multiples of this, mm: what a tape shows.

    Returns
    -------
    tuple of float
        The point at design height, mm; its place along the line of sight is kept.
    """
    shift = np.array([0.0, -by[0], by[1]] if view == "rear" else [by[0], 0.0, by[1]])
    if on_axle(name):
        shift = study.poses[:1].rotation()[0].T @ shift
    seen = (1, 2) if view == "rear" else (0, 2)
    moved = list(start)
    for axis in seen:
        moved[axis] = round((start[axis] + float(shift[axis])) / step) * step
    return (moved[0], moved[1], moved[2])
