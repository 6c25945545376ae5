"""The points of a vehicle by name: their words for people and how to measure them."""

from __future__ import annotations

from typing import Final, NamedTuple

LINK_NAMES: Final = ("lower_left", "lower_right", "upper_left", "upper_right", "lateral_bar")
"""The links, as keys of a vehicle file."""

PAIRS: Final = (("lower_left", "lower_right"), ("upper_left", "upper_right"))
"""Links that have a partner on the other side, left first."""


class NamedPoint(NamedTuple):
    """One measured point, as people speak of it."""

    words: str
    how: str


_LINK_WORDS = {
    "lower_left": "lower left link",
    "lower_right": "lower right link",
    "upper_left": "upper left link",
    "upper_right": "upper right link",
    "lateral_bar": "lateral bar",
}
_AXES = "x forward of the axle centre, y to the left of the centre plane (right is minus), z above the ground"
_END = {
    "frame": f"centre of the bolt at the frame: {_AXES}",
    "axle": "centre of the bolt at the axle, measured the same way",
}

POINTS: Final[dict[str, NamedPoint]] = {
    "axle.centre": NamedPoint("axle centre", "middle of the axle on the line of the wheels: x 0, y 0, z its height"),
    **{
        f"links.{link}.{end}": NamedPoint(f"{_LINK_WORDS[link]}, {end} end", _END[end])
        for link in LINK_NAMES
        for end in ("frame", "axle")
    },
    "driveshaft.front_joint": NamedPoint("driveshaft, front joint", f"centre of the front cross: {_AXES}"),
    "driveshaft.pinion_joint": NamedPoint("driveshaft, pinion joint", "centre of the cross at the pinion"),
}
"""Every point that can be measured, keyed as in a vehicle file, in the order of a measuring sheet."""

FITTING_POINTS: Final[dict[str, NamedPoint]] = {
    "springs.body": NamedPoint("left spring, upper seat", f"middle of the seat on the body: {_AXES}"),
    "springs.axle": NamedPoint("left spring, lower seat", "middle of the seat on the axle"),
    "dampers.body": NamedPoint("left damper, upper eye", f"centre of the eye on the body: {_AXES}"),
    "dampers.axle": NamedPoint("left damper, lower eye", "centre of the eye on the axle"),
    "bump_stops.body": NamedPoint("left bump stop, upper face", "middle of the face the stop is bolted to"),
    "bump_stops.axle": NamedPoint("left bump stop, pad", "middle of the pad on the axle that the stop strikes"),
    "brake_valve.pivot": NamedPoint("brake valve, pivot", f"middle of the shaft its arm turns on: {_AXES}"),
    "brake_valve.tip": NamedPoint("brake valve, tip of the arm", "middle of the eye where the rod hangs on the arm"),
    "brake_valve.axle": NamedPoint("brake valve, rod end", "middle of the eye where the rod is held on the axle"),
}
"""Points of what hangs on the axle: on a measuring sheet too, but no part of the mechanism."""


def words(key: str) -> str:
    """Return a key of the file in plain words where it is a point, else the key itself.

    Parameters
    ----------
    key : str
        A key of a vehicle file in dotted form, such as ``links.lower_left.frame``.
    """
    point = POINTS.get(key) or FITTING_POINTS.get(key)
    return point.words if point else key


def nearest(key: str, allowed: list[str]) -> str:
    """Return the allowed key most like a mistaken one, or "" if none is like it."""
    from difflib import get_close_matches

    plain = key.lower().replace("-", "_").replace(" ", "_")
    near = get_close_matches(plain, allowed, n=1, cutoff=0.6)
    return near[0] if near else ""
