"""Outlines between envelopes and files: names, sides, and where they come to lie.

In a file u goes to the right as seen in the drawing: the rear view is seen from behind, so u = -y there, and u = x in
the side view; v is z.
"""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.session import edits, outline
from linkviz.session.edits import ViewName
from linkviz.session.kinds import kind_of
from linkviz.session.outline import Corners
from linkviz.vehicle.model import Envelope, Vehicle
from linkviz.vehicle.outline_files import Named

BLOCK: dict[ViewName, tuple[float, float]] = {"rear": (-200.0, 200.0), "side": (500.0, 400.0)}
"""Middle and width of the plain block taken where an outline is missing, mm."""
HEIGHT = 450.0
"""Height of the middle of what is put into the middle of the drawing, mm."""


class Found(Frozen):
    """One outline of a file.

    Attributes
    ----------
    name : str
        Its name in the file, with a number where there are several of it.
    corners : tuple of corner
        (u, v), mm.
    fault : str
        Why it cannot be taken, or "".
    """

    name: str
    corners: Corners
    fault: str = ""

    @property
    def size(self) -> tuple[float, float]:
        """Return width and height, mm."""
        us, vs = [u for u, _ in self.corners], [v for _, v in self.corners]
        return (max(us) - min(us), max(vs) - min(vs))


def seen(view: ViewName, corners: Corners) -> Corners:
    """Return an outline as it is seen, or one as seen as it is on the body: the way is the same."""
    return tuple((-u + 0.0, v) for u, v in corners) if view == "rear" else tuple(corners)


def exported(vehicle: Vehicle, indices: Sequence[int]) -> Named:
    """Return the outlines of envelopes for a file, each under the envelope's name and its view."""
    named: Named = {}
    for index in indices:
        envelope = vehicle.envelopes[index]
        named[f"{envelope.name} rear"] = (seen("rear", envelope.rear),)
        named[f"{envelope.name} side"] = (seen("side", envelope.side),)
    return named


def found_in(named: Named) -> tuple[Found, ...]:
    """Return the outlines of a file one by one, each with what is wrong with it."""
    found = []
    for name, group in named.items():
        for number, corners in enumerate(group, 1):
            words = f"{name} {number}" if len(group) > 1 else name
            found.append(Found(words, corners, outline.why_refused(corners)))
    return tuple(found)


def paired(found: Sequence[Found]) -> tuple[Envelope, ...]:
    """Return the envelopes of a file in which each outline is called "... rear" or "... side"; () for another file."""
    names: dict[str, dict[str, Corners]] = {}
    for one in found:
        name, _, view = one.name.rpartition(" ")
        if view not in ("rear", "side") or not name or one.fault or view in names.get(name, {}):
            return ()
        names.setdefault(name, {})[view] = one.corners
    if not all(len(views) == 2 for views in names.values()):
        return ()
    return tuple(
        Envelope(
            name=name,
            rear=seen("rear", views["rear"]),
            side=seen("side", views["side"]),
            margin=kind_of(name).margin,
        )
        for name, views in names.items()
    )


def taken(
    vehicle: Vehicle, index: int, name: str, rear: Found | None, side: Found | None, as_it_lies: bool = True
) -> Vehicle:
    """Return the vehicle with outlines of a file in an envelope.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle.
    index : int
        Envelope whose outlines are replaced; -1 for a new one, in which a missing outline is a plain block.
    name : str
        What a new one is called.
    rear, side : Found or None
        The outlines; None leaves the old one.
    as_it_lies : bool
        Whether the places of the file are kept; otherwise each comes to the middle of the old outline, or of the
        drawing for a new envelope.

    Raises
    ------
    LinkvizError
        If neither is given or one of them makes no outline.
    """
    if rear is None and side is None:
        raise LinkvizError("Choose an outline for the rear view or for the side view.")
    for one in (rear, side):
        if one is not None and one.fault:
            raise LinkvizError(f"{one.name}: {one.fault}")
    old = vehicle.envelopes[index] if index >= 0 else None
    outlines: dict[ViewName, Corners] = {}
    views: tuple[tuple[ViewName, Found | None], ...] = (("rear", rear), ("side", side))
    for view, one in views:
        if one is not None:
            corners = seen(view, one.corners)
            if not as_it_lies:
                there = _middle(edits.outline_of(vehicle, index, view)) if old else (BLOCK[view][0], HEIGHT)
                here = _middle(corners)
                corners = outline.shifted(corners, (there[0] - here[0], there[1] - here[1]))
            outlines[view] = corners
    if old is not None:
        return edits.change_envelope(vehicle, index, **outlines)
    for view in ("rear", "side"):
        if view not in outlines:
            other: ViewName = "side" if view == "rear" else "rear"
            outlines[view] = outline.rectangle(*BLOCK[view], outline.heights(outlines[other]))
    made = Envelope(name=name, rear=outlines["rear"], side=outlines["side"], margin=kind_of(name).margin)
    return edits.add_envelopes(vehicle, (made,))


def _middle(corners: Corners) -> tuple[float, float]:
    us, vs = [u for u, _ in corners], [v for _, v in corners]
    return ((max(us) + min(us)) / 2.0, (max(vs) + min(vs)) / 2.0)
