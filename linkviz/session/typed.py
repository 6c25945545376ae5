"""What is typed: corners as a place, a way from the last one, or length and angle; lengths while the unit changes."""

from __future__ import annotations

import math
from typing import Literal

from linkviz.errors import LinkvizError
from linkviz.marks import TwoMeanings
from linkviz.session.edits import ViewName
from linkviz.session.outline import Corner
from linkviz.units import Unit, from_mm, list_parts, parse_angle, parse_length

Way = Literal["from", "polar", "place"]
WAYS: tuple[Way, ...] = ("from", "polar", "place")
"""From the last corner, by length and angle, to a place."""


def labels(way: Way, view: ViewName) -> tuple[str, str]:
    """Return what the two values are called."""
    across = "y" if view == "rear" else "x"
    if way == "polar":
        return ("length", "angle")
    return (f"d{across}", "dz") if way == "from" else (across, "z")


def hints(way: Way, view: ViewName) -> tuple[str, str]:
    """Return what the two values mean, for their tool tips."""
    plus = "left is plus" if view == "rear" else "forward is plus"
    if way == "polar":
        return ("Length of the edge from the last corner", "As you see it: 0 to the right, 90 up, 180 to the left")
    if way == "from":
        return (f"How far across from the last corner, {plus}", "How far up from the last corner, up is plus")
    where = "from the middle of the vehicle" if view == "rear" else "from the axle as built"
    return (f"How far across {where}, {plus}", "Height above the ground at design height")


def typed_corner(way: Way, view: ViewName, texts: tuple[str, str], last: Corner | None, unit: Unit) -> Corner:
    """Return the corner two typed values mean.

    Parameters
    ----------
    way : {"from", "polar", "place"}
        What the values are.
    view : {"rear", "side"}
        The view: angles are as seen in it.
    texts : (str, str)
        As typed; an empty one is 0 on a way from the last corner.
    last : corner or None
        The last corner, mm.
    unit : {"mm", "in"}
        Unit of a length that names none.

    Returns
    -------
    corner
        (y, z) or (x, z), body frame, mm.

    Raises
    ------
    LinkvizError
        If a value is missing or none, or there is no corner yet to start from.
    """
    names = labels(way, view)
    if way != "place" and last is None:
        raise LinkvizError("There is no corner yet to go on from. Click the first one, or type its place.")
    if not any(text.strip() for text in texts):
        raise LinkvizError(f"Type {names[0]} and {names[1]} first, then press Enter.")
    blank = "0" if way == "from" else ""
    first, second = (text.strip() or blank for text in texts)
    for text, name in ((first, names[0]), (second, names[1])):
        if not text:
            raise LinkvizError(f"The {name} is missing. Type it, then press Enter.")
    if way == "place" or last is None:
        return (parse_length(first, unit), parse_length(second, unit))
    if way == "from":
        return (last[0] + parse_length(first, unit), last[1] + parse_length(second, unit))
    length, angle = parse_length(first, unit), parse_angle(second)
    sign = -1.0 if view == "rear" else 1.0
    # what is 0 to more digits than anyone measures is 0
    across, up = (round(length * part, 9) for part in (math.cos(angle), math.sin(angle)))
    return (last[0] + sign * across, last[1] + up)


def polar_of(view: ViewName, last: Corner, corner: Corner) -> tuple[float, float]:
    """Return length, mm, and angle as seen, rad, of the edge to a corner."""
    across = (last[0] - corner[0]) if view == "rear" else corner[0] - last[0]
    return (math.hypot(across, corner[1] - last[1]), math.atan2(corner[1] - last[1], across))


def in_other_unit(text: str, old: Unit, new: Unit, many: bool = False) -> str:
    """Return a length that is being typed, in the unit the screen has taken meanwhile, so that it means the same.

    Parameters
    ----------
    text : str
        As typed so far. What names its unit, or is no length yet, stays as it is.
    old, new : {"mm", "in"}
        Unit of the screen when it was typed, and now.
    many : bool
        Whether there may be several, with commas between.
    """
    if many:
        try:
            return ", ".join(in_other_unit(part.strip(), old, new) for part in list_parts(text))
        except TwoMeanings:
            return text
    try:
        length = parse_length(text, old)
        # to a hundredth of a millimetre: the sixteenths of what is shown would make it another length
        number = f"{from_mm(length, new):.{4 if new == 'in' else 2}f}".rstrip("0").rstrip(".")
        return text if length == parse_length(text, new) else number
    except LinkvizError:
        return text
