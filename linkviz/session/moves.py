"""What a drag on an envelope means: which corners go where, with snapping or without."""

from __future__ import annotations

from typing import Literal

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.outline import Corner, Corners, Fault
from linkviz.session.snapping import Snap, held_straight, other_corners, snap, snap_shift
from linkviz.vehicle.model import Vehicle

How = Literal["snap", "straight", "free"]
"""With all snaps; level or upright only; as the mouse goes."""


class OutlineRefused(LinkvizError):
    """An outline that cannot be, with what is wrong with it."""

    def __init__(self, view: ViewName, corners: Corners, fault: Fault) -> None:
        self.view, self.corners, self.fault = view, corners, fault
        super().__init__(fault.words)


class Move(Frozen):
    """A drag of the picked envelope.

    Attributes
    ----------
    index : int
        Which envelope.
    view : {"rear", "side"}
        Where it is dragged.
    kind : {"corner", "edge", "whole"}
        What is held.
    number : int
        Which corner or edge.
    by : (float, float)
        How far, in the outline's own coordinates, mm.
    how : {"snap", "straight", "free"}
        How it snaps.
    step, scale : float
        Step of the grid, mm, and screen points per mm.
    """

    index: int
    view: ViewName
    kind: str
    number: int
    by: Corner
    how: How
    step: float
    scale: float


def with_outline(vehicle: Vehicle, index: int, view: ViewName, corners: Corners) -> Vehicle:
    """Return the vehicle with another outline of an envelope.

    Raises
    ------
    OutlineRefused
        If the corners make none.
    """
    fault = outline.fault_of(corners)
    if fault is not None:
        raise OutlineRefused(view, corners, fault)
    return edits.change_envelope(vehicle, index, **{view: corners})


def moved_envelope(vehicle: Vehicle, move: Move) -> tuple[Vehicle, Snap | None]:
    """Return the vehicle after a drag, and where a dragged corner was held.

    Raises
    ------
    OutlineRefused
        If the outline would cross itself or enclose nothing.
    """
    view, index = move.view, move.index
    corners = edits.outline_of(vehicle, index, view)
    others = other_corners([edits.outline_of(vehicle, i, view) for i in range(len(vehicle.envelopes))], index)
    if move.kind == "corner":
        start = corners[move.number]
        goal = (start[0] + move.by[0], start[1] + move.by[1])
        if move.how == "free":
            found = Snap(goal)
        elif move.how == "straight":
            found = held_straight(goal, start, move.step)
        else:
            rest = (*corners[move.number + 1 :], *corners[: move.number])
            found = snap(goal, move.step, move.scale, rest, others)
        return with_outline(vehicle, index, view, outline.moved(corners, move.number, found.corner)), found
    by = move.by
    if move.how == "straight":
        by = (by[0], 0.0) if abs(by[0]) >= abs(by[1]) else (0.0, by[1])
    ends = corners if move.kind != "edge" else (corners[move.number], corners[(move.number + 1) % len(corners)])
    if move.how != "free":
        by = snap_shift(ends, by, move.step, move.scale, others if move.how == "snap" else ())
    if move.kind == "edge":
        return with_outline(vehicle, index, view, outline.edge_moved(corners, move.number, by)), None
    envelope = vehicle.envelopes[index]
    rear = outline.shifted(envelope.rear, by if view == "rear" else (0.0, by[1]))
    side = outline.shifted(envelope.side, by if view == "side" else (0.0, by[1]))
    return edits.change_envelope(vehicle, index, rear=rear, side=side), None
