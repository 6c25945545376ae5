"""Edits as pure functions: a vehicle in, a vehicle out. Points go by name, mirrored left-right by default."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.analysis.photo import ViewName as ViewName
from linkviz.session.tables import put
from linkviz.vehicle import described
from linkviz.vehicle.described import on_axle as on_axle
from linkviz.vehicle.described import point_words as point_words
from linkviz.vehicle.described import table_points
from linkviz.vehicle.model import Envelope, Link, Point, Vehicle
from linkviz.vehicle.points import LINK_NAMES, PAIRS

PARTNER = {**dict(PAIRS), **{right: left for left, right in PAIRS}}
"""The link on the other side; the lateral bar has none."""


def point_names(vehicle: Vehicle) -> tuple[str, ...]:
    """Return the names of all points of a vehicle, as keys of the file (``links.lower_left.frame``)."""
    names = [f"links.{link}.{end}" for link in LINK_NAMES for end in ("frame", "axle")]
    names.append("axle.centre")
    return (*names, *table_points(vehicle))


def point_of(vehicle: Vehicle, name: str) -> Point:
    """Return a point at design height, body frame, mm."""
    parts = name.split(".")
    if parts[0] == "links":
        link: Link = getattr(vehicle.links, parts[1])
        return link.frame if parts[2] == "frame" else link.axle
    if name == "axle.centre":
        return vehicle.axle.centre
    return table_points(vehicle)[name]


def mirror_of(name: str) -> str:
    """Return the name of the same point on the other side, or "" if it has none."""
    parts = name.split(".")
    if parts[0] == "links" and parts[1] in PARTNER:
        return f"links.{PARTNER[parts[1]]}.{parts[2]}"
    return ""


def _put(vehicle: Vehicle, name: str, to: Point) -> Vehicle:
    parts = name.split(".")
    if parts[0] == "links":
        link: Link = getattr(vehicle.links, parts[1])
        return vehicle.replace(links=vehicle.links.replace(**{parts[1]: link.replace(**{parts[2]: to})}))
    if name == "axle.centre":
        return vehicle.replace(axle=vehicle.axle.replace(centre=to))
    return put(vehicle, described.path_of(name), to)


def move_point(vehicle: Vehicle, name: str, to: Point, mirrored: bool = True) -> Vehicle:
    """Return the vehicle with one point elsewhere.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle to start from.
    name : str
        One of `point_names`.
    to : tuple of float
        New place at design height, body frame, mm.
    mirrored : bool
        Whether the same point of the other side takes the mirrored place. The lateral bar has no other side.
    """
    vehicle = _put(vehicle, name, to)
    other = mirror_of(name)
    if mirrored and other:
        vehicle = _put(vehicle, other, (to[0], -to[1], to[2]))
    return vehicle


def set_point_u(vehicle: Vehicle, name: str, u: float | None) -> Vehicle:
    """Return the vehicle with how far one point may be off, mm; None for what goes for all points."""
    kept = tuple((point, own) for point, own in vehicle.measuring.points if point != name)
    return put(vehicle, ("measuring", "points"), kept if u is None else (*kept, (name, u)))


def rename(vehicle: Vehicle, name: str) -> Vehicle:
    """Return the vehicle under another name."""
    return vehicle.replace(name=name)


def add_envelope(vehicle: Vehicle, envelope: Envelope) -> Vehicle:
    """Return the vehicle with one more envelope."""
    return vehicle.replace(envelopes=(*vehicle.envelopes, envelope))


def remove_envelope(vehicle: Vehicle, index: int) -> Vehicle:
    """Return the vehicle without one envelope, and without the pairs it was watched in."""
    kept = vehicle.envelopes[:index] + vehicle.envelopes[index + 1 :]
    gone = vehicle.envelopes[index].name
    if gone not in {envelope.name for envelope in kept}:
        vehicle = vehicle.replace(pairs=tuple(pair for pair in vehicle.pairs if gone not in (pair.one, pair.other)))
    return vehicle.replace(envelopes=kept)


def change_envelope(vehicle: Vehicle, index: int, **changes: object) -> Vehicle:
    """Return the vehicle with some values of one envelope changed (name, rear, side, margin).

    The pairs it is watched in go by its new name.
    """
    old = vehicle.envelopes[index]
    new = old.replace(**changes)
    kept = (*vehicle.envelopes[:index], new, *vehicle.envelopes[index + 1 :])
    pairs = vehicle.pairs
    if new.name != old.name and old.name not in {envelope.name for envelope in kept}:
        pairs = tuple(
            pair.replace(**{end: new.name for end in ("one", "other") if getattr(pair, end) == old.name})
            for pair in pairs
        )
    return vehicle.replace(envelopes=kept, pairs=pairs)


def add_envelopes(vehicle: Vehicle, envelopes: Sequence[Envelope]) -> Vehicle:
    """Return the vehicle with more envelopes; a name that is taken gets a number."""
    for envelope in envelopes:
        name = free_name(vehicle, envelope.name)
        vehicle = add_envelope(vehicle, envelope.replace(name=name))
    return vehicle


def duplicate_envelope(vehicle: Vehicle, index: int, by: tuple[float, float, float]) -> Vehicle:
    """Return the vehicle with a copy of an envelope after the last one, shifted by x, y, z, mm."""
    envelope = vehicle.envelopes[index]
    rear = tuple((y + by[1], z + by[2]) for y, z in envelope.rear)
    side = tuple((x + by[0], z + by[2]) for x, z in envelope.side)
    return add_envelopes(vehicle, (envelope.replace(rear=rear, side=side),))


def mirror_envelope(vehicle: Vehicle, index: int) -> Vehicle:
    """Return the vehicle with one envelope on the other side of the middle, its corners going around as before."""
    rear = tuple((-y + 0.0, z) for y, z in reversed(vehicle.envelopes[index].rear))
    return change_envelope(vehicle, index, rear=rear)


def outline_of(vehicle: Vehicle, index: int, view: ViewName) -> tuple[tuple[float, float], ...]:
    """Return the outline of an envelope in one view: (y, z) in rear view, (x, z) in side view, mm."""
    envelope = vehicle.envelopes[index]
    return envelope.rear if view == "rear" else envelope.side


def free_name(vehicle: Vehicle, wanted: str) -> str:
    """Return a name no envelope of the vehicle has yet."""
    taken = {envelope.name for envelope in vehicle.envelopes}
    if wanted not in taken:
        return wanted
    number = 2
    while f"{wanted} {number}" in taken:
        number += 1
    return f"{wanted} {number}"
