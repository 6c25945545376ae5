"""How the document is looked at; not part of the history."""

from __future__ import annotations

from typing import Literal

from linkviz.analysis.curves import Axis
from linkviz.analysis.quantities import BY_KEY
from linkviz.frozen import Frozen
from linkviz.session.document import Document
from linkviz.session.edits import ViewName, outline_of
from linkviz.session.snapping import USUAL
from linkviz.units import Unit as Unit
from linkviz.vehicle.model import Vehicle

Page = Literal["counter", "vehicle", "lift", "clearance", "bracket", "valve", "papers"]
Ghost = Literal["as built", "lifted", "none"]

PAGES: tuple[Page, ...] = ("counter", "vehicle", "lift", "clearance", "bracket", "valve", "papers")
GHOSTS: tuple[Ghost, ...] = ("as built", "lifted", "none")
GRAPHS: tuple[str, ...] = tuple(BY_KEY)
AXES: tuple[Axis, ...] = ("travel", "roll")
ROLL_RANGE_DEG = (-10.0, 10.0)
"""Axle roll the controls offer, deg, left wheel up +."""


class View(Frozen):
    """View state.

    Attributes
    ----------
    travel : float
        Wheel travel from the present rest, mm, jounce +.
    roll_deg : float
        Axle roll, deg, left wheel up +.
    unit : str
        Unit of lengths on screen.
    theme : str
        "light" or "dark".
    ghost : str
        The state drawn dashed behind the live one.
    page : str
        The page on the right.
    graph : str
        Key of the quantity of the graph strip.
    graph_axis : {"travel", "roll"}
        What it is drawn over.
    point : str
        Name of the picked point, or "".
    envelope : int
        Index of the picked envelope, -1 for none.
    playing : bool
        Whether the axle runs through its travel.
    calm : bool
        Whether nothing moves by itself: it does not play.
    counter : bool
        Whether everything but the drawing and the counter is hidden.
    large : bool
        Whether the drawings have large letters outside the counter view too.
    mirrored : bool
        Whether a moved point takes the same point of the other side with it.
    swept : str
        Name of the part whose swept zone is drawn on the Clearance page, or "".
    doubt : bool
        Whether the measuring error is worked out and shown.
    grid : int
        Which step of `linkviz.session.snapping.GRIDS` corners snap to.
    corner : (str, int) or None
        The picked corner of the picked envelope: the view of its outline, and its number.
    """

    travel: float = 0.0
    roll_deg: float = 0.0
    unit: Unit = "mm"
    theme: str = "light"
    ghost: Ghost = "as built"
    page: Page = "counter"
    graph: str = "sway"
    graph_axis: Axis = "travel"
    point: str = ""
    envelope: int = -1
    playing: bool = False
    calm: bool = False
    counter: bool = False
    large: bool = False
    mirrored: bool = True
    swept: str = ""
    doubt: bool = True
    grid: int = USUAL
    corner: tuple[ViewName, int] | None = None

    def with_(self, **changes: object) -> View:
        """Return a copy with some values changed."""
        return self.replace(**changes)


def corner_within(view: View, before: View, vehicle: Vehicle) -> tuple[ViewName, int] | None:
    """Return the picked corner as long as the envelope it is on stays picked and has it."""
    if view.corner is None or not 0 <= view.envelope < len(vehicle.envelopes):
        return None
    if view.envelope != before.envelope and view.corner == before.corner:
        return None
    return view.corner if 0 <= view.corner[1] < len(outline_of(vehicle, view.envelope, view.corner[0])) else None


def within(view: View, before: View, document: Document) -> View:
    """Return a view with travel, roll and what is picked held inside what the document has, still if calm."""
    low, high = document.window
    count = len(document.vehicle.envelopes)
    return view.replace(
        travel=min(max(view.travel, low), high),
        roll_deg=min(max(view.roll_deg, ROLL_RANGE_DEG[0]), ROLL_RANGE_DEG[1]),
        envelope=view.envelope if -1 <= view.envelope < count else count - 1,
        playing=view.playing and not view.calm,
        corner=corner_within(view, before, document.vehicle),
    )
