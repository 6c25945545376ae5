"""Kinds of envelopes: what is usually drawn, and the margin each starts with."""

from __future__ import annotations

from linkviz.frozen import Frozen


class Kind(Frozen):
    """One kind of thing to stay clear of.

    Attributes
    ----------
    name : str
        What the envelope is called at first.
    margin : float
        The margin it starts with, mm; common practice, no published source.
    why : str
        What the margin is for, in a few words.
    """

    name: str
    margin: float
    why: str


KINDS = (
    Kind("fuel tank", 12.0, "a thin skin with fuel behind it; rubber mounts let it move"),
    Kind("skid plate", 10.0, "a stiff plate, bolted on"),
    Kind("exhaust", 25.0, "hot, and it swings on its hangers"),
    Kind("frame rail", 8.0, "does not move"),
    Kind("inner fender", 20.0, "thin sheet; tyres grow and flex"),
    Kind("bump stop", 5.0, "meant to be met, but only by its own pad"),
    Kind("envelope", 12.0, "anything else on the body"),
)
"""Presets, in the order of the list to choose from. The margin can be changed at any time."""


def kind_of(name: str) -> Kind:
    """Return the kind an envelope's name begins with; the last one, anything else, if none fits."""
    return next((kind for kind in KINDS if name.lower().startswith(kind.name)), KINDS[-1])
