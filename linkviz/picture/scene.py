"""What a drawing shows: one axle as it stands now, another one behind it, and what is marked on them."""

from __future__ import annotations

from typing import Literal

from linkviz.analysis.study import Study
from linkviz.clearance.zone import Region, Zone
from linkviz.frozen import Frozen
from linkviz.picture.shapes import Pt
from linkviz.picture.stand import Point3, View
from linkviz.units import Unit


class Between(Frozen):
    """The shortest line between two parts as they stand: its ends, body frame, mm, its words and its sign."""

    one: Point3
    other: Point3
    words: str
    sign: str


class Scene(Frozen, eq=False):
    """Everything both views are drawn from.

    Attributes
    ----------
    live : Study
        The axle as it stands, one state.
    ghost : Study or None
        The axle it is compared with, one state, drawn thin and dashed.
    ghost_name : str
        What the ghost is called, such as "as built".
    zones : tuple of Zone
        What the shaft touches or nearly touches, one per envelope of the vehicle.
    stale : bool
        Whether the zones are those of a moment ago, new ones being worked out: they are drawn dimmed.
    between : Between or None
        The shortest line between two parts other than the driveshaft's, which is always shown.
    swept_rear, swept_side : tuple of Region
        What one part sweeps over the travel window, (y, z) and (x, z) of the body frame, mm.
    unit : {"mm", "in"}
        Unit of lengths in the text.
    point : str
        The picked point, such as ``links.lateral_bar.frame``, or "".
    envelope : int
        The picked envelope, whose corners can be pulled; -1 for none.
    draft : tuple of (float, float)
        Corners of an outline being drawn, in (y, z) or (x, z) of the body frame, mm.
    draft_view : {"rear", "side", ""}
        The view it is drawn in.
    show_points : bool
        Whether every measured point is marked.
    large : bool
        Whether the letters are large, for reading across a counter.
    """

    live: Study
    ghost: Study | None = None
    ghost_name: str = ""
    zones: tuple[Zone, ...] = ()
    stale: bool = False
    between: Between | None = None
    swept_rear: tuple[Region, ...] = ()
    swept_side: tuple[Region, ...] = ()
    unit: Unit = "mm"
    point: str = ""
    envelope: int = -1
    draft: tuple[tuple[float, float], ...] = ()
    draft_view: Literal["rear", "side", ""] = ""
    show_points: bool = False
    large: bool = False


def to_view(view: View, corner: Pt, lift: float) -> Pt:
    """Put a corner of an outline on the paper.

    Parameters
    ----------
    view : {"rear", "side"}
        The view.
    corner : (float, float)
        (y, z) in the rear view, (x, z) in the side view, body frame, mm.
    lift : float
        Rise of the body, mm.
    """
    across, z = corner
    return (-across if view == "rear" else across, z + lift)


def from_view(view: View, at: Pt, lift: float) -> Pt:
    """Return the corner, body frame, of a point of the paper; undoes `to_view`."""
    u, v = at
    return (-u if view == "rear" else u, v - lift)
