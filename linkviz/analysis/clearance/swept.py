"""What a part sweeps over the travel window, in both views, and what of the envelopes it touches or nearly touches.

The outlines are plain corners in mm of the body frame, (y, z) in rear view and (x, z) in side view, such as
`linkviz.vehicle.outline_files.write_outlines` takes for a cutter or a printer. A swept outline lies on the outer side:
between two states looked at it is the hull of both, and round parts are enclosed by straight edges.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np

from linkviz.analysis.build import Build, solid_of
from linkviz.analysis.clearance.movers import Piece, Places, things
from linkviz.analysis.compare import ROLLS, travel_grid
from linkviz.analysis.tightness import margins
from linkviz.clearance.bodies import Body
from linkviz.clearance.distance import farthest
from linkviz.clearance.zone import Region, Zone, interference_zone, regions
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.linkage.solve import solve

View = Literal["rear", "side"]
Outlines = dict[str, tuple[tuple[tuple[float, float], ...], ...]]
TANGENTS = 72
"""Directions in which a shadow is looked at: a circle's corners stand off it by a thousandth of its radius."""
_AXES: dict[View, tuple[int, int]] = {"rear": (1, 2), "side": (0, 2)}


class Swept(Frozen):
    """What a part sweeps, its outline and holes in each view, and the zone it makes on each envelope by name.

    `zones` is empty for a part with flat ends or corners (tyres, a drop bracket): their zones are not worked out.
    """

    name: str
    rear: tuple[Region, ...]
    side: tuple[Region, ...]
    zones: dict[str, Zone]

    def outlines(self) -> Outlines:
        """Return every outline by a name that says what it is; holes are outlines too."""
        found: dict[str, tuple[Region, ...]] = {
            f"{self.name} sweeps, rear view": self.rear,
            f"{self.name} sweeps, side view": self.side,
        }
        for name, zone in self.zones.items():
            found |= {
                f"{name} touched, rear view": zone.touched_rear,
                f"{name} touched, side view": zone.touched_side,
                f"{name} inside margin, rear view": zone.near_rear,
                f"{name} inside margin, side view": zone.near_side,
            }
        return {
            name: tuple(ring for region in group for ring in (region.outer, *region.holes))
            for name, group in found.items()
            if group
        }


def swept(build: Build, name: str) -> Swept:
    """Return what a part sweeps over the window and `linkviz.analysis.compare.ROLLS`. Takes tenths of a second.

    Raises
    ------
    KeyError
        If the build has no part of that name.
    """
    thing = things(build.vehicle, build.setup)[name]
    travel, rolls = travel_grid(build), np.array(sorted(ROLLS))
    t, r = np.tile(travel, len(rolls)), np.repeat(rolls, len(travel))
    places = Places(build, solve(build.layout, t - build.setup.lift, r))
    shape = (len(rolls), len(travel))
    views: dict[View, tuple[Region, ...]] = {view: _shadow(thing.pieces, places, view, shape) for view in _AXES}
    return Swept(name, views["rear"], views["side"], _zones(build, name, thing.pieces, places))


def _shadow(pieces: tuple[Piece, ...], places: Places, view: View, shape: tuple[int, int]) -> tuple[Region, ...]:
    from shapely import MultiPoint, union_all

    hulls: list[Any] = []
    for piece in pieces:
        if isinstance(piece.body, Body):
            points = _rim(piece.body, places, piece.frame, view).reshape(TANGENTS, *shape, 2)
            for i in range(shape[0] - 1):
                for j in range(shape[1] - 1):
                    four = points[:, i : i + 2, j : j + 2].reshape(-1, 2)
                    hulls.append(MultiPoint(four).convex_hull)
    return regions(union_all(hulls))


def _rim(body: Body, places: Places, frame: str, view: View) -> Array:
    """Return points whose hull is a body's shadow at each state, round parts just enclosed, (directions, n, 2), mm."""
    across, up = _AXES[view]
    frames, outer = places[frame], 1.0 / np.cos(np.pi / TANGENTS)
    grown = body.replace(disc=body.disc * outer)
    found = []
    for angle in np.linspace(0.0, 2.0 * np.pi, TANGENTS, endpoint=False):
        way = np.zeros((3, len(frames)))
        way[across], way[up] = np.cos(angle), np.sin(angle)
        point = farthest(grown, frames, way)[1] + body.radius * outer * way
        found.append(point[[across, up]].T)
    return np.stack(found)


def _zones(build: Build, name: str, pieces: tuple[Piece, ...], places: Places) -> dict[str, Zone]:
    if len(pieces) != 1:
        return {}
    body, frames = pieces[0].body, places[pieces[0].frame]
    if not isinstance(body, Body) or body.disc or len(body.vertices) > 2:
        return {}
    p, q = (frames.place(np.repeat(v[:, None], len(frames), axis=1)).T for v in body.vertices[[0, -1]])
    envelopes = build.vehicle.envelopes
    wanted = margins(build.vehicle, ((name, envelope) for envelope in envelopes))
    return {
        envelope.name: interference_zone(solid_of(envelope), p, q, body.radius, margin)
        for envelope, margin in zip(envelopes, wanted, strict=True)
    }
